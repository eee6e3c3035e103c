// Package calendar counts in civil days and in working time.
//
// A Day has no clock and no zone. Working time is measured in working days on
// a Calendar; elapsed time runs through nights, weekends and shutdowns.
package calendar

import (
	"fmt"
	"strings"
	"time"
)

// Day is a civil day: the number of days since 31 December 1899, so that
// 1 January 1900 is 1. The zero Day is "no day".
type Day int32

// Date returns the day of a year, month and day of month; out-of-range values
// are carried over as time.Date does.
func Date(year int, month time.Month, day int) Day {
	t := time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
	return Of(t)
}

var origin = time.Date(1899, 12, 31, 0, 0, 0, 0, time.UTC)

// Of returns the civil day that t shows in its own zone.
func Of(t time.Time) Day {
	y, m, d := t.Date()
	const day = 24 * 60 * 60
	return Day((time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() - origin.Unix()) / day) // a Duration ends after 292 years
}

// Time returns midnight UTC of d.
func (d Day) Time() time.Time { return origin.AddDate(0, 0, int(d)) }

// Weekday returns the day of the week.
func (d Day) Weekday() time.Weekday { return d.Time().Weekday() }

// Week returns the ISO 8601 year and week of d.
func (d Day) Week() (year, week int) { return d.Time().ISOWeek() }

// Known reports whether d is a day at all.
func (d Day) Known() bool { return d != 0 }

// String prints d as ISO 8601, and no day as "".
func (d Day) String() string {
	if d == 0 {
		return ""
	}
	return d.Time().Format("2006-01-02")
}

// Said prints d as people say it: "Mon 12 April 2027".
func (d Day) Said() string {
	if d == 0 {
		return ""
	}
	return d.Time().Format("Mon 2 January 2006")
}

// ParseISO reads 2027-04-12 and nothing else. The empty text is no day.
func ParseISO(s string) (Day, error) {
	if s == "" {
		return 0, nil
	}
	t, err := time.Parse("2006-01-02", s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a day: write it as 2027-04-12", s)
	}
	d := Of(t)
	if d < Date(1950, 1, 1) || d > Date(2199, 12, 31) {
		return 0, fmt.Errorf("%q is outside the years 1950 to 2199", s)
	}
	return d, nil
}

// MarshalText and UnmarshalText carry a Day as ISO 8601.
func (d Day) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (d *Day) UnmarshalText(b []byte) error {
	v, err := ParseISO(string(b))
	*d = v
	return err
}

// Span is a day said with some width: a day, a week or a month. The zero Span
// says nothing.
type Span struct {
	First Day    `json:"first"`
	Last  Day    `json:"last"`
	As    string `json:"as,omitempty"` // as it was said: "W34", "end of May"
}

// Known reports whether s says anything.
func (s Span) Known() bool { return s.First != 0 }

// On returns the span of one day.
func On(d Day) Span { return Span{First: d, Last: d} }

// String prints the narrowest of day, ISO week, month that s is, else both ends.
func (s Span) String() string {
	if !s.Known() {
		return ""
	}
	if s.First == s.Last {
		return s.First.String()
	}
	if y, w := s.First.Week(); s.First.Weekday() == time.Monday && s.Last == s.First+6 {
		return fmt.Sprintf("%04d-W%02d", y, w)
	}
	f := s.First.Time()
	if f.Day() == 1 && s.Last == Of(f.AddDate(0, 1, -1)) {
		return f.Format("2006-01")
	}
	return s.First.String() + "/" + s.Last.String()
}

// Said prints s as people say it: in the words in which it was written, else
// as a day, the week of a day, a month, or both ends. What a form or a sheet
// writes ("2027-W15") is not how people say it.
func (s Span) Said() string {
	written := strings.HasPrefix(s.As, "20")
	switch f := s.First.Time(); {
	case !s.Known():
		return ""
	case s.As != "" && !written:
		return s.As
	case s.First == s.Last:
		return s.First.Said()
	case s.First.Weekday() == time.Monday && s.Last == s.First+6:
		return "week of " + f.Format("2 January 2006")
	case f.Day() == 1 && s.Last == Of(f.AddDate(0, 1, -1)):
		return f.Format("January 2006")
	}
	return s.First.Said() + " to " + s.Last.Said()
}
