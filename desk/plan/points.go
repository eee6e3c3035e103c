package plan

import (
	"fmt"
	"math"
	"sort"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// readPoints says of each open point before which step it must be settled, by
// when if a date is earned, and whether it is settled: in writing, with
// somebody whose yes counts. "Decided" that was only told is not settled.
func (d *reading) readPoints() {
	options := map[record.Ref][]record.Option{}
	for _, o := range journal.All[record.Option](d.r) {
		options[o.Point] = append(options[o.Point], o)
	}
	confirmed := map[record.Ref][]record.Confirmation{}
	for _, c := range journal.All[record.Confirmation](d.r) {
		confirmed[c.Of] = append(confirmed[c.Of], c)
	}
	for _, p := range journal.All[record.Point](d.r) {
		if p.Withdrawn == record.Yes {
			continue
		}
		out := Point{Point: p, Options: options[p.Self], Leads: d.leads[p.Self], State: Open}
		d.placePoint(&out)
		d.decision(&out, confirmed)
		if out.State == InWriting {
			d.a.Settled = append(d.a.Settled, out)
		} else {
			d.a.Points = append(d.a.Points, out)
		}
	}
	sort.SliceStable(d.a.Points, func(i, k int) bool { return d.pointBefore(&d.a.Points[i], &d.a.Points[k]) })
}

// placePoint finds the step that covers a point up and its dates.
func (d *reading) placePoint(p *Point) {
	p.Step = d.liveStep(p.CoveredBy)
	p.Ahead = d.aheadOf(p.Step)
	p.Gone = d.begun(p.Step)
	own, guess := quoted(p.Leads)
	p.Guess = guess
	for _, o := range p.Options {
		p.Doors = append(p.Doors, d.door(p, o, own, guess))
		p.Guess = p.Guess || p.Doors[len(p.Doors)-1].Guess
	}
	if len(p.Leads) == 0 && !d.anyLead(p.Options) && gravityOf(p.Gravity) <= gravityOf(string(desk.Cutting)) {
		p.Guess = true // something has to be made or cut, and nobody has said how long that takes
	}
	if !guess {
		p.By = d.firstDoor(p, own)
	}
	if w, ok := d.foreseenBy(p); ok {
		switch { // what the yard said stands; where being late can't be undone, the earlier governs
		case p.By.Basis != desk.YardsWord:
			p.By = w
		case p.Outlook.Share < 0.5:
			p.By = earlier(p.By, w)
		}
	}
	if c, ok := d.cutoff(p.Self); ok {
		p.Cutoff = d.cutoffWhen(c)
	}
}

func (d *reading) anyLead(options []record.Option) bool {
	for _, o := range options {
		if len(d.leads[o.Self]) > 0 {
			return true
		}
	}
	return false
}

// door dates one option: its own leads come on top of the point's, and it may
// end with an earlier step.
func (d *reading) door(p *Point, o record.Option, own []record.Lead, guess bool) Door {
	x := Door{Option: o.Self, Step: p.Step}
	if until := d.liveStep(o.Until); until != "" {
		x.Step = until
	}
	x.Ahead, x.Gone = d.aheadOf(x.Step), d.begun(x.Step)
	more, unsure := quoted(d.leads[o.Self])
	x.Guess = guess || unsure
	if !x.Guess && !x.Gone {
		x.By = d.decideBy(x.Step, append(more, own...))
	}
	return x
}

// firstDoor is the decide-by of a point: the day on which the first of its
// options that can still be chosen ends; when all are past, the last of them.
// A point without options counts its own leads back from its step.
func (d *reading) firstDoor(p *Point, own []record.Lead) desk.When {
	if p.Gone {
		return desk.When{}
	}
	var next, last desk.When
	for _, x := range p.Doors {
		if !x.By.Known() {
			continue
		}
		if x.By.Day >= d.day {
			next = earlier(next, x.By)
		}
		if x.By.Day > last.Day {
			last = x.By
		}
	}
	switch {
	case next.Known():
		return next
	case last.Known():
		return last
	}
	return d.decideBy(p.Step, own)
}

// liveStep returns the step itself, or, if it is left out, the first step
// that waits for it and is done on this boat.
func (d *reading) liveStep(ref record.Ref) record.Ref {
	if d.steps[ref] != nil {
		return ref
	}
	if _, ok := d.left[ref]; !ok {
		return ""
	}
	heirs := d.heirs[ref]
	for _, s := range d.live {
		if heirs[s] {
			return s
		}
	}
	return ""
}

// decision reads how far a point is settled.
func (d *reading) decision(p *Point, confirmed map[record.Ref][]record.Confirmation) {
	all := d.decisions[p.Self]
	if len(all) == 0 {
		return
	}
	last := all[len(all)-1]
	p.Decision = &last
	p.State = d.firmness(last, confirmed[last.Self])
	for _, other := range all[:len(all)-1] {
		written := d.firmness(other, confirmed[other.Self]) == InWriting
		if !differs(last, other) || other.Day != last.Day && !(written && p.State != InWriting) {
			continue
		}
		d.doubt(Decisions, fmt.Sprintf("Two decisions stand on one point: %s", clause(p.Question)), []record.Ref{p.Self, other.Self, last.Self},
			d.decided(other, written), d.decided(last, p.State == InWriting))
	}
}

func differs(a, b record.Decision) bool {
	if a.Option != "" && b.Option != "" {
		return a.Option != b.Option
	}
	return a.Says != b.Says
}

func (d *reading) decided(x record.Decision, written bool) string {
	what := clause(x.Says)
	if what == "" {
		what = d.name(x.Option)
	}
	how := "only told"
	if written {
		how = "in writing"
	}
	return fmt.Sprintf("%s, %s, %s", what, d.short(x.Day), how)
}

// firmness reads a decision's state off its own grounds and what confirms it.
// A person of whom nobody has said whether they may instruct counts as one
// who may, until somebody says no.
func (d *reading) firmness(x record.Decision, confirmed []record.Confirmation) PointState {
	for _, c := range confirmed {
		if e := d.r.From(c.Self); inWriting(e.Grounds) && d.people[c.By].MayInstruct != record.No {
			return InWriting
		}
	}
	switch {
	case d.people[x.With].MayInstruct == record.No:
		return NoPower
	case inWriting(d.r.From(x.Self).Grounds):
		return InWriting
	}
	return SaidOnly
}

// pointBefore orders points by what can't be undone soonest: those not gone
// first, then by the sooner of step and date, by step, date and gravity. A point
// that has earned no date of its own stands by the last chance before its
// step, so that it never lies below a dated point of a later step.
func (d *reading) pointBefore(a, b *Point) bool {
	if a.Gone != b.Gone {
		return b.Gone
	}
	x, y := d.pointDay(a), d.pointDay(b)
	if m, n := d.pointSoon(a, x), d.pointSoon(b, y); m != n {
		return m < n
	}
	if a.Ahead != b.Ahead {
		return b.Ahead == unknown || a.Ahead != unknown && a.Ahead < b.Ahead
	}
	if x != y {
		return x != 0 && (y == 0 || x < y)
	}
	if m, n := gravityOf(a.Gravity), gravityOf(b.Gravity); m != n {
		return m < n
	}
	return a.Self < b.Self
}

// pointDay is the day by which a point stands in the list.
func (d *reading) pointDay(p *Point) calendar.Day {
	return earlier(p.Governs(), d.lastChance(p.Step)).Day
}

// pointSoon counts how near a point is: steps ahead or weeks to its day,
// whichever is less.
func (d *reading) pointSoon(p *Point, day calendar.Day) int {
	n := p.Ahead
	if n == unknown {
		n = math.MaxInt
	}
	if day != 0 {
		n = min(n, max(0, int(day-d.day))/7)
	}
	return n
}

func (d *reading) cutoffWhen(c record.Cutoff) desk.When {
	w := desk.When{Day: c.Day, Basis: desk.Contract, Said: d.byClause(c), Work: desk.Typed(d.r, c.Self, "day", "cut-off: "+clause(c.Name))}
	if c.Clause == "" && c.By != "" {
		w.Basis = desk.YardsWord
	}
	return w
}
