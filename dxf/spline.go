package dxf

import "slices"

// Bounds of a spline.
const (
	maxDegree = 11
	halvings  = 8 // of a piece of a spline
	coarsely  = 8 // chords of a span where the unit is not known
)

// nurbs is a spline by its control points, with weights of 1 where the file
// has none.
type nurbs struct {
	degree  int
	knots   []float64
	control []Point
	weights []float64
}

// spline reads a spline and parts each span between knots until the middle and
// the quarters of every piece lie within the tolerance of its chord; it starts
// with as many pieces as its degree, so that no turn hides between.
func (c *curve) spline(e *entity) bool {
	s, ok := c.readNurbs(e)
	if !ok {
		return false
	}
	tol, p := c.tolerance(), s.degree
	c.add(s.at(p, s.knots[p]))
	for i := p; i < len(s.control); i++ {
		u, w := s.knots[i], s.knots[i+1]
		if u == w {
			continue
		}
		n := p
		if tol == 0 {
			n = max(p, coarsely)
		}
		for k := range n {
			a, b := u+(w-u)*float64(k)/float64(n), u+(w-u)*float64(k+1)/float64(n)
			if tol > 0 {
				c.halve(s, i, a, b, s.at(i, a), s.at(i, b), tol, halvings)
			}
			c.add(s.at(i, b))
		}
		if len(c.points) > maxPoints {
			return true // all says so
		}
	}
	n := len(c.points)
	c.closed = n > 3 && apart(c.points[0], c.points[n-1]) <= max(c.r.join, 1e-9*apart(c.points[0], c.points[n/2]))
	if c.closed {
		c.points = c.points[:n-1]
	}
	return true
}

// halve adds the points that are needed between the parameters a and b.
func (c *curve) halve(s *nurbs, span int, a, b float64, from, to Point, tol float64, left int) {
	mid := (a + b) / 2
	m := s.at(span, mid)
	if beside(m, from, to) <= tol && beside(s.at(span, (a+mid)/2), from, to) <= tol && beside(s.at(span, (mid+b)/2), from, to) <= tol {
		return
	}
	if left == 0 {
		c.r.coarse++
		return
	}
	c.halve(s, span, a, mid, from, m, tol, left-1)
	c.add(m)
	c.halve(s, span, mid, b, m, to, tol, left-1)
}

// beside is how far p lies from the chord a-b.
func beside(p, a, b Point) float64 {
	d := b.sub(a)
	l := d.dot(d)
	if l == 0 {
		return apart(p, a)
	}
	t := min(max(p.sub(a).dot(d)/l, 0), 1)
	return apart(p, a.add(d.scale(t)))
}

func (c *curve) readNurbs(e *entity) (*nurbs, bool) {
	s := &nurbs{degree: e.whole(71)}
	ok := true
	for _, p := range e.pairs {
		v, okV := p.number()
		switch p.code {
		case 40:
			s.knots = append(s.knots, v)
		case 41:
			s.weights = append(s.weights, v)
		case 10:
			s.control = append(s.control, Point{X: v})
		case 20, 30:
			if n := len(s.control); n > 0 && p.code == 20 {
				s.control[n-1].Y = v
			} else if n > 0 {
				s.control[n-1].Z = v
			}
		default:
			continue
		}
		ok = ok && okV
	}
	n := len(s.control)
	if n == 0 && e.has(11) {
		c.why = "given only by the points that it passes, without control points"
		return nil, false
	}
	if s.weights == nil {
		s.weights = slices.Repeat([]float64{1}, n)
	}
	switch {
	case !ok, s.degree < 1, s.degree > maxDegree, n <= s.degree, len(s.knots) != n+s.degree+1, len(s.weights) != n, !slices.IsSorted(s.knots), s.knots[s.degree] >= s.knots[n]:
		return nil, false
	}
	for _, w := range s.weights {
		if w <= 1e-9 {
			return nil, false
		}
	}
	return s, true
}

// at evaluates the spline at u in the span between knots i and i+1, by de
// Boor's steps on the points with their weights.
func (s *nurbs) at(i int, u float64) Point {
	p := s.degree
	var d [maxDegree + 1]Point
	var w [maxDegree + 1]float64
	for k := range p + 1 {
		w[k] = s.weights[i-p+k]
		d[k] = s.control[i-p+k].scale(w[k])
	}
	for step := 1; step <= p; step++ {
		for k := p; k >= step; k-- {
			low, high := s.knots[i-p+k], s.knots[i+1+k-step]
			t := 0.0
			if high > low {
				t = (u - low) / (high - low)
			}
			d[k] = d[k-1].scale(1 - t).add(d[k].scale(t))
			w[k] = (1-t)*w[k-1] + t*w[k]
		}
	}
	return d[p].scale(1 / w[p])
}
