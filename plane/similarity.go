package plane

// Similarity maps one plane to another: it turns, scales and moves, and never
// mirrors. As complex numbers it is
//
//	w = k (u - u0) + w0
//
// with |k| the scale and the angle of k the turn.
type Similarity struct {
	k        Point // complex
	from, to Point
}

// FromTwo returns the similarity that takes p to a and q to b. ok is false if
// p and q, or a and b, lie on one another.
func FromTwo(p, q, a, b Point) (s Similarity, ok bool) {
	u, w := q.Sub(p), b.Sub(a)
	l2 := u.Dot(u)
	if l2 == 0 || w.Dot(w) == 0 || !p.Finite() || !q.Finite() || !a.Finite() || !b.Finite() {
		return s, false
	}
	return Similarity{k: Point{u.Dot(w) / l2, u.Cross(w) / l2}, from: p, to: a}, true
}

// Of returns where p is taken.
func (s Similarity) Of(p Point) Point {
	u := p.Sub(s.from)
	return Point{s.k.X*u.X - s.k.Y*u.Y, s.k.X*u.Y + s.k.Y*u.X}.Add(s.to)
}

// Back returns what is taken to w.
func (s Similarity) Back(w Point) Point {
	d, l2 := w.Sub(s.to), s.k.Dot(s.k)
	return Point{s.k.Dot(d) / l2, s.k.Cross(d) / l2}.Add(s.from)
}

// Scale returns how many units of the second plane one of the first is.
func (s Similarity) Scale() float64 { return s.k.Norm() }

// Lever returns how much a point p is off, at most, for each unit by which the
// two points a and b are off from which a similarity was taken:
//
//	(|p - a| + |p - b|) / |a - b|
//
// for p is w1 a + w2 b with weights of these sizes, as complex numbers. It is
// 1 between the two, and grows outside.
func Lever(p, a, b Point) float64 {
	return (p.Sub(a).Norm() + p.Sub(b).Norm()) / a.Sub(b).Norm()
}
