package diary_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"dogshore/calendar"
	"dogshore/diary"
	"dogshore/journal"
	"dogshore/record"
)

// What is said of a name is what happens to it: each part that is said to go is
// gone from a note, each that is said to stay is there.
func TestNamesSayWhatGoes(t *testing.T) {
	var j journal.Journal
	day := calendar.Date(2027, 3, 16)
	put := func(self record.Ref, values map[string]record.Value) {
		j.Add(journal.Entry{ID: string(self), Stamp: j.Stamp() + 1, Since: day, Author: "owner", Grounds: record.Written, Version: journal.Version, Visit: "visit/v", Facts: journal.Facts(self, values)})
	}
	put("build/build", record.Values(record.Build{Name: "Test sloop", Yard: "Ormel Boatyard"}))
	put("part/hatch", record.Values(record.Part{Name: "Forward hatches"}))
	put("person/s", record.Values(record.Person{Name: "Varga Hatches Ltd", Role: "supplier"}))
	put("person/b", record.Values(record.Person{Name: "Bill Ostrow", Role: "builder"}))
	put("visit/v", record.Values(record.Visit{Day: day, By: "owner"}))
	put("note/n", record.Values(record.Note{Text: "Ormel, Boatyard, Varga, Hatches, Ltd, Bill, bill, Ostrow."}))
	r := j.As(day, journal.Now)
	want := []diary.Name{
		{Name: "Bill Ostrow", Says: "the builder", Goes: []string{"Ostrow"}, AsWritten: []string{"Bill"}},
		{Name: "Varga Hatches Ltd", Says: "the supplier", Goes: []string{"Varga"}, Stays: []string{"Hatches", "Ltd"}},
		{Name: "Ormel Boatyard", Says: "the yard", Goes: []string{"Ormel"}, Stays: []string{"Boatyard"}},
	}
	if d := cmp.Diff(want, diary.Names(r)); d != "" {
		t.Errorf("names (-want +got):\n%s", d)
	}
	var text string
	for _, v := range diary.Read(r, diary.Leave{Names: true}).Visits {
		for _, s := range v.Sections {
			for _, i := range s.Items {
				text += i.Text
			}
		}
	}
	if text != "the yard, Boatyard, the supplier, Hatches, Ltd, the builder, bill, the builder." {
		t.Errorf("the diary says %q", text)
	}
}
