package demo

import (
	"fmt"
	"maps"
	"testing"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/template"
	"dogshore/unit"
)

// straight makes a journal of a build's text without intake or store: a
// second way to the same record.
func straight(t *testing.T, which Which) *journal.Journal {
	t.Helper()
	all := rows(t, which)
	known := subjects(t, which, all)
	j := &journal.Journal{}
	var stamp journal.Stamp
	add := func(e journal.Entry) {
		stamp++
		e.Stamp, e.Version, e.Arrival = stamp, journal.Version, int64(stamp)
		e, err := journal.Check(e)
		if err != nil {
			t.Fatal(err)
		}
		j.Add(e)
	}
	days := map[string]calendar.Day{}
	for _, r := range all {
		if r.kind.Name == "visit" {
			days[r.key], _ = calendar.ParseISO(r.cells["day"])
		}
	}
	if which == Thin {
		entries, err := template.Lay(record.Build{Boat: "monohull", Way: "hand-laid", Hulls: "one piece", Series: "series", Length: unit.Q(9.8, unit.Length)},
			func(g record.Grounds) journal.Entry {
				return journal.Entry{ID: fmt.Sprintf("t%d", stamp), Since: journal.Always, Author: "owner", Grounds: g}
			})
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range entries {
			e.ID = fmt.Sprintf("t%d", i)
			add(e)
		}
	}
	last := map[string]string{} // slot -> entry that said it last
	said := map[string]string{} // the same, of the number at hand
	for i, r := range all {
		if i > 0 && r.batch.Place != all[i-1].batch.Place {
			maps.Copy(last, said)
			clear(said)
		}
		e := journal.Entry{ID: fmt.Sprintf("r%d", i), Since: since(r, days), Author: "owner", Grounds: record.Written}
		switch r.kind.Name {
		case "sighting", "measurement", "arrival", "defect", "remedy", "photo", "evidence", "visit":
			e.Grounds = record.Seen
		case "statement", "agreement", "decision", "sister_sighting", "release":
			e.Grounds = record.Told
		}
		if r.how != "" {
			e.Grounds = record.Grounds(r.how)
		}
		key := r.key
		if key == "" {
			key = e.ID
		}
		for k := range r.kind.Fields {
			f := &r.kind.Fields[k]
			cell, ok := r.cells[f.Name]
			if !ok {
				continue
			}
			slot := r.kind.Name + "/" + key + "." + f.Name
			e.Facts = append(e.Facts, journal.Fact{Kind: r.kind.Name, Key: key, Field: f.Name, Value: value(t, f, cell, r, known), Over: last[slot]})
			said[slot] = e.ID
		}
		add(e)
	}
	return j
}

// since is the day from which a row holds: what it says, else its own date,
// else always.
func since(r row, days map[string]calendar.Day) calendar.Day {
	for _, f := range []string{"since", "day", "on", "asked", "quoted_on"} {
		if d, err := calendar.ParseISO(r.cells[f]); err == nil && d != 0 && (f == "since" || r.kind.Name != "cutoff") {
			return d
		}
	}
	if d := days[r.cells["visit"]]; d != 0 {
		return d
	}
	if r.kind.Adds {
		return r.batch.Day
	}
	return journal.Always
}

func value(t *testing.T, f *record.Field, cell string, r row, known map[record.Ref]bool) record.Value {
	t.Helper()
	if f.Type != record.RefType {
		v, err := f.Parse(cell, r.batch.Day)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, kind := range f.Of {
		if known[record.R(kind, cell)] {
			return record.Encode(record.R(kind, cell))
		}
	}
	return record.Encode(record.Ref(cell))
}

func TestFoldOfTheText(t *testing.T) {
	for _, which := range Builds {
		today, err := Today(which)
		if err != nil {
			t.Fatal(err)
		}
		planted := map[Which]string{Full: "cutoff/deck-layout"} // two of us heard two days
		doubts := straight(t, which).As(today, journal.Now).Doubts()
		for _, d := range doubts {
			if d.Kind != journal.Conflict || string(d.About) != planted[which] {
				t.Errorf("%s: %s", which, d.Says)
			}
		}
		if planted[which] != "" && len(doubts) != 1 {
			t.Errorf("%s: %d doubts, want the one that was planted", which, len(doubts))
		}
	}
}
