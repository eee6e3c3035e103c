package jackstay_test

import (
	"math"
	"testing"

	"dogshore/internal/test"
	"dogshore/jackstay"
)

func threeSpans(t testing.TB, ea, mu float64) jackstay.Chain {
	return jackstay.Chain{
		Supports: []jackstay.Held{{}, {At: jackstay.Spot{X: 4}, Friction: mu}, {At: jackstay.Spot{X: 8}, Friction: mu}, {At: jackstay.Spot{X: 12}}},
		Law:      linear(t, ea), Rest: 12,
	}
}

func spread(t testing.TB, c jackstay.Chain, pulls ...jackstay.Pull) (out, free, stuck jackstay.Hung) {
	t.Helper()
	out, free, stuck, err := jackstay.Spread(c, pulls)
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range []jackstay.Hung{out, free, stuck} {
		var sum jackstay.Vector
		for _, f := range h.Supports {
			sum.X, sum.Y, sum.Z = sum.X+f.X, sum.Y+f.Y, sum.Z+f.Z
		}
		size := 0.0
		for _, p := range pulls {
			sum.X, sum.Y, sum.Z = sum.X-p.Load.X, sum.Y-p.Load.Y, sum.Z-p.Load.Z
			size += p.Load.Norm()
		}
		if h.Residual > 1e-9*size || sum.Norm() > 1e-9*size {
			t.Errorf("balance %g N off, loads on supports %g N off, of %g", h.Residual, sum.Norm(), size)
		}
		if h.Ratio > 1+1e-9 {
			t.Errorf("a ratio of tensions %g times what friction holds", h.Ratio)
		}
	}
	return out, free, stuck
}

func TestThreeSpans(t *testing.T) {
	src := sheet + "7 [computed]"
	mid := jackstay.Pull{Span: 1, At: 0.5, Load: across}
	for _, c := range []struct{ ea, s, tension, fixedS, fixedT float64 }{{150e3, 0.5530, 1876.2, 0.3798, 2680.2}, {1.79e6, 0.2384, 4224.2, 0.1650, 6081.2}} {
		_, free, stuck := spread(t, threeSpans(t, c.ea, 0), mid)
		test.Check(t, "three 4 m spans, free guides, sag, m", src, c.s, free.Hooks[0].At.Y, digits(4))
		test.Check(t, "three 4 m spans, free guides, tension, N", src, c.tension, free.Tension, digits(1))
		test.Check(t, "three 4 m spans, fixed, sag, m", src, c.fixedS, stuck.Hooks[0].At.Y, digits(4))
		test.Check(t, "three 4 m spans, fixed, tension, N", src, c.fixedT, stuck.Tension, digits(1))
		if c.ea == 150e3 {
			test.Check(t, "free guide, along, N", src, -67.9, free.Supports[1].X, digits(1))
			test.Check(t, "free guide, across, N", src, 500, free.Supports[1].Y, digits(1))
		}
	}
	long := jackstay.Chain{Supports: []jackstay.Held{{}, {At: jackstay.Spot{X: 12}}}, Law: linear(t, 150e3), Rest: 12}
	_, free, _ := spread(t, long, jackstay.Pull{At: 0.5, Load: across})
	test.Check(t, "one span of 12 m, sag, m", src, 1.1393, free.Hooks[0].At.Y, digits(4))
}

// Friction must lie between its brackets, come to them in its limits, and hold
// no more than it can.
func TestFrictionBetweenItsBrackets(t *testing.T) {
	pull := []jackstay.Pull{{Span: 1, At: 0.3, Load: jackstay.Vector{X: 200, Y: 900, Z: -300}, Jammed: true}}
	last := math.Inf(-1)
	for _, mu := range []float64{1e-9, 0.05, 0.15, 0.4, 1, 3, 1e6} {
		out, free, stuck := spread(t, threeSpans(t, 150e3, mu), pull...)
		if free.Tension > out.Tension+1e-6 || out.Tension > stuck.Tension+1e-6 || out.Tension < last-1e-6 {
			t.Errorf("friction %g: %g not between %g and %g, or less than %g with less", mu, out.Tension, free.Tension, stuck.Tension, last)
		}
		last = out.Tension
		if mu == 1e-9 && math.Abs(out.Tension-free.Tension) > 1e-4 || mu == 1e6 && math.Abs(out.Tension-stuck.Tension) > 1e-4 {
			t.Errorf("friction %g: %g, brackets %g and %g", mu, out.Tension, free.Tension, stuck.Tension)
		}
		if mu > 1e-6 && mu < 0.5 && math.Abs(out.Ratio-1) > 1e-9 {
			t.Errorf("friction %g slips with a ratio of %g of what it holds", mu, out.Ratio)
		}
	}
}

// A line is the same from either end.
func TestChainSeenFromTheOtherEnd(t *testing.T) {
	c := threeSpans(t, 150e3, 0.2)
	c.Rest = 11.97
	there, _, _ := spread(t, c, jackstay.Pull{Span: 0, At: 0.3, Load: jackstay.Vector{X: 100, Y: 800}, Jammed: true}, jackstay.Pull{Span: 2, At: 0.6, Load: jackstay.Vector{Y: -500}})
	for i, j := 0, 3; i < j; i, j = i+1, j-1 {
		c.Supports[i], c.Supports[j] = c.Supports[j], c.Supports[i]
	}
	back, _, _ := spread(t, c, jackstay.Pull{Span: 2, At: 0.7, Load: jackstay.Vector{X: 100, Y: 800}, Jammed: true}, jackstay.Pull{Span: 0, At: 0.4, Load: jackstay.Vector{Y: -500}})
	if math.Abs(there.Tension-back.Tension) > 1e-7 || there.Hooks[0].At.VecDist(back.Hooks[0].At) > 1e-9 || there.Hooks[1].At.VecDist(back.Hooks[1].At) > 1e-9 {
		t.Errorf("%+v\n%+v", there, back)
	}
}

// Two who run on one span with loads side by side meet, and are as one.
func TestTwoWhoRunMeet(t *testing.T) {
	c := jackstay.Chain{Supports: []jackstay.Held{{}, {At: jackstay.Spot{X: 10}}}, Law: linear(t, 150e3), Rest: 10}
	_, two, _ := spread(t, c, jackstay.Pull{At: 0.2, Load: across}, jackstay.Pull{At: 0.7, Load: across})
	_, one, _ := spread(t, c, jackstay.Pull{At: 0.5, Load: jackstay.Vector{Y: 2000}})
	if !two.Hooks[0].Joined || !two.Hooks[1].Joined || math.Abs(two.Tension-one.Tension) > 1e-6 || two.Hooks[0].At.VecDist(one.Hooks[0].At) > 1e-6 {
		t.Errorf("%+v\n%+v", two, one)
	}
	// pulled apart they do not
	_, apart, _ := spread(t, c, jackstay.Pull{At: 0.2, Load: jackstay.Vector{X: -200, Y: 1000}}, jackstay.Pull{At: 0.7, Load: jackstay.Vector{X: 200, Y: 1000}})
	if apart.Hooks[0].Joined || !(apart.Hooks[0].At.X < apart.Hooks[1].At.X-0.1) {
		t.Errorf("%+v", apart)
	}
}

// With pretension a hook pulled nearly along the line runs to its support, and
// the whole load is there: from any place it was clipped at.
func TestHeldByItsSupport(t *testing.T) {
	c := threeSpans(t, 150e3, 0)
	c.Rest = jackstay.RestFor(c.Law, 12, 500)
	load := jackstay.Vector{X: 490, Y: 60}
	for _, at := range []float64{0.01, 0.3, 0.5, 0.99} {
		_, free, _ := spread(t, c, jackstay.Pull{Span: 1, At: at, Load: load})
		if h := free.Hooks[0]; h.How != jackstay.HeldBySupport || h.Held != 2 {
			t.Fatalf("clipped at %g: %+v", at, h)
		}
		if f := free.Supports[2]; math.Abs(f.X-490) > 1e-9 || math.Abs(f.Y-60) > 1e-9 || math.Abs(free.Tension-500) > 1e-9 {
			t.Errorf("clipped at %g: the guide feels %+v, tension %g", at, f, free.Tension)
		}
	}
}
