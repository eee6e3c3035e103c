package programme

import (
	"math"

	"dogshore/internal/random"
)

// z90 is the standard normal quantile of 0.9.
const z90 = 1.2815515655446004

// Lognormal returns the median and the standard deviation of the logarithm of
// the lognormal law that a spread of Low (P10), mode and High (P90) says:
//
//	sigma = ln(High / Low) / (2 z90)
//	median = sqrt(Low High)
//
// Two numbers fix the law; the mode is the third and over-determines it, so
// the law is the one that holds both tails, and where Mode lies elsewhere than
// its own mode, median exp(-sigma²), the tails are believed: they are what a
// date needs. Where only a mode is given, Low = High = Mode, the length is
// certain.
//
// Source: quantiles of the lognormal law, exact; the choice is derived.
func Lognormal(s Spread) (median, sigma float64) {
	if s.Low <= 0 || s.High <= s.Low {
		return s.Mode, 0
	}
	return math.Sqrt(s.Low * s.High), math.Log(s.High/s.Low) / (2 * z90)
}

// A law is how long a step, or what is left of it, takes in a trial.
type law struct {
	work   int64                   // for certain, in seconds of work; where median is 0
	median float64                 // of the planned length, in seconds of work
	sigma  float64                 // of its logarithm
	by     func(u float64) float64 // another law than the lognormal: its quantiles, in medians
	pace   int32                   // row of factors
	spent  *spent
	key    random.Key
}

func (l *law) certain() bool { return l.median == 0 }

// mostTimes: no length is drawn beyond so many times its median.
const mostTimes = 100

// lawOf returns the law of step i. What was told to be left is taken as the
// median, with the spread of the step's own length and no pace: whoever says
// what is left knows the pace.
func (m *model) lawOf(s *ForecastStep, n *node, i int32) law {
	key := m.seed.For(s.ID).For("length")
	if !s.Spread.Known() || s.Left != nil && *s.Left == 0 {
		return law{work: int64(n.work), key: key, pace: m.ones()}
	}
	day := float64(n.cal.Of(1))
	l := spreadLaw(s.Spread, day)
	l.key, l.pace = key, m.ones()
	if s.Left != nil {
		l.median = *s.Left * day
		return l
	}
	if !s.Supplier {
		l.pace = m.paceOf(s.Trade)
	}
	if n.begun {
		l.spent = m.spentOf(&l, n, i)
	}
	return l
}

func spreadLaw(s Spread, day float64) law {
	l := law{}
	l.median, l.sigma = Lognormal(s)
	l.median *= day
	return l
}
