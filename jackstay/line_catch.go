package jackstay

import (
	"math"

	"dogshore/plane"
)

// catches finds what each span can catch on: what the unloaded line can be
// pulled onto by hand, all slack drawn here, and what a loaded hook can be
// dragged onto. loaded is the greatest length of each span with a slide's load.
func (s *setup) catches(r *lineReady, loaded []float64) []CatchHit {
	hand := r.l.HandForce
	if hand == 0 {
		hand = usualHand
	}
	var out []CatchHit
	for i := range r.spans {
		sp := &r.spans[i]
		// A hand across the line pulls it out until its tension holds it.
		whole := newRun(&r.law, (sp.before+sp.chord+sp.after)*r.ratio, sp.before+sp.after)
		p := slide(sp.chord, &whole, 0, hand, Stop)
		byHand := max(math.Hypot(p.x, p.y)+math.Hypot(p.x-sp.chord, p.y), sp.chord)
		for k := range s.c.Catches {
			c := &s.c.Catches[k]
			need, away := sp.around(c)
			h := CatchHit{
				Catch: c.ID, Span: i + 1, Slack: need <= byHand+s.slop(sp, need), Loaded: need <= max(loaded[i], byHand)+s.slop(sp, need),
				Distance: away, Spare: byHand - need,
			}
			h.Side = h.Loaded && (c.Overhang || c.Sharp)
			if h.Slack || h.Loaded {
				out = append(out, h)
			}
		}
	}
	return out
}

// usualHand is the force of a hand or foot that pulls a line aside, N.
const usualHand = 100

// slop is what the error of the tracing is worth in length of line: a place
// that is e farther out needs so much more line.
func (s *setup) slop(sp *spanReady, need float64) float64 {
	side := math.Sqrt(max(0, need*need-sp.chord*sp.chord)) / 2
	near := max(side-s.tracing, 0)
	return need - math.Sqrt(sp.chord*sp.chord+4*near*near)
}

// around returns the least length of line from one end of the span around some
// point of a catch to the other, and how far that point is from the chord.
func (sp *spanReady) around(c *Catch) (need, away float64) {
	need, away = math.Inf(1), math.Inf(1)
	take := func(p plane.Point) {
		q := vec{p.X, p.Y, c.Z}
		if l := q.dist(sp.a) + q.dist(sp.b); l < need {
			need, away = l, sp.off(q)
		}
	}
	path := c.Path
	if c.Area {
		path = plane.Closed(path)
		a, b := sp.a.plan(), sp.b.plan()
		for k := range 9 { // a chord that ends or runs within the outline
			if p := a.Add(b.Sub(a).Scale(float64(k) / 8)); plane.Contains(c.Path, p) {
				take(p)
			}
		}
	}
	take(path[0])
	for k := 1; k < len(path); k++ {
		p, d := path[k-1], path[k].Sub(path[k-1])
		at := func(t float64) float64 {
			q := p.Add(d.Scale(t))
			v := vec{q.X, q.Y, c.Z}
			return v.dist(sp.a) + v.dist(sp.b)
		}
		lo, hi := 0.0, 1.0
		for range 50 { // the sum of two distances is convex along a segment
			m, n := lo+(hi-lo)/3, hi-(hi-lo)/3
			if at(m) < at(n) {
				hi = n
			} else {
				lo = m
			}
		}
		take(p.Add(d.Scale((lo + hi) / 2)))
		take(path[k])
	}
	return need, away
}

// off is the distance of a place from the chord.
func (sp *spanReady) off(q vec) float64 {
	d := sp.b.sub(sp.a)
	t := min(max(q.sub(sp.a).dot(d)/d.dot(d), 0), 1)
	return q.dist(sp.a.add(d.mul(t)))
}
