package programme_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"dogshore/calendar"
	"dogshore/internal/test"
	"dogshore/programme"
)

// apart is the largest difference between the shares of two samples that lie
// below any value (Kolmogorov and Smirnov).
func apart(a, b []float64) float64 {
	slices.Sort(a)
	slices.Sort(b)
	far, j := 0.0, 0
	for i, x := range a {
		for j < len(b) && b[j] <= x {
			j++
		}
		far = max(far, math.Abs(float64(i+1)/float64(len(a))-float64(j)/float64(len(b))))
	}
	return far
}

// What is left of a step under way, beside plain sampling: a start anywhere in
// its gap, a length of its law at a pace of the yard's, thrown away unless the
// step is still open now. That needs no formula, and no tail.
func TestOpenStepsAgainstPlainSampling(t *testing.T) {
	for _, row := range []struct {
		median, sigma float64
		least, most   int // days ago that it began
		paces         []float64
	}{
		{10, 0.3, 0, 5, []float64{1}},
		{10, 0.3, 0, 20, []float64{1}},
		{3, 0.1, 1, 8, []float64{1}}, // it hardly began at the gap's early end
		{5, 0.8, 3, 30, []float64{1}},
		{8, 0.3, 2, 16, []float64{0.6, 0.8, 1, 1.3, 1.9}},
		{8, 0.2, 6, 9, []float64{0.7, 0.9, 1.1, 1.6}},
	} {
		c := sure(lines(t, round, "a 1"))
		half := row.sigma * 1.2815515655446004
		c.Steps[0].Spread = programme.Spread{Low: row.median * math.Exp(-half), Mode: row.median, High: row.median * math.Exp(half)}
		c.Steps[0].Seen = []programme.Sighting{
			{Day: monday - calendar.Day(row.most) - 1, State: programme.NotStarted},
			{Day: monday - calendar.Day(row.least) - 1, State: programme.UnderWay},
			{Day: monday - 1, State: programme.UnderWay},
		}
		l := programme.Learned{Visits: 9, Chains: 9, Trades: []string{""}}
		for _, p := range row.paces {
			l.Draws = append(l.Draws, programme.Pace{Trade: []float64{p}})
		}
		got := forecast(t, c, l, programme.Run{Trials: trials}).Launches()
		r := rand.New(rand.NewPCG(3, uint64(row.most)))
		want := make([]float64, 0, 4*trials)
		for k := 0; len(want) < cap(want); k = len(want) { // the same number at each pace
			for {
				spent := float64(row.least) + r.Float64()*float64(row.most-row.least)
				if d := row.median * row.paces[k%len(row.paces)] * math.Exp(row.sigma*r.NormFloat64()); d > spent {
					want = append(want, d-spent)
					break
				}
			}
		}
		what := fmt.Sprintf("what is left of a step of %g days, sigma %g, begun %d to %d days ago, at %d paces: largest difference of shares", row.median, row.sigma, row.least, row.most, len(row.paces))
		// Beyond 1.95 sqrt(1/n + 1/m) lies one case in a thousand.
		test.Check(t, what, "second method: plain sampling, 200,000 lengths that were still open", 0, apart(got, want), 1.95*math.Sqrt(1.0/trials+0.25/trials))
	}
}

// The same under the whole model: the pace is learned from finished steps and
// from the open one itself, and its end is then drawn with that pace.
func TestOpenStepAgainstSamplingOfTheWholeModel(t *testing.T) {
	for seed := range uint64(4) {
		r := rand.New(rand.NewPCG(seed, 11))
		steps := make([]yardStep, 9)
		for i := range steps {
			steps[i] = yardStep{id: fmt.Sprint("s", i), trade: "a", low: 6, high: 16}
		}
		steps[8].low, steps[8].high = 20, 45
		y := invent(r, steps, asModelled)
		y.start[8] += 3
		y.finish[8] = y.start[8] + max(y.length[8], 25)
		c := y.seen(y.until(y.start[8] + 20))
		c.Launch = "s8"
		l, err := programme.Learn(c)
		if err != nil {
			t.Fatal(err)
		}
		if !l.Enough() {
			t.Fatalf("%d visits, %d chains", l.Visits, l.Chains)
		}
		cal, err := calendar.New(weekdays[0].Week, nil)
		if err != nil {
			t.Fatal(err)
		}
		o := forecast(t, c, l, programme.Run{Trials: 20000})
		g := look(y, c, r)
		var left []float64
		for k := range 40000 {
			if g.sweep(); k > 4000 && k%5 == 0 {
				left = append(left, g.finish[8]-g.now)
			}
		}
		slices.Sort(left)
		for _, q := range []struct {
			share float64
			at    calendar.Moment
		}{{0.1, o.Launch.P10}, {0.5, o.Launch.P50}, {0.8, o.Launch.P80}} {
			n, _ := slices.BinarySearch(left, cal.Between(calendar.At(c.DataDate), q.at))
			// The sampling moves slowly: its 7,200 draws are worth a tenth of that.
			test.Check(t, fmt.Sprintf("build %d: chance that an open step is done by its P%g", seed, 100*q.share),
				"second method: sampling of every unseen date, whole model", q.share, float64(n)/float64(len(left)), 4*math.Sqrt(q.share*(1-q.share)/720))
		}
	}
}
