package rope_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"dogshore/internal/test"
	"dogshore/rope"
)

func TestTableOfALineIsTheLine(t *testing.T) {
	straight, err := rope.Linear(150e3)
	if err != nil {
		t.Fatal(err)
	}
	table, err := rope.Table([]rope.Point{{Strain: 0.01, Tension: 1500}, {Strain: 0.02, Tension: 3000}, {Strain: 0.05, Tension: 7500}})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range []float64{-0.1, 0, 0.005, 0.01, 0.015, 0.02, 0.04, 0.3} {
		ta, ka := straight.At(e)
		tb, kb := table.At(e)
		if math.Abs(ta-tb) > 1e-9 || math.Abs(ka-kb) > 1e-6 || math.Abs(straight.Energy(e)-table.Energy(e)) > 1e-9 {
			t.Errorf("strain %g: %g %g, by the table %g %g", e, ta, ka, tb, kb)
		}
	}
}

// Energy must be the area below the tension, the strain its inverse, and a
// spring in line must add what it stretches.
func TestLawAgainstQuadrature(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 50 {
		var ps []rope.Point
		e, f := 0.0, 0.0
		for range 2 + r.IntN(6) {
			e, f = e+0.001+0.05*r.Float64(), f+10+5000*r.Float64()
			ps = append(ps, rope.Point{Strain: e, Tension: f})
		}
		l, err := rope.Table(ps)
		if err != nil {
			t.Fatal(err)
		}
		upTo := 1.3 * e * r.Float64()
		want, from := 0.0, 0.0
		for _, p := range append(ps, rope.Point{Strain: math.Inf(1)}) { // piece by piece, on which the rule is exact
			to := min(p.Strain, upTo)
			if to > from {
				want += quad.Fixed(func(x float64) float64 { v, _ := l.At(x); return v }, from, to, 3, nil, 0)
				from = to
			}
		}
		if got := l.Energy(upTo); math.Abs(got-want) > 1e-9*(1+want) {
			t.Errorf("energy %g, by quadrature %g", got, want)
		}
		tension, _ := l.At(upTo)
		if got := l.Strain(tension); math.Abs(got-upTo) > 1e-12 {
			t.Errorf("strain %g at the tension of %g", got, upTo)
		}
		soft := l.Softened(2e-6)
		if got, _ := soft.At(upTo + 2e-6*tension); math.Abs(got-tension) > 1e-9*(1+tension) {
			t.Errorf("with a spring in line %g, want %g", got, tension)
		}
		if got, want := soft.Energy(upTo+2e-6*tension), l.Energy(upTo)+tension*tension*1e-6; math.Abs(got-want) > 1e-9*(1+want) {
			t.Errorf("energy with a spring %g, want %g", got, want)
		}
		double := l.Scaled(2)
		if got, _ := double.At(upTo); math.Abs(got-2*tension) > 1e-9*(1+tension) {
			t.Errorf("double law %g, want %g", got, 2*tension)
		}
	}
}

func TestWhatIsNoLaw(t *testing.T) {
	for _, ps := range [][]rope.Point{
		nil, {{}}, {{Strain: 0.1, Tension: -1}}, {{Strain: 0.1, Tension: 10}, {Strain: 0.2, Tension: 9}},
		{{Strain: 0.1, Tension: 10}, {Strain: 0.1, Tension: 12}}, {{Strain: 0.1, Tension: math.Inf(1)}}, {{Strain: math.NaN(), Tension: 1}},
	} {
		if _, err := rope.Table(ps); !errors.Is(err, rope.ErrLaw) {
			t.Errorf("%v: %v", ps, err)
		}
	}
	for _, ea := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := rope.Linear(ea); !errors.Is(err, rope.ErrLaw) {
			t.Errorf("EA %g: %v", ea, err)
		}
	}
	var none rope.Law
	if !none.Zero() {
		t.Error("the zero law is one")
	}
}

func TestTableOfMaterials(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range rope.Stuffs() {
		strain := s.MBLHigh / s.EA // at break, if it were straight
		if seen[s.Key] || !(s.MBLLow > 0) || s.MBLHigh < s.MBLLow || strain < 0.005 || strain > 0.45 {
			t.Errorf("%s: %g to %g N, EA %g, %.3f at break", s.Key, s.MBLLow, s.MBLHigh, s.EA, strain)
		}
		if s.Strength.Text == "" || s.Stretch.Text == "" {
			t.Errorf("%s: no source", s.Key)
		}
		seen[s.Key] = true
		if got, ok := rope.StuffOf(s.Key); !ok || got != s {
			t.Errorf("%s is not found", s.Key)
		}
	}
	if _, ok := rope.StuffOf("hemp"); ok {
		t.Error("hemp was found")
	}
	wire, _ := rope.StuffOf("1x19 wire 5 mm")
	test.Check(t, "breaking load of 5 mm 1x19, N", "Offshore Special Regulations 4.04, 2018: 2040 kg class (within 2 % of the scaled value)", 2040*9.80665, wire.MBLLow, 400)
}

func TestCapstan(t *testing.T) {
	test.Check(t, "tension behind 30 deg of 0.15, 1000 N before", "safety-lines sheet, case 34 [computed]", 924.5, rope.Capstan(1000, 0.15, math.Pi/6), 0.05)
	test.Check(t, "the same, 90 deg of 0.3, factor", "safety-lines sheet, case 34 [computed]", 0.6242, rope.Capstan(1, 0.3, math.Pi/2), 0.00005)
}
