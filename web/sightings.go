package web

import (
	"sort"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/drawing"
	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
)

// seenStep is one sighting with its day and how firm it is.
type seenStep struct {
	record.Sighting
	Day     calendar.Day
	Grounds record.Grounds
}

// sightings lists what was seen up to the day looked at, oldest first.
func (v *view) sightings() []seenStep {
	var out []seenStep
	for _, x := range journal.All[record.Sighting](v.rec) {
		h, ok := v.rec.Held(x.Self, "state")
		if !ok {
			continue
		}
		s := seenStep{x, h.Entry.Since, h.Entry.Grounds}
		if at, ok := journal.Get[record.Visit](v.rec, x.Visit); ok && at.Day.Known() {
			s.Day = at.Day
			switch {
			case at.By == "call":
				s.Grounds = record.Told
			case at.By == "pictures" && s.Grounds.Rank() > record.Shown.Rank():
				s.Grounds = record.Shown
			}
		}
		if s.Day <= v.Day {
			out = append(out, s)
		}
	}
	sort.SliceStable(out, func(i, k int) bool { return out[i].Day < out[k].Day })
	return out
}

// spread adds a date to a row: its spread if it has one, and what was said of
// it if that rests on something else.
func (v *view) spread(r *Row, label string, has bool, d programme.Dates, w desk.When) {
	if has {
		r.line(label, drawing.SpreadSays(d, v.Day)+", by the forecast")
		if w.Basis == desk.ByChance {
			return
		}
	}
	v.date(r, label, w)
}
