package gybe_test

import (
	"math"
	"testing"

	"dogshore/gybe"
	"dogshore/internal/test"
)

// The safety-lines sheet (docs/sources.md) was made with scipy by
// another hand than this engine; its cases are named by number.
const (
	knot = 1852.0 / 3600
	deg  = math.Pi / 180
)

// case27 is the sheet's boom: 5 m, a 50 m2 sail, 30 kn, a block near the bow.
func case27() gybe.Case {
	return gybe.Case{
		Boom: gybe.Boom{Gooseneck: gybe.Spot{Z: 2}, Length: 5, Depth: 0.15, Mass: 60, Out: 80 * deg},
		Sail: gybe.Sail{Area: 50, Foot: 5, Luff: 14, Mass: 45, Force: 1.2, Aft: 2},
		Wind: gybe.Band{Low: 15.433}, // 30 kn as the sheet rounds it
		Preventers: []gybe.Preventer{{
			Name: "end of boom", Side: gybe.Port, At: 5, Line: gybe.Line{Stiffness: 210e3},
			Turns: []gybe.Turn{{Name: "block", Sort: "block", Spot: gybe.Spot{X: 5, Y: 0.5, Z: 1.2}}},
		}},
	}
}

func reckon(t testing.TB, c gybe.Case) gybe.Result {
	t.Helper()
	r, err := gybe.Reckon(c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func at(t testing.TB, l gybe.Lead, degrees float64) gybe.Held {
	t.Helper()
	for _, h := range l.Held {
		if math.Abs(h.Angle-degrees*deg) < 1e-9 {
			return h
		}
	}
	t.Fatalf("no boom angle of %g°", degrees)
	return gybe.Held{}
}

func TestSheet27(t *testing.T) {
	const src = "safety-lines sheet, case 27 [computed]"
	c := case27()
	r := reckon(t, c)
	test.Check(t, "sail force, 50 m2, C 1.2, 30 kn", src, 8753.4, r.Force.Most, 1)
	test.Check(t, "its moment about the mast", src, 17506.8, r.Moment.Most, 2)
	for _, x := range []struct{ deg, tension, squeeze float64 }{{80, 5165, 3756}, {70, 5720, 4487}, {60, 6467, 5402}} {
		h := at(t, r.Leads[0], x.deg)
		test.Check(t, "preventer at the boom's end, tension", src, x.tension, h.Tension, 1)
		test.Check(t, "the boom's compression", src, x.squeeze, h.Boom.Compression, 1)
	}
	h := at(t, r.Leads[0], 80)
	test.Check(t, "length of the lead", src, 7.392, h.Length, 0.0005)
	test.Check(t, "lever over radius", src, 0.6778, h.Lever/5, 0.00005)
	test.Check(t, "pull up on the boom", src, -559, h.Boom.Up, 0.5)

	mid := c
	mid.Preventers = []gybe.Preventer{c.Preventers[0], c.Preventers[0]}
	mid.Preventers[0].At, mid.Preventers[1].At = 2.5, 2.5
	mid.Preventers[1].Turns = []gybe.Turn{{Sort: "block", Spot: gybe.Spot{X: 0.3, Y: 2.2, Z: 1.2}}}
	m := reckon(t, mid)
	h = at(t, m.Leads[0], 80)
	test.Check(t, "preventer at mid-boom, tension", src, 8151, h.Tension, 1)
	test.Check(t, "the boom's compression, mid-boom", src, 4019, h.Boom.Compression, 1)
	test.Check(t, "the boom's bending sideways, mid-boom", src, 8753, h.Boom.Sideways, 1)
	test.Check(t, "preventer at mid-boom, boom at 60 deg", src, 9964, at(t, m.Leads[0], 60).Tension, 1)
	h = at(t, m.Leads[1], 80)
	test.Check(t, "tackle to the rail, tension", src, 11545, h.Tension, 1)
	test.Check(t, "tackle to the rail, pull up", src, -8269, h.Boom.Up, 1)

	for _, x := range []struct{ knots, press float64 }{{15, 36.47}, {20, 64.84}, {30, 145.89}, {40, 259.4}} {
		c.Wind = gybe.Band{Low: x.knots * knot}
		test.Check(t, "dynamic pressure of the wind", src, x.press, reckon(t, c).Press.Most, 0.05)
	}
}

func TestSheet28(t *testing.T) {
	const src = "safety-lines sheet, case 28 [computed], the exact ones by time integration too"
	c := case27()
	// 9 m of tail beyond the block, straight on: where it leads makes no difference to the stretch.
	c.Preventers[0].Turns = append(c.Preventers[0].Turns, gybe.Turn{Name: "clutch", Sort: "clutch", Spot: gybe.Spot{X: -4, Y: 0.5, Z: 1.2}})
	stop := func(slack, ea float64) gybe.Run {
		c.Preventers[0].Slack = gybe.Band{Low: slack}
		c.Preventers[0].Line.Stiffness = ea
		for _, run := range reckon(t, c).Leads[0].Stops.Runs {
			if run.Setting.Stretch == 1 {
				return run
			}
		}
		t.Fatal("no run with the stiffness as entered")
		return gybe.Run{}
	}
	for _, x := range []struct{ slack, ea, tension float64 }{
		{0, 210e3, 10331}, {0, 1.5e6, 10331}, {0.1, 210e3, 11484}, {0.3, 210e3, 13313}, {0.5, 210e3, 14802},
		{0.1, 1.5e6, 16175}, {0.3, 1.5e6, 22780}, {0.5, 1.5e6, 27512},
	} {
		test.Check(t, "greatest tension, formula for small angles", src, x.tension, stop(x.slack, x.ea).ByHand, 2)
	}
	free := stop(0, 210e3)
	test.Check(t, "boom angle where it is stopped, no slack, deg", src, 63.96, free.Angle/deg, 0.005)
	test.Check(t, "tension there", src, 11205, free.Tension, 2)
	slack := stop(0.3, 210e3)
	test.Check(t, "boom angle where it is stopped, 0.3 m slack, deg", src, 49.99, slack.Angle/deg, 0.005)
	test.Check(t, "stretch there", src, 1.2074, slack.Stretched, 0.0003)
	test.Check(t, "tension there, 0.3 m slack", src, 15190, slack.Tension, 2)
}

func TestSheet29(t *testing.T) {
	const src = "safety-lines sheet, case 29 [computed]"
	c := case27()
	c.Preventers[0].Turns = append(c.Preventers[0].Turns, gybe.Turn{Name: "clutch", Sort: "clutch", Spot: gybe.Spot{X: -4, Y: 1.5, Z: 1.2}})
	h := at(t, reckon(t, c).Leads[0], 80)
	p := h.Points[0]
	test.Check(t, "turning angle at the bow block, deg", src, 148.77, p.Turning/deg, 0.005)
	test.Check(t, "load on the bow block", src, 9950, p.Load, 2)
	test.Check(t, "aft", src, -9234, p.Force.X, 2)
	test.Check(t, "to port", src, 3662, p.Force.Y, 2)
	test.Check(t, "up", src, 559, p.Force.Z, 1)
}

func TestTurningTable(t *testing.T) {
	const src = "block maker's loading sheet, factors printed in percent, quoted in the safety-lines sheet 9.5"
	base := case27()
	u := at(t, reckon(t, base).Leads[0], 80)
	// The pull as a unit vector, and one level and square to it.
	block := base.Preventers[0].Turns[0].Spot
	f := u.Points[0].Force
	pull := gybe.Spot{X: -f.X / u.Tension, Y: -f.Y / u.Tension, Z: -f.Z / u.Tension}
	n := math.Hypot(pull.X, pull.Y)
	side := gybe.Spot{X: -pull.Y / n, Y: pull.X / n}
	for _, x := range []struct{ deg, percent, slack float64 }{
		{30, 52, 0.5}, {45, 76, 0.6}, {60, 100, 0.5}, {75, 122, 0.5}, {90, 141, 0.5}, {105, 159, 0.5}, {120, 173, 0.5}, {135, 185, 0.5}, {150, 193, 0.5}, {160, 197, 0.5}, {180, 200, 0.5},
	} {
		sin, cos := math.Sincos(x.deg * deg)
		c := base
		c.Preventers = append([]gybe.Preventer(nil), base.Preventers...)
		c.Preventers[0].Turns = []gybe.Turn{{Sort: "block", Spot: block}, {Sort: "clutch", Spot: gybe.Spot{
			X: block.X + cos*pull.X + sin*side.X, Y: block.Y + cos*pull.Y + sin*side.Y, Z: block.Z + cos*pull.Z,
		}}}
		h := at(t, reckon(t, c).Leads[0], 80)
		test.Check(t, "turning angle, deg", "geometry", x.deg, h.Points[0].Turning/deg, 1e-6)
		test.Check(t, "load on a block by turning angle, % of the tension", src, x.percent, 100*h.Points[0].Load/h.Tension, x.slack)
	}
}

func TestSheet30(t *testing.T) {
	const foot, lbf = 0.3048, 4.448222
	c := case27()
	c.Sail.Foot, c.Sail.Luff = 15*foot, 43*foot
	c.Sheet = &gybe.Mainsheet{Forward: 4 * foot, Wind: 25 * knot}
	load := reckon(t, c).Sheet.Load
	test.Check(t, "mainsheet, E 15 ft, P 43 ft, 25 kn, X 4 ft, kgf", "safety-lines sheet, case 30 [computed]", 1014.56, load/9.80665, 0.01)
	// The metric constant is rounded: 0.02 % below the one in feet.
	test.Check(t, "the same, lbf", "sailing forum's worked example of the trade's formula, 2237 lb, quoted in the safety-lines sheet", 2237, load/lbf, 0.7)
}

func TestSheet31(t *testing.T) {
	const src = "safety-lines sheet, case 31 [computed], closed form confirmed by time integration"
	c := case27()
	test.Check(t, "inertia of boom, sail and the air of a triangle", src, 500+187.5+473.5, reckon(t, c).Inertia, 0.1)
	for _, x := range []struct{ angle, time, rate float64 }{{20.53, 0.25, 2.5325}, {66.85, 0.5, 3.8135}} {
		c.Boom.Out = x.angle * deg
		s := reckon(t, c).Swing
		test.Check(t, "free swing, time to the angle", src, x.time, s.Time, 1e-4)
		test.Check(t, "free swing, rate there", src, x.rate, s.Rate, 5e-4)
		if x.time == 0.5 {
			test.Check(t, "speed of the boom's end, m/s", src, 19.07, s.End, 0.005)
		}
	}
}

func TestSheet32(t *testing.T) {
	const src = "safety-lines sheet, case 32 [computed]"
	c := case27()
	c.Boom.Gooseneck.Z = 2.4
	for _, x := range []struct{ knots, force float64 }{{4, 391}, {6, 879}, {8, 1563}, {10, 2441}} {
		c.Dip = &gybe.Dip{Speed: gybe.Band{Low: x.knots * knot}, Immersed: 1}
		test.Check(t, "drag of a dipped boom's end, 1.0 x 0.15 m", src, x.force, reckon(t, c).Dip.Force.Most, 0.6)
	}
	// The sheet rounds the end to y 4.924 first: 25.985 becomes 25.99.
	test.Check(t, "heel at which it dips, deg", src, 25.99, reckon(t, c).Dip.Roll/deg, 0.006)
}

func TestSheet34(t *testing.T) {
	const src = "safety-lines sheet, case 34 [computed]"
	// 1000 N round 30 deg with 0.15: the clutch sees what is left.
	c := case27()
	h := at(t, reckon(t, c).Leads[0], 80)
	f := h.Points[0].Force
	sin, cos := math.Sincos(30 * deg)
	n := math.Hypot(f.X, f.Y)
	pull := gybe.Spot{X: -f.X / h.Tension, Y: -f.Y / h.Tension, Z: -f.Z / h.Tension}
	b := c.Preventers[0].Turns[0].Spot
	c.Preventers[0].Turns = []gybe.Turn{{Sort: "block", Spot: b, Friction: 0.15}, {Sort: "clutch", Spot: gybe.Spot{
		X: b.X + cos*pull.X + sin*f.Y/n, Y: b.Y + cos*pull.Y - sin*f.X/n, Z: b.Z + cos*pull.Z,
	}}}
	h = at(t, reckon(t, c).Leads[0], 80)
	test.Check(t, "1000 N beyond a turn of 30 deg, mu 0.15", src, 924.5, 1000*h.Points[1].In/h.Points[0].In, 0.05)
}
