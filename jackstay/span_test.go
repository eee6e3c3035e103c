package jackstay_test

import (
	"fmt"
	"math"
	"testing"

	"dogshore/internal/test"
	"dogshore/jackstay"
	"dogshore/rope"
)

const sheet = "safety-lines sheet, case "

func linear(t testing.TB, ea float64) rope.Law {
	t.Helper()
	l, err := rope.Linear(ea)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func hang(t testing.TB, s jackstay.Span, h jackstay.Hook) jackstay.Hold {
	t.Helper()
	out, err := jackstay.Hang(s, h)
	if err != nil {
		t.Fatal(err)
	}
	if out.Residual > 1e-9*(1+h.Load.Norm()) {
		t.Errorf("balance %g N off: %+v", out.Residual, out)
	}
	return out
}

// tenMetres is the span of most cases, with its rest length.
func tenMetres(t testing.TB, ea, rest float64) jackstay.Span {
	return jackstay.Span{To: jackstay.Spot{X: 10}, Law: linear(t, ea), Rest: rest}
}

var across = jackstay.Vector{Y: 1000}

// digits returns half a unit in the last printed place.
func digits(places int) float64 { return 0.501 * math.Pow(10, -float64(places)) }

// lastDigit allows one unit of the sheet's last printed digit where its
// minimiser stopped early: by Newton in 40 decimal digits case 9 has T1 =
// 2374.2482 (printed 2374.3), case 10 A y = 678.6491 (678.7) and B y = 221.3509
// (221.3).
const lastDigit = 0.06

func both(t *testing.T, s jackstay.Span, load jackstay.Vector, src string, sag, tension float64) {
	t.Helper()
	for _, jammed := range []bool{false, true} {
		h := hang(t, s, jackstay.Hook{Load: load, Jammed: jammed, At: 0.5})
		what := fmt.Sprintf("EA %g N, rest %.6g m, %g N at mid-span, %s", s.Law.Slope(), s.Rest, load.Norm(), h.How)
		test.Check(t, what+", sag, m", src, sag, h.Sag, digits(4))
		test.Check(t, what+", tension, N", src, tension, h.Tension[0], digits(1))
		if h.Tension[0] != h.Tension[1] && math.Abs(h.Tension[0]-h.Tension[1]) > 1e-8 {
			t.Errorf("%s: tensions %v", what, h.Tension)
		}
	}
}

func TestTautSpan(t *testing.T) {
	src := sheet + "2 [computed]"
	for _, c := range [][3]float64{{1.79e6, 0.4125, 6081.2}, {1e6, 0.5013, 5012.5}, {150e3, 0.9494, 2680.2}, {60e3, 1.2982, 1989.5}} {
		both(t, tenMetres(t, c[0], 10), across, src, c[1], c[2])
	}
	src = sheet + "3 [computed]"
	for _, c := range [][3]float64{{1.79e6, 0.7525, 20158}, {1e6, 0.9161, 16646}, {150e3, 1.7610, 9031.0}, {60e3, 2.4503, 6817.3}} {
		h := hang(t, tenMetres(t, c[0], 10), jackstay.Hook{Load: jackstay.Vector{Y: 6000}})
		test.Check(t, fmt.Sprintf("taut, EA %g N, 6000 N, sag, m", c[0]), src, c[1], h.Sag, digits(4))
		test.Check(t, fmt.Sprintf("taut, EA %g N, 6000 N, tension, N", c[0]), src, c[2], h.Tension[0], 0.51)
	}
}

func TestPretensionAndSlack(t *testing.T) {
	src := sheet + "5 [computed]"
	for _, c := range [][4]float64{
		{150e3, 200, 0.9250, 2748.6}, {150e3, 500, 0.8885, 2857.8}, {150e3, 1000, 0.8285, 3058.8}, {150e3, 2000, 0.7134, 3539.6}, {150e3, 5000, 0.4468, 5617.6},
		{1.79e6, 500, 0.4011, 6252.5}, {1.79e6, 2000, 0.3672, 6826.4}, {1.79e6, 5000, 0.3024, 8281.0},
	} {
		both(t, tenMetres(t, c[0], jackstay.RestFor(linear(t, c[0]), 10, c[1])), across, src, c[2], c[3])
	}
	src = sheet + "6 [computed]"
	for _, c := range [][4]float64{
		{150e3, 0.005, 1.0409, 2453.4}, {1.79e6, 0.005, 0.6065, 4151.9}, {150e3, 0.01, 1.1309, 2266.4}, {1.79e6, 0.01, 0.7720, 3276.8},
		{150e3, 0.02, 1.3044, 1980.7}, {1.79e6, 0.02, 1.0399, 2455.5}, {150e3, 0.05, 1.7655, 1501.7}, {1.79e6, 0.05, 1.6163, 1625.5},
	} {
		both(t, tenMetres(t, c[0], 10*(1+c[1])), across, src, c[2], c[3])
	}
}

func TestFixedPointOffMiddle(t *testing.T) {
	src := sheet + "9 [computed]"
	for _, c := range []struct{ ea, x, y, t1, t2 float64 }{{150e3, 1.9101, 0.6923, 2374.3, 2240.3}, {1.79e6, 1.9825, 0.3053, 5268.2, 5210.6}} {
		h := hang(t, tenMetres(t, c.ea, 10), jackstay.Hook{Load: across, Jammed: true, At: 0.2})
		name := fmt.Sprintf("jammed at 2 of 10 m, EA %g N, ", c.ea)
		test.Check(t, name+"x, m", src, c.x, h.At.X, digits(4))
		test.Check(t, name+"y, m", src, c.y, h.At.Y, digits(4))
		test.Check(t, name+"T1, N", src, c.t1, h.Tension[0], lastDigit)
		test.Check(t, name+"T2, N", src, c.t2, h.Tension[1], digits(1))
		if c.ea == 150e3 {
			test.Check(t, name+"first anchor across, N", src, 809.0, h.Ends[0].Y, digits(1))
			test.Check(t, name+"second anchor along, N", src, -2232.2, h.Ends[1].X, digits(1))
		}
	}
}

func TestInSpace(t *testing.T) {
	src := sheet + "10 [computed]"
	s := jackstay.Span{From: jackstay.Spot{Z: 0.05}, To: jackstay.Spot{X: 8, Y: 0.6, Z: 0.30}, Law: linear(t, 150e3), Rest: 8.10}
	load := jackstay.Vector{Y: 900, Z: -1200}
	h := hang(t, s, jackstay.Hook{Load: load, Jammed: true, At: 0.5})
	compare(t, src, "jammed in space", h, []float64{3.9807, 0.8946, -0.6204, 3136.5, 3105.7, 3019.7, 678.7, -508.5, -3019.7, 221.3, -691.5})
	h = hang(t, s, jackstay.Hook{Load: load})
	compare(t, src, "sliding in space", h, []float64{4.3214, 0.9177, -0.6064, 3114.0, 3114.0, 3013.0, 639.8, -457.6, -3013.0, 260.2, -742.4})
}

func compare(t *testing.T, src, name string, h jackstay.Hold, want []float64) {
	t.Helper()
	a, b := h.Ends[0], h.Ends[1]
	for i, got := range []float64{h.At.X, h.At.Y, h.At.Z, h.Tension[0], h.Tension[1], a.X, a.Y, a.Z, b.X, b.Y, b.Z} {
		what := []string{"x, m", "y, m", "z, m", "T1, N", "T2, N", "A x, N", "A y, N", "A z, N", "B x, N", "B y, N", "B z, N"}[i]
		tol := lastDigit
		if i < 3 {
			tol = digits(4)
		}
		test.Check(t, name+", "+what, src, want[i], got, tol)
	}
}

func TestSlidesTowardTheEndItPointsTo(t *testing.T) {
	src := sheet + "11 [computed]"
	h := hang(t, tenMetres(t, 150e3, 10), jackstay.Hook{Load: jackstay.Vector{X: 300, Y: 953.94}})
	for i, c := range []struct{ want, got, tol float64 }{
		{9.6070, h.At.X, digits(4)}, {0.2925, h.At.Y, digits(4)}, {1520.3, h.Tension[0], digits(1)}, {-1219.6, h.Ends[1].X, digits(1)},
		{907.7, h.Ends[1].Y, digits(1)}, {1519.6, h.Ends[0].X, digits(1)}, {46.3, h.Ends[0].Y, digits(1)},
	} {
		test.Check(t, "oblique load on a sliding hook, "+[]string{"x, m", "y, m", "T, N", "B x, N", "B y, N", "A x, N", "A y, N"}[i], src, c.want, c.got, c.tol)
	}
}

func TestAnchorsThatGive(t *testing.T) {
	src := sheet + "13 [computed]; there by EA_eq = 1/(1/EA + 2/(k L))"
	for _, c := range [][3]float64{{150e3, 0.9956, 2560.4}, {1.79e6, 0.5817, 4326.9}} {
		s := tenMetres(t, c[0], 10)
		s.SpringFrom, s.SpringTo = 200e3, 200e3
		both(t, s, across, src, c[1], c[2])
	}
}
