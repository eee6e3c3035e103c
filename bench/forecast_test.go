package bench

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"dogshore/programme"
)

// chances makes a forecast's case of the random network on the yard's
// calendar: every step a spread of 0.7 to 1.8 times its length, three trades,
// waiting, and twenty points.
func chances(n int) (programme.ForecastCase, programme.Learned) {
	plain := yardWeek(network(n))
	rnd := rand.New(rand.NewPCG(2, uint64(n)))
	c := programme.ForecastCase{DataDate: plain.DataDate, Calendars: plain.Calendars, Links: plain.Links}
	trades := []string{"lamination", "joinery", "systems"}
	for i, s := range plain.Steps {
		m := s.Work
		low, high := 0.7+0.2*rnd.Float64(), 1.3+0.5*rnd.Float64()
		c.Steps = append(c.Steps, programme.ForecastStep{Step: s, Trade: trades[i%3], Spread: programme.Spread{Low: low * m, Mode: m, High: high * m}})
	}
	for i := range 20 {
		c.Points = append(c.Points, programme.Point{
			ID: fmt.Sprint("point-", i), Covers: []string{fmt.Sprint("step-", (i+1)*n/21)}, Sure: i%2 == 0, Leads: []programme.PointLead{{Says: "make", Days: 20}},
		})
	}
	l := programme.Learned{Visits: 9, Chains: 9, Trades: trades}
	for k := range 256 {
		x := float64(k) / 256
		l.Draws = append(l.Draws, programme.Pace{Trade: []float64{0.9 + 0.3*x, 1.2 - 0.3*x, 1 + 0.2*x*x}, Wait: 0.1 + 0.3*x})
	}
	return c, l
}

// BenchmarkForecast reports, beside the time of a whole forecast with all its
// outputs, the processor time for each step and trial: of the form with the
// waiting, which passes the network twice where points hang on it, and of the
// one without.
func BenchmarkForecast(b *testing.B) {
	for _, n := range []int{300, 5000, 50000} {
		for _, waiting := range []bool{false, true} {
			b.Run(fmt.Sprintf("n=%d/waiting=%v", n, waiting), func(b *testing.B) {
				c, l := chances(n)
				trials := min(10000, 50_000_000/n)
				for k := range l.Draws {
					if !waiting {
						l.Draws[k].Wait = 0
					}
				}
				b.ReportAllocs()
				before := cpuTime()
				for b.Loop() {
					if _, err := programme.Forecast(context.Background(), c, l, programme.Run{Seed: 1, Trials: trials}); err != nil {
						b.Fatal(err)
					}
				}
				if cpu := cpuTime() - before; cpu > 0 {
					b.ReportMetric(float64(cpu.Nanoseconds())/float64(b.N)/float64(n)/float64(trials), "ns/step-trial-core")
				}
			})
		}
	}
}
