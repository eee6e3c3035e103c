package jackstay

import (
	"math"

	"dogshore/plane"
)

// sideSweep is the worst of one leg over one edge, of one line at one
// stiffness.
type sideSweep struct {
	under, over passing
}

type passing struct {
	by       float64
	of       PassParts
	at, from vec
	seen     bool
}

// sidesAt looks how each leg goes over each edge with the hook at x along the
// chord. Without forces the hook lies against its support there.
func (w *sweep) sidesAt(s *spanReady, x float64, forces []float64) {
	along := s.b.sub(s.a).mul(1 / s.chord)
	hook := s.a.add(along.mul(x))
	for e := range w.s.c.Edges {
		edge := &w.s.c.Edges[e]
		at, _, d := plane.Nearest(hook.plan(), edge.Path)
		if d > 1.3*w.s.farthest()+0.35*s.chord+shortfall {
			continue // more than a metre short, whatever the stiffness
		}
		u := at.Sub(hook.plan())
		if d > 0 {
			u = u.Scale(1 / d)
		} else {
			u = s.side.plan()
		}
		dir := s.toward(u)
		for g := range w.s.legs {
			t := &w.s.legs[g].strap[w.q]
			moved, low, reach := 0.0, hook[2], t.Length
			if forces != nil {
				f := forces[g]
				p := w.scrap.pulled(f*dir.fx, f*dir.fy, place{}, false)
				w.solves++
				to := s.a.add(along.mul(p.x)).add(dir.across.mul(p.y))
				moved, low = to.sub(hook).plan().Dot(u), to[2]
				reach *= 1 + t.Law.Strain(f)
			}
			out := &w.sides[g*len(w.s.c.Edges)+e]
			spot := vec{at.X, at.Y, edge.Z}
			if !edge.Solid || len(edge.Rails) == 0 {
				out.under.take(PassParts{reach, d, moved, edge.Z - low}, spot, hook)
			}
			if n := len(edge.Rails); n > 0 {
				out.over.take(PassParts{reach, d, moved, edge.Z + edge.Rails[n-1] - low}, spot, hook)
			}
		}
	}
}

// leftOver is the length of tether beyond an edge, or rail, that stands d from
// the hook and rise above it, the hook having moved toward it by so much.
func leftOver(reach, d, moved, rise float64) float64 {
	return reach - math.Hypot(max(0, d-moved), rise) + max(0, moved-d)
}

func (p *passing) take(of PassParts, at, from vec) {
	p.better(passing{leftOver(of.Leg, of.Away, of.Moved, of.Rise), of, at, from, true})
}

// better keeps the passing with more left over; of two the first.
func (p *passing) better(q passing) {
	if q.seen && (!p.seen || q.by > p.by) {
		*p = q
	}
}

// farthest is the longest leg.
func (s *setup) farthest() float64 {
	var out float64
	for i := range s.legs {
		out = max(out, s.legs[i].length)
	}
	return out
}

// shortfall is how much of tether may be missing at an edge for it to be told
// of, m.
const shortfall = 1.0

// side makes one row of what is over an edge, from the three stiffnesses; ok is
// false if nobody comes near it.
func (s *setup) side(e int, tether string, leg float64, three [3]*sideSweep) (Side, bool) {
	edge := &s.c.Edges[e]
	out := Side{Edge: edge.ID, Tether: tether, Leg: leg, Class: Aboard}
	near := false
	add := func(of func(*sideSweep) passing, rise float64) *Passing {
		var by [3]float64
		for q := range three {
			p := of(three[q])
			if !p.seen {
				return nil
			}
			by[q] = p.by
		}
		p := s.pass(edge, of(three[soft]), band(by), rise)
		p.Of = of(three[asEntered]).of
		near = near || p.By.most() > -shortfall
		out.Class = worse(out.Class, p.Class)
		return &p
	}
	out.Under = add(func(w *sideSweep) passing { return w.under }, 0)
	if n := len(edge.Rails); n > 0 {
		out.Over = add(func(w *sideSweep) passing { return w.over }, edge.Rails[n-1])
	}
	if out.Class.drags() && s.c.Sea.Tow > 0 {
		out.Tow = TowDrag(0.30, s.c.Sea.Tow)
	}
	return out, near
}

// pass says where a person is that has so much tether left over.
func (s *setup) pass(edge *Edge, p passing, by Band, rise float64) Passing {
	out := Passing{By: by, Error: s.tracing, At: p.at.spot(), From: p.from.spot()}
	if edge.Inside {
		out.Class = Aboard
		if by.most()+s.tracing > 0 {
			out.Class = Inboard
		}
		return out
	}
	board := edge.board() + rise - math.Abs(p.at[1])*math.Sin(math.Abs(s.c.Sea.Heel)) - s.c.Sea.Wave
	out.Ring = Band{board - by.Soft, board - by.As, board - by.Stiff}
	spread := edge.Spread
	if spread == 0 {
		spread = usualSpread
	}
	out.Class = between(
		classOf(by.least()-s.tracing, board+spread),
		classOf(by.most()+s.tracing, board-spread))
	return out
}

// board is the height of the edge above the water, upright.
func (d *Edge) board() float64 {
	if d.Freeboard != nil {
		return *d.Freeboard
	}
	return d.Z
}

// usualSpread is half the band of a freeboard of which none is entered, m.
const usualSpread = 0.1

// classOf puts a person over the side into a class: so much tether beyond an
// edge that is board above the water.
func classOf(by, board float64) Class {
	switch {
	case by <= 0:
		return Aboard
	case board-by >= 0.3:
		return Outboard
	}
	return Dragging
}

// between joins the classes at both ends of a band.
func between(best, worst Class) Class {
	switch {
	case best == worst:
		return best
	case best == Aboard && worst == Outboard:
		return ClassAOrB
	case best == Outboard:
		return ClassBOrC
	}
	return ClassAOrC
}

var order = []Class{Aboard, Inboard, ClassAOrB, Outboard, ClassAOrC, ClassBOrC, Dragging}

// worse returns the worse of two classes.
func worse(a, b Class) Class {
	for _, c := range order {
		if c == a {
			return b
		}
		if c == b {
			return a
		}
	}
	return b
}

// drags says whether a person may be dragged through the water.
func (c Class) drags() bool { return c == Dragging || c == ClassBOrC || c == ClassAOrC }
