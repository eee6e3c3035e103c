package rope_test

import (
	"math"
	"testing"

	"dogshore/internal/test"
	"dogshore/rope"
)

const (
	sheet24 = "safety-lines sheet, case 24 [computed]"
	sheet25 = "safety-lines sheet, case 25 [computed]"
	sheet26 = "safety-lines sheet, case 26 [computed]"
)

// padeye is the sheet's: four M8 A4-70 in two rows 60 mm apart, the edge of the
// foot 15 mm before each row, 8 mm of solid laminate, pulled at 30 mm above the
// deck with 20 kN, 15 degrees out of it.
func padeye() rope.AnchorCase {
	return rope.AnchorCase{
		Name: "pad eye", Long: 0.090, Wide: 0.080, Stands: 0.030, Rated: 60e3, Aside: 30e3,
		Bolts: rope.Bolts{Size: 0.008, Grade: "A4-70", At: []rope.Plan{
			{Along: -0.030, Across: -0.025}, {Along: -0.030, Across: 0.025}, {Along: 0.030, Across: -0.025}, {Along: 0.030, Across: 0.025},
		}},
		Backing: rope.Backing{Sort: rope.BackingStainless, Thick: 0.004, Long: 0.120, Wide: 0.100},
		Under: rope.Under{
			Sort: rope.UnderSolid, Solid: 0.008, Long: 0.300, Wide: 0.300, Bearing: 250e6, Shear: 30e6,
			Outer: 0.002, Core: 0.020, Inner: 0.002, CoreShear: 1.15e6, CoreCrush: 1.4e6,
		},
		Loads: []rope.AnchorLoad{{Name: "jackstay", Force: rope.Vector{X: 20e3 * math.Cos(math.Pi/12), Z: 20e3 * math.Sin(math.Pi/12)}}},
	}
}

func anchor(t testing.TB, c rope.AnchorCase) rope.AnchorResult {
	t.Helper()
	r, err := rope.CheckAnchor(c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func part(t testing.TB, r rope.AnchorResult, key rope.PartKey) rope.ChainPart {
	t.Helper()
	for _, p := range r.Parts {
		if p.Key == key {
			return p
		}
	}
	t.Fatalf("there is no part %s", key)
	return rope.ChainPart{}
}

func TestStressAreas(t *testing.T) {
	const src = "ISO 898-1, printed stress areas of coarse threads, from memory"
	for size, mm2 := range map[float64]float64{0.005: 14.2, 0.006: 20.1, 0.008: 36.6, 0.010: 58.0, 0.012: 84.3, 0.016: 157, 0.020: 245} {
		area, err := rope.StressArea(size)
		if err != nil {
			t.Fatal(err)
		}
		test.Check(t, "stress area of a coarse thread, mm2", src, mm2, area*1e6, 0.5e-2*mm2)
	}
	area, err := rope.StressArea(0.00635)
	if err != nil {
		t.Fatal(err)
	}
	test.Check(t, "stress area of 1/4 in UNC, in2", "ASME B1.1, printed 0.0318, from memory", 0.0318, area/0.0254/0.0254, 0.00005)
}

func TestSheet24(t *testing.T) {
	for _, x := range []struct {
		size        float64
		pull, shear float64
		exact       bool
	}{{0.006, 10.13, 5.63, true}, {0.008, 18.45, 10.25, true}, {0.010, 29.23, 16.24, true}} {
		r, err := rope.Bolts{Size: x.size, Grade: "A4-70"}.Resistance(1.25)
		if err != nil {
			t.Fatal(err)
		}
		// The sheet takes the printed areas, which are rounded to three digits.
		test.Check(t, "bolt A4-70, pull, kN", sheet24, x.pull, r.Pull/1e3, 0.003*x.pull)
		test.Check(t, "bolt A4-70, shear, kN", sheet24, x.shear, r.Shear/1e3, 0.003*x.shear)
	}
	r := anchor(t, padeye())
	l := r.Loads[0]
	test.Check(t, "pad eye, shear on the foot", sheet24, 19319, l.Shear, 1)
	test.Check(t, "pad eye, pull out of the deck", sheet24, 5176, l.Out, 1)
	most := rope.BoltLoad{}
	pivot := []float64{}
	for _, b := range l.Bolts {
		if b.Pull > most.Pull {
			most = b
		}
		pivot = append(pivot, b.Pivot)
	}
	test.Check(t, "pad eye, shear on a bolt", sheet24, 4830, most.Shear, 1)
	test.Check(t, "pad eye, pull on the worst bolt, elastic", sheet24, 6124, most.Elastic, 1)
	test.Check(t, "pad eye, interaction of pull and shear", sheet24, 0.708, most.Used, 0.0015)
	test.Check(t, "pad eye about its edge, far row", sheet24, 5208, pivot[0], 1)
	test.Check(t, "pad eye about its edge, near row", sheet24, 1042, pivot[2], 1)
	test.Check(t, "pad eye, bearing on 8 mm, MPa", sheet24, 75.5, part(t, r, rope.PartBearing).Load/1e6, 0.05)
}

func TestSheet25(t *testing.T) {
	c := padeye()
	c.Bolts.At = []rope.Plan{{Along: -0.030}, {Along: 0.030}}
	c.Stands = 0
	c.Under.Solid = 0.006
	c.Loads[0].Force = rope.Vector{X: 10e3}
	test.Check(t, "bearing, 10 kN on two M8 through 6 mm, MPa", sheet25, 104.2, part(t, anchor(t, c), rope.PartBearing).Load/1e6, 0.05)

	c = padeye()
	c.Backing = rope.Backing{Sort: rope.BackingStainless, Thick: 0.004, Long: 0.080, Wide: 0.060}
	c.Under.Solid = 0.008
	test.Check(t, "punching round a plate 60 x 80 in 8 mm, kN", sheet25, 67.2, part(t, anchor(t, c), rope.PartPunch).Holds/1e3, 0.05)
	c.Backing = rope.Backing{Sort: rope.BackingWashers, Thick: 0.004, Long: 0.024}
	c.Under.Solid = 0.006
	test.Check(t, "punching round a washer of 24 mm in 6 mm, kN", sheet25, 13.57, part(t, anchor(t, c), rope.PartPunch).Holds/1e3, 0.005)
}

func TestSheet26(t *testing.T) {
	c := padeye()
	c.Bolts = rope.Bolts{Size: 0.00635, Grade: "A4-70", Clamp: 6228, At: []rope.Plan{{}}}
	c.Factors.Core = 1
	c.Under.Sort = rope.UnderFoam
	test.Check(t, "area on foam of 1.4 MPa for a clamp of 6228 N, mm2", sheet26, 4448, anchor(t, c).Demand.Plate*1e6, 1)
	c.Under.Sort, c.Under.CoreCrush = rope.UnderBalsa, 12e6
	test.Check(t, "diameter of it on balsa of 12 MPa, mm", sheet26, 25.7, 2e3*math.Sqrt(anchor(t, c).Demand.Plate/math.Pi), 0.05)

	c = padeye()
	c.Stands = 0
	c.Loads[0].Force = rope.Vector{Z: 20e3}
	for _, x := range []struct{ tau, radius float64 }{{1.15e6, 251.6}, {2.5e6, 115.7}} {
		c.Under.CoreShear = x.tau
		test.Check(t, "hard point for 20 kN, dd 22 mm, factor 2, mm", sheet26, x.radius, anchor(t, c).Demand.Radius*1e3, 0.1)
	}
	// 1400 lbf is a practitioner's clamp of a 1/4 in bolt of 316.
	c.Bolts = rope.Bolts{Size: 0.00635, Grade: "A4-70", At: []rope.Plan{{}}}
	c.Factors.Core = 1
	force := anchor(t, c).Demand.Plate * c.Under.CoreCrush
	test.Check(t, "clamp of 1/4 in 316 as 0.7 of its proof load, N", "practitioner's break tests, 1400 lbf, quoted in the safety-lines sheet 7.5; A4-70 for the grade", 6228, force, 0.05*6228)
}
