package calendar_test

import (
	"testing"

	"dogshore/calendar"
)

// A span is said in the words in which it was written, and never as a form or
// a sheet writes it.
func TestSpanSaid(t *testing.T) {
	for text, want := range map[string]string{
		"2026-W50":              "week of 7 December 2026",
		"2027-03-15":            calendar.Date(2027, 3, 15).Said(),
		"2027-03":               "March 2027",
		"W34":                   "W34",
		"end of May":            "end of May",
		"2027-04-12/2027-04-20": "Mon 12 April 2027 to Tue 20 April 2027",
	} {
		s, err := calendar.ParseSpan(text, calendar.Date(2026, 11, 12))
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Said(); got != want {
			t.Errorf("%s is said %q, want %q", text, got, want)
		}
	}
	if got := (calendar.Span{}).Said(); got != "" {
		t.Errorf("no span is said %q", got)
	}
}
