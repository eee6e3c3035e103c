package programme

import "math"

var ln, sqrt = math.Log, math.Sqrt

// What tests look at from outside.

// ReachStep and ReachWait are the chances of an interval for a step and a wait.
func ReachStep(median, sigma, a1, a2, b1, b2 float64) float64 {
	return reach(lognormal{ln(median), sigma}, span{a1, a2}, span{b1, b2})
}

func ReachWait(mean, a1, a2, b1, b2 float64) float64 {
	return reach(pausing(mean), span{a1, a2}, span{b1, b2})
}

// Spell is one step's start and finish, each in a span.
type Spell struct{ Median, Sigma, A1, A2, B1, B2 float64 }

// PacePosterior returns mean and standard deviation of ln pace with a normal
// prior about 0.
func PacePosterior(prior float64, of ...Spell) (mean, sd float64) {
	var spells []spell
	for _, s := range of {
		spells = append(spells, spell{even(span{s.A1, s.A2}), span{s.B1, s.B2}, lognormal{ln(s.Median), s.Sigma}, 0})
	}
	logs := says(coarsePaces, spells).on(paces)
	for i := range logs {
		logs[i] += bell(paces.at(i), prior)
	}
	square := 0.0
	for i, w := range weights(logs) {
		mean += w * paces.at(i)
		square += w * paces.at(i) * paces.at(i)
	}
	return mean, sqrt(square - mean*mean)
}

// Gap returns the standard deviation of a moment known to lie in a gap.
func Gap(days float64) float64 {
	w, mean, square := even(span{0, days}), 0.0, 0.0
	for i, p := range w.share {
		a, b := w.edge(i), w.edge(i+1)
		mean += p * (a + b) / 2
		square += p * (a*a + a*b + b*b) / 3
	}
	return sqrt(square - mean*mean)
}

// Observed counts the spells and pauses of a case.
func Observed(c ForecastCase) (spells, pauses int) {
	o, err := observe(&c)
	if err != nil {
		panic(err)
	}
	l := o.layer()
	l.tells = true
	at := l.follow(make([]float64, len(o.trades)), ln(priorWait))
	return len(at.spells), len(at.pauses)
}

// Normal is the normal distribution function that the laws use.
func Normal(z float64) float64 { return normal(z) }

// Spare tells the steps that the plan left time.
func Spare(c ForecastCase) []bool { return spare(&c) }
