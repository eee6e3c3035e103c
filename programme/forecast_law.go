package programme

import "math"

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
