package gybe

import (
	"errors"
	"fmt"
	"math"

	"dogshore/rope"
)

// law returns the line's stretch law.
func (l *Line) law() (rope.Law, error) {
	switch {
	case len(l.Curve) > maxCurve:
		return rope.Law{}, fmt.Errorf("curve holds %d points: at most %d are read", len(l.Curve), maxCurve)
	case len(l.Curve) > 0:
		points := make([]rope.Point, len(l.Curve))
		for i, p := range l.Curve {
			points[i] = rope.Point{Strain: p.Strain, Tension: p.Tension}
		}
		return rope.Table(points)
	case l.Stiffness > 0:
		return rope.Linear(l.Stiffness)
	}
	return rope.Law{}, errors.New("give stiffness_n, the force that would double its length, or a curve")
}

// drawn is a lead with a length of line in it.
type drawn struct {
	*lead
	law   rope.Law
	slack float64 // unstretched length less the straight way, where it is set up
	set   float64 // boom angle there
	long  float64 // of the way there
	own   float64 // unstretched length
}

func (l *lead) drawn(law rope.Law, set, slack float64) *drawn {
	long := l.pose(set).length
	return &drawn{lead: l, law: law, slack: slack, set: set, long: long, own: long + slack}
}

// tension returns the tension at the boom with the boom at p: such that the
// unstretched lengths of all legs, sum l_i/(1 + strain(T_i)), are the line's
// own, T_i = T exp(-sum mu phi) being what the turns before leave of it.
func (d *drawn) tension(p *pose) float64 {
	if p.length <= d.own {
		return 0
	}
	if !d.rubs {
		t, _ := d.law.At(p.length/d.own - 1)
		return t
	}
	// All legs at the same tension give a T too low, the first leg stretching
	// alone one too high.
	low, _ := d.law.At(p.length/d.own - 1)
	high := d.stuck(p)
	t := low
	for range 200 {
		excess, slope := d.excess(p, t)
		if excess > 0 {
			low = t
		} else {
			high = t
		}
		next := t - excess/slope
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-t) <= 1e-14*t || high-low <= 1e-14*high {
			return next
		}
		t = next
	}
	return t
}

// excess returns by how much the unstretched lengths that a tension leaves in
// the legs are more than the line's own, and its slope.
func (d *drawn) excess(p *pose, t float64) (excess, slope float64) {
	excess = -d.own
	leg := func(long, k float64) {
		e := d.law.Strain(k * t)
		_, stiff := d.law.At(e)
		if stiff == 0 {
			stiff = d.law.Slope()
		}
		excess += long / (1 + e)
		slope -= long / ((1 + e) * (1 + e)) * k / stiff
	}
	leg(p.leg, 1)
	for i, long := range d.legs {
		leg(long, p.kept*d.keeps[i])
	}
	return excess, slope
}

// stuck returns a tension that is too high: the first leg stretching alone, or
// where it could not, one at which no more line is left than is there.
func (d *drawn) stuck(p *pose) float64 {
	t, _ := d.law.At(p.length/d.own - 1)
	for t = max(t, 1); ; t *= 2 {
		if excess, _ := d.excess(p, t); excess <= 0 || t > 1e15 {
			return t
		}
	}
}

// taken returns the work done on the line as the boom comes in from angle a to
// angle b. Without friction that is what it takes up as a spring, exactly; with
// friction it is summed along the way.
func (d *drawn) taken(a, b float64) float64 {
	if !d.rubs {
		from := d.long
		if a != d.set {
			from = d.pose(a).length
		}
		return d.own * (d.law.Energy(d.pose(b).length/d.own-1) - d.law.Energy(from/d.own-1))
	}
	panels := 1 + int(math.Abs(a-b)/panel)
	sum, h := 0.0, (a-b)/float64(panels)
	for i := range panels {
		mid := a - (float64(i)+0.5)*h
		for j, x := range gaussAt {
			p := d.pose(mid + x*h/2)
			sum += gaussBy[j] * d.tension(&p) * p.lever * h / 2
		}
	}
	return sum
}

// panel is the widest step of the sum of work, 0.5 degrees; within it three
// Gauss points.
const panel = math.Pi / 360

var (
	gaussAt = [3]float64{-0.7745966692414834, 0, 0.7745966692414834}
	gaussBy = [3]float64{5.0 / 9, 8.0 / 9, 5.0 / 9}
)
