package programme_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"dogshore/calendar"
	"dogshore/internal/test"
	"dogshore/programme"

	"pgregory.net/rapid"
)

func learn(t testing.TB, c programme.ForecastCase) programme.Learned {
	t.Helper()
	l, err := programme.Learn(c)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// anyYard is an invented build and what twelve visits saw of it.
func anyYard(seed uint64) (*yard, programme.ForecastCase) {
	y := invent(rand.New(rand.NewPCG(seed, 3)), smallBoat, asModelled)
	return y, y.seen(y.visits(monday + 4 + 11*7))
}

func TestLearnFromNothing(t *testing.T) {
	_, c := anyYard(1)
	for i := range c.Steps {
		c.Steps[i].Seen = nil
	}
	l := learn(t, c)
	const z = 1.2815515655446004
	const src = "derived: quantiles of the stated priors"
	test.Check(t, "common pace beforehand, P10", src, math.Exp(-0.25*z), l.Common.P10, 0.002)
	test.Check(t, "common pace beforehand, P50", src, 1, l.Common.P50, 0.001)
	test.Check(t, "common pace beforehand, P90", src, math.Exp(0.25*z), l.Common.P90, 0.003)
	test.Check(t, "a trade's pace beforehand, P90", src, math.Exp(math.Hypot(0.25, 0.15)*z), l.ByTrade[0].P90, 0.01)
	test.Check(t, "mean wait beforehand, P90, days", src, 0.5*math.Exp(z), l.Waiting.P90, 0.01)
	if l.Enough() || l.Chains != 0 || l.Visits != 0 {
		t.Errorf("nothing was seen, and it says %d chains at %d visits", l.Chains, l.Visits)
	}
}

// Steps so long that a look a day knows them almost to the moment: the two
// levels then have a closed form, with n lengths of one trade,
//
//	mean of ln ratio ~ N(common, 0.15² + sigma²/n)
func TestLearnTwoLevels(t *testing.T) {
	var steps []yardStep
	for i := range 4 {
		s := chainOf(1, []float64{400}, "a")[0]
		s.id = string(rune('p' + i))
		steps = append(steps, s)
	}
	y := &yard{steps: steps, every: 1, length: []float64{480, 600, 440, 560}, pausing: make([]float64, 4)}
	y.run()
	l := learn(t, y.seen(y.visits(monday+4+900)))
	sigma := math.Log(1.5) / 1.2815515655446004
	ratio := (math.Log(1.2) + math.Log(1.5) + math.Log(1.1) + math.Log(1.4)) / 4
	noise := 0.15*0.15 + sigma*sigma/4
	weight := 0.0625 / (0.0625 + noise)
	const src = "derived: normal posterior of two levels"
	test.Check(t, "common pace from four exact lengths, P50", src, math.Exp(weight*ratio), l.Common.P50, 0.005)
	low := weight*ratio - 1.2815515655446004*math.Sqrt(0.0625*noise/(0.0625+noise))
	test.Check(t, "common pace from four exact lengths, P10", src, math.Exp(low), l.Common.P10, 0.01)
	prior := 0.0625 + 0.0225
	weight = prior / (prior + sigma*sigma/4)
	test.Check(t, "the trade's own pace from four exact lengths, P50", src, math.Exp(weight*ratio), l.ByTrade[0].P50, 0.005)
}

func TestLearnProperties(t *testing.T) {
	for seed := range uint64(10) {
		_, c := anyYard(seed)
		l := learn(t, c)
		if !reflect.DeepEqual(l, learn(t, c)) {
			t.Fatalf("build %d: the same case gives two answers", seed)
		}
		twice := clone(c)
		for i := range twice.Steps {
			s := &twice.Steps[i]
			s.Seen = append(s.Seen, s.Seen...)
			slices.Reverse(s.Seen)
		}
		if !reflect.DeepEqual(l, learn(t, twice)) {
			t.Errorf("build %d: sightings told twice, in another order, change what is learned", seed)
		}
		bought := clone(c)
		bought.Steps[17].Seen = nil // the mast, of a supplier, follows nobody's pace
		if got := learn(t, bought); got.Common != l.Common {
			t.Errorf("build %d: what was seen of a supplier moved the pace from %v to %v", seed, l.Common, got.Common)
		}
	}
}

func clone(c programme.ForecastCase) programme.ForecastCase {
	c.Steps = slices.Clone(c.Steps)
	for i := range c.Steps {
		c.Steps[i].Seen = slices.Clone(c.Steps[i].Seen)
	}
	return c
}

// width is how wide the common pace is known, in logarithms.
func width(l programme.Learned) float64 { return math.Log(l.Common.P90 / l.Common.P10) }

// Fewer looks at the same builds tell less: of single builds a look may
// surprise, so the rule is one of the mean over builds.
func TestSkippedVisitsWiden(t *testing.T) {
	all, fewer, alarm := 0.0, 0.0, 0
	for seed := range uint64(30) {
		y, c := anyYard(seed)
		visits := y.visits(c.DataDate - 1)
		some := slices.Delete(slices.Clone(visits), 5, 8)
		a, f := learn(t, c), learn(t, y.seen(some))
		all += width(a) / 30
		fewer += width(f) / 30
		if math.Abs(math.Log(f.Common.P50/a.Common.P50)) > width(a)/2 {
			alarm++
		}
	}
	t.Logf("mean width of ln pace: %.3f at twelve visits, %.3f with three in the middle skipped", all, fewer)
	if fewer <= all {
		t.Errorf("three visits skipped narrow the pace: %.4f after %.4f", fewer, all)
	}
	if alarm > 1 {
		t.Errorf("three visits skipped move the pace by more than half its band in %d of 30 builds", alarm)
	}
}

func TestSpellProperties(t *testing.T) {
	base := programme.Spell{Median: 10, Sigma: 0.3, A1: 0, A2: 2, B1: 12, B2: 14}
	mean, sd := programme.PacePosterior(0.25, base)
	wider := base
	for range 6 {
		wider.B1, wider.B2, wider.A1, wider.A2 = wider.B1-1, wider.B2+1, wider.A1-0.5, wider.A2+0.5
		_, now := programme.PacePosterior(0.25, wider)
		if now <= sd {
			t.Errorf("a wider gap narrows the pace: %.5f after %.5f", now, sd)
		}
		sd = now
	}
	_, sd = programme.PacePosterior(0.25, base)
	scaled := programme.Spell{Median: 30, Sigma: 0.3, A1: 0, A2: 6, B1: 36, B2: 42}
	m3, sd3 := programme.PacePosterior(0.25, scaled)
	if math.Abs(m3-mean) > 1e-4 || math.Abs(sd3-sd) > 1e-4 { // 2 d are cut into 4 cells and 6 d into 12
		t.Errorf("lengths and times in another unit: %.6f ± %.6f, not %.6f ± %.6f", m3, sd3, mean, sd)
	}
	last := math.Inf(-1)
	for days := 2.0; days < 40; days += 2 {
		m, _ := programme.PacePosterior(0.25, programme.Spell{Median: 10, Sigma: 0.3, A2: 5, B1: days, B2: math.Inf(1)})
		if m < last {
			t.Errorf("a step still open after %g d speaks for a faster yard than one after %g d", days, days-2)
		}
		last = m
	}
}

// Two idle weeks before each step are waiting, and no slowness.
func TestWaitingIsNoSlowness(t *testing.T) {
	y := &yard{steps: chainOf(6, []float64{8}, "a"), every: 7, length: []float64{8, 8, 8, 8, 8, 8}, pausing: make([]float64, 6)}
	for i := range y.pausing {
		y.pausing[i] = 2
	}
	y.run()
	prompt := learn(t, y.seen(y.until(y.finish[5])))
	for i := range y.pausing {
		y.pausing[i] = 12
	}
	y.run()
	idle := learn(t, y.seen(y.until(y.finish[5])))
	// by the days from start to start the yard would be ln(20/10) = 0.69 slower
	if d := math.Log(idle.Common.P50 / prompt.Common.P50); math.Abs(d) > 0.1 {
		t.Errorf("ten idle days before each step move ln pace by %.3f", d)
	}
	if idle.Waiting.P10 < prompt.Waiting.P90 {
		t.Errorf("mean wait %v with 12 days before each step, %v with 2", idle.Waiting, prompt.Waiting)
	}
}

// A shutdown is no working time: the same course through one, seen at the same
// states of work, teaches the same.
func TestShutdownIsNoSlowness(t *testing.T) {
	_, c := anyYard(4)
	l := learn(t, c)
	later := clone(c)
	from := monday + 35
	later.Calendars = []programme.Calendar{{ID: "yard", Week: "Mon-Fri", Closures: []calendar.Closure{{From: from, To: from + 20, Why: "summer"}}}}
	later.DataDate += 21
	for i := range later.Steps {
		for k := range later.Steps[i].Seen {
			if v := &later.Steps[i].Seen[k]; v.Day >= from {
				v.Day += 21
			}
		}
	}
	if got := learn(t, later); math.Abs(math.Log(got.Common.P50/l.Common.P50)) > 1e-6 || math.Abs(math.Log(got.Waiting.P50/l.Waiting.P50)) > 1e-6 {
		t.Errorf("a shutdown of three weeks moves pace %v to %v, waiting %v to %v", l.Common, got.Common, l.Waiting, got.Waiting)
	}
}

// Whatever links, lags, calendars and contradictory sightings a case has, what
// is learned is finite, and every draw is a pace.
func TestLearnFromAnything(t *testing.T) {
	cals := []programme.Calendar{{ID: "yard", Week: "Mon-Thu 1, Fri 0.5"}, {ID: "other", Week: "Tue-Sat"}}
	rapid.Check(t, func(t *rapid.T) {
		plain := anyNetwork(t, cals, true)
		c := programme.ForecastCase{Calendars: cals, Links: plain.Links, DataDate: monday + 60}
		for _, s := range plain.Steps {
			f := programme.ForecastStep{Step: s, Trade: rapid.SampledFrom([]string{"a", "b", ""}).Draw(t, "trade")}
			if s.Hours == 0 {
				low := rapid.Float64Range(0.2, 10).Draw(t, "low")
				f.Spread = programme.Spread{Low: low, Mode: low, High: low * rapid.Float64Range(1, 4).Draw(t, "ratio")}
			}
			f.Supplier = rapid.IntRange(0, 5).Draw(t, "supplier") == 0
			f.Owner = rapid.IntRange(0, 5).Draw(t, "owner") == 0
			for range rapid.IntRange(0, 4).Draw(t, "looks") {
				f.Seen = append(f.Seen, programme.Sighting{
					Day:   monday + calendar.Day(rapid.IntRange(0, 59).Draw(t, "day")),
					State: rapid.SampledFrom([]programme.State{programme.NotStarted, programme.UnderWay, programme.Done}).Draw(t, "state"),
				})
			}
			c.Steps = append(c.Steps, f)
		}
		l, err := programme.Learn(c)
		if err != nil {
			t.Skip("a network that the engine refuses:", err)
		}
		if len(l.Draws) != 256 {
			t.Fatalf("%d draws", len(l.Draws))
		}
		for _, d := range l.Draws {
			for _, v := range append([]float64{d.Wait}, d.Trade...) {
				if !(v > 0 && v < 1e3) {
					t.Fatalf("a draw has %g", v)
				}
			}
		}
	})
}
