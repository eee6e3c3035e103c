package gybe_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"dogshore/gybe"
)

// The distance of two segments, against points laid along both.
func TestClearance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.Float64Range(-3, 3)
		spot := func() gybe.Spot { return gybe.Spot{X: u.Draw(t, "x"), Y: u.Draw(t, "y"), Z: u.Draw(t, "z")} }
		c := case27()
		c.Boom.Out = 80 * deg
		c.Preventers[0].Line.Stiffness = 1e9
		c.Obstacles = []gybe.Obstacle{{Name: "o", Run: []gybe.Spot{spot(), spot()}}}
		r, err := gybe.Reckon(c)
		if err != nil {
			t.Fatal(err)
		}
		l := r.Leads[0]
		found := append(l.Fouls, l.Clears...)[0]
		o, least := c.Obstacles[0].Run, math.Inf(1)
		block := vec(c.Preventers[0].Turns[0].Spot)
		inmost := min(l.Stops.Angle.Least, l.Settles.Angle.Least)
		for i := range 41 {
			b := c.Boom.Out + (inmost-c.Boom.Out)*float64(i)/40
			sin, cos := math.Sincos(b)
			end := r3.Vec{X: -5 * cos, Y: 5 * sin, Z: 2}
			for j := range 201 {
				p := r3.Add(end, r3.Scale(float64(j)/200, r3.Sub(block, end)))
				d := r3.Sub(vec(o[1]), vec(o[0]))
				s := 0.0
				if n := r3.Norm2(d); n > 0 {
					s = min(max(r3.Dot(r3.Sub(p, vec(o[0])), d)/n, 0), 1)
				}
				least = min(least, r3.Norm(r3.Sub(p, r3.Add(vec(o[0]), r3.Scale(s, d)))))
			}
		}
		if found.Least > least+1e-9 || found.Least < least-0.05 {
			t.Fatalf("clearance %g, by points %g", found.Least, least)
		}
	})
}

func TestFouls(t *testing.T) {
	c := cruiser()
	c.Preventers = c.Preventers[:1]
	// A rod standing where the first leg passes when the boom is out.
	l := reckon(t, c).Leads[0]
	if l.Side != gybe.Port {
		t.Fatal("the first lead is not that to port")
	}
	mid := gybe.Spot{X: 9.0377, Y: 2.8537, Z: 2.0} // about half way from the boom's end to the bow block
	c.Obstacles = []gybe.Obstacle{{Name: "rod", Run: []gybe.Spot{{X: mid.X, Y: mid.Y, Z: 0}, {X: mid.X, Y: mid.Y, Z: 4}}, Radius: 0.01}}
	r := reckon(t, c)
	if f := r.Leads[0].Fouls; len(f) != 1 || f[0].Leg != 1 || f[0].Obstacle != "rod" || f[0].From < f[0].To {
		t.Errorf("to port: fouls %+v, clears %+v", f, r.Leads[0].Clears)
	}
	if f := r.Leads[1].Fouls; len(f) != 0 {
		t.Errorf("to starboard: fouls %+v", f)
	}
}
