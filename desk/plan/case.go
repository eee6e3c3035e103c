package plan

import (
	"fmt"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
)

// network makes the engine's case of the record, passes once and keeps the
// result. Links that wait for themselves in a ring are set aside first, each
// ring a doubt, so that one slip of a pen does not take the whole plan away.
func (d *reading) network(pass func(programme.Case) (programme.Result, error)) map[string]programme.Times {
	d.openRings()
	res, err := pass(d.makeCase())
	if err != nil {
		d.doubt(fmt.Sprintf("The programme can't be worked out: %v. Steps stand in their usual order, without computed dates.", err), nil)
		d.byRankAlone()
		return nil
	}
	d.a.Network = res
	d.live = d.live[:0]
	for _, id := range res.Order {
		d.live = append(d.live, record.R("step", id))
	}
	times := make(map[string]programme.Times, len(res.Steps))
	for _, t := range res.Steps {
		times[t.ID] = t
		d.steps[record.R("step", t.ID)].Times = t
	}
	return times
}

// byRankAlone drops every link: the steps keep the order of their ranks.
func (d *reading) byRankAlone() {
	d.in, d.out = map[record.Ref][]link{}, map[record.Ref][]link{}
}

// makeCase writes the record as the engine's case. Only what was seen, shown
// or written bounds a step; what was only told is handed over as work left.
func (d *reading) makeCase() programme.Case {
	c := programme.Case{DataDate: d.day, Calendars: d.cals.cases}
	over := d.toldOver()
	for _, ref := range d.live {
		s := d.step(ref)
		p := programme.Step{ID: ref.Key(), Calendar: d.calendarOf(s.Calendar).Key(), NotAfter: d.dueBy(ref)}
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

func (d *reading) step(ref record.Ref) *Step { return d.steps[ref] }

// workLeft is the work that somebody said is left on a step that is under way
// or about to begin, less the working days that have passed since. Only the
// latest word on the step counts.
func (d *reading) workLeft(ref record.Ref) (days float64, ok bool) {
	last, found := d.latest(ref, func(p *Promise) bool { return p.Left.Known || p.What == isDone })
	if !found || !last.Left.Known {
		return 0, false
	}
	cal := d.calendarOf(d.steps[ref].Calendar)
	return max(0, last.Left.SI-d.worked(cal, calendar.At(last.On), calendar.At(d.day))), true
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

// openRings sets aside the links that close a ring of steps, and says so.
func (d *reading) openRings() {
	const white, grey, black = 0, 1, 2
	colour := map[record.Ref]int{}
	var path []record.Ref
	var visit func(s record.Ref)
	visit = func(s record.Ref) {
		colour[s] = grey
		path = append(path, s)
		kept := d.in[s][:0:0]
		for _, l := range d.in[s] {
			if colour[l.from] == grey {
				d.ring(path, l)
				continue
			}
			kept = append(kept, l)
			if colour[l.from] == white {
				visit(l.from)
			}
		}
		d.in[s] = kept
		path = path[:len(path)-1]
		colour[s] = black
	}
	for _, s := range d.live {
		if colour[s] == white {
			visit(s)
		}
	}
	d.out = map[record.Ref][]link{}
	for _, s := range d.live {
		for _, l := range d.in[s] {
			d.out[l.from] = append(d.out[l.from], l)
		}
	}
}

// ring notes that a link closes a ring with the steps on the path.
func (d *reading) ring(path []record.Ref, l link) {
	from := 0
	for path[from] != l.from {
		from++
	}
	var names []string
	for i := len(path) - 1; i >= from; i-- {
		names = append(names, d.name(path[i]))
	}
	d.doubt(fmt.Sprintf("%s waits for itself, through %d others: the link from %s to %s is set aside until somebody says which is wrong.",
		capital(d.name(l.to)), len(names)-1, d.name(l.from), d.name(l.to)), path[from:], names...)
}
