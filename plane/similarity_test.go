package plane_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"dogshore/plane"
)

// A similarity takes its two points where they belong, comes back, keeps
// angles and the sense of turning; and a point is never off by more than the
// lever says.
func TestSimilarity(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	at := func() plane.Point { return plane.Point{X: 20*r.Float64() - 10, Y: 20*r.Float64() - 10} }
	near := func(p, q plane.Point) bool { return p.Sub(q).Norm() < 1e-9 }
	for range 500 {
		p, q, a, b, x, y := at(), at(), at(), at(), at(), at()
		s, ok := plane.FromTwo(p, q, a, b)
		if !ok || !near(s.Of(p), a) || !near(s.Of(q), b) || s.Back(s.Of(x)).Sub(x).Norm() > 1e-6 {
			t.Fatalf("%v %v to %v %v", p, q, a, b)
		}
		u, v := s.Of(x).Sub(a), s.Of(y).Sub(a)
		k := s.Scale()
		if math.Abs(u.Cross(v)-k*k*x.Sub(p).Cross(y.Sub(p))) > 1e-6*(1+k*k) || math.Abs(k-b.Sub(a).Norm()/q.Sub(p).Norm()) > 1e-9 {
			t.Fatal("it mirrors, or its scale is not that of the two points")
		}
		off := func() plane.Point {
			angle := 2 * math.Pi * r.Float64()
			return plane.Point{X: 0.01 * math.Cos(angle), Y: 0.01 * math.Sin(angle)}
		}
		moved, _ := plane.FromTwo(p, q, a.Add(off()), b.Add(off()))
		if d := moved.Of(x).Sub(s.Of(x)).Norm(); d > 0.01*plane.Lever(x, p, q)+1e-9 {
			t.Fatalf("a point is %g off, the lever says %g", d, 0.01*plane.Lever(x, p, q))
		}
	}
	if _, ok := plane.FromTwo(plane.Point{}, plane.Point{}, plane.Point{}, plane.Point{X: 1}); ok {
		t.Error("two points on one another give no scale")
	}
	// A quarter turn and a scale of two: (1, 0) goes to (0, 2).
	s, _ := plane.FromTwo(plane.Point{}, plane.Point{X: 1}, plane.Point{}, plane.Point{Y: 2})
	if !near(s.Of(plane.Point{Y: 1}), plane.Point{X: -2}) || plane.Lever(plane.Point{X: 0.3}, plane.Point{}, plane.Point{X: 1}) != 1 {
		t.Error("a quarter turn")
	}
}
