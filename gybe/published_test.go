package gybe_test

import (
	"math"
	"testing"

	"dogshore/gybe"
	"dogshore/internal/test"
)

// The sheet of reference values that came with the work was made with scipy by
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
	const src = "reference sheet, deck lines, case 27, computed independently with scipy"
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
	const src = "reference sheet, deck lines, case 28, computed independently with scipy, the exact ones by time integration too"
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
