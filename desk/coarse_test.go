package desk

import (
	"testing"
	"time"

	"dogshore/calendar"
)

// Wed 8 April 2026 is the day of reading.
var from = calendar.Date(2026, 4, 8)

// A date is printed as finely as it deserves: a day within two weeks, a week
// within eight, a month beyond.
func TestCoarse(t *testing.T) {
	for _, c := range []struct {
		day  calendar.Day
		want string
	}{
		{0, ""},
		{from, "Wed 8 April"},
		{from + 14, "Wed 22 April"},
		{from + 15, "week of 20 April"},
		{calendar.Date(2026, 4, 27), "week of 27 April"}, // a Monday
		{calendar.Date(2026, 5, 3), "week of 27 April"},  // a Sunday
		{from + 56, "week of 1 June"},
		{from + 57, "June 2026"},
		{calendar.Date(2027, 1, 20), "January 2027"},
		{from - 1, "Tue 7 April"},
		{calendar.Date(2025, 12, 24), "Wed 24 December 2025"},
	} {
		if got := Coarse(c.day, from); got != c.want {
			t.Errorf("%s is printed %q, want %q", c.day, got, c.want)
		}
	}
	december := calendar.Date(2026, 12, 20)
	if got := Coarse(calendar.Date(2027, 1, 2), december); got != "Sat 2 January 2027" {
		t.Errorf("over the year's end: %q", got)
	}
	if got := Coarse(calendar.Date(2027, 1, 31), december); got != "week of 25 January 2027" {
		t.Errorf("over the year's end: %q", got)
	}
}

func TestWhenLine(t *testing.T) {
	const word = "on the yard's word of 3 April"
	for _, c := range []struct {
		w    When
		want string
	}{
		{When{}, ""},
		{When{Said: word}, ""}, // a word without a date
		{When{Day: from + 4, Said: word}, "by Sun 12 April, " + word},
		{When{Day: from + 20, Said: word}, "by the week of 27 April, " + word},
		{When{Day: from + 70, Basis: Contract}, "by June 2026, by the contract"},
		{When{Day: from - 5, Basis: YardsWord}, "was due Fri 3 April, on the yard's word"},
		{When{Day: from, Basis: Durations}, "by Wed 8 April, reckoned from the durations entered"},
	} {
		if got := c.w.Line(from); got != c.want {
			t.Errorf("%+v: %q, want %q", c.w, got, c.want)
		}
	}
}

func TestEvent(t *testing.T) {
	for _, c := range []struct {
		a    Act
		want string
	}{
		{Act{}, ""},
		{Act{Before: "step/x"}, "before the deck core, which can come next"},
		{Act{Before: "step/x", Ahead: 1}, "before the deck core, which is one step from now"},
		{Act{Before: "step/x", Ahead: 7}, "before the deck core, which is 7 steps from now"},
		{Act{Before: "step/x", Ahead: -1}, "before the deck core"},
		{Act{Before: "step/x", Gone: true}, "before the deck core, which has begun"},
	} {
		if got := c.a.Event("deck core"); got != c.want {
			t.Errorf("%+v: %q, want %q", c.a, got, c.want)
		}
	}
}

// A date that two words are needed for has both, with one year.
func TestCoarseBetween(t *testing.T) {
	next := func(month time.Month, day int) calendar.Day { return calendar.Date(2027, month, day) }
	for _, c := range []struct {
		first, last calendar.Day
		want        string
	}{
		{next(7, 2), next(7, 30), "July 2027"},
		{next(7, 30), next(8, 23), "July or August 2027"},
		{calendar.Date(2026, 12, 18), next(1, 4), "December 2026 or January 2027"},
		{from + 1, from + 1, "Thu 9 April"},
		{from + 50, from + 60, "week of 25 May or June 2026"},
	} {
		if got := CoarseBetween(c.first, c.last, from); got != c.want {
			t.Errorf("%s to %s is printed %q, want %q", c.first, c.last, got, c.want)
		}
	}
}
