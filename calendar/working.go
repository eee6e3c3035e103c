package calendar

// Moment is an instant of civil time without a zone: seconds since the
// midnight at which Day 0 begins. The zero Moment is "no moment".
type Moment int64

// At returns the first moment of d.
func At(d Day) Moment { return Moment(d) * 86400 }

// Day returns the day that m lies in; midnight belongs to the day it begins.
func (m Moment) Day() Day { return Day(m / 86400) }

// Closure is a run of days, both included, on which a calendar works less
// than its week says: Working is the fraction of a day, 0 for closed.
type Closure struct {
	From    Day     `json:"from"`
	To      Day     `json:"to"`
	Working float64 `json:"working,omitempty"`
	Why     string  `json:"why,omitempty"`
}
