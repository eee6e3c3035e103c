package jackstay_test

import (
	"fmt"
	"math"
	"testing"

	"dogshore/internal/test"
	"dogshore/jackstay"
)

func strap(t testing.TB, ea, length float64) jackstay.Strap {
	return jackstay.Strap{Law: linear(t, ea), Length: length}
}

func caught(t testing.TB, s jackstay.Span, tether jackstay.Strap, d jackstay.Drop) jackstay.Arrest {
	t.Helper()
	out, err := jackstay.Caught(s, jackstay.Hook{Load: jackstay.Vector{Y: 1}}, tether, d)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func byEye(t testing.TB, tether jackstay.Strap, d jackstay.Drop) jackstay.Arrest {
	t.Helper()
	out, err := jackstay.CaughtByEye(tether, d)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestFixedEye(t *testing.T) {
	src := sheet + "16 [computed]; F = mg + sqrt((mg)^2 + 2 mg EA h/L)"
	for _, c := range []struct{ mass, fall, length, ea, want float64 }{
		{80, 1.77, 1, 20e3, 8278.6}, {80, 1, 1, 20e3, 6441.1}, {80, 0, 1, 20e3, 1569.06},
		{100, 1, 1, 150e3, 18160.9}, {100, 1, 1, 60e3, 11872.9}, {100, 1, 1, 30e3, 8713.8}, {100, 1, 2, 150e3, 13148.7},
	} {
		a := byEye(t, strap(t, c.ea, c.length), jackstay.Drop{Mass: c.mass, Fall: c.fall})
		test.Check(t, fmt.Sprintf("%g kg on a fixed eye, EA %g N, fall %g of %g m, N", c.mass, c.ea, c.fall, c.length), src, c.want, a.Body, digits(1))
	}
	a := byEye(t, strap(t, 150e3, 2), jackstay.Drop{Mass: 100, Speed: 3, Level: true})
	test.Check(t, "100 kg sliding at 3 m/s on a fixed eye, N", src, 8215.8, a.Body, digits(1))
}

func TestArrestByLine(t *testing.T) {
	tether := strap(t, 150e3, 2)
	fall, slide := jackstay.Drop{Mass: 100, Fall: 1}, jackstay.Drop{Mass: 100, Speed: 3, Level: true}
	for _, c := range []struct{ ea, f, s, tension, stretch float64 }{
		{1.79e6, 7401.9, 0.8077, 23206, 0.0987}, {1e6, 6965.3, 0.9636, 18403, 0}, {150e3, 5701.0, 1.7295, 8719.9, 0}, {60e3, 5171.0, 2.3198, 6143.3, 0},
	} {
		a := caught(t, tenMetres(t, c.ea, 10), tether, fall)
		name, src := fmt.Sprintf("100 kg fall 1 m, taut line EA %g N, ", c.ea), sheet+"17 [computed]"
		test.Check(t, name+"load, N", src, c.f, a.Body, digits(1))
		test.Check(t, name+"sag, m", src, c.s, a.Travel, digits(4))
		test.Check(t, name+"tension, N", src, c.tension, a.Hold.Tension[0], 0.6) // 23206.5 stands as 23206
		if c.stretch > 0 {
			test.Check(t, name+"stretch of the tether, m", src, c.stretch, a.Stretch, digits(4))
		}
	}
	for _, c := range []struct{ ea, f, s, tension float64 }{
		{1.79e6, 2751.3, 0.5790, 11959.7}, {1e6, 2424.5, 0.6747, 9064.4}, {150e3, 1554.7, 1.1032, 3607.9}, {60e3, 1236.2, 1.3968, 2297.3},
	} {
		a := caught(t, tenMetres(t, c.ea, 10), tether, slide)
		name, src := fmt.Sprintf("100 kg slide 3 m/s, taut line EA %g N, ", c.ea), sheet+"18 [computed]"
		test.Check(t, name+"load, N", src, c.f, a.Body, digits(1))
		test.Check(t, name+"sag, m", src, c.s, a.Travel, digits(4))
		test.Check(t, name+"tension, N", src, c.tension, a.Hold.Tension[0], digits(1))
	}
}

// Slack does not lower the arrest load.
func TestSlackAndArrest(t *testing.T) {
	src := sheet + "19 [computed]"
	last := caught(t, tenMetres(t, 150e3, 10), strap(t, 150e3, 2), jackstay.Drop{Mass: 100, Fall: 1})
	for _, c := range []struct{ slack, f, s, tension float64 }{{0.01, 6321.0, 1.9014, 8891.5}, {0.02, 6876.8, 2.0583, 9032.4}} {
		a := caught(t, tenMetres(t, 150e3, 10*(1+c.slack)), strap(t, 150e3, 2), jackstay.Drop{Mass: 100, Fall: 1})
		name := fmt.Sprintf("100 kg fall 1 m, slack %g, ", c.slack)
		test.Check(t, name+"load, N", src, c.f, a.Body, digits(1))
		test.Check(t, name+"sag, m", src, c.s, a.Travel, digits(4))
		test.Check(t, name+"tension, N", src, c.tension, a.Hold.Tension[0], digits(1))
		if a.Body <= last.Body || a.Hold.Tension[0] <= last.Hold.Tension[0] {
			t.Errorf("slack %g lowered the load: %g after %g", c.slack, a.Body, last.Body)
		}
		last = a
	}
}

func TestSuddenLoad(t *testing.T) {
	src := sheet + "20 [computed]; in the limit of small angles 4 m g and 4^(2/3)"
	a := caught(t, tenMetres(t, 150e3, 10), strap(t, 1e15, 2), jackstay.Drop{Mass: 80})
	test.Check(t, "80 kg let go on a taut line, rigid tether, F/(mg)", src, 3.926, a.Body/(80*jackstay.Gravity), digits(3))
	test.Check(t, "the same, tension, N", src, 5730.4, a.Hold.Tension[0], digits(1))
	still := hang(t, tenMetres(t, 150e3, 10), jackstay.Hook{Load: jackstay.Vector{Y: 80 * jackstay.Gravity}})
	test.Check(t, "the same at rest, tension, N", src, 2276.9, still.Tension[0], digits(1))
}

// swing integrates the fall in time, by the classical Runge-Kutta method, and
// returns the greatest force on the body: the line without mass gives way as
// it must at each moment (bisection), the edge rubs while line is paid out.
func swing(t testing.TB, s jackstay.Span, tether jackstay.Strap, d jackstay.Drop) float64 {
	k := math.Exp(-d.EdgeMu * d.EdgeAngle)
	force := func(z float64) float64 {
		lo, hi := 0.0, 1e6
		for range 60 {
			f := (lo + hi) / 2
			h := hang(t, s, jackstay.Hook{Load: jackstay.Vector{Y: k * f}})
			if h.Sag+tether.Length*tether.Law.Strain(f) < z {
				lo = f
			} else {
				hi = f
			}
		}
		return lo
	}
	weight := d.Mass * jackstay.Gravity
	if d.Level {
		weight = 0
	}
	acc := func(z float64) float64 { return (weight - force(z)) / d.Mass }
	z, v, most := 0.0, math.Sqrt(d.Speed*d.Speed+2*weight/d.Mass*d.Fall), 0.0
	const dt = 1e-3
	for v > 0 {
		k1 := acc(z)
		k2 := acc(z + dt/2*v)
		k3 := acc(z + dt/2*(v+dt/2*k1))
		k4 := acc(z + dt*(v+dt/2*k2))
		dz, dv := dt*v+dt*dt/6*(k1+k2+k3), dt/6*(k1+2*k2+2*k3+k4)
		if v+dv < 0 { // the last part of a step, up to rest
			dz = v * v / (-2 * dv / dt)
		}
		z, v = z+dz, v+dv
		most = max(most, force(z))
	}
	return most
}

func TestArrestAgainstTime(t *testing.T) {
	for _, c := range []struct {
		name    string
		ea, mul float64
		d       jackstay.Drop
	}{
		{"fall of 1 m", 150e3, 1, jackstay.Drop{Mass: 100, Fall: 1}},
		{"fall of 1 m, wire", 1.79e6, 1, jackstay.Drop{Mass: 100, Fall: 1}},
		{"slide at 3 m/s", 150e3, 1, jackstay.Drop{Mass: 100, Speed: 3, Level: true}},
		{"fall over a rubbing edge", 150e3, 1, jackstay.Drop{Mass: 100, Fall: 1, EdgeMu: 0.3, EdgeAngle: math.Pi / 2}},
		{"the same, slack of 2 %", 150e3, 1.02, jackstay.Drop{Mass: 80, Fall: 0.5, EdgeMu: 0.2, EdgeAngle: 1.2}},
	} {
		s, tether := tenMetres(t, c.ea, 10*c.mul), strap(t, 150e3, 2)
		a := caught(t, s, tether, c.d)
		test.Check(t, "greatest force, "+c.name+", N", "second method: integration in time, Runge-Kutta, 1 ms", swing(t, s, tether, c.d), a.Body, 3e-4*a.Body)
	}
}

// Friction at the edge spares the line and burdens the person.
func TestEdgeFriction(t *testing.T) {
	s, tether := tenMetres(t, 150e3, 10), strap(t, 150e3, 2)
	last := caught(t, s, tether, jackstay.Drop{Mass: 100, Fall: 1})
	for _, mu := range []float64{0.1, 0.3, 0.6} {
		a := caught(t, s, tether, jackstay.Drop{Mass: 100, Fall: 1, EdgeMu: mu, EdgeAngle: math.Pi / 2})
		if a.Body <= last.Body || a.Line >= last.Line || math.Abs(a.Line/a.Body-math.Exp(-mu*math.Pi/2)) > 1e-12 {
			t.Errorf("mu %g: %g on the body, %g on the line; before %g, %g", mu, a.Body, a.Line, last.Body, last.Line)
		}
		last = a
	}
}
