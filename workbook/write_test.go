package workbook_test

import (
	"bytes"
	"os"
	"testing"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
	"dogshore/workbook"
)

func sample(t *testing.T) *journal.Record {
	t.Helper()
	var j journal.Journal
	add := func(id string, ref record.Ref, values map[string]record.Value) {
		e := journal.Entry{ID: id, Stamp: journal.Stamp(len(id) + j.Len()), Since: journal.Always, Author: "owner", Grounds: record.Written, Version: journal.Version, Arrival: int64(j.Len() + 1)}
		k := record.KindOf(ref.Kind())
		for i := range k.Fields {
			if v, ok := values[k.Fields[i].Name]; ok {
				e.Facts = append(e.Facts, journal.Fact{Kind: ref.Kind(), Key: ref.Key(), Field: k.Fields[i].Name, Value: v})
			}
		}
		c, err := journal.Check(e)
		if err != nil {
			t.Fatal(err)
		}
		j.Add(c)
	}
	kg, err := unit.ParseQuantity("12,5 kg", unit.Mass, unit.Habit{})
	if err != nil {
		t.Fatal(err)
	}
	add("b", "build/build", record.Values(record.Build{Name: "Nobody's Boat", ContractDay: calendar.Date(2026, 1, 12), Currency: "EUR", Length: unit.Q(14.9, unit.Length)}))
	add("p1", "part/deck", record.Values(record.Part{Name: "Deck"}))
	add("p2", "part/port-hatch", record.Values(record.Part{Name: "Hatch", Within: "part/deck", Side: "port"}))
	add("p3", "part/starboard-hatch", record.Values(record.Part{Name: "Hatch", Within: "part/deck", Side: "starboard"}))
	add("s1", "step/deck-core", record.Values(record.Step{Name: "Deck core", Part: "part/deck", Work: record.ThreePoint{Known: true, Low: 3, Mode: 5, High: 9, Dim: unit.Work, As: "3/5/9 wd"}}))
	add("o1", "point/hatches", record.Values(record.Point{Question: "=SUM(A1) or two hatches?", Part: "part/port-hatch", CoveredBy: "step/deck-core"}))
	add("op", "option/two", record.Values(record.Option{Point: "point/hatches", Name: "+two", Weight: kg, Price: unit.Money{Minor: 125000, Currency: "EUR"}}))
	return j.As(calendar.Date(2026, 6, 1), journal.Now)
}

func TestTry(t *testing.T) {
	var b bytes.Buffer
	if err := workbook.Write(&b, sample(t)); err != nil {
		t.Fatal(err)
	}
	_ = os.WriteFile("/tmp/try.xlsx", b.Bytes(), 0o644)
	book, err := workbook.Read("try.xlsx", bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range book.Sheets {
		t.Log(s.Name, s.Hidden, len(s.Rows), s.Notes)
		if s.Name == "Options" || s.Name == "Parts" || s.Name == "Build" {
			for _, r := range s.Rows {
				t.Log(r)
			}
		}
	}
}
