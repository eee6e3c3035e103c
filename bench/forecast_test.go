package bench

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"dogshore/calendar"
	"dogshore/programme"
)

// chances makes a forecast's case of the random network on the yard's
// calendar: every step a spread of 0.7 to 1.8 times its length, three trades,
// and twenty points. With several calendars three steps in ten are on one of
// another firm, which has no half Fridays, or run by the clock.
func chances(n int, several bool) (programme.ForecastCase, programme.Learned) {
	plain := yardWeek(network(n))
	rnd := rand.New(rand.NewPCG(2, uint64(n)))
	c := programme.ForecastCase{DataDate: plain.DataDate, Calendars: plain.Calendars, Links: plain.Links}
	if several {
		c.Calendars = append(c.Calendars, programme.Calendar{ID: "firm", Week: "Mon-Fri", Closures: []calendar.Closure{
			{From: calendar.Date(2026, 7, 13), To: calendar.Date(2026, 7, 24)},
		}}, programme.Calendar{ID: "clock", Week: "24/7"})
	}
	trades := []string{"lamination", "joinery", "systems"}
	for i, s := range plain.Steps {
		m := s.Work
		low, high := 0.7+0.2*rnd.Float64(), 1.3+0.5*rnd.Float64()
		if several && rnd.IntN(10) < 3 {
			s.Calendar = c.Calendars[1+rnd.IntN(2)].ID
		}
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

// idle takes the waiting out of what was learned.
func idle(l programme.Learned) programme.Learned {
	for k := range l.Draws {
		l.Draws[k].Wait = 0
	}
	return l
}

// BenchmarkForecast reports, beside the time of a whole forecast with all its
// outputs, time and processor time for each step and trial: with the waiting,
// without which points take a second pass, and without; on one calendar and on
// three; and of the launch alone.
func BenchmarkForecast(b *testing.B) {
	for _, n := range []int{300, 5000, 50000} {
		for _, several := range []bool{false, true} {
			for _, waiting := range []bool{false, true} {
				for _, only := range []bool{false, true} {
					b.Run(fmt.Sprintf("n=%d/calendars=%d/waiting=%v/launch=%v", n, map[bool]int{false: 1, true: 3}[several], waiting, only), func(b *testing.B) {
						c, l := chances(n, several)
						if !waiting {
							l = idle(l)
						}
						forecast(b, c, l, programme.Run{Seed: 1, Trials: 10000, LaunchOnly: only})
					})
				}
			}
		}
	}
}

func forecast(b *testing.B, c programme.ForecastCase, l programme.Learned, run programme.Run) {
	b.ReportAllocs()
	before := cpuTime()
	for b.Loop() {
		if _, err := programme.Forecast(context.Background(), c, l, run); err != nil {
			b.Fatal(err)
		}
	}
	each := float64(b.N) * float64(len(c.Steps)) * float64(run.Trials)
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/each, "ns/step-trial")
	if cpu := cpuTime() - before; cpu > 0 {
		b.ReportMetric(float64(cpu.Nanoseconds())/each, "ns/step-trial-core")
	}
}
