// Package plane holds what rooms share of plane geometry: points, paths and
// polygons in metres, seen from above. The boat's axes: x forward, y to port.
//
// A polygon is its corners in order, the last joined to the first; either way
// round. What needs overlay (union, difference, intersection) is done by
// simplefeatures' geom; the rest is short enough to stand here.
package plane

import "math"

// Point is a place seen from above, in metres.
type Point struct {
	X float64 `json:"x_m"`
	Y float64 `json:"y_m"`
}

// Sub returns p - q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Scale returns p times k.
func (p Point) Scale(k float64) Point { return Point{k * p.X, k * p.Y} }

// Dot returns the scalar product.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross returns the z component of the vector product: positive if q lies to
// the left of p.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Norm returns the length of p.
func (p Point) Norm() float64 { return math.Hypot(p.X, p.Y) }

// Finite says whether both coordinates are numbers.
func (p Point) Finite() bool {
	return !math.IsNaN(p.X) && !math.IsInf(p.X, 0) && !math.IsNaN(p.Y) && !math.IsInf(p.Y, 0)
}

// OnSegment returns the point of the segment a-b that is nearest to p, and how
// far along it lies, 0 at a to 1 at b.
func OnSegment(p, a, b Point) (Point, float64) {
	d := b.Sub(a)
	l2 := d.Dot(d)
	if l2 == 0 {
		return a, 0
	}
	t := min(max(p.Sub(a).Dot(d)/l2, 0), 1)
	return a.Add(d.Scale(t)), t
}

// Nearest returns the point of a path that is nearest to p, the number of its
// segment and the distance. A path of one point is that point; an empty one is
// infinitely far.
func Nearest(p Point, path []Point) (at Point, segment int, distance float64) {
	distance = math.Inf(1)
	if len(path) == 1 {
		return path[0], 0, path[0].Sub(p).Norm()
	}
	for i := 1; i < len(path); i++ {
		q, _ := OnSegment(p, path[i-1], path[i])
		if d := q.Sub(p).Norm(); d < distance {
			at, segment, distance = q, i-1, d
		}
	}
	return at, segment, distance
}

// Closed returns a polygon as a path that ends where it begins.
func Closed(polygon []Point) []Point {
	if n := len(polygon); n > 0 && polygon[0] != polygon[n-1] {
		return append(polygon[:n:n], polygon[0])
	}
	return polygon
}

// Area returns the area that a polygon encloses, m2; positive if its corners
// run counter-clockwise.
func Area(polygon []Point) float64 {
	var sum float64
	for i, p := range polygon {
		sum += p.Cross(polygon[(i+1)%len(polygon)])
	}
	return sum / 2
}

// Contains says whether p lies inside a polygon (even-odd rule; a point on the
// boundary may fall either way).
func Contains(polygon []Point, p Point) bool {
	in := false
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// Meet says whether the segments a-b and c-d have a point in common.
func Meet(a, b, c, d Point) bool {
	ab, cd := b.Sub(a), d.Sub(c)
	s1, s2 := ab.Cross(c.Sub(a)), ab.Cross(d.Sub(a))
	s3, s4 := cd.Cross(a.Sub(c)), cd.Cross(b.Sub(c))
	if (s1 > 0) != (s2 > 0) && (s3 > 0) != (s4 > 0) && s1 != 0 && s2 != 0 && s3 != 0 && s4 != 0 {
		return true
	}
	on := func(s float64, p, from, to Point) bool {
		return s == 0 && min(from.X, to.X) <= p.X && p.X <= max(from.X, to.X) && min(from.Y, to.Y) <= p.Y && p.Y <= max(from.Y, to.Y)
	}
	return on(s1, c, a, b) || on(s2, d, a, b) || on(s3, a, c, d) || on(s4, b, c, d)
}

// Length returns the length of a path.
func Length(path []Point) float64 {
	var sum float64
	for i := 1; i < len(path); i++ {
		sum += path[i].Sub(path[i-1]).Norm()
	}
	return sum
}
