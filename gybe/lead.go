package gybe

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// lead is the way of a preventer, everything mirrored so that the boom is out
// to port.
type lead struct {
	mirror    float64 // 1: it is to port; -1: to starboard, y changes sign on the way in and out
	gooseneck r3.Vec
	flat      float64 // share of a length along the boom that is level
	steep     float64 // share that rises
	at        float64 // along the boom, where the line is made fast
	turns     []Turn  //
	spots     []r3.Vec
	ways      []r3.Vec  // unit vectors from turn to turn
	legs      []float64 // lengths from turn to turn
	turning   []float64 // at each turn but the first, which changes with the boom, and the end
	keeps     []float64 // share of the tension beyond the first turn that each leg from there on has
	tail      float64   // their sum
	rubs      bool      // whether there is friction anywhere before the end
}

func newLead(b *Boom, p *Preventer, side Side) *lead {
	l := &lead{mirror: side.mirror(), at: p.At, turns: p.Turns}
	l.gooseneck = mirrored(b.Gooseneck, l.mirror)
	l.steep = b.Rise / b.Length
	l.flat = math.Sqrt(1 - l.steep*l.steep)
	shifted := side != p.home()
	for i, t := range p.Turns {
		s := t.Spot
		if shifted && !t.Stays {
			s.Y = -s.Y
		}
		l.spots = append(l.spots, mirrored(s, l.mirror))
		if i == 0 {
			continue
		}
		way := r3.Sub(l.spots[i], l.spots[i-1])
		long := r3.Norm(way)
		way = r3.Scale(1/long, way)
		kept, turned := 1.0, 0.0
		if i > 1 {
			turned = between(l.ways[i-2], way)
			kept = l.keeps[i-2] * math.Exp(-p.Turns[i-1].Friction*turned)
		}
		l.legs, l.ways = append(l.legs, long), append(l.ways, way)
		l.turning, l.keeps = append(l.turning, turned), append(l.keeps, kept)
		l.tail += long
		l.rubs = l.rubs || p.Turns[i-1].Friction > 0
	}
	return l
}

// mirrored returns a spot as a vector, its y times m.
func mirrored(s Spot, m float64) r3.Vec { return r3.Vec{X: s.X, Y: m * s.Y, Z: s.Z} }

// out returns a vector of the mirrored boat as one of the real one.
func (l *lead) out(v r3.Vec) Spot { return Spot{X: v.X, Y: l.mirror * v.Y, Z: v.Z} }

// axis returns the unit vector along the boom at an angle, and the level one
// square to it in which it goes farther out.
func (l *lead) axis(b float64) (along, outward r3.Vec) {
	sin, cos := math.Sincos(b)
	return r3.Vec{X: -l.flat * cos, Y: l.flat * sin, Z: l.steep}, r3.Vec{X: sin, Y: cos}
}

// pose is a lead with the boom at one angle.
type pose struct {
	angle   float64
	made    r3.Vec  // where the line is made fast on the boom
	pull    r3.Vec  // unit vector from there to the first turn
	leg     float64 // length of that leg
	length  float64 // of the whole way
	lever   float64 // of the pull about the mast: moment = tension x lever
	turning float64 // at the first turn; reckoned only where something hangs on it
	kept    float64 // share of the tension that is left beyond it
}

// pose lays the lead with the boom at an angle.
func (l *lead) pose(b float64) pose {
	along, outward := l.axis(b)
	p := pose{angle: b, made: r3.Add(l.gooseneck, r3.Scale(l.at, along))}
	way := r3.Sub(l.spots[0], p.made)
	p.leg = math.Sqrt(r3.Norm2(way)) // within 200 m nothing overflows, and this is what all the time goes to
	if p.leg > 0 {
		p.pull = r3.Scale(1/p.leg, way)
	}
	p.length = p.leg + l.tail
	p.lever = l.at * l.flat * r3.Dot(p.pull, outward)
	if l.rubs {
		l.turn(&p)
	}
	return p
}

// turn fills in the turning angle at the first turn and what its friction
// leaves. At the end of the line there is none.
func (l *lead) turn(p *pose) {
	p.kept = 1
	if len(l.ways) > 0 {
		p.turning = between(p.pull, l.ways[0])
		p.kept = math.Exp(-l.turns[0].Friction * p.turning)
	}
}

// between returns the angle between two unit vectors. atan2 keeps its digits
// near a straight run and near a full turn.
func between(a, b r3.Vec) float64 { return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b)) }

// leastLever is the least share of its greatest lever below which a pull counts as
// pointing along the boom: far below what a tape measure can tell.
const leastLever = 1e-6

// dead returns the boom angle, coming in from b, at which the pull points along
// the boom; the line is longest there and holds no further. It returns -most if
// there is none up to that angle on the other side.
func (l *lead) dead(b, most float64) float64 {
	floor := leastLever * l.at
	from := b
	if p := l.pose(b); p.lever <= floor {
		return b
	}
	for to := b; to > -most; {
		from, to = to, max(to-step, -most)
		if p := l.pose(to); p.lever <= floor {
			return bisect(from, to, func(x float64) bool { p := l.pose(x); return p.lever > floor })
		}
	}
	return -most
}

// step is how finely a boom's swing is looked through: 0.25 degrees.
const step = math.Pi / 720

// bisect returns the last angle between from and to at which holds is true, to
// the last digit; it is true at from and false at to.
func bisect(from, to float64, holds func(float64) bool) float64 {
	for {
		mid := from + (to-from)/2
		if mid == from || mid == to {
			return from
		}
		if holds(mid) {
			from = mid
		} else {
			to = mid
		}
	}
}
