package gybe

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// clearances returns how near a lead comes to each obstacle as the boom goes
// from one angle to another, first those that it comes foul of.
func (r *reckoning) clearances(l *lead, from, to float64) (fouls, clears []Clearance) {
	for i := range r.c.Obstacles {
		o := &r.c.Obstacles[i]
		run := make([]r3.Vec, len(o.Run))
		for k, s := range o.Run {
			run[k] = mirrored(s, l.mirror)
		}
		c := l.clearance(run, o.Radius, from, to)
		c.Obstacle = o.Name
		if c.Least <= r.c.Clear {
			l.foulAngles(&c, run, o.Radius+r.c.Clear, from, to)
			fouls = append(fouls, c)
		} else {
			clears = append(clears, c)
		}
	}
	return fouls, clears
}

// clearance returns how near the legs come to a run. The first leg sweeps: it
// is looked at in steps, and about each least one among them to the last digit.
func (l *lead) clearance(run []r3.Vec, radius, from, to float64) Clearance {
	best := Clearance{Least: math.Inf(1), Angle: from}
	for i := range l.ways {
		if d, at := near(l.spots[i], l.spots[i+1], run); d-radius < best.Least {
			best = Clearance{Least: d - radius, Angle: from, At: l.out(at), Leg: i + 2}
		}
	}
	steps := 1 + int(math.Ceil(math.Abs(from-to)/step))
	angle := func(i int) float64 { return from + (to-from)*float64(i)/float64(steps) }
	d := make([]float64, steps+1)
	for i := range d {
		d[i], _ = l.sweepNear(angle(i), run)
	}
	for i := range d {
		if i > 0 && d[i-1] <= d[i] || i < steps && d[i+1] < d[i] {
			continue // not a least one; of several alike the first is looked at
		}
		b := l.nearestAngle(run, angle(max(i-1, 0)), angle(min(i+1, steps)), angle(i))
		if dist, at := l.sweepNear(b, run); dist-radius < best.Least {
			best = Clearance{Least: dist - radius, Angle: b, At: l.out(at), Leg: 1}
		}
	}
	return best
}

// sweepNear returns how near the first leg comes to a run with the boom at b.
func (l *lead) sweepNear(b float64, run []r3.Vec) (float64, r3.Vec) {
	along, _ := l.axis(b)
	return near(r3.Add(l.gooseneck, r3.Scale(l.at, along)), l.spots[0], run)
}

// nearestAngle returns the boom angle between two at which the first leg comes
// nearest to a run, by the golden section; mid is as good as any found so far.
func (l *lead) nearestAngle(run []r3.Vec, a, b, mid float64) float64 {
	const golden = 0.6180339887498949
	c, d := b-golden*(b-a), a+golden*(b-a)
	fc, _ := l.sweepNear(c, run)
	fd, _ := l.sweepNear(d, run)
	for range 60 {
		if fc < fd {
			b, d, fd = d, c, fc
			c = b - golden*(b-a)
			fc, _ = l.sweepNear(c, run)
		} else {
			a, c, fc = c, d, fd
			d = a + golden*(b-a)
			fd, _ = l.sweepNear(d, run)
		}
	}
	best, _ := l.sweepNear(mid, run)
	for _, x := range []float64{c, d} {
		if f, _ := l.sweepNear(x, run); f < best {
			best, mid = f, x
		}
	}
	return mid
}

// foulAngles fills in between which boom angles the lead is nearer to a run
// than it may be; of a leg that does not sweep, at all of them.
func (l *lead) foulAngles(c *Clearance, run []r3.Vec, may, from, to float64) {
	if c.Leg > 1 {
		c.From, c.To = from, to
		return
	}
	fouls := func(b float64) bool { d, _ := l.sweepNear(b, run); return d <= may }
	c.From, c.To = c.Angle, c.Angle
	for b := c.Angle + step; b <= from && fouls(b); b += step {
		c.From = b
	}
	for b := c.Angle - step; b >= to && fouls(b); b -= step {
		c.To = b
	}
}

// near returns how near the segment a-b comes to a run, and where on a-b.
func near(a, b r3.Vec, run []r3.Vec) (float64, r3.Vec) {
	if len(run) == 1 {
		return segments(a, b, run[0], run[0])
	}
	least, at := math.Inf(1), a
	for i := 1; i < len(run); i++ {
		if d, p := segments(a, b, run[i-1], run[i]); d < least {
			least, at = d, p
		}
	}
	return least, at
}

// segments returns the distance between the segments a-b and c-d, and the point
// of a-b that it is measured from. The least distance lies either between the
// lines, if that is within both, or at an end of one of them: all five are
// looked at, which no near-parallel pair upsets.
func segments(a, b, c, d r3.Vec) (float64, r3.Vec) {
	u, v, w := r3.Sub(b, a), r3.Sub(d, c), r3.Sub(a, c)
	uu, uv, vv, uw, vw := r3.Dot(u, u), r3.Dot(u, v), r3.Dot(v, v), r3.Dot(u, w), r3.Dot(v, w)
	least, at := math.Inf(1), a
	try := func(s, t float64) {
		p := r3.Add(a, r3.Scale(s, u))
		if gap := r3.Norm(r3.Sub(p, r3.Add(c, r3.Scale(t, v)))); gap < least {
			least, at = gap, p
		}
	}
	share := func(over, under float64) float64 {
		if under == 0 {
			return 0
		}
		return min(max(over/under, 0), 1)
	}
	try(0, share(vw, vv))
	try(1, share(vw+uv, vv))
	try(share(-uw, uu), 0)
	try(share(uv-uw, uu), 1)
	if cross := uu*vv - uv*uv; cross > 0 {
		s, t := (uv*vw-vv*uw)/cross, (uu*vw-uv*uw)/cross
		if s >= 0 && s <= 1 && t >= 0 && t <= 1 {
			try(s, t)
		}
	}
	return least, at
}
