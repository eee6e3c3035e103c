package store

import (
	"context"
	"database/sql"
	"fmt"
	"strings"

	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// views returns the SQL of every view by its name: "winner", which shows the
// fact that holds for each field, and one for each kind, named by it, with a
// row for each subject and a column for each plain value of a field.
func views() map[string]string {
	out := map[string]string{"winner": winnerView}
	for i := range record.Kinds() {
		k := &record.Kinds()[i]
		out[k.Name] = kindView(k)
	}
	return out
}

// The order in which facts win is that of the fold: since, stamp, id.
var winnerView = fmt.Sprintf(`CREATE VIEW winner AS
SELECT kind, key, field, value, entry, since, grounds, author
FROM (
  SELECT f.kind, f.key, f.field, f.value, e.id AS entry, e.since, e.grounds, e.author,
    row_number() OVER (
      PARTITION BY f.kind, f.key, f.field
      ORDER BY e.since DESC, e.stamp DESC, e.id DESC
    ) AS place
  FROM fact f JOIN entry e ON e.arrival = f.entry, as_of
  WHERE e.since <= coalesce(as_of.day, date('now', 'localtime'))
    AND e.version <= %d
    AND f.kind <> '%s'
    AND NOT EXISTS (SELECT 1 FROM skipped s WHERE s.entry = e.arrival)
)
WHERE place = 1`, journal.Version, journal.EntryKind)

func kindView(k *record.Kind) string {
	var b strings.Builder
	fmt.Fprintf(&b, "CREATE VIEW %s AS\nSELECT key", quoted(k.Name))
	for i := range k.Fields {
		for _, c := range columns(&k.Fields[i]) {
			fmt.Fprintf(&b, ",\n  max(CASE WHEN field = '%s' THEN %s END) AS %s", k.Fields[i].Name, c.sql, quoted(c.name))
		}
	}
	fmt.Fprintf(&b, "\nFROM winner\nWHERE kind = '%s'\nGROUP BY key", k.Name)
	return b.String()
}

// quoted writes a name so that words of SQL, as "order", can be names.
func quoted(name string) string { return `"` + name + `"` }

type column struct{ name, sql string }

// columns returns what a field shows in SQL: plain text, ISO days, numbers in
// SI with the unit in the name. What is not known is NULL.
func columns(f *record.Field) []column {
	known := func(path string) string {
		return fmt.Sprintf("CASE WHEN value ->> '$.known' THEN CAST(value ->> '$.%s' AS REAL) END", path)
	}
	text := func(path string) string { return fmt.Sprintf("nullif(value ->> '$%s', '')", path) }
	in := f.Name + suffix[f.Dim]
	part := func(name string) string { return f.Name + "_" + name + suffix[f.Dim] }
	switch f.Type {
	case record.SpanType:
		return []column{{f.Name + "_first", text(".first")}, {f.Name + "_last", text(".last")}}
	case record.QuantityType:
		cols := []column{{in, known("si")}}
		if f.Dim == unit.Any {
			cols = append(cols, column{f.Name + "_measures", text(".dim")})
		}
		return cols
	case record.MoneyType:
		return []column{
			{f.Name + "_minor", "CASE WHEN value ->> '$.currency' <> '' THEN value ->> '$.minor' END"},
			{f.Name + "_currency", text(".currency")},
		}
	case record.ThreePointType:
		return []column{{part("low"), known("low")}, {part("mode"), known("mode")}, {part("high"), known("high")}}
	case record.ToleranceType:
		return []column{{in, known("value")}, {part("minus"), known("minus")}, {part("plus"), known("plus")}}
	case record.SpotType:
		return []column{{f.Name + "_x_m", known("x")}, {f.Name + "_y_m", known("y")}, {f.Name + "_z_m", known("z")}}
	case record.FileType:
		return []column{{f.Name + "_sha256", text(".sha256")}, {f.Name + "_name", text(".name")}}
	case record.OutlineType:
		return []column{{f.Name + "_m", "nullif(value, 'null')"}}
	}
	return []column{{f.Name, text("")}}
}

// suffix is what a column's name says of its unit. Of a value of any
// dimension, another column says which.
var suffix = map[unit.Dimension]string{
	unit.Number: "", unit.Length: "_m", unit.Area: "_m2", unit.Volume: "_m3", unit.Mass: "_kg",
	unit.Force: "_n", unit.Pressure: "_pa", unit.Angle: "_rad", unit.Temperature: "_k",
	unit.Work: "_workdays", unit.Time: "_s", unit.Any: "_si",
}

// makeViews brings the views in line with the kinds that this program knows.
func makeViews(ctx context.Context, db *sql.DB) error {
	want := views()
	there, err := viewsThere(ctx, db)
	if err != nil {
		return fmt.Errorf("read the views: %w", err)
	}
	same := len(there) == len(want)
	for name, text := range want {
		same = same && there[name] == text
	}
	if same {
		return nil
	}
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("make the views: %w", err)
	}
	defer func() { _ = tx.Rollback() }() // after a commit it does nothing
	if there, err = viewsThere(ctx, tx); err != nil {
		return fmt.Errorf("read the views: %w", err)
	}
	for name := range there {
		if _, err := tx.ExecContext(ctx, "DROP VIEW "+quoted(name)); err != nil {
			return fmt.Errorf("make the views: %w", err)
		}
	}
	for name, text := range want {
		if _, err := tx.ExecContext(ctx, text); err != nil {
			return fmt.Errorf("make the view %s: %w", name, err)
		}
	}
	return tx.Commit()
}

func viewsThere(ctx context.Context, q querier) (map[string]string, error) {
	rows, err := q.QueryContext(ctx, `SELECT name, sql FROM sqlite_schema WHERE type = 'view'`)
	if err != nil {
		return nil, err
	}
	defer func() { _ = rows.Close() }()
	out := map[string]string{}
	for rows.Next() {
		var name, text string
		if err := rows.Scan(&name, &text); err != nil {
			return nil, err
		}
		out[name] = text
	}
	return out, rows.Err()
}
