package intake_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/journal"
	"dogshore/record"
)

var today = calendar.Date(2026, 5, 20)

// boat is a record with a few parts, steps and people, as a template and a
// first week leave it.
func boat(t testing.TB, more ...journal.Entry) *journal.Record {
	t.Helper()
	var j journal.Journal
	add := func(id string, self record.Ref, values map[string]record.Value) {
		e := journal.Entry{ID: id, Stamp: journal.Stamp(j.Len() + 1), Since: journal.Always, Author: "template", Grounds: record.Inferred, Version: journal.Version, Arrival: int64(j.Len() + 1)}
		k := record.KindOf(self.Kind())
		for i := range k.Fields {
			if v, ok := values[k.Fields[i].Name]; ok {
				e.Facts = append(e.Facts, journal.Fact{Kind: self.Kind(), Key: self.Key(), Field: k.Fields[i].Name, Value: v})
			}
		}
		c, err := journal.Check(e)
		if err != nil {
			t.Fatal(err)
		}
		j.Add(c)
	}
	add("t1", "part/deck", record.Values(record.Part{Name: "Deck"}))
	add("t2", "part/port-hull", record.Values(record.Part{Name: "Port hull"}))
	add("t3", "step/deck-gelcoat", record.Values(record.Step{Name: "Deck gelcoat", Part: "part/deck", Stage: "gelcoat"}))
	add("t4", "step/deck-skin-coat", record.Values(record.Step{Name: "Deck skin coat", Part: "part/deck", Stage: "skin-coat"}))
	add("t5", "step/port-hull-core", record.Values(record.Step{Name: "Port hull core", Part: "part/port-hull", Stage: "core"}))
	add("t6", "person/marek", record.Values(record.Person{Name: "Marek Lind", Role: "yard lead", Contact: "marek@yard.example, +00 1"}))
	add("t7", "person/ida", record.Values(record.Person{Name: "Ida Lind", Role: "yard hand"}))
	for _, e := range more {
		e.Arrival = int64(j.Len() + 1)
		j.Add(e)
	}
	return j.As(today, journal.Now)
}

func file(name, text string) intake.File {
	return intake.File{Name: name, Data: strings.NewReader(text), Size: int64(len(text))}
}

func reading(t testing.TB, name string, raw []byte) *intake.Reading {
	t.Helper()
	return intake.Read([]intake.File{{Name: name, Data: bytes.NewReader(raw), Size: int64(len(raw))}}, boat(t), intake.Options{Today: today})
}

func printed(t testing.TB, r *intake.Reading) string {
	t.Helper()
	var b strings.Builder
	if err := intake.Print(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestTry(t *testing.T) {
	for _, n := range []string{"shed", "counted-from-1904", "counted-from-1900"} {
		raw, err := os.ReadFile(filepath.Join("testdata", n+".xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		r := reading(t, n+".xlsx", raw)
		t.Log("\n" + printed(t, r))
		for _, x := range r.Reads {
			for _, f := range x.Facts {
				t.Log(x.At, x.Self, x.Since, x.Grounds, f.Field.Name, f.Field.Format(f.Value), f.Field.Plain(f.Value))
			}
		}
	}
}
