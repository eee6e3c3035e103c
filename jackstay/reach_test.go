package jackstay_test

import (
	"math"
	"testing"

	"dogshore/jackstay"
	"dogshore/plane"
)

// outside returns how far p lies outside all pieces; less than 0 inside.
func outside(pieces [][]plane.Point, p plane.Point) float64 {
	least := math.Inf(1)
	for _, q := range pieces {
		_, _, d := plane.Nearest(p, plane.Closed(q))
		if plane.Contains(q, p) {
			d = -d
		}
		least = min(least, d)
	}
	return least
}

func oneLine(law jackstay.Stuff, slack *float64, supports ...jackstay.Support) jackstay.Case {
	return jackstay.Case{
		Lines:   []jackstay.Line{{ID: "l", Stuff: law, Slack: slack, Supports: supports}},
		Tethers: []jackstay.Tether{{ID: "t", Legs: []float64{1.8}, Stuff: jackstay.Stuff{Stiffness: 150e3}}},
		Persons: []jackstay.Person{{ID: "p", Body: "M50", Mass: 90}}, Tracing: 0.001,
	}
}

func support(x, y, z float64) jackstay.Support {
	return jackstay.Support{At: jackstay.Spot{X: x, Y: y, Z: z}}
}

// The contour against places of the ring taken one by one, ten times as dense,
// by the public solver: none may lie outside by more than the error that is
// told, and the contour must be touched all around.
func TestReachAgainstSampling(t *testing.T) {
	for name, c := range map[string]jackstay.Case{
		"taut":    oneLine(jackstay.Stuff{Stiffness: 150e3}, nil, support(1, 2, 1), support(7, 2.5, 1.2)),
		"slack":   oneLine(jackstay.Stuff{Stiffness: 400e3}, num(0.02), support(0, 0, 1), support(5, -1, 1)),
		"tight":   oneLine(jackstay.Stuff{Stiffness: 100e3}, num(-0.01), support(0, 0, 1), support(4, 0, 1)),
		"tableof": oneLine(jackstay.Stuff{Curve: []jackstay.CurvePoint{{Strain: 0.02, Tension: 500}, {Strain: 0.1, Tension: 12000}}}, nil, support(0, 0, 1), support(6, 0, 1)),
	} {
		l := deck(t, c).Lines[0]
		reach := l.Reaches[0]
		most, touched := 0.0, map[int]bool{}
		a, b := c.Lines[0].Supports[0].At, c.Lines[0].Supports[1].At
		law := lawOf(t, c.Lines[0].Stuff)
		ratio := l.Rest.As / l.Length
		const places, ways = 150, 180
		for k := range places {
			s := jackstay.Span{From: a, To: b, Law: law, Rest: l.Length * ratio}
			at := (float64(k) + 0.5) / places
			square := plane.Point{X: -(b.Y - a.Y), Y: b.X - a.X}
			arrest, err := jackstay.Caught(s, jackstay.Hook{Jammed: true, At: at, Load: jackstay.Vector{X: square.X, Y: square.Y}},
				strap(t, 150e3, 1.8), jackstay.Drop{Mass: 90, Speed: 3, Level: true})
			if err != nil {
				t.Fatal(err)
			}
			for w := range ways {
				sin, cos := math.Sincos(2 * math.Pi * float64(w) / ways)
				h := hang(t, s, jackstay.Hook{Jammed: true, At: at, Load: jackstay.Vector{X: arrest.Body * cos, Y: arrest.Body * sin}})
				leg := 1.8 * (1 + arrest.Body/150e3)
				d := outside(reach.As, plane.Point{X: h.At.X + leg*cos, Y: h.At.Y + leg*sin})
				most = max(most, d)
				if d > -0.02 {
					touched[w] = true
				}
			}
		}
		if most > 0.01 {
			t.Errorf("%s: a ring lies %.4f m outside its contour", name, most)
		}
		if len(touched) < ways/2 {
			t.Errorf("%s: the contour is touched from %d of %d directions", name, len(touched), ways)
		}
	}
}

// By symmetry to both sides of the chord, and by stiffness.
func TestReachIsSymmetricAndSoftReachesFarthest(t *testing.T) {
	c := oneLine(jackstay.Stuff{Stiffness: 150e3}, nil, support(0, 0, 1), support(6, 0, 1))
	r := deck(t, c).Lines[0].Reaches[0]
	for _, p := range r.Soft[0] {
		if d := outside(r.Soft, plane.Point{X: p.X, Y: -p.Y}); d > 1e-9 {
			t.Errorf("%v has no mirror image: %g", p, d)
		}
		if d := outside(r.Soft, plane.Point{X: 6 - p.X, Y: p.Y}); d > 0.002 {
			t.Errorf("%v, from the other end: %g", p, d)
		}
	}
	for _, p := range r.Stiff[0] {
		if outside(r.As, p) > 0.005 {
			t.Errorf("%v of the stiff contour lies outside", p)
		}
	}
	soft, as, stiff, idle := plane.Area(r.Soft[0]), plane.Area(r.As[0]), plane.Area(r.Stiff[0]), plane.Area(r.Idle[0])
	if !(soft > as && as > stiff && stiff > idle) {
		t.Errorf("areas %g %g %g, idle %g", soft, as, stiff, idle)
	}
	if want := math.Pi*1.8*1.8 + 6*3.6; math.Abs(idle-want) > 0.02 {
		t.Errorf("idle reach of a taut line %g m2, a capsule has %g", idle, want)
	}
}

// A line that cannot be stretched reaches as far as an ellipse and the leg.
func TestInextensibleReach(t *testing.T) {
	c := oneLine(jackstay.Stuff{Stiffness: 1e9}, num(0.02), support(0, 0, 1), support(6, 0, 1))
	c.Tethers[0].Stuff.Stiffness = 1e7
	c.Loads.Slide = num(0.5)
	r := deck(t, c).Lines[0].Reaches[0]
	s0 := 3 * math.Sqrt(1.02*1.02-1)
	top := 0.0
	for _, p := range r.As[0] {
		top = max(top, p.Y)
	}
	if want := s0 + 1.8; math.Abs(top-want) > 0.01 {
		t.Errorf("reach to the side %g, want %g", top, want)
	}
	const contourError = 0.01 // m, all around
	if d := plane.Area(r.As[0]) - plane.Area(r.Idle[0]); math.Abs(d) > contourError*plane.Length(plane.Closed(r.Idle[0])) {
		t.Errorf("loaded and idle differ by %g m2", d)
	}
}

// Halving both steps of the sweep moves no contour by more than is told.
func TestSweepConverges(t *testing.T) {
	c := oneLine(jackstay.Stuff{Stiffness: 150e3}, nil, support(0, 0, 1), support(6, 0, 1))
	whole := deck(t, c).Lines[0].Reaches[0]
	c.Lines[0].Supports = []jackstay.Support{support(0, 0, 1), support(6.05, 0, 1)} // other places of the hook
	other := deck(t, c).Lines[0].Reaches[0]
	for _, p := range whole.As[0] {
		if d := outside(other.As, p); d > 0.02 {
			t.Errorf("%v lies %g outside the contour of a line that is 5 cm longer", p, d)
		}
	}
}
