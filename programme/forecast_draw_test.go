package programme_test

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"dogshore/internal/random"
	"dogshore/programme"
)

// Each trial's launch is the length and the wait that its draws say, worked out
// one by one from the law: of short and long steps, narrow and wide ones, fast
// and slow yards, within the tables and beyond. The halves of one value serve
// length and wait, which so share nothing.
func TestTrialsAgainstTheLawItself(t *testing.T) {
	const seed, n = 3, 3000
	for _, s := range []programme.Spread{
		{Low: 8, Mode: 10, High: 14}, {Low: 1, Mode: 3, High: 45}, {Low: 0.0001, Mode: 0.0002, High: 0.0004}, {Low: 4000, Mode: 9000, High: 36000}, {Low: 5, Mode: 5, High: 5},
	} {
		for _, pace := range []float64{0.3, 1, 4} {
			for _, wait := range []float64{0, 2.5} {
				t.Run(fmt.Sprintf("%g to %g days, pace %g, wait %g", s.Low, s.High, pace, wait), func(t *testing.T) {
					c := programme.ForecastCase{DataDate: monday, Calendars: round, Steps: []programme.ForecastStep{{Step: programme.Step{ID: "a"}, Trade: "laminators", Spread: s}}}
					l := programme.Learned{Visits: 9, Chains: 9, Trades: []string{"laminators"}, Draws: []programme.Pace{{Trade: []float64{pace}, Wait: wait}}}
					median, sigma := programme.Lognormal(s)
					for i, got := range forecast(t, c, l, programme.Run{Seed: seed, Trials: n}).Launches() {
						bits := random.Seed(seed).For("a").For("length").At(uint64(i))
						upper, lower := random.Unit32(uint32(bits>>32)), random.Unit32(uint32(bits))
						length := median * pace * min(100, math.Exp(sigma*random.Quantile(upper)))
						pause := -wait * math.Log(1-lower)
						allowed := (0.0025*sigma+1e-4)*length + 0.0055*wait + 3.0/86400
						if math.Abs(got-length-pause) > allowed {
							t.Fatalf("trial %d: %.6f days, want %.6f and a wait of %.6f within %.6f", i, got, length, pause, allowed)
						}
					}
				})
			}
		}
	}
}

// A step that follows one other is not counted by itself: it begins where that
// ends. Beside the same network in which another link, which never holds it up,
// makes it be counted, nothing differs.
func TestWhatFollowsOneStepBeginsWhereThatEnds(t *testing.T) {
	c, l := anyForecast(30)
	for i := range l.Draws {
		l.Draws[i].Wait = 0
	}
	c.Links = nil
	for i := 4; i < 30; i++ {
		c.Links = append(c.Links, programme.Link{From: fmt.Sprint("s", i-1-i%4), To: fmt.Sprint("s", i)})
	}
	was := forecast(t, c, l, programme.Run{Trials: 2000})
	for _, k := range c.Links {
		k.Type = programme.SS
		c.Links = append(c.Links, k)
	}
	got := forecast(t, c, l, programme.Run{Trials: 2000})
	for i, s := range got.Steps {
		if s != was.Steps[i] {
			t.Errorf("%s: %+v, and counted by itself %+v", s.ID, was.Steps[i], s)
		}
	}
	if !reflect.DeepEqual(got.Launch, was.Launch) || !reflect.DeepEqual(got.Points, was.Points) {
		t.Error("a link that never holds anything up moves the launch or a point")
	}
}
