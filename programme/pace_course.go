package programme

import (
	"math"
)

// course is how the build went, as far as sightings up to each moment tell it:
// for each step when it started and finished, step after step,
//
//	start:  the last of what it waits for, and the yard's wait, within its gap
//	finish: the start and its length, within its gap
//
// at given paces and waiting. What was seen later of other steps is not used,
// so the chances of what was seen next multiply:
//
//	P(all that was seen) = Π P(finish in its gap | start) P(start in its gap | ready)
//
// and no fact is used twice: three linked steps found done in one gap are the
// chance of their sum, laid out on cells.
type course struct {
	start, finish []when
	spells        []spell
	pauses        []spell
}

// spell is one observation: what began at from ended within to.
type spell struct {
	from  when
	to    span
	law   lognormal
	trade int
}

// follow lays the course at the given logarithms of paces and mean wait.
func (o *observer) follow(paces []float64, wait float64) *course {
	c := &course{make([]when, len(o.nodes)), make([]when, len(o.nodes)), nil, nil}
	for _, j := range o.order {
		g := &o.seen[j]
		ready := o.ready(c, j)
		if p, ok := o.pause(j, ready); ok {
			c.pauses = append(c.pauses, p)
		}
		if !g.begun {
			continue
		}
		switch {
		case !ready.known():
			c.start[j] = even(g.start)
		case o.held[j] || o.barred(j, ready.lo):
			c.start[j] = ready.after(g.start)
		case o.waits(j):
			c.start[j] = ready.then(pausing(wait), g.start)
		default:
			c.start[j] = ready.then(exact(0), g.start)
		}
		l := o.laws[j]
		if l, ok := l.(lognormal); ok && o.trade[j] >= 0 {
			c.spells = append(c.spells, spell{c.start[j].coarse(), g.finish, l, o.trade[j]})
		}
		if g.done {
			c.finish[j] = o.end(c.start[j], l, o.trade[j], paces, g.finish)
		}
	}
	return c
}

// end returns when a step that began at start was finished.
func (o *observer) end(start when, l lasting, trade int, paces []float64, to span) when {
	pace := 0.0
	if trade >= 0 {
		pace = paces[trade]
	}
	switch l := l.(type) {
	case lognormal:
		return start.then(l.at(pace), to)
	case exact:
		return start.then(exact(float64(l)*math.Exp(pace)), to)
	}
	return start.after(to)
}

// ready returns when the last of what step j waits for had come, as far as it
// was seen, in working days of j's calendar.
func (o *observer) ready(c *course, j int32) when {
	g := &o.gates[j]
	if len(g.causes) == 0 {
		return when{}
	}
	out, before := even(g.within), 0.0
	for i := range out.share {
		by := 1.0
		if i+1 < len(out.share) {
			for _, k := range g.causes {
				if k.start {
					by *= c.start[k.from].by(k.at[i])
				} else {
					by *= c.finish[k.from].by(k.at[i])
				}
			}
		}
		out.share[i] = max(0, by-before)
		before = max(before, by)
	}
	return out.normal()
}

// waits reports whether the yard's wait comes before step j: a supplier, the
// clock and a mere moment have none.
func (o *observer) waits(j int32) bool {
	s := &o.c.Steps[j]
	return !s.Supplier && s.Hours == 0 && o.laws[j] != exact(0)
}

// pause reads the wait before step j, where it waits for nothing but its links.
func (o *observer) pause(j int32, ready when) (spell, bool) {
	if !o.gates[j].whole || !o.waits(j) || o.held[j] || o.barred(j, ready.lo) {
		return spell{}, false
	}
	cal, start := o.nodes[j].cal, span{ready.lo, math.Inf(1)}
	if d := o.own.lo[2*j]; d != 0 {
		start.lo = max(start.lo, morning(cal, d))
	}
	if d := o.own.hi[2*j]; d != 0 {
		start.hi = morning(cal, d+1)
	}
	says := start.hi > ready.lo && (start.lo > ready.lo || !math.IsInf(start.hi, 1))
	return spell{from: ready.coarse(), to: start}, says
}
