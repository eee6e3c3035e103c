package programme_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"

	"dogshore/internal/random"
	"dogshore/internal/test"
	"dogshore/programme"
)

// clark returns mean and standard deviation of the longer of two normals with a
// correlation, and the chance that the first is it:
//
//	a² = s1² + s2² - 2 rho s1 s2    al = (m1 - m2) / a
//	E max = m1 Phi(al) + m2 Phi(-al) + a phi(al)
func clark(m1, s1, m2, s2, rho float64) (mean, sd, first float64) {
	a := math.Sqrt(s1*s1 + s2*s2 - 2*rho*s1*s2)
	al := (m1 - m2) / a
	p, q, d := random.Survival(-al), random.Survival(al), math.Exp(-al*al/2)/math.Sqrt(2*math.Pi)
	mean = m1*p + m2*q + a*d
	square := (m1*m1+s1*s1)*p + (m2*m2+s2*s2)*q + (m1+m2)*a*d
	return mean, math.Sqrt(square - mean*mean), p
}

// onePace is two paths beside each other, of normal lengths in the limit of small
// spreads, correlated by nothing but the yard's common pace. Path i is a step of
// M_i days at that pace and one of a supplier's that makes up what it is longer:
//
//	X_i = M_i F e_i + (shift + m_i - M_i)    M_i sd(F) = sqrt(rho) s_i
//
// with F lognormal of a standard deviation of a thousandth.
func onePace(t testing.TB, rho float64, paths ...[2]float64) (c programme.ForecastCase, l programme.Learned, laws map[string]quantile) {
	const sd, shift = 1e-3, onePaceShift
	text := ""
	laws = map[string]quantile{}
	for i, p := range paths {
		days := math.Sqrt(rho) * p[1] / sd
		own := normal(days, math.Sqrt(1-rho)*p[1])
		id := fmt.Sprint("p", i+1)
		text += fmt.Sprintf("%s 1\n%s-rest %g %s\n", id, id, shift+p[0]-days, id)
		laws[id] = own
	}
	c = sure(lines(t, round, text))
	for i := range c.Steps {
		c.Steps[i].Supplier = strings.HasSuffix(c.Steps[i].ID, "-rest")
	}
	return c, shared(sd), laws
}

// onePaceShift is what every path of onePace is longer by.
const onePaceShift = 20000

// Two paths whose lengths go together because one yard does both.
func TestTwoPathsAtOnePace(t *testing.T) {
	const sheet = "C. Clark, Operations Research 9 (1961), from memory in the schedule-money sheet; values check 11 [computed]"
	const form = "C. Clark, Operations Research 9 (1961), formula from memory in the schedule-money sheet, section 3.2"
	for _, row := range []struct {
		m1, s1, m2, s2, rho float64
		mean, sd, first     float64 // of the sheet, 0 where it has none
	}{
		{20, 3, 18, 4, 0.5, 20.654196, 3.048030, 0.710450},
		{20, 3, 18, 4, 0.6, 0, 0, 0},
		{50, 5, 45, 8, 0.6, 0, 0, 0},
		{10, 2, 10, 2, 0.9, 0, 0, 0},
	} {
		src := sheet
		mean, sd, first := clark(row.m1, row.s1, row.m2, row.s2, row.rho)
		if row.mean != 0 {
			test.Check(t, "the formula itself: mean of the longer of two", sheet, row.mean, mean, 5e-7)
			test.Check(t, "the formula itself: its standard deviation", sheet, row.sd, sd, 5e-7)
			test.Check(t, "the formula itself: chance that the first is longer", sheet, row.first, first, 5e-7)
		} else {
			src = form
		}
		c, l, laws := onePace(t, row.rho, [2]float64{row.m1, row.s1}, [2]float64{row.m2, row.s2})
		o := by(t, c, l, laws)
		gotMean, gotSD := stat.MeanStdDev(o.Launches(), nil)
		what := fmt.Sprintf("longer of N(%g,%g) and N(%g,%g), correlated %g by one pace, ", row.m1, row.s1, row.m2, row.s2, row.rho)
		test.Check(t, what+"mean, days", src, mean, gotMean-onePaceShift, fourOfMean(sd)+0.01) // 0.01: mean of a lognormal factor, rounding of its own spread
		test.Check(t, what+"standard deviation, days", src, sd, gotSD, fourOfSpread(sd)+0.005)
		test.Check(t, what+"chance that the first drives", src, first, o.Steps[0].Critical, four(first))
	}
}

// A lead that is the yard's own work goes at its pace: slow before the step and
// slow in the lead come together, and it is too late more seldom than if each
// went for itself. A lead of a point shares no pace, so here it is a step beside
// what comes before: it is too late where the lead drives.
func TestTooLateAtOnePace(t *testing.T) {
	const src = "schedule-money sheet, check 15, correlation 0.6 [computed]"
	c, l, laws := onePace(t, 0.6, [2]float64{25, 5}, [2]float64{40, 8})
	o := by(t, c, l, laws)
	test.Check(t, "start N(40,8) less N(25,5), correlated 0.6 by one pace, chance too late", src, 0.009575, o.Steps[0].Critical, four(0.009575))
	mean, sd, late := clark(25, 5, 40, 8, 0.6)
	test.Check(t, "the same by the formula", src, 0.009575, late, 5e-7)
	gotMean, gotSD := stat.MeanStdDev(o.Launches(), nil)
	test.Check(t, "when both have come, mean, days", "C. Clark 1961, formula from memory", mean, gotMean-onePaceShift, fourOfMean(sd)+0.01)
	test.Check(t, "when both have come, standard deviation, days", "C. Clark 1961, formula from memory", sd, gotSD, fourOfSpread(sd)+0.005)
}
