package programme_test

import (
	"math"
	"slices"
	"testing"

	"dogshore/internal/test"
	"dogshore/programme"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// spans of start and finish in working days, among them all their orders: apart,
// touching, overlapping, the same gap, one inside the other, and open.
var spansSeen = [][4]float64{
	{0, 5, 10, 15}, {0, 5, 5, 10}, {0, 5, 3, 8}, {0, 5, 0, 5}, {0, 10, 4, 6},
	{0, 1, 30, 31}, {0, 0.5, 0.5, 1}, {0, 20, 20, 40}, {0, 5, 10, math.Inf(1)}, {0, 5, 5, math.Inf(1)},
}

// byQuadrature integrates G(b2-s) - G(b1-s) over the start in pieces between
// kinks and round the median, 400 Gauss-Legendre nodes each.
func byQuadrature(cdf, survival func(float64) float64, median float64, s [4]float64) float64 {
	f := func(x float64) float64 {
		lo, hi := s[2]-x, s[3]-x
		if lo > median {
			return survival(lo) - survival(hi)
		}
		return cdf(hi) - cdf(lo)
	}
	cuts := []float64{s[0]}
	for _, k := range []float64{s[3] - 2*median, s[2] - 2*median, s[3] - median, s[2] - median, s[3] - median/2, s[2] - median/2, s[2], s[3]} {
		if k > s[0] && k < s[1] {
			cuts = append(cuts, k)
		}
	}
	cuts = append(cuts, s[1])
	slices.Sort(cuts)
	sum := 0.0
	for i := 1; i < len(cuts); i++ {
		sum += quad.Fixed(f, cuts[i-1], cuts[i], 400, quad.Legendre{}, 0)
	}
	return sum / (s[1] - s[0])
}

// Closed form against quadrature, from the middle of a law to where the chance
// is of the order of 1e-40.
func TestReachAgainstQuadrature(t *testing.T) {
	worst := 0.0
	for _, s := range spansSeen {
		for _, median := range []float64{0.3, 1, 4, 12, 60} {
			for _, sigma := range []float64{0.1, 0.3, 0.8} {
				law := distuv.LogNormal{Mu: math.Log(median), Sigma: sigma}
				cdf := func(x float64) float64 {
					if x <= 0 {
						return 0
					}
					return math.Erfc(-(math.Log(x)-law.Mu)/(sigma*math.Sqrt2)) / 2
				}
				survival := func(x float64) float64 {
					if x <= 0 {
						return 1
					}
					return math.Erfc((math.Log(x)-law.Mu)/(sigma*math.Sqrt2)) / 2
				}
				want := byQuadrature(cdf, survival, median, s)
				got := programme.ReachStep(median, sigma, s[0], s[1], s[2], s[3])
				if want < 1e-40 {
					continue
				}
				if off := math.Abs(got-want) / want; off > 1e-6 {
					t.Errorf("start in %g to %g, finish in %g to %g, median %g, sigma %g: %g, quadrature %g", s[0], s[1], s[2], s[3], median, sigma, got, want)
				} else {
					worst = max(worst, off)
				}
			}
		}
		for _, mean := range []float64{0.1, 1, 10} {
			cdf := func(x float64) float64 { return -math.Expm1(-max(x, 0) / mean) }
			survival := func(x float64) float64 { return math.Exp(-max(x, 0) / mean) }
			want := byQuadrature(cdf, survival, mean, s)
			if got := programme.ReachWait(mean, s[0], s[1], s[2], s[3]); math.Abs(got-want) > 1e-9*want && want > 1e-40 {
				t.Errorf("wait of mean %g over %v: %g, quadrature %g", mean, s, got, want)
			}
		}
	}
	t.Logf("largest relative difference %.1e", worst)
	got := programme.ReachStep(4, 0.3, 0, 5, 5, 10)
	test.Check(t, "chance that a step of median 4 d, sigma 0.3, begun in one week is finished in the next",
		"second method: Gauss-Legendre quadrature over the start", byQuadrature(
			func(x float64) float64 { return distuv.LogNormal{Mu: math.Log(4), Sigma: 0.3}.CDF(max(x, 1e-300)) },
			func(x float64) float64 { return distuv.LogNormal{Mu: math.Log(4), Sigma: 0.3}.Survival(max(x, 1e-300)) },
			4, [4]float64{0, 5, 5, 10}), got, 1e-9)
}

const sheetPace = "schedule-money sheet, check 18 [computed there: closed form, scipy quadrature]"

// The published case has lengths known to the moment, one pace with a prior of
// its own, and one step still open at 1.6 times its plan.
func TestPacePublished(t *testing.T) {
	at := func(ratio float64) programme.Spell {
		return programme.Spell{Median: 10, Sigma: 0.3, A2: 0, B1: 10*ratio - 1e-3, B2: 10*ratio + 1e-3}
	}
	open := programme.Spell{Median: 10, Sigma: 0.3, B1: 16, B2: math.Inf(1)}
	mean, sd := programme.PacePosterior(0.25, at(1.2), at(1.5), at(1.1), at(1.4))
	test.Check(t, "ln pace from four finished steps, mean", sheetPace, 0.187421, mean, 1e-5)
	test.Check(t, "ln pace from four finished steps, standard deviation", sheetPace, 0.128624, sd, 1e-5)
	test.Check(t, "pace from four finished steps, median", sheetPace, 1.20613, math.Exp(mean), 1e-4)
	mean, sd = programme.PacePosterior(0.25, at(1.2), at(1.5))
	test.Check(t, "ln pace from two finished steps alone, mean", sheetPace, 0.170868, mean, 1e-5)
	test.Check(t, "ln pace from two finished steps alone, standard deviation", sheetPace, 0.161749, sd, 1e-5)
	mean, sd = programme.PacePosterior(0.25, at(1.2), at(1.5), open)
	test.Check(t, "ln pace with one step open at 1.6 of its plan, mean", sheetPace, 0.280490, mean, 1e-5)
	test.Check(t, "ln pace with one step open at 1.6 of its plan, standard deviation", sheetPace, 0.146736, sd, 1e-5)
}

func TestGapPublished(t *testing.T) {
	const sheet = "schedule-money sheet, check 33 [derived there: V / sqrt 12]"
	test.Check(t, "finish between visits 5 d apart, standard deviation", sheet, 1.4434, programme.Gap(5), 1e-4)
	test.Check(t, "finish between visits 10 d apart, standard deviation", sheet, 2.8868, programme.Gap(10), 1e-4)
}
