package jackstay

import (
	"math"

	"dogshore/rope"
)

// Stop is how near to its support a sliding hook can come, m: the stitching,
// and the hook itself.
const Stop = 0.025

// Span is one span of line between two anchors.
type Span struct {
	From, To             Spot
	Law                  rope.Law
	Rest                 float64 // unstretched length, m: longer than the span is slack, shorter pretension
	SpringFrom, SpringTo float64 // stiffness of the anchorages along the line, N/m; 0: rigid
}

// RestFor returns the unstretched length of a line that lies l long with
// tension t.
func RestFor(law rope.Law, l, t float64) float64 { return l / (1 + law.Strain(t)) }

// Hook is what pulls at the line. Jammed, it grips the line at the part At of
// its unstretched length, 0 to 1 from From; otherwise it runs without friction.
type Hook struct {
	Load   Vector
	Jammed bool
	At     float64
}

// Hold is how a span holds a hook.
type Hold struct {
	How      How
	Branch   string     // in words, if it is a kink: "held at its first end", "one leg slack" ...
	At       Spot       // where the hook balances
	Tension  [2]float64 // in the leg to From and in that to To, N
	Ends     [2]Vector  // what the line, or the hook lying there, does to From and To; together the load
	Sag      float64    // from the chord, m
	Energy   float64    // in the line, J
	Give     float64    // along the load for a newton more, m/N
	Residual float64    // of the balance at the hook, N
	Steps    int
}

var branchSays = [...]string{
	bothLegs: "", onlyA: "the leg to the second end is slack", onlyB: "the leg to the first end is slack",
	heldA: "held at the first end", heldB: "held at the second end", loose: "slack: any place that the line allows",
}

// Hang finds where a hook balances on a span, in space. The law must be one,
// the anchors two places, the line longer than nothing, a jammed hook inside it.
func Hang(s Span, h Hook) (Hold, error) {
	if err := s.check(h); err != nil {
		return Hold{}, err
	}
	a, b, load := s.From.vec(), s.To.vec(), h.Load.vec()
	pl := newPlaneOf(a, b, load)
	out := Hold{How: Sliding}
	var p place
	if h.Jammed {
		ra, rb := h.At*s.Rest, (1-h.At)*s.Rest
		la, lb := springed(s.Law, ra, s.SpringFrom, 0), springed(s.Law, rb, 0, s.SpringTo)
		na, nb := newRun(&la, ra, 0), newRun(&lb, rb, 0)
		p = jam(pl.chord, &na, &nb, pl.fx, pl.fy, exact, place{}, false)
		out.How = Jammed
		out.Energy = na.energy(third(p.x, p.y)) + nb.energy(third(p.x-pl.chord, p.y))
	} else {
		law := springed(s.Law, s.Rest, s.SpringFrom, s.SpringTo)
		n := newRun(&law, s.Rest, 0)
		p = slide(pl.chord, &n, pl.fx, pl.fy, Stop)
		out.Energy = n.energy(third(p.x, p.y) + third(p.x-pl.chord, p.y))
	}
	out.take(&pl, p, load)
	return out, nil
}

func (s *Span) check(h Hook) error {
	l := s.From.vec().dist(s.To.vec())
	if l >= 4*Stop && finite(l, s.Rest, h.Load.X, h.Load.Y, h.Load.Z) && s.Rest > 0 && !s.Law.Zero() &&
		(!h.Jammed || h.At > 0 && h.At < 1) && s.SpringFrom >= 0 && s.SpringTo >= 0 {
		return nil
	}
	e := &Invalid{}
	if !s.From.finite() || !s.To.finite() || !finite(h.Load.X, h.Load.Y, h.Load.Z) {
		e.add(BadPlace, "", "a place or a load is no number")
	} else if l < 4*Stop {
		e.add(TooShort, "", "the two ends of a span are %.3g m apart: at least %g is needed", l, 4*Stop)
	}
	if s.Law.Zero() {
		e.add(BadStuff, "", "the span has no stretch law")
	}
	if !(s.Rest > 0) || math.IsInf(s.Rest, 0) {
		e.add(BadValue, "", "an unstretched length of %g m: it must be above 0", s.Rest)
	}
	if h.Jammed && !(h.At > 0 && h.At < 1) {
		e.add(BadValue, "", "a hook that grips the line at %g of its length: it must be inside 0 and 1", h.At)
	}
	if !(s.SpringFrom >= 0) || !(s.SpringTo >= 0) {
		e.add(BadValue, "", "an anchorage of %g N/m: it must be above 0, or 0 for a rigid one", min(s.SpringFrom, s.SpringTo))
	}
	return e.orNil()
}

// third is the third side of a right triangle; lengths are metres here, far
// from what overflows.
func third(x, y float64) float64 { return math.Sqrt(x*x + y*y) }

// springed puts the springs of anchorages in line with the law.
func springed(law rope.Law, rest, k1, k2 float64) rope.Law {
	var c float64
	for _, k := range [2]float64{k1, k2} {
		if k > 0 {
			c += 1 / (k * rest)
		}
	}
	if c == 0 {
		return law
	}
	return law.Softened(c)
}

// take lays a place in the plane back into space.
func (h *Hold) take(pl *planeOf, p place, load vec) {
	h.At, h.Tension, h.Branch, h.Steps, h.Give = pl.at(p.x, p.y).spot(), [2]float64{p.ta, p.tb}, branchSays[p.at], p.steps, p.give
	h.Sag = math.Abs(p.y)
	ea, eb := pl.ends(p, load)
	h.Ends = [2]Vector{ea.force(), eb.force()}
	switch p.at {
	case heldA, heldB:
		h.How = HeldBySupport
	case loose:
	default:
		h.Residual = ea.add(eb).sub(load).norm()
	}
}

// planeOf is the plane of chord and load.
type planeOf struct {
	a, b, along, across vec
	chord, fx, fy       float64
}

func newPlaneOf(a, b, load vec) planeOf {
	along := b.sub(a)
	p := planeOf{a: a, b: b, chord: along.norm()}
	p.along = along.mul(1 / p.chord)
	p.fx = load.dot(p.along)
	side := load.sub(p.along.mul(p.fx))
	p.fy = side.norm()
	if p.fy <= 1e-12*load.norm() {
		p.fy, side = 0, p.anySide()
	}
	if p.fy > 0 {
		p.across = side.mul(1 / p.fy)
	} else {
		p.across = side.unit()
	}
	return p
}

// anySide is a direction square to the chord, level where that can be.
func (p *planeOf) anySide() vec {
	if side := (vec{-p.along[1], p.along[0], 0}); side.norm() > 1e-9 {
		return side
	}
	return vec{1, 0, 0}
}

func (p *planeOf) at(x, y float64) vec {
	return p.a.add(p.along.mul(x)).add(p.across.mul(y))
}

// ends returns what the anchors feel. A hook against a support puts its load
// there; the line pulls at both with what it has.
func (p *planeOf) ends(at place, load vec) (a, b vec) {
	switch at.at {
	case loose:
		return vec{}, vec{}
	case heldA:
		return load.add(p.along.mul(at.tb)), p.along.mul(-at.tb)
	case heldB:
		return p.along.mul(at.ta), load.sub(p.along.mul(at.ta))
	}
	hook := p.at(at.x, at.y)
	return p.a.toward(hook).mul(at.ta), p.b.toward(hook).mul(at.tb)
}
