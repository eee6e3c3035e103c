// Package random makes draws that depend on nothing but what they are for: the
// seed, the subject, the purpose and the number of the trial. There is no state
// and no order: a subject more or less, or another core, leaves every other
// draw as it was.
//
// A draw is the n-th value of a counter stepped by the golden ratio and
// scrambled by two multiplications (G. Steele, D. Lea, C. Flood, Fast splittable
// pseudorandom number generators, OOPSLA 2014; the scrambler is D. Stafford's
// variant 13; constants from memory, held to published output by a test). A
// subject's key is where its counter starts: 50,000 subjects of 65,000 trials
// overlap somewhere with a chance of 2e-5.
package random

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

const golden = 0x9e3779b97f4a7c15

// Key is where the draws of one subject for one purpose start.
type Key uint64

// Seed returns the key of a seed.
func Seed(seed uint64) Key { return Key(scramble(seed + golden)) }

// For returns the key of a subject, or of a purpose, under k.
func (k Key) For(name string) Key {
	h := uint64(k)
	for i := 0; i < len(name); i++ {
		h = (h ^ uint64(name[i])) * 0x100000001b3
	}
	return Key(scramble(h + uint64(len(name))*golden))
}

// At returns 64 even random bits for trial n.
func (k Key) At(n uint64) uint64 { return scramble(uint64(k) + n*golden) }

// Unit returns a draw between 0 and 1, both excluded, for trial n.
func (k Key) Unit(n uint64) float64 { return Unit(k.At(n)) }

// Normal returns a standard normal draw for trial n.
func (k Key) Normal(n uint64) float64 { return Quantile(k.Unit(n)) }

// Unit makes a number between 0 and 1, both excluded, of 64 bits.
func Unit(bits uint64) float64 { return (float64(bits>>12) + 0.5) / (1 << 52) }

// Unit32 makes a number between 0 and 1, both excluded, of 32 bits.
func Unit32(bits uint32) float64 { return (float64(bits) + 0.5) / (1 << 32) }

// Quantile returns the standard normal quantile of p, 0 < p < 1.
func Quantile(p float64) float64 { return mathext.NormalQuantile(p) }

// Survival returns the chance that a standard normal draw exceeds z.
func Survival(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }

// LogSurvival returns the logarithm of Survival, also where that is too small
// for a number: beyond z = 30 by the asymptotic series (M. Abramowitz, I.
// Stegun, Handbook of Mathematical Functions, 1964, 26.2.12, from memory).
func LogSurvival(z float64) float64 {
	if z < 30 {
		return math.Log(Survival(z))
	}
	q := 1 / (z * z)
	return -z*z/2 - math.Log(z*math.Sqrt(2*math.Pi)) + math.Log1p(-q+3*q*q-15*q*q*q)
}

// QuantileOfLogSurvival returns the z with LogSurvival(z) = l, l < 0.
func QuantileOfLogSurvival(l float64) float64 {
	if l > -400 {
		return -Quantile(math.Exp(l))
	}
	z := math.Sqrt(-2 * l)
	for range 4 { // d/dz LogSurvival is close to -(z + 1/z) here
		z += (LogSurvival(z) - l) / (z + 1/z)
	}
	return z
}

func scramble(x uint64) uint64 {
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
