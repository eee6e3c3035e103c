package gybe

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// every is the step of the table of boom angles: 5 degrees.
const every = math.Pi / 36

// held returns the table of the boom held by a line that does not give, from as
// far out as the boom goes to amidships, in the greatest wind.
func (r *reckoning) held(l *lead, set float64) []Held {
	angles := []float64{}
	for i := 0; ; i++ {
		b := r.c.Boom.Out - float64(i)*every
		if b < 1e-9 {
			break
		}
		if i > 0 && set < angles[len(angles)-1]-1e-9 && set > b+1e-9 {
			angles = append(angles, set)
		}
		angles = append(angles, b)
	}
	angles = append(angles, 0)
	out := make([]Held, len(angles))
	for i, b := range angles {
		out[i] = r.heldAt(l, b)
	}
	return out
}

func (r *reckoning) heldAt(l *lead, b float64) Held {
	p := l.pose(b)
	h := Held{Angle: b, Length: p.length, Lever: p.lever}
	if p.lever <= leastLever*l.at {
		h.Outcome = NoBalance
		h.Says = fmt.Sprintf("With the boom at %.0f° the line pulls along it or inwards: no tension in it holds the boom.", b*180/math.Pi)
		return h
	}
	h.Outcome = Holds
	h.Tension = r.moment(r.c.Wind.top()) / p.lever
	h.Boom = r.boom(l, &p, h.Tension, 0)
	h.Points = l.points(&p, h.Tension)
	return h
}

// boom returns what a tension does to the boom. drag is the water's on its end.
//
// The sail's load comes in at the clew (a loose foot, the worst for bending),
// with all that the line's moment is more than the water's: while the boom is
// being stopped that includes the inertia of the sail.
func (r *reckoning) boom(l *lead, p *pose, tension, drag float64) BoomLoad {
	along, _ := l.axis(p.angle)
	clew, long := r.c.Sail.Foot, r.c.Boom.Length
	water := drag * r.end * math.Sin(p.angle)
	sail := tension*p.lever - water
	load := BoomLoad{Compression: -tension * r3.Dot(p.pull, along), Up: tension * p.pull.Z}
	if l.at <= clew {
		load.Sideways = sail/clew*(clew-l.at) + water/long*(long-l.at)
	} else {
		load.Sideways = max(sail*(l.at-clew)/l.at, water/long*(long-l.at))
	}
	load.Sideways = math.Abs(load.Sideways)
	load.Upright = math.Abs(load.Up) * l.at * (long - l.at) / long
	load.Bending = math.Hypot(load.Sideways, load.Upright)
	return load
}

// points returns what each turn of the lead sees at a tension at the boom.
func (l *lead) points(p *pose, tension float64) []PointLoad {
	l.turn(p)
	out := make([]PointLoad, len(l.turns))
	in, t := p.pull, tension
	for i := range l.turns {
		force := r3.Scale(-t, in)
		out[i] = PointLoad{Name: l.turns[i].Name, In: t}
		if i < len(l.ways) {
			out[i].Turning = l.turning[i]
			if i == 0 {
				out[i].Turning = p.turning
			}
			out[i].Out = tension * p.kept * l.keeps[i]
			force = r3.Add(force, r3.Scale(out[i].Out, l.ways[i]))
			in, t = l.ways[i], out[i].Out
		}
		out[i].Load, out[i].Force = r3.Norm(force), l.out(force)
	}
	return out
}
