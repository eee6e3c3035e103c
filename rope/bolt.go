package rope

import (
	"errors"
	"fmt"
	"math"
)

// ErrThread is the error for a bolt size of which no thread is listed, ErrGrade
// that for a grade.
var (
	ErrThread = errors.New("rope: no thread of that size is listed")
	ErrGrade  = errors.New("rope: no such grade of bolts is listed")
)

// thread is a coarse thread: of metric ones the pitch (ISO 261), of inch ones
// (UNC) too, in metres; both from memory.
type thread struct {
	size, pitch float64
	inch        bool
}

var threads = []thread{
	{0.004, 0.0007, false}, {0.005, 0.0008, false}, {0.006, 0.001, false}, {0.008, 0.00125, false}, {0.010, 0.0015, false},
	{0.012, 0.00175, false}, {0.014, 0.002, false}, {0.016, 0.002, false}, {0.018, 0.0025, false}, {0.020, 0.0025, false},
	{0.024, 0.003, false},
	{0.00635, 0.0254 / 20, true}, {0.0079375, 0.0254 / 18, true}, {0.009525, 0.0254 / 16, true}, {0.0127, 0.0254 / 13, true},
}

// sizeSlack is how far an entered size may be off a listed one: what rounding
// 5/16 in to 7.94 mm leaves, and far less than the step between sizes.
const sizeSlack = 0.00002

// StressArea returns the tensile stress area (m2) of the coarse thread of a
// nominal size (m): pi/4 (d - 0.9382 P)^2, of inch threads with 0.9743. It
// returns ErrThread for a size that is not listed.
//
// Source: ISO 898-1 and ASME B1.1, the formulae from memory.
func StressArea(size float64) (float64, error) {
	for _, t := range threads {
		if math.Abs(t.size-size) <= sizeSlack {
			k := 0.9382
			if t.inch {
				k = 0.9743
			}
			return math.Pi / 4 * (t.size - k*t.pitch) * (t.size - k*t.pitch), nil
		}
	}
	return 0, fmt.Errorf("%w: %.4g mm", ErrThread, size*1000)
}

// grade is the ultimate and the proof strength (Pa) of a grade of bolts, and
// the share of the ultimate that counts in shear through the thread. From
// memory: ISO 3506-1 (stainless), ISO 898-1 (8.8).
type grade struct{ ultimate, proof, shear float64 }

var grades = map[string]grade{
	"A2-50": {500e6, 210e6, 0.5}, "A4-50": {500e6, 210e6, 0.5},
	"A2-70": {700e6, 450e6, 0.5}, "A4-70": {700e6, 450e6, 0.5},
	"A4-80": {800e6, 600e6, 0.5},
	"8.8":   {800e6, 640e6, 0.6},
}

// Resistance is what one bolt resists (N), its partial factor taken off.
type Resistance struct {
	Pull  float64 `json:"pull_n"`
	Shear float64 `json:"shear_n"`
}

// Resistance returns what one of the bolts resists in pull, 0.9 f_ub As / g
// (0.63 if countersunk), and in shear through its thread, a_v f_ub As / g.
// gamma is the partial factor. It returns ErrThread or ErrGrade for a size or a
// grade that is not listed, as an empty one.
//
// Source: EN 1993-1-8, table 3.4; a_v 0.5 for stainless threads, EN 1993-1-4,
// from memory.
func (b Bolts) Resistance(gamma float64) (Resistance, error) {
	area, err := StressArea(b.Size)
	if err != nil {
		return Resistance{}, err
	}
	g, ok := grades[b.Grade]
	if !ok {
		return Resistance{}, fmt.Errorf("%w: %q", ErrGrade, b.Grade)
	}
	k := 0.9
	if b.Countersunk {
		k = 0.63
	}
	return Resistance{Pull: k * g.ultimate * area / gamma, Shear: g.shear * g.ultimate * area / gamma}, nil
}

// used returns the share of its resistance that a bolt uses under a pull and a
// shear: F_v/F_v,Rd + F_t/(1.4 F_t,Rd), and not less than F_t/F_t,Rd.
func (r Resistance) used(pull, shear float64) float64 {
	return max(shear/r.Shear+pull/(1.4*r.Pull), pull/r.Pull)
}

// clampShare is the share of its proof load to which a bolt is tightened; a
// 1/4 in bolt of 316 at 1400 lbf comes to the same.
const clampShare = 0.7

// clamp returns the clamping load of one bolt (N), entered or by clampShare;
// 0 if neither its size and grade nor the load are known.
func (b Bolts) clamp() float64 {
	area, err := StressArea(b.Size)
	g, ok := grades[b.Grade]
	switch {
	case b.Clamp > 0:
		return b.Clamp
	case err != nil || !ok:
		return 0
	}
	return clampShare * g.proof * area
}

// nutWidth is the width of a nut across its flats in bolt diameters: ISO 4032
// has 10, 13 and 16 mm for M6, M8 and M10 (from memory).
const nutWidth = 1.6

// UsualBolts lays n bolts of a size (m) on a foot of the given length and width
// (m) as such feet are usually drilled: one in the middle, two or three along
// it, else two rows, each bolt one and a half diameters in from the edges.
// Whoever uses it has assumed where they are. Common practice, no source.
func UsualBolts(n int, long, wide, size float64) []Plan {
	a, c := max(long/2-1.5*size, 0), max(wide/2-1.5*size, 0)
	if n <= 0 || n > maxBolts {
		return nil
	}
	row := func(k int, across float64) []Plan {
		out := make([]Plan, k)
		for i := range out {
			out[i].Across = across
			if k > 1 {
				out[i].Along = a * (2*float64(i)/float64(k-1) - 1)
			}
		}
		return out
	}
	if n <= 3 {
		return row(n, 0)
	}
	return append(row((n+1)/2, c), row(n/2, -c)...)
}
