package programme_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"dogshore/calendar"
	"dogshore/programme"
)

// yard is an invented build whose course is known, to be looked at by visits.
// Working day k is the k-th weekday after the morning of monday.
type yard struct {
	steps   []yardStep
	every   int // calendar days between visits, the first on a Friday
	start   []float64
	finish  []float64
	common  float64
	trade   map[string]float64 // ln pace
	wait    float64
	pausing []float64
	length  []float64
}

type yardStep struct {
	id     string
	trade  string
	low    float64 // P10, P90 of its length
	high   float64
	after  []int
	single bool // a supplier's
}

var weekdays = []programme.Calendar{{ID: "yard", Week: "Mon-Fri"}}

// habits say how a yard's course is drawn.
type habits struct {
	tau, tauTrade, wait, waitSpread float64
	tail                            float64 // degrees of freedom of a length's logarithm, 0: normal
	tailP90                         float64 // and their quantile of 0.9: lengths keep their P10 and P90
	slowBy                          float64 // what one trade, any, takes more than all else says
}

var asModelled = habits{tau: 0.25, tauTrade: 0.15, wait: 0.5, waitSpread: 1}

func invent(r *rand.Rand, steps []yardStep, h habits) *yard {
	y := &yard{steps: steps, every: 7, trade: map[string]float64{}}
	y.common = h.tau * r.NormFloat64()
	y.wait = h.wait * math.Exp(h.waitSpread*r.NormFloat64())
	var names []string
	for _, s := range steps {
		if _, known := y.trade[s.trade]; !known && !s.single {
			y.trade[s.trade] = y.common + h.tauTrade*r.NormFloat64()
			names = append(names, s.trade)
		}
	}
	if h.slowBy > 0 {
		y.trade[names[r.IntN(len(names))]] += math.Log(h.slowBy)
	}
	for _, s := range steps {
		median, sigma := programme.Lognormal(programme.Spread{Low: s.low, Mode: s.low, High: s.high})
		z := r.NormFloat64()
		if h.tail > 0 {
			z *= 1.2815515655446 / h.tailP90 / math.Sqrt(chiSquare(r, h.tail)/h.tail)
		}
		d := median * math.Exp(sigma*z)
		if !s.single {
			d *= math.Exp(y.trade[s.trade])
		}
		y.length = append(y.length, d)
		y.pausing = append(y.pausing, y.wait*r.ExpFloat64())
	}
	y.run()
	return y
}

func chiSquare(r *rand.Rand, n float64) float64 {
	sum := 0.0
	for range int(n) {
		z := r.NormFloat64()
		sum += z * z
	}
	return sum
}

// leadIn is the working day on which the first steps begin: after a visit that
// sees nothing begun.
const leadIn = 7

// run lays the steps behind each other.
func (y *yard) run() {
	y.start, y.finish = make([]float64, len(y.steps)), make([]float64, len(y.steps))
	for i, s := range y.steps {
		y.start[i] = leadIn
		for _, p := range s.after {
			y.start[i] = max(y.start[i], y.finish[p])
		}
		if len(s.after) > 0 && !s.single {
			y.start[i] += y.pausing[i]
		}
		y.finish[i] = y.start[i] + y.length[i]
	}
}

// visits are the days looked at up to and with last.
func (y *yard) visits(last calendar.Day) []calendar.Day {
	var out []calendar.Day
	for d := monday + 4; d <= last; d += calendar.Day(y.every) {
		out = append(out, d)
	}
	return out
}

// weekday returns the working days before the morning of d.
func weekday(d calendar.Day) float64 {
	n := int(d - monday)
	return float64(n/7*5 + min(n%7, 5))
}

// seen returns the case as the visits show it; the data date is the morning
// after the last.
func (y *yard) seen(visits []calendar.Day) programme.ForecastCase {
	c := programme.ForecastCase{Calendars: weekdays, DataDate: visits[len(visits)-1] + 1}
	for i, s := range y.steps {
		step := programme.ForecastStep{Trade: s.trade, Supplier: s.single}
		step.ID = s.id
		step.Spread = programme.Spread{Low: s.low, Mode: math.Sqrt(s.low * s.high), High: s.high}
		for _, d := range visits {
			state, now := programme.NotStarted, weekday(d+1)
			switch {
			case y.finish[i] <= now:
				state = programme.Done
			case y.start[i] <= now:
				state = programme.UnderWay
			}
			step.Seen = append(step.Seen, programme.Sighting{Day: d, State: state})
		}
		c.Steps = append(c.Steps, step)
		for _, p := range s.after {
			c.Links = append(c.Links, programme.Link{From: y.steps[p].id, To: s.id})
		}
	}
	return c
}

// until returns the visits up to the one after working day k.
func (y *yard) until(k float64) []calendar.Day {
	d := monday + calendar.Day(k/5*7)
	return y.visits(max(d, monday+4))
}

// chainOf makes a chain of n steps with medians and trades in turn.
func chainOf(n int, medians []float64, trades ...string) []yardStep {
	var out []yardStep
	for i := range n {
		m := medians[i%len(medians)]
		s := yardStep{id: fmt.Sprint("s", i), trade: trades[i%len(trades)], low: m / 1.5, high: m * 1.5}
		if i > 0 {
			s.after = []int{i - 1}
		}
		out = append(out, s)
	}
	return out
}

// moments returns mean and standard deviation.
func moments(v []float64) (mean, sd float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		sd += (x - mean) * (x - mean) / float64(len(v))
	}
	return mean, math.Sqrt(sd)
}

// logsOf returns ln of the draws of a trade's pace, by its name.
func logsOf(l programme.Learned, trade string) []float64 {
	t := slices.Index(l.Trades, trade)
	out := make([]float64, len(l.Draws))
	for i, d := range l.Draws {
		out[i] = math.Log(d.Trade[t])
	}
	return out
}
