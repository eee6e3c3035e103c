package programme

import "dogshore/calendar"

// allow returns the latest start of e.from, of work n.work, that e allows when
// the step that waits starts at start and finishes at finish. It is need the
// other way: need(start of from) <= start of to exactly if start of from <=
// allow(start of to).
func (p *pass) allow(e *edge, n *node, start, finish calendar.Moment) calendar.Moment {
	x := start
	if e.kind.toFinish() {
		x = finish
	}
	if e.kind.toFinish() && e.same {
		x = n.cal.Latest(n.cal.Worked(x) - e.lag)
	} else {
		x = e.cal.Behind(x, e.lag)
	}
	switch {
	case n.instant():
		return x
	case e.kind.fromStart():
		return n.cal.LastStart(x)
	}
	return n.cal.Behind(x, n.work)
}

// free reports whether e sets no limit to what it comes from: the step that
// waits is past it, or the end that is waited for lies in the past.
func (p *pass) free(e *edge) bool {
	to, from := &p.nodes[e.to], &p.nodes[e.from]
	return to.done || to.begun && e.kind == ss || from.begun && e.kind.fromStart()
}

// backward computes late dates and floats from r.Finish.
func (p *pass) backward(r *Result) {
	for i := range p.nodes {
		n := &p.nodes[i]
		last := r.Finish
		if by := p.c.Steps[i].NotAfter; by.Known() {
			last = min(last, calendar.At(by+1))
		}
		p.ls[i] = n.cal.Behind(last, n.work)
	}
	settled := false
	for range p.mostSweeps() {
		if settled = !p.sweepBack() || p.loop == nil; settled {
			break
		}
	}
	if !settled {
		return // a hard date inside a loop that no shift of the loop can meet
	}
	for i := range p.nodes {
		if n := &p.nodes[i]; !n.done {
			p.lf[i] = n.cal.Ahead(p.ls[i], n.work)
			p.float(&r.Steps[i], int32(i), r.Finish)
		}
	}
}

// sweepBack lowers late starts to what the links allow, and reports a change.
func (p *pass) sweepBack() bool {
	changed := false
	for k := len(p.order) - 1; k >= 0; k-- {
		i := p.order[k]
		n := &p.nodes[i]
		if n.done {
			continue
		}
		for _, l := range p.out.of(i) {
			e := &p.edges[l]
			if p.free(e) {
				continue
			}
			to := &p.nodes[e.to]
			if v := p.allow(e, n, p.ls[e.to], to.cal.Ahead(p.ls[e.to], to.work)); v < p.ls[i] {
				p.ls[i], changed = v, true
			}
		}
	}
	return changed
}

// float writes late dates and floats of step i. Total float is the longest
// delay of its start that leaves Finish and every hard date as they are; free
// float the longest that leaves the early dates of all that wait for it. Both
// are in days of its own calendar, where start and finish have the same.
func (p *pass) float(t *Times, i int32, finish calendar.Moment) {
	n := &p.nodes[i]
	t.Floats = true
	t.LateStart, t.LateFinish = p.ls[i], p.lf[i]
	t.LateFirstDay, t.LateLastDay = n.days(p.ls[i], p.lf[i])
	t.Total = n.cal.Between(p.es[i], p.ls[i])
	least := n.cal.Behind(finish, n.work)
	for _, l := range p.out.of(i) {
		if e := &p.edges[l]; !p.free(e) {
			least = min(least, p.allow(e, n, p.es[e.to], p.ef[e.to]))
		}
	}
	t.Free = n.cal.Between(p.es[i], least)
}
