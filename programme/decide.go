package programme

import "dogshore/calendar"

// Lead is one link of the chain between a decision and the step that needs
// what was decided: deciding, checking, making, delivering. It takes Days on
// Calendar, or elapsed Hours.
type Lead struct {
	Says     string
	Days     float64
	Hours    float64
	Calendar *calendar.Calendar
}

// DecideBy returns the latest moment at which the chain of leads, first things
// first, can begin so that it has ended by start:
//
//	D = back(... back(back(S, Ln), Ln-1) ..., L1)
//
// each lead on its own calendar. From the early start of the covering step it
// is the date to keep, since the yard works to its early dates; from the late
// start it holds only if the yard is told to wait. ByEndOf of a calendar gives
// the day by whose end it is still in time.
func DecideBy(start calendar.Moment, leads []Lead) calendar.Moment {
	d := start
	for i := len(leads) - 1; i >= 0; i-- {
		l := leads[i]
		d = d.After(-l.Hours)
		if l.Calendar != nil {
			d = l.Calendar.Back(d, l.Days)
		}
	}
	return d
}
