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
	spells        []spell // lengths that follow a pace
	pauses        []spell // waits
	chance        float64 // the logarithm of that of all spells and pauses, at the paces and wait laid
}

// spell is one observation: what began at from ended within to. Its law is that
// at pace 1, or of a mean wait of a day.
type spell struct {
	from  when
	to    span
	law   lasting
	trade int
}

// follow lays the course at the given logarithms of paces and of the mean wait.
func (o *observer) follow(paces []float64, wait float64) *course {
	c := &course{start: make([]when, len(o.nodes)), finish: make([]when, len(o.nodes))}
	for _, j := range o.order {
		ready := o.ready(c, j)
		o.begin(c, j, ready, wait)
		if o.seen[j].begun {
			o.end(c, j, paces)
		}
	}
	return c
}

// begin lays the start of step j, and reads the wait before it.
func (o *observer) begin(c *course, j int32, ready when, wait float64) {
	g := &o.seen[j]
	start, likely := when{}, 0.0
	pause, says := o.pause(j, ready)
	switch {
	case !g.begun && says:
		likely = ready.reach(pausing(1).at(wait), pause.to)
	case !g.begun:
	case !ready.known():
		start = even(g.start)
	case o.held[j] || o.barred(j, ready.lo):
		start = ready.after(g.start)
	case o.waits(j):
		start, likely = ready.then(pausing(1).at(wait), g.start)
	default:
		start, _ = ready.then(exact(0), g.start)
	}
	c.start[j] = start
	if says {
		c.pauses = append(c.pauses, pause)
		c.chance += math.Log(max(least, likely))
	}
}

// end lays the finish of step j, and reads its length.
func (o *observer) end(c *course, j int32, paces []float64) {
	g, l, trade, likely := &o.seen[j], o.laws[j], o.trade[j], 0.0
	if l != nil && trade >= 0 {
		l = l.at(paces[trade])
	}
	switch {
	case g.done && l == nil:
		c.finish[j] = c.start[j].after(g.finish)
	case g.done:
		c.finish[j], likely = c.start[j].then(l, g.finish)
	case l != nil:
		likely = c.start[j].reach(l, g.finish)
	}
	if _, spread := l.(lognormal); spread && trade >= 0 {
		c.spells = append(c.spells, spell{c.start[j].coarse(), g.finish, o.laws[j], trade})
		c.chance += math.Log(max(least, likely))
	}
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
	out, _ = out.normal()
	return out
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
	return spell{from: ready.coarse(), to: start, law: pausing(1)}, says
}
