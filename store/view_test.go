package store_test

import (
	"context"
	"database/sql"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"dogshore/calendar"
	"dogshore/internal/reference"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/unit"
)

// tester is a *testing.T or a *rapid.T.
type tester interface {
	Helper()
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

// table reads a view or table as any SQLite program would: rows by their
// first column.
func table(t tester, db *sql.DB, query string) map[string]map[string]any {
	t.Helper()
	rows, err := db.Query(query)
	if err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	defer func() { _ = rows.Close() }()
	names, err := rows.Columns()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]map[string]any{}
	for rows.Next() {
		cells := make([]any, len(names))
		to := make([]any, len(names))
		for i := range cells {
			to[i] = &cells[i]
		}
		if err := rows.Scan(to...); err != nil {
			t.Fatal(err)
		}
		row := map[string]any{}
		for i, name := range names[1:] {
			row[name] = cells[i+1]
		}
		out[cells[0].(string)] = row
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}

// plain is what the views show of the values that are invented.
func plain(v record.Value) any {
	var s string
	if json.Unmarshal([]byte(v), &s) == nil {
		if s == "" {
			return nil
		}
		return s
	}
	var q unit.Quantity
	if json.Unmarshal([]byte(v), &q) == nil && q.Known {
		return q.SI
	}
	return nil
}

// inventedKinds are the kinds of invented entries, and their fields.
var inventedKinds = map[string]map[string]string{ // field: column
	"part": {"name": "name", "within": "within", "side": "side"}, "place": {"name": "name", "within": "within"},
	"build": {"length": "length_m"}, "step": {"name": "name", "part": "part"},
	"sighting": {"step": "step", "state": "state"}, "order": {"item": "item", "day": "day"},
}

// The views show what the fold says and what the slow fold says, on any day,
// and the doubts as well, however the entries came in: in several deliveries,
// twice, through two open folders.
func TestViewsShowWhatTheFoldSays(t *testing.T) {
	ctx := context.Background()
	rapid.Check(t, func(rt *rapid.T) {
		entries := reference.Number(reference.Entries(20).Draw(rt, "entries"))
		today := reference.FirstDay + calendar.Day(rapid.IntRange(-1, reference.Days).Draw(rt, "today"))
		f, g := two(rt, func() time.Time { return today.Time().Add(9 * time.Hour) })
		for rest := entries; len(rest) > 0; {
			n := rapid.IntRange(1, len(rest)).Draw(rt, "delivery")
			fresh, err := rapid.SampledFrom([]*store.Folder{f, g}).Draw(rt, "folder").Accept(ctx, rest[:n]...)
			if err != nil || fresh != n {
				rt.Fatalf("%d of %d accepted: %v", fresh, n, err)
			}
			rest = rest[n:]
		}
		if n, err := g.Accept(ctx, entries...); err != nil || n != 0 {
			rt.Fatalf("all once more: %d, %v", n, err)
		}
		r, err := f.As(ctx, today, journal.Now)
		if err != nil {
			rt.Fatal(err)
		}
		slow := reference.Fold(entries, today, journal.Now)
		db, err := sql.Open("sqlite", f.Dir()+"/build.db")
		if err != nil {
			rt.Fatal(err)
		}
		defer func() { _ = db.Close() }()
		if _, err := db.Exec(`UPDATE as_of SET day = ?`, today.String()); err != nil {
			rt.Fatal(err)
		}
		for kind, fields := range inventedKinds {
			got := table(rt, db, `SELECT * FROM "`+kind+`"`)
			want, slowly := map[string]map[string]any{}, map[string]map[string]any{}
			for _, self := range r.Refs(kind) {
				want[self.Key()] = blank(got)
				for field, column := range fields {
					if h, ok := r.Held(self, field); ok {
						want[self.Key()][column] = plain(h.Value)
					}
				}
			}
			for self, values := range slow.Values {
				if self.Kind() == kind {
					slowly[self.Key()] = blank(got)
					for field, v := range values {
						slowly[self.Key()][fields[field]] = plain(v.Value)
					}
				}
			}
			if d := cmp.Diff(want, got); d != "" {
				rt.Fatalf("view %s (-fold +view):\n%s", kind, d)
			}
			if d := cmp.Diff(slowly, got); d != "" {
				rt.Fatalf("view %s (-slow fold +view):\n%s", kind, d)
			}
		}
		checkDoubts(rt, db, slow.Doubts, today)
		if err := f.Verify(ctx); err != nil {
			rt.Fatal(err)
		}
	})
}

// blank is a row of a view in which nothing is known.
func blank(like map[string]map[string]any) map[string]any {
	out := map[string]any{}
	for _, row := range like {
		for name := range row {
			out[name] = nil
		}
	}
	return out
}

// two opens a new folder twice, as two processes would.
func two(rt *rapid.T, now func() time.Time) (f, g *store.Folder) {
	dir, err := os.MkdirTemp("", "dogshore-two-")
	if err != nil {
		rt.Fatal(err)
	}
	rt.Cleanup(func() { _ = os.RemoveAll(dir) })
	if f, err = store.Create(context.Background(), dir, now); err != nil {
		rt.Fatal(err)
	}
	rt.Cleanup(func() { _ = f.Close() })
	if g, err = store.Open(context.Background(), dir, now); err != nil {
		rt.Fatal(err)
	}
	rt.Cleanup(func() { _ = g.Close() })
	return f, g
}

func checkDoubts(rt *rapid.T, db *sql.DB, want []journal.Doubt, day calendar.Day) {
	rows, err := db.Query(`SELECT kind, about, field, says, sides, entries, day FROM doubt`)
	if err != nil {
		rt.Fatal(err)
	}
	defer func() { _ = rows.Close() }()
	var got []journal.Doubt
	for rows.Next() {
		var d journal.Doubt
		var sides, from, on string
		if err := rows.Scan(&d.Kind, &d.About, &d.Field, &d.Says, &sides, &from, &on); err != nil {
			rt.Fatal(err)
		}
		if json.Unmarshal([]byte(sides), &d.Sides) != nil || json.Unmarshal([]byte(from), &d.From) != nil || on != day.String() {
			rt.Fatalf("sides %s, entries %s, day %s", sides, from, on)
		}
		if len(d.Sides) == 0 {
			d.Sides = nil
		}
		if len(d.From) == 0 {
			d.From = nil
		}
		got = append(got, d)
	}
	slices.SortFunc(got, journal.Doubt.Compare)
	if d := cmp.Diff(want, got); d != "" {
		rt.Fatalf("doubts (-slow fold +table):\n%s", d)
	}
}

// Every value type has its columns, in SI and with the unit in their names.
func TestViewOfEveryValueType(t *testing.T) {
	ctx := context.Background()
	f := create(t)
	say := func(kind, key, field string, v any) journal.Fact {
		return journal.Fact{Kind: kind, Key: key, Field: field, Value: record.Encode(v)}
	}
	sha := "2cf24dba5fb0a30e26e83b2ac5b9e29e1b161e5c1fa7425e73043362938b9824" // SHA-256 of "hello"
	e := f.Draft("owner", journal.Always, record.Written)
	e.Facts = []journal.Fact{
		say("step", "s", "name", "Core"), say("step", "s", "rank", unit.Q(3, unit.Number)), say("step", "s", "lasts", unit.Q(7200, unit.Time)),
		say("step", "s", "work", record.ThreePoint{Known: true, Low: 2, Mode: 3, High: 5, Dim: unit.Work}), say("step", "s", "not_done", record.Yes),
		say("option", "o", "price", unit.Money{Minor: -12050, Currency: "EUR"}), say("option", "o", "weight", unit.Q(12.5, unit.Mass)),
		say("option", "free", "price", unit.Money{Currency: "EUR"}), say("option", "unsaid", "price", unit.Money{}),
		say("place", "p", "plan", record.Outline{{0, 0}, {1, 0}, {1, 2.5}}),
		say("photo", "f", "file", record.File{SHA256: sha, Name: "a.jpg"}),
		say("measurement", "m", "got", unit.Q(0.025, unit.Length)),
		say("measurement", "m", "should", record.Tolerance{Known: true, Value: 0.024, Minus: 0.001, Plus: 0.002, Dim: unit.Length}),
		say("statement", "w", "when", calendar.Span{First: calendar.Date(2027, 5, 3), Last: calendar.Date(2027, 5, 9), As: "W18"}),
		say("visit", "v", "day", calendar.Date(2027, 4, 12)),
	}
	if _, err := f.Accept(ctx, e); err != nil {
		t.Fatal(err)
	}
	db := raw(t, f.Dir())
	for _, c := range []struct {
		kind, key string
		want      map[string]any
	}{
		{"step", "s", map[string]any{"name": "Core", "rank": 3.0, "lasts_s": 7200.0, "work_low_workdays": 2.0, "work_mode_workdays": 3.0,
			"work_high_workdays": 5.0, "not_done": "yes", "withdrawn": nil, "notice_workdays": nil}},
		{"option", "o", map[string]any{"price_minor": int64(-12050), "price_currency": "EUR", "weight_kg": 12.5, "days_workdays": nil}},
		{"option", "free", map[string]any{"price_minor": int64(0), "price_currency": "EUR"}},
		{"option", "unsaid", map[string]any{"price_minor": nil, "price_currency": nil}},
		{"place", "p", map[string]any{"plan_m": "[[0,0],[1,0],[1,2.5]]", "profile_m": nil}},
		{"photo", "f", map[string]any{"file_sha256": sha, "file_name": "a.jpg"}},
		{"measurement", "m", map[string]any{"got_si": 0.025, "got_measures": "length", "should_si": 0.024, "should_minus_si": 0.001, "should_plus_si": 0.002}},
		{"statement", "w", map[string]any{"when_first": "2027-05-03", "when_last": "2027-05-09"}},
		{"visit", "v", map[string]any{"day": "2027-04-12"}},
	} {
		row := table(t, db, `SELECT * FROM "`+c.kind+`"`)[c.key]
		for name, want := range c.want {
			if got, there := row[name]; !there || got != want {
				t.Errorf("%s %s: %s = %v (%T, there: %v), want %v", c.kind, c.key, name, got, got, there, want)
			}
		}
	}
}

// Views do not get in each other's way, nor in that of tables, and there is
// one for each kind.
func TestEachKindHasItsView(t *testing.T) {
	f := create(t)
	names := table(t, raw(t, f.Dir()), `SELECT name, type FROM sqlite_schema WHERE type IN ('view', 'table')`)
	for _, k := range record.Kinds() {
		if names[k.Name]["type"] != "view" {
			t.Errorf("%s is %v, want a view", k.Name, names[k.Name])
		}
		columns := table(t, raw(t, f.Dir()), `SELECT name, count(*) AS n FROM pragma_table_info('`+k.Name+`') GROUP BY name`)
		if len(columns) < len(k.Fields)+1 {
			t.Errorf("%s has %d columns for %d fields", k.Name, len(columns), len(k.Fields))
		}
		for name := range columns {
			if strings.Contains(name, ":") { // so SQLite tells columns of one name apart
				t.Errorf("%s: two columns are called alike: %s", k.Name, name)
			}
		}
	}
}

// The views of another version of the kinds are made anew.
func TestViewsFollowTheKinds(t *testing.T) {
	f := create(t)
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	db := raw(t, f.Dir())
	for _, q := range []string{`DROP VIEW part`, `CREATE VIEW part AS SELECT 1 AS key`, `CREATE VIEW keel AS SELECT 1 AS key`} {
		if _, err := db.Exec(q); err != nil {
			t.Fatal(err)
		}
	}
	g, err := store.Open(context.Background(), f.Dir(), noon)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = g.Close() }()
	names := table(t, db, `SELECT name, sql FROM sqlite_schema WHERE type = 'view'`)
	if len(names) != len(record.Kinds())+1 || names["keel"] != nil {
		t.Errorf("%d views, want %d", len(names), len(record.Kinds())+1)
	}
}
