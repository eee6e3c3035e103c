package jackstay_test

import (
	"math"
	"testing"

	"dogshore/internal/test"
	"dogshore/jackstay"
)

func TestForceOfASag(t *testing.T) {
	src := sheet + "1: T/F of a rigid line; published 2:1 at 15 deg, 6:1 at 5 (OSHA 1926 subpart M, appendix C)"
	for deg, want := range map[float64]float64{15: 2, 5: 6} {
		// a span so stiff that its angle is given by its length
		rest := 10 / math.Cos(deg*math.Pi/180)
		h := hang(t, tenMetres(t, 1e11, rest), jackstay.Hook{Load: across})
		test.Check(t, "tension over load, sag by slack alone", src, want, h.Tension[0]/1000, 0.3)
		test.Check(t, "the same, T = F/(2 sin)", "derived", 1/(2*math.Sin(deg*math.Pi/180)), h.Tension[0]/1000, 1e-4)
	}
}

// A rigid line by the sheet's own figures, down to angles at which it amplifies
// fourteen times.
func TestRigidLine(t *testing.T) {
	for deg, want := range map[float64]float64{30: 1, 15: 1.9319, 10: 2.8794, 5: 5.7369, 2: 14.327} {
		h := hang(t, tenMetres(t, 1e13, 10/math.Cos(deg*math.Pi/180)), jackstay.Hook{Load: across})
		test.Check(t, "tension over load of a rigid line", sheet+"1 [derived]", want, h.Tension[0]/1000, 1e-4*want)
	}
}

// The formula for small angles, s = (L/2)(F/EA)^(1/3) and T = (EA/2)(F/EA)^(2/3),
// is no part of the engine, which must come to it as a line gets stiff, and
// leave it by no more than the sheet says: 1 % at 11 degrees, 3 % at 19.
func TestSmallAngles(t *testing.T) {
	formula := func(load, ea float64) (sag, tension float64) {
		q := math.Cbrt(load / ea)
		return 5 * q, ea / 2 * q * q
	}
	src := sheet + "4 [computed]"
	for _, c := range []struct{ load, sag, tension, off float64 }{{1000, 0.9410, 2656.6, 0.01}, {6000, 1.7100, 8772.1, 0.03}} {
		sag, tension := formula(c.load, 150e3)
		test.Check(t, "sag by the formula for small angles, m", src, c.sag, sag, digits(4))
		test.Check(t, "tension by it, N", src, c.tension, tension, digits(1))
		h := hang(t, tenMetres(t, 150e3, 10), jackstay.Hook{Load: jackstay.Vector{Y: c.load}})
		test.Check(t, "exact sag over that of the formula", "safety-lines sheet, section 4.1 [derived]: 1 % at 11 deg, 3 % at 19", 1, h.Sag/sag, c.off)
		test.Check(t, "exact tension over that of the formula", "safety-lines sheet, section 4.1 [derived]: 1 % at 11 deg, 3 % at 19", 1, h.Tension[0]/tension, c.off)
	}
	sag, tension := formula(1000, 1e10)
	h := hang(t, tenMetres(t, 1e10, 10), jackstay.Hook{Load: across})
	test.Check(t, "exact sag over that of the formula, stiff limit", "safety-lines sheet, section 4.1 [derived]", 1, h.Sag/sag, 1e-5)
	test.Check(t, "exact tension over that of the formula, stiff limit", "safety-lines sheet, section 4.1 [derived]", 1, h.Tension[0]/tension, 1e-5)
}

func TestFormulas(t *testing.T) {
	test.Check(t, "sag by own weight, 0.5394 N/m, 200 N, 10 m, m", sheet+"12 [computed]", 0.03371, jackstay.SelfSag(0.5394, 200, 10), digits(5))
	test.Check(t, "sag by own weight, 1.2258 N/m, 500 N, 10 m, m", sheet+"12 [computed]", 0.03065, jackstay.SelfSag(1.2258, 500, 10), digits(5))
	s, rest, ok := jackstay.SagFor(6000, 20000/2.4, 10, linear(t, 150e3))
	test.Check(t, "sag over span for 8333 N on the anchors at 6000 N", sheet+"14 [computed]", 0.1929, s/10, digits(4))
	test.Check(t, "unstretched over span that it needs", sheet+"14 [computed]", 1.0154, rest/10, 6e-5) // 1.01545
	if _, _, can := jackstay.SagFor(6000, 2999, 10, linear(t, 150e3)); can || !ok {
		t.Error("less than half the load on each anchor")
	}
	t0, ea, ok := jackstay.Identify(8, 100, 0.2894, 300, 0.4631)
	test.Check(t, "pretension from two hand loads, N", sheet+"8 [computed]; true 300", 303.9, t0, 0.6)
	test.Check(t, "stiffness from two hand loads, N", sheet+"8 [computed]; true 150000", 147929, ea, 150)
	if _, _, can := jackstay.Identify(8, 100, 0.3, 100, 0.3); can || !ok {
		t.Error("one load twice says two things")
	}
	// W k / (2 sin(atan(s/(L/2)))), a practitioner's formula
	test.Check(t, "90 kg times 3 at 0.5 m of 10 m, kgf", sheet+"15 [computed; form and multiplier from a practitioner's page]", 1356.7, 90*3/(2*math.Sin(math.Atan(0.5/5))), digits(1))
	for kn, want := range map[float64]float64{2: 163, 4: 651, 6: 1465, 8: 2604, 12: 5859} {
		test.Check(t, "drag on a person towed, N", sheet+"23 [computed; CdA 0.30 assumed]", want, jackstay.TowDrag(0.30, kn*1852/3600), 0.51)
	}
}

func TestTwoHandLoads(t *testing.T) {
	s := jackstay.Span{To: jackstay.Spot{X: 8}, Law: linear(t, 150e3), Rest: jackstay.RestFor(linear(t, 150e3), 8, 300)}
	for load, want := range map[float64]float64{100: 0.2894, 300: 0.4631} {
		h := hang(t, s, jackstay.Hook{Load: jackstay.Vector{Y: load}})
		test.Check(t, "sag under a hand load, T0 300 N, 8 m, m", sheet+"8 [computed]", want, h.Sag, digits(4))
	}
}

func TestTransfer(t *testing.T) {
	src := sheet + "22 [computed]; medians of women in ANSUR II, kneeling"
	for leg, want := range map[float64]float64{1.0: 1.178, 1.8: 2.141, 2.0: 2.358} {
		got := jackstay.Bridge(leg, leg, 0.732, 0.497)
		test.Check(t, "gap between two eyes that can be bridged, m", src, want, got, 0.0006)
		if got >= 3 {
			t.Errorf("%g m leg bridges the 3 m between hooking points", leg)
		}
	}
	if jackstay.Bridge(0.7, 2, 0.732, 0.5) != 0 {
		t.Error("kneeling with the ring higher than the leg is long")
	}
	if _, ok := jackstay.StandingReach(1.0, 1.08); ok {
		t.Error("even a small woman can't stand on a 1 m leg at deck level (ANSUR II: 1.08 m)")
	}
	if r, ok := jackstay.StandingReach(2.0, 1.2); !ok || math.Abs(r-1.6) > 1e-12 {
		t.Errorf("standing reach %g", r)
	}
}
