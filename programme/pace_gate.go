package programme

import (
	"math"

	"dogshore/calendar"
)

// gate is what a step's start waits for: the ends of other steps that were
// seen to come, as they lie on its own calendar. It does not depend on a pace.
type gate struct {
	within span    // in which the last of them came
	causes []cause // those that were seen
	whole  bool    // nothing is left out
}

// cause is one end that a start waits for.
type cause struct {
	from  int32
	start bool      // its start and not its finish
	at    []float64 // for each inner edge of the cells of within: by when it must have come, on its own calendar
}

// gate reads the links into step j. A link to a finish does not hold a start
// up; what was not seen to come, or out of order, is left out.
func (o *observer) gate(j int32) gate {
	cal := o.nodes[j].cal
	out := gate{within: span{math.Inf(-1), math.Inf(-1)}, whole: true}
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
		out.within.lo = max(out.within.lo, o.come(e, s.lo, cal))
		out.within.hi = max(out.within.hi, o.come(e, s.hi, cal))
		links = append(links, e)
	}
	if len(links) == 0 {
		return gate{}
	}
	w := even(out.within)
	for _, e := range links {
		c := cause{from: e.from, start: e.kind == ss}
		for i := 1; i < len(w.share); i++ {
			c.at = append(c.at, o.back(e, w.edge(i), cal))
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
