package plan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
)

// network makes the engine's case of the record, passes it and keeps the
// result. What the engine refuses (steps that wait for each other in a ring, a
// length that is none) is set aside, each a doubt, so that one slip of a pen
// does not take the whole plan away; only then does the engine run again.
func (d *reading) network(pass func(programme.Case) (programme.Result, error)) {
	res, err := pass(d.makeCase())
	for err != nil && d.setAside(err) {
		res, err = pass(d.makeCase())
	}
	if err != nil {
		d.doubt(Unreadable, fmt.Sprintf("The programme can't be worked out: %v. Steps stand in their usual order, without computed dates.", err), []record.Ref{"build/build"})
		d.in, d.out = map[record.Ref][]link{}, map[record.Ref][]link{}
		return
	}
	d.a.Network = res
	d.live = d.live[:0]
	for _, id := range res.Order {
		d.live = append(d.live, record.R("step", id))
	}
	for _, t := range res.Steps {
		d.steps[record.R("step", t.ID)].Times = t
	}
}

// setAside takes out of the way what the engine refuses, and reports whether
// that changed anything.
func (d *reading) setAside(err error) bool {
	var invalid *programme.Invalid
	if !errors.As(err, &invalid) {
		return false
	}
	changed := false
	for _, p := range invalid.Problems {
		switch {
		case p.Rule == programme.Cycle:
			changed = d.openRing(p.Steps) || changed
		case p.Rule == programme.BadLength && len(p.Steps) > 0:
			changed = d.dropLength(record.R("step", p.Steps[0]), p.Says) || changed
		case p.Rule == programme.BadLink && p.Link > 0:
			changed = d.dropLag(p.Link, p.Says) || changed
		}
	}
	return changed
}

// openRing sets aside one link of a ring of steps, one of the usual order
// before one that somebody entered.
func (d *reading) openRing(ids []string) bool {
	var ring []record.Ref
	for _, id := range ids {
		ring = append(ring, record.R("step", id))
	}
	var drop *link
	for i := range ring {
		to := ring[(i+1)%len(ring)]
		for k := range d.in[to] {
			l := &d.in[to][k]
			if l.from == ring[i] && (drop == nil || l.usual && !drop.usual || l.usual == drop.usual) {
				drop = l
			}
		}
	}
	if drop == nil {
		return false
	}
	gone := *drop
	var names []string
	for _, s := range ring {
		names = append(names, d.name(s))
	}
	d.doubt(Ring, fmt.Sprintf("%s wait for each other in a ring; that %s waits for %s is set aside until somebody says which link is wrong.",
		desk.Capital(strings.Join(names, ", ")), desk.The(d.name(gone.to)), desk.The(d.name(gone.from))), ring, names...)
	d.in[gone.to] = without(d.in[gone.to], gone)
	d.out[gone.from] = without(d.out[gone.from], gone)
	return true
}

func without(links []link, gone link) []link {
	return slices.DeleteFunc(slices.Clone(links), func(l link) bool { return l == gone })
}

// dropLag takes the lag off a link that the engine can't read; place is its
// place in the case, counted from 1.
func (d *reading) dropLag(place int, says string) bool {
	for _, to := range d.live {
		if place > len(d.in[to]) {
			place -= len(d.in[to])
			continue
		}
		l := &d.in[to][place-1]
		if l.lag == 0 && l.hours == 0 {
			return false
		}
		l.lag, l.hours = 0, 0
		d.doubt(Unreadable, fmt.Sprintf("The time between %s and %s is left out: %s.", desk.The(d.name(l.from)), desk.The(d.name(to)), says), []record.Ref{l.from, to})
		return true
	}
	return false
}

// dropLength leaves a step without a length that the engine can't read.
func (d *reading) dropLength(ref record.Ref, says string) bool {
	s := d.steps[ref]
	if s == nil || !s.Work.Known && !s.Lasts.Known {
		return false
	}
	d.doubt(Unreadable, fmt.Sprintf("The length of %s is left out: %s.", desk.The(s.Name), says), []record.Ref{ref})
	s.Work.Known, s.Lasts.Known = false, false
	return true
}

// makeCase writes the record as the engine's case. Only what was seen, shown
// or written bounds a step; what was only told is handed over as work left.
func (d *reading) makeCase() programme.Case {
	c := programme.Case{DataDate: d.day, Calendars: d.cals.cases}
	over := d.toldOver()
	for _, ref := range d.live {
		s := d.steps[ref]
		p := programme.Step{ID: ref.Key(), Calendar: d.calendarOf(s.Calendar).Key(), NotFrom: d.thought[ref].NotBefore, NotAfter: d.dueBy(ref)}
		switch {
		case s.Work.Known:
			p.Known, p.Work = true, s.Work.Mode
		case s.Lasts.Known:
			p.Known, p.Hours = true, s.Lasts.SI/3600
		}
		for _, l := range d.looks[ref] {
			if l.firm() {
				p.Seen = append(p.Seen, programme.Sighting{Day: l.day, State: programme.State(l.state)})
			}
		}
		if left, ok := d.workLeft(ref); ok {
			p.Left = &left
		}
		if over[ref] && !d.firmlyAfterTold(ref) {
			none := 0.0
			p.Left, p.Known = &none, true
		}
		c.Steps = append(c.Steps, p)
	}
	for _, to := range d.live {
		for _, l := range d.in[to] {
			e := programme.Link{From: l.from.Key(), To: l.to.Key(), Type: l.typ, Lag: l.lag, Hours: l.hours}
			if l.cal != "" {
				e.Calendar = d.calendarOf(l.cal).Key()
			}
			c.Links = append(c.Links, e)
		}
	}
	return c
}

// workLeft is the work that somebody said is left on a step that is under way
// or about to begin, less the working days that have passed since. Only the
// latest word on the step counts.
func (d *reading) workLeft(ref record.Ref) (days float64, ok bool) {
	last, found := d.latest(ref, func(p *Promise) bool { return p.Left.Known || endsIt(p.What) })
	if !found || !last.Left.Known {
		return 0, false
	}
	passed := d.on(d.steps[ref].Calendar).WorkingDays(last.On, d.day)
	return max(0, last.Left.SI-passed+d.thought[ref].More), true
}

// dueBy is the earliest cut-off that names the step.
func (d *reading) dueBy(ref record.Ref) calendar.Day {
	if c, ok := d.cutoff(ref); ok {
		return c.Day
	}
	return 0
}

// cutoff returns the earliest cut-off about a subject.
func (d *reading) cutoff(about record.Ref) (record.Cutoff, bool) {
	all := d.cutoffs[about]
	if len(all) == 0 {
		return record.Cutoff{}, false
	}
	return all[0], true
}

func (d *reading) gatherCutoffs() {
	d.cutoffs = map[record.Ref][]record.Cutoff{}
	for _, c := range journal.All[record.Cutoff](d.r) {
		if c.Day == 0 {
			continue
		}
		all := append(d.cutoffs[c.About], c)
		for i := len(all) - 1; i > 0 && all[i].Day < all[i-1].Day; i-- {
			all[i], all[i-1] = all[i-1], all[i]
		}
		d.cutoffs[c.About] = all
	}
}
