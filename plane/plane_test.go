package plane_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"dogshore/internal/test"
	"dogshore/plane"
)

func square(x, y, side float64) []plane.Point {
	return []plane.Point{{X: x, Y: y}, {X: x + side, Y: y}, {X: x + side, Y: y + side}, {X: x, Y: y + side}}
}

func TestOverlayOfSquares(t *testing.T) {
	a, b := square(0, 0, 2), square(1, 1, 2)
	u, err := plane.Union(a, b)
	if err != nil {
		t.Fatal(err)
	}
	test.Check(t, "area of two 2 m squares that share 1 m2", "definition: 4 + 4 - 1", 7, u.Area(), 1e-12)
	i, err := plane.Intersection(plane.Region{a}, plane.Region{b})
	if err != nil {
		t.Fatal(err)
	}
	test.Check(t, "area that they share", "definition", 1, i.Area(), 1e-12)
	d, err := plane.Difference(plane.Region{square(0, 0, 4)}, plane.Region{square(1, 1, 1)})
	if err != nil {
		t.Fatal(err)
	}
	if d.Area() != 15 || len(d) != 2 || d.Contains(plane.Point{X: 1.5, Y: 1.5}) || !d.Contains(plane.Point{X: 3, Y: 3}) {
		t.Errorf("square with a hole: %v, area %g", d, d.Area())
	}
	back, err := plane.Union(square(1, 1, 1))
	if err != nil {
		t.Fatal(err)
	}
	whole, err := plane.Difference(d, back)
	if err != nil || whole.Area() != 15 {
		t.Errorf("a region with a hole, less what fills the hole: %v %v", whole, err)
	}
	if _, err := plane.Union([]plane.Point{{}, {X: 1, Y: 1}, {X: 1}, {Y: 1}}); err == nil {
		t.Error("a polygon that crosses itself was taken")
	}
}

// The area by the corners, the area by counting points, and the overlay's must
// agree on random stars.
func TestAreaAgainstCounting(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	star := func(cx, cy float64) []plane.Point {
		var p []plane.Point
		for i := range 17 {
			a, d := 2*math.Pi*float64(i)/17, 0.5+r.Float64()
			p = append(p, plane.Point{X: cx + d*math.Cos(a), Y: cy + d*math.Sin(a)})
		}
		return p
	}
	for range 20 {
		a, b := star(0, 0), star(0.7, 0.3)
		u, err := plane.Union(a, b)
		if err != nil {
			t.Fatal(err)
		}
		i, err := plane.Intersection(plane.Region{a}, plane.Region{b})
		if err != nil {
			t.Fatal(err)
		}
		if d := math.Abs(plane.Area(a) + plane.Area(b) - u.Area() - i.Area()); d > 1e-9 {
			t.Errorf("areas of union and intersection are %g off", d)
		}
		for range 500 {
			p := plane.Point{X: 4*r.Float64() - 2, Y: 4*r.Float64() - 2}
			in := plane.Contains(a, p) || plane.Contains(b, p)
			both := plane.Contains(a, p) && plane.Contains(b, p)
			if u.Contains(p) != in || i.Contains(p) != both {
				t.Fatalf("%v: in union %v, in one of them %v", p, u.Contains(p), in)
			}
		}
	}
}

func TestNearest(t *testing.T) {
	path := []plane.Point{{}, {X: 3}, {X: 3, Y: 4}}
	for _, c := range []struct {
		p, at    plane.Point
		seg      int
		distance float64
	}{
		{plane.Point{X: 1, Y: 1}, plane.Point{X: 1}, 0, 1},
		{plane.Point{X: 6, Y: 8}, plane.Point{X: 3, Y: 4}, 1, 5},
		{plane.Point{X: -3, Y: -4}, plane.Point{}, 0, 5},
	} {
		at, seg, d := plane.Nearest(c.p, path)
		if at != c.at || seg != c.seg || d != c.distance {
			t.Errorf("%v: %v, segment %d, %g; want %v, %d, %g", c.p, at, seg, d, c.at, c.seg, c.distance)
		}
	}
	if _, _, d := plane.Nearest(plane.Point{}, nil); !math.IsInf(d, 1) {
		t.Errorf("nothing is %g away", d)
	}
	if _, _, d := plane.Nearest(plane.Point{}, []plane.Point{{X: 3, Y: 4}}); d != 5 {
		t.Errorf("one point is %g away", d)
	}
	if got := plane.Length(path); got != 7 {
		t.Errorf("length %g", got)
	}
}

func TestMeet(t *testing.T) {
	o := func(x, y float64) plane.Point { return plane.Point{X: x, Y: y} }
	for _, c := range []struct {
		a, b, c, d plane.Point
		meet       bool
	}{
		{o(0, 0), o(2, 2), o(0, 2), o(2, 0), true},
		{o(0, 0), o(1, 0), o(0, 1), o(1, 1), false},
		{o(0, 0), o(2, 0), o(1, 0), o(1, 1), true},
		{o(0, 0), o(2, 0), o(1, 0), o(3, 0), true},
		{o(0, 0), o(1, 0), o(2, 0), o(3, 0), false},
	} {
		if plane.Meet(c.a, c.b, c.c, c.d) != c.meet || plane.Meet(c.d, c.c, c.b, c.a) != c.meet {
			t.Errorf("%v", c)
		}
	}
	if !(plane.Point{}).Finite() || (plane.Point{X: math.NaN()}).Finite() || (plane.Point{Y: math.Inf(1)}).Finite() {
		t.Error("what is finite")
	}
}
