package desk

import (
	"fmt"
	"strings"
	"time"

	"dogshore/calendar"
)

// Bounds of the coarseness of dates: a day within two weeks, a week within
// eight, a month beyond.
const (
	byDay  = 14
	byWeek = 56
)

// Coarse prints day as finely as it deserves when read on from: a day still
// to come as "Mon 12 April" within two weeks, as "week of 12 April" (its
// Monday) within eight, as "June 2027" beyond. A day that is past is printed
// as a day. The year is added where it is not from's.
func Coarse(day, from calendar.Day) string {
	t := day.Time()
	year := ""
	if t.Year() != from.Time().Year() {
		year = fmt.Sprintf(" %d", t.Year())
	}
	switch ahead := int(day - from); {
	case day == 0:
		return ""
	case ahead <= byDay:
		return t.Format("Mon 2 January") + year
	case ahead <= byWeek:
		monday := day - calendar.Day((int(t.Weekday())-int(time.Monday)+7)%7)
		return "week of " + monday.Time().Format("2 January") + year
	}
	return t.Format("January 2006")
}

// CoarseBetween prints a date that is known no better than from one day to
// another: as Coarse where that is one word, else as "July or August 2027".
func CoarseBetween(first, last, from calendar.Day) string {
	a, b := Coarse(first, from), Coarse(last, from)
	if a == b {
		return a
	}
	if year := first.Time().Format(" 2006"); strings.HasSuffix(b, year) {
		a = strings.TrimSuffix(a, year)
	}
	return a + " or " + b
}

// Line prints w beside the act that it belongs to, with its basis in the same
// line: "by Mon 12 April, on the yard's word of 3 April", and once it is past
// "was due ...". Read as people read it, "by June" is never later than the
// day itself. It is empty when no date was earned.
func (w When) Line(from calendar.Day) string {
	if !w.Known() {
		return ""
	}
	lead := "by "
	switch ahead := int(w.Day - from); {
	case ahead < 0:
		lead = "was due "
	case ahead > byDay && ahead <= byWeek:
		lead = "by the "
	}
	return lead + Coarse(w.Day, from) + ", " + w.On()
}

// On says what w rests on, in words.
func (w When) On() string {
	if w.Said != "" {
		return w.Said
	}
	switch w.Basis {
	case Contract:
		return "by the contract"
	case YardsWord:
		return "on the yard's word"
	case OurLetter:
		return "as our letter has it"
	case Durations:
		return "reckoned from the durations entered"
	}
	return "nobody has said on what ground"
}
