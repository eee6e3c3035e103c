package calendar

import (
	"fmt"
	"time"
)

// Moment is an instant of civil time without a zone: seconds since the
// midnight at which Day 0 begins. The zero Moment is "no moment".
type Moment int64

const (
	secondsADay   = 86400
	secondsAnHour = 3600
)

// At returns the first moment of d.
func At(d Day) Moment { return Moment(d) * secondsADay }

// Day returns the day that m lies in; midnight belongs to the day it begins.
func (m Moment) Day() Day { return Day(floorDiv(int64(m), secondsADay)) }

// After returns the moment that lies h elapsed hours after m, to the second.
func (m Moment) After(h float64) Moment { return m + Moment(round(h*secondsAnHour)) }

// Known reports whether m is a moment at all.
func (m Moment) Known() bool { return m != 0 }

// String prints m as "2027-03-08 12:00", with seconds where it has any, and
// no moment as "".
func (m Moment) String() string {
	if m == 0 {
		return ""
	}
	form := "15:04"
	if m%60 != 0 {
		form = "15:04:05"
	}
	clock := time.Unix(int64(m-At(m.Day())), 0).UTC().Format(form)
	return m.Day().String() + " " + clock
}

// MarshalText carries a Moment as String prints it.
func (m Moment) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (m *Moment) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*m = 0
		return nil
	}
	for _, form := range []string{"2006-01-02 15:04", "2006-01-02 15:04:05"} {
		if t, err := time.Parse(form, string(b)); err == nil {
			*m = At(Of(t)) + Moment(t.Hour()*3600+t.Minute()*60+t.Second())
			return nil
		}
	}
	return fmt.Errorf("%q is not a moment: write it as 2027-04-12 08:00", b)
}

// floorDiv divides by b > 0 and rounds down.
func floorDiv(a, b int64) int64 {
	q := a / b
	if a < 0 && q*b != a {
		q--
	}
	return q
}
