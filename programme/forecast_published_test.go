package programme_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"dogshore/calendar"
	"dogshore/internal/random"
	"dogshore/internal/test"
	"dogshore/programme"
)

const trials = 50000

// round is a calendar of plain days: a day of work is 24 hours.
var round = []programme.Calendar{{ID: "round", Week: "24/7"}}

type quantile = func(p float64) float64

func triangular(a, m, b float64) quantile {
	return func(p float64) float64 {
		if f := (m - a) / (b - a); p <= f {
			return a + math.Sqrt(p*(b-a)*(m-a))
		}
		return b - math.Sqrt((1-p)*(b-a)*(b-m))
	}
}

func normal(mean, sd float64) quantile {
	return func(p float64) float64 { return mean + sd*random.Quantile(p) }
}

func betaPERT(a, m, b float64) quantile {
	d := distuv.Beta{Alpha: 1 + 4*(m-a)/(b-a), Beta: 1 + 4*(b-m)/(b-a)}
	return func(p float64) float64 { return a + (b-a)*d.Quantile(p) }
}

func by(t testing.TB, c programme.ForecastCase, l programme.Learned, laws map[string]quantile) programme.Outlook {
	t.Helper()
	o, err := programme.ForecastBy(c, l, programme.Run{Seed: 1, Trials: trials}, laws)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// days returns m in plain days from the data date.
func days(m calendar.Moment) float64 { return float64(m-calendar.At(monday)) / 86400 }

// parallel is n steps beside each other, and their laws.
func parallel(t testing.TB, laws ...quantile) (programme.ForecastCase, map[string]quantile) {
	text, of := "", make(map[string]quantile)
	for i, f := range laws {
		id := fmt.Sprint("p", i+1)
		text += id + " 1\n"
		of[id] = f
	}
	return sure(lines(t, round, text)), of
}

// series is n steps one after the other.
func series(t testing.TB, laws ...quantile) (programme.ForecastCase, map[string]quantile) {
	c, of := parallel(t, laws...)
	for i := 1; i < len(c.Steps); i++ {
		c.Links = append(c.Links, programme.Link{From: c.Steps[i-1].ID, To: c.Steps[i].ID})
	}
	return c, of
}

func repeat(f quantile, n int) []quantile {
	out := make([]quantile, n)
	for i := range out {
		out[i] = f
	}
	return out
}

// four is four standard errors: of a share p, and of a quantile at it of a law
// with standard deviation sd, whose density there is at least 0.15 / sd.
func four(p float64) float64           { return 4 * math.Sqrt(p*(1-p)/trials) }
func fourOf(p, sd float64) float64     { return four(p) * sd / 0.15 }
func fourOfMean(sd float64) float64    { return 4 * sd / math.Sqrt(trials) }
func fourOfSpread(sd float64) float64  { return 4 * sd / math.Sqrt(trials) } // of an sd: sd/sqrt(2n), with room for skew
func fourOfVariance(v float64) float64 { return 4 * v * math.Sqrt(2.0/trials) * 1.2 }

func TestMergeBias(t *testing.T) {
	const src = "schedule-money sheet, check 10 [computed, closed form 120 - sqrt(800 (1 - q^(1/n)))]; a practitioner article prints 100/104/108, 25 % and about 7 % [read]"
	for _, row := range []struct {
		n                    int
		p50, p80, mean, p100 float64
	}{{1, 100, 107.351, 100, 0.5}, {2, 104.693, 110.810, 104.667, 0.25}, {4, 108.718, 113.412, 108.484, 0.0625}} {
		c, laws := parallel(t, repeat(triangular(80, 100, 120), row.n)...)
		c.Contract = []calendar.Day{monday + 99}
		o := by(t, c, known, laws)
		what := fmt.Sprintf("%d paths of 80/100/120, ", row.n)
		test.Check(t, what+"P50, days", src, row.p50, days(o.Launch.P50), fourOf(0.5, 8.165))
		test.Check(t, what+"P80, days", src, row.p80, days(o.Launch.P80), fourOf(0.8, 8.165))
		test.Check(t, what+"mean, days", src, row.mean, days(o.Launch.Mean), fourOfMean(8.165))
		test.Check(t, what+"chance by day 100", src, row.p100, o.Launch.By[0].Chance, four(row.p100))
	}
}

func TestTwoPaths(t *testing.T) {
	const src = "C. Clark, Operations Research 9 (1961), from memory in the schedule-money sheet; values check 11 [computed]"
	for _, row := range []struct{ m1, s1, m2, s2, mean, sd, first float64 }{
		{10, 2, 10, 2, 11.128379, math.Sqrt(2.726760), 0.5},
		{20, 3, 18, 4, 21.152194, 2.789284, 0.655422},
		{50, 5, 45, 8, 51.780177, 4.955228, random.Survival(-5 / math.Hypot(5, 8))},
	} {
		c, laws := parallel(t, normal(row.m1, row.s1), normal(row.m2, row.s2))
		o := by(t, c, known, laws)
		mean, sd := stat.MeanStdDev(o.Launches(), nil)
		what := fmt.Sprintf("longer of N(%g,%g) and N(%g,%g), ", row.m1, row.s1, row.m2, row.s2)
		test.Check(t, what+"mean, days", src, row.mean, mean, fourOfMean(row.sd))
		test.Check(t, what+"standard deviation, days", src, row.sd, sd, fourOfSpread(row.sd))
		test.Check(t, what+"chance that the first drives", src, row.first, o.Steps[0].Critical, four(row.first))
	}
}

func TestClosedFormsOfMerging(t *testing.T) {
	const src = "exact: mean of the longest of n, schedule-money sheet section 3.2 [derived]"
	for _, n := range []int{2, 3, 5, 10} {
		c, laws := parallel(t, repeat(func(p float64) float64 { return 10 + p }, n)...)
		o := by(t, c, known, laws)
		test.Check(t, fmt.Sprintf("longest of %d uniform on 10 to 11, mean, days", n), src, 10+float64(n)/float64(n+1), stat.Mean(o.Launches(), nil), fourOfMean(0.29))
		c, laws = parallel(t, repeat(func(p float64) float64 { return -10 * math.Log1p(-p) }, n)...)
		o = by(t, c, known, laws)
		want := 0.0
		for k := 1; k <= n; k++ {
			want += 10 / float64(k)
		}
		test.Check(t, fmt.Sprintf("longest of %d exponential of mean 10, mean, days", n), src, want, stat.Mean(o.Launches(), nil), fourOfMean(12.5))
		c, laws = parallel(t, repeat(normal(100, 10), n)...)
		o = by(t, c, known, laws)
		e := map[int]float64{2: 0.564190, 3: 0.846284, 5: 1.162964, 10: 1.538753}[n]
		test.Check(t, fmt.Sprintf("longest of %d N(100,10), mean, days", n), "schedule-money sheet section 3.2 [computed]", 100+10*e, stat.Mean(o.Launches(), nil), fourOfMean(10))
	}
}

func TestRowsInSeries(t *testing.T) {
	const src = "US GAO Schedule Assessment Guide, table 2, drywall rows [read]; in series by assumption; values schedule-money sheet, check 12 [computed]"
	c, laws := series(t, triangular(3, 4, 6), triangular(1, 1, 2), triangular(3, 5, 6), triangular(1, 1, 2), triangular(2, 3, 4), triangular(2, 3, 4), triangular(2, 3, 5))
	c.Contract = []calendar.Day{monday + 19}
	o := by(t, c, known, laws)
	mean, sd := stat.MeanStdDev(o.Launches(), nil)
	test.Check(t, "seven rows, mean, days", src, 21, mean, fourOfMean(1.27))
	test.Check(t, "seven rows, variance, days squared", src, 1.6111, sd*sd, fourOfVariance(1.6111))
	test.Check(t, "seven rows, chance by day 20", src, 0.2183, o.Launch.By[0].Chance, 2*four(0.2183)) // both are simulated
	test.Check(t, "seven rows, P80, days", src, 22.075, days(o.Launch.P80), 0.005+fourOf(0.8, 1.27))
	test.Check(t, "seven rows, P10, days", src, 19.37, days(o.Launch.P10), 0.005+fourOf(0.1, 1.27))
}

func TestThreePointLaws(t *testing.T) {
	const src = "schedule-money sheet, check 13 [computed]"
	for _, row := range []struct {
		name           string
		law            quantile
		mean, variance float64
		p10, p50, p80  float64
	}{
		{"beta of 1, 2, 9", betaPERT(1, 2, 9), 3, 1.71429, 0, 0, 4.10276},
		{"beta of 2, 5, 8", betaPERT(2, 5, 8), 5, 1.28571, 0, 0, 6.04041},
		{"beta of 10, 15, 30", betaPERT(10, 15, 30), 16.6667, 12.6984, 12.2447, 0, 19.8038},
		{"triangle of 3, 4, 6", triangular(3, 4, 6), 13.0 / 3, 7.0 / 18, 3.54772, 4.26795, 4.90455},
	} {
		c, laws := parallel(t, row.law)
		o := by(t, c, known, laws)
		mean, sd := stat.MeanStdDev(o.Launches(), nil)
		want := math.Sqrt(row.variance)
		test.Check(t, row.name+", mean", src, row.mean, mean, fourOfMean(want))
		test.Check(t, row.name+", variance", src, row.variance, sd*sd, fourOfVariance(row.variance))
		for _, q := range []struct {
			p, want float64
			got     calendar.Moment
		}{{0.1, row.p10, o.Launch.P10}, {0.5, row.p50, o.Launch.P50}, {0.8, row.p80, o.Launch.P80}} {
			if q.want != 0 {
				test.Check(t, fmt.Sprintf("%s, P%g", row.name, 100*q.p), src, q.want, days(q.got), fourOf(q.p, want))
			}
		}
	}
}

// The law that steps have, by the engine itself.
func TestLognormalLaw(t *testing.T) {
	const src = "lognormal of mean 10 and coefficient of variation 0.3, schedule-money sheet, check 13 [computed]"
	c := sure(lines(t, round, "a 1"))
	c.Steps[0].Spread = programme.Spread{Low: 6.57506, Mode: 8.78692, High: 9.57826 * 9.57826 / 6.57506}
	median, sigma := programme.Lognormal(c.Steps[0].Spread)
	test.Check(t, "sigma from P10 and P90", src, 0.293560, sigma, 1e-6)
	test.Check(t, "median from P10 and P90, days", src, 9.57826, median, 1e-5)
	o := forecast(t, c, known, programme.Run{Trials: trials})
	mean, sd := stat.MeanStdDev(o.Launches(), nil)
	test.Check(t, "mean, days", src, 10, mean, fourOfMean(3))
	test.Check(t, "standard deviation, days", src, 3, sd, 2*fourOfSpread(3)) // heavy tail
	test.Check(t, "P10, days", src, 6.57506, days(o.Launch.P10), fourOf(0.1, 3))
	test.Check(t, "P50, days", src, 9.57826, days(o.Launch.P50), fourOf(0.5, 3))
	test.Check(t, "P80, days", src, 12.26271, days(o.Launch.P80), fourOf(0.8, 3))
	test.Check(t, "P10 of the step's finish from the histogram, days", src, 6.57506, days(o.Steps[0].Finish.P10), fourOf(0.1, 3)+0.05)
	test.Check(t, "P90 of the step's finish from the histogram, days", src, 13.95316, days(o.Steps[0].Finish.P90), fourOf(0.9, 3)+0.05)
}

// shared is a yard whose pace is one lognormal factor of mean 1.
func shared(cv float64) programme.Learned {
	l := programme.Learned{Visits: 9, Chains: 9, Trades: []string{""}}
	const k = 4096
	sigma := math.Sqrt(math.Log1p(cv * cv))
	for i := range k {
		l.Draws = append(l.Draws, programme.Pace{Trade: []float64{math.Exp(sigma*random.Quantile((float64(i)+0.5)/k) - sigma*sigma/2)}})
	}
	return l
}

func lognormal(cv float64) quantile {
	sigma := math.Sqrt(math.Log1p(cv * cv))
	return func(p float64) float64 { return math.Exp(sigma*random.Quantile(p) - sigma*sigma/2) }
}

func TestOneYardsPace(t *testing.T) {
	const src = "25 steps in a row, sd 3 each: s sqrt(n (1 + (n-1) rho)), schedule-money sheet, check 14 [derived]"
	for _, row := range []struct{ rho, want float64 }{{0, 15}, {0.1, 27.659}, {0.2, 36.125}, {0.3, 42.953}} {
		f := 0.09 * row.rho // variance of the shared factor at a mean of 10 days
		own := 1.09/(1+f) - 1
		e := lognormal(math.Sqrt(own))
		c, laws := series(t, repeat(func(p float64) float64 { return 10 * e(p) }, 25)...)
		_, sd := stat.MeanStdDev(by(t, c, shared(math.Sqrt(f)), laws).Launches(), nil)
		test.Check(t, fmt.Sprintf("25 steps, correlation %g, standard deviation, days", row.rho), src, row.want, sd, fourOfSpread(row.want)+0.005*row.want)
	}
}

func TestTooLate(t *testing.T) {
	const src = "schedule-money sheet, check 15 [computed]"
	c := sure(lines(t, round, `
		before 40
		core 3 before`))
	c.Points = []programme.Point{
		{ID: "sure lead", Covers: []string{"core"}, Sure: true, Leads: []programme.PointLead{{Says: "quoted", Days: 25}}},
		{ID: "lead with a spread", Covers: []string{"core"}, Sure: true, Leads: []programme.PointLead{{Says: "spread", Days: 25}}},
	}
	o := by(t, c, known, map[string]quantile{"before": normal(40, 8), "spread": normal(25, 5)})
	sure, spread := o.Points[0], o.Points[1]
	test.Check(t, "start N(40,8) less 25 days, chance too late", src, 0.030396, sure.Late, four(0.0304))
	test.Check(t, "start N(40,8) less N(25,5), chance too late", src, 0.055918, spread.Late, four(0.0559))
	test.Check(t, "nine in ten decide-by, days", src, 2.910, days(spread.Decide), fourOf(0.1, 9.434))
	test.Check(t, "nine in ten decide-by with a sure lead, days", "exact: 15 - 1.28155 x 8", 15-1.281552*8, days(sure.Decide), fourOf(0.1, 8))
	if naive := -1.660; days(spread.Decide) < naive+2 {
		t.Errorf("decide-by %g days, as if both tails came together (%g)", days(spread.Decide), naive)
	}
}

func TestCostOfWaiting(t *testing.T) {
	const src = "schedule-money sheet, check 20 [computed]"
	half := []programme.Calendar{{ID: "half", Week: "Mon-Sun 0.5"}} // so that noon of the tenth day is five days of work
	c := sure(lines(t, half, `
		a 1
		b 1
		c 1
		pad 1 a
		galley 1 b
		hatch 1 c`))
	c.Visits = []calendar.Day{monday + 9}
	lead := []programme.PointLead{{Says: "make", Days: 60}}
	c.Points = []programme.Point{
		{ID: "galley", Covers: []string{"galley"}, Leads: lead, Cost: 15000},
		{ID: "hatch", Covers: []string{"hatch"}, Leads: lead, Cost: 1500},
		{ID: "pad eye", Covers: []string{"pad"}, Leads: lead, Cost: 6000},
	}
	o := by(t, c, known, map[string]quantile{"a": normal(75, 9.434), "b": normal(90, 12), "c": normal(64, 6)})
	for i, want := range []struct{ now, next, waiting float64 }{{0.00621, 0.01861, 186}, {0.25249, 0.56618, 470.5}, {0.05592, 0.14457, 531.9}} {
		p := o.Points[i]
		test.Check(t, p.ID+": chance too late now", src, want.now, p.Late, four(want.now))
		test.Check(t, p.ID+": chance too late at the next visit", src, want.next, p.Next, four(want.next))
		test.Check(t, p.ID+": cost of waiting one visit", src, want.waiting, p.Waiting, c.Points[i].Cost*(four(want.next)))
	}
	order := programme.ByCostOfWaiting(o.Points)
	if order[0].ID != "pad eye" || order[1].ID != "hatch" || order[2].ID != "galley" {
		t.Errorf("order %s, %s, %s; want pad eye, hatch, galley (%s)", order[0].ID, order[1].ID, order[2].ID, src)
	}
}

func TestWorkedCatamaranByChance(t *testing.T) {
	const src = "schedule-money sheet, check 17: each length x triangular 0.9/1/1.7 x a shared factor, 200,000 runs [computed; it allows 0.5 days]"
	c := sure(lines(t, round, template))
	c.Contract = []calendar.Day{monday + 143}
	laws := make(map[string]quantile)
	for i := range c.Steps {
		tri, od := triangular(0.9, 1, 1.7), c.Steps[i].Work
		laws[c.Steps[i].ID] = func(p float64) float64 { return od * tri(p) }
	}
	dc := func(o programme.Outlook) programme.Dates {
		for _, s := range o.Steps {
			if s.ID == "DC" {
				return s.Start
			}
		}
		return programme.Dates{}
	}
	for _, row := range []struct {
		name                   string
		l                      programme.Learned
		mean, sd, p50, p80, by float64
		dc10, dc90             float64
	}{
		{"each for itself", known, 171.1, 7.05, 170.9, 177.1, 0.0005, 23.1, 30.0},
		{"one pace, cv 0.15", shared(0.15), 171.2, 25.1, 169.3, 191.5, 0.134, 20.7, 32.7},
	} {
		o := by(t, c, row.l, laws)
		mean, sd := stat.MeanStdDev(o.Launches(), nil)
		test.Check(t, row.name+": mean length, days", src, row.mean, mean, 0.5)
		test.Check(t, row.name+": standard deviation, days", src, row.sd, sd, 0.5)
		test.Check(t, row.name+": P50, days", src, row.p50, days(o.Launch.P50), 0.5)
		test.Check(t, row.name+": P80, days", src, row.p80, days(o.Launch.P80), 0.5)
		test.Check(t, row.name+": chance by day 144", src, row.by, o.Launch.By[0].Chance, 0.0005+four(row.by))
		test.Check(t, row.name+": P10 of the deck core, days", src, row.dc10, days(dc(o).P10), 0.5)
		test.Check(t, row.name+": P90 of the deck core, days", src, row.dc90, days(dc(o).P90), 0.5)
	}
}

// Solved networks, simulated with beta laws: the answer that the critical path
// alone gives is too rosy.
func TestTextbookNetworksByChance(t *testing.T) {
	const src = "schedule-money sheet, check 5 [input read; beta simulation computed, +- 0.03]"
	c := sure(lines(t, round, `
		A 5
		B 3 A
		C 1 A
		D 2 B
		E 3 B, C
		F 4 D, E`))
	o := by(t, c, known, map[string]quantile{
		"A": betaPERT(2, 5, 8), "B": betaPERT(1, 2, 9), "C": betaPERT(.25, .5, 3.75), "D": betaPERT(1, 1, 7), "E": betaPERT(1, 2, 9), "F": betaPERT(1, 3, 11),
	})
	test.Check(t, "six activities, mean, days", src, 15.24, days(o.Launch.Mean), 0.03+fourOfMean(2.7))
	test.Check(t, "six activities, P50, days", src, 15.09, days(o.Launch.P50), 0.03+fourOf(0.5, 2.7))
	test.Check(t, "six activities, P80, days", src, 17.51, days(o.Launch.P80), 0.03+fourOf(0.8, 2.7))
}
