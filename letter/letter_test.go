package letter_test

import (
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk/visit"
	"dogshore/journal"
	"dogshore/letter"
	"dogshore/record"
)

// An invented yard: Ada may instruct, Bo may not.
func yard(t *testing.T) *journal.Record {
	t.Helper()
	var j journal.Journal
	write := func(self record.Ref, values map[string]record.Value) {
		e := journal.Entry{ID: string(self), Stamp: j.Stamp() + 1, Since: journal.Always, Author: "owner", Grounds: record.Written, Version: journal.Version}
		for f, v := range values {
			e.Facts = append(e.Facts, journal.Fact{Kind: self.Kind(), Key: self.Key(), Field: f, Value: v})
		}
		if _, err := journal.Check(e); err != nil {
			t.Fatal(err)
		}
		j.Add(e)
	}
	write("build/build", record.Values(record.Build{Name: "Test sloop", HullNumber: "7"}))
	write("person/ada", record.Values(record.Person{Name: "Ada Quill", Role: "builder", MayInstruct: record.Yes}))
	write("person/bo", record.Values(record.Person{Name: "Bo Marsh", Role: "yard lead"}))
	write("person/own", record.Values(record.Person{Name: "Own Er", Role: "owner", MayInstruct: record.Yes}))
	return j.As(calendar.Date(2027, 3, 16), journal.Now)
}

func TestDraftIsAddressedNumberedAndBounded(t *testing.T) {
	day := calendar.Date(2027, 3, 16)
	a := visit.Answer{Last: record.Visit{Day: day, By: "owner"}}
	for n := 4; n < 17; n++ {
		a.Letter = append(a.Letter, visit.LetterLine{Number: n, Text: "Please confirm.", By: day + 10})
	}
	a.Letter[0].By, a.Letter[0].Line = day-10, "line/old-4"
	r := yard(t)
	l := letter.Draft(r, a, day)
	if l.To != "person/ada" {
		t.Errorf("addressed to %s; Ada is the one at the yard who may instruct", l.To)
	}
	if len(l.Lines) != 10 || len(l.Annex) != 3 || l.Annex[0].Number != 14 {
		t.Errorf("%d points and %d in the annex", len(l.Lines), len(l.Annex))
	}
	if l.Lines[0].By.Known() || a.Letter[0].By != day-10 {
		t.Error("a day that has passed is asked for again, or the desk's answer was changed")
	}
	text := l.Text(r)
	for _, want := range []string{"Test sloop, hull 7", "Dear Ada Quill", "\n4. Please confirm.\n", "14. Please confirm. Please answer by Fri 26 March 2027.", "Annex"} {
		if !strings.Contains(text, want) {
			t.Errorf("the text lacks %q:\n%s", want, text)
		}
	}
	lines := 0
	for _, f := range l.Facts("k", text, record.File{}) {
		if f.Kind == "line" && f.Field == "number" {
			lines++
		}
	}
	if lines != 12 {
		t.Errorf("%d lines are written; the one sent before is not written again", lines)
	}
}

// A line that is said again because it is needed sooner writes the day that it
// now names, and nothing else of it; one that is only said again writes nothing.
func TestADayThatMovesUpIsWritten(t *testing.T) {
	day := calendar.Date(2027, 3, 16)
	a := visit.Answer{Letter: []visit.LetterLine{
		{Number: 4, Text: "sooner", By: day + 5, Told: day + 12, Line: "line/old-4"},
		{Number: 5, Text: "overdue", By: day - 5, Line: "line/old-5"},
	}}
	l := letter.Draft(yard(t), a, day)
	var of []journal.Fact
	for _, f := range l.Facts("k", "text", record.File{}) {
		if f.Kind == "line" {
			of = append(of, f)
		}
	}
	if len(of) != 1 || of[0].Key != "old-4" || of[0].Field != "by" || of[0].Value != record.Encode(day+5) {
		t.Errorf("facts %+v", of)
	}
	l.Lines[0].By = day + 20 // the owner's hand says a later day, which the letter then says: not by itself
	for _, f := range l.Facts("k", "text", record.File{}) {
		if f.Kind == "line" {
			t.Errorf("a later day is written as if it had moved up: %+v", f)
		}
	}
}
