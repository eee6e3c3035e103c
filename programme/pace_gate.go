package programme

import (
	"math"

	"dogshore/calendar"
)

// gate is what a step's start waits for: the ends of other steps that were
// seen to come, as they lie on its own calendar. It does not depend on a pace.
type gate struct {
	within scale   // in which the last of them came
	causes []cause // those that were seen
	whole  bool    // nothing is left out
}

// cause is one end that a start waits for.
type cause struct {
	from  int32
	start bool      // its start and not its finish
	at    []float64 // for each inner edge of within: by when it must have come, counted in cells of its own scale
}

// gate reads the links into step j. A link to a finish does not hold a start
// up; what was not seen to come, or out of order, is left out.
func (o *observer) gate(j int32) gate {
	cal := o.nodes[j].cal
	out, within := gate{whole: true}, span{math.Inf(-1), math.Inf(-1)}
	var links []*edge
	for _, l := range o.in.of(j) {
		e := &o.edges[l]
		g := &o.seen[e.from]
		s, seen := g.finish, g.done
		if e.kind == ss {
			s, seen = g.start, g.begun
		}
		if e.kind.toFinish() || e.broken || !seen {
			out.whole = false
			continue
		}
		within.lo = max(within.lo, o.come(e, s.lo, cal))
		within.hi = max(within.hi, o.come(e, s.hi, cal))
		links = append(links, e)
	}
	if len(links) == 0 {
		return gate{}
	}
	out.within = ruled(within)
	for _, e := range links {
		c, own := cause{from: e.from, start: e.kind == ss}, o.seen[e.from].finish
		if c.start {
			own = o.seen[e.from].start
		}
		for i := 1; i < out.within.n; i++ {
			c.at = append(c.at, ruled(own).at(o.back(e, out.within.edge(i), cal)))
		}
		out.causes = append(out.causes, c)
	}
	return out
}

// come returns the working day of cal on which e is met whose earlier step's
// end came on working day x of its own calendar.
func (o *observer) come(e *edge, x float64, cal *calendar.Calendar) float64 {
	from := o.nodes[e.from].cal
	return cal.Days(cal.Worked(e.cal.Ahead(from.Earliest(from.Of(x)), e.lag)))
}

// back is the other way: by when the end must have come for e to be met on x.
func (o *observer) back(e *edge, x float64, cal *calendar.Calendar) float64 {
	from := o.nodes[e.from].cal
	return from.Days(from.Worked(e.cal.Behind(cal.Latest(cal.Of(x)), e.lag)))
}
