package programme

import (
	"math"
	"slices"

	"dogshore/internal/random"
)

// factors are what lengths are multiplied by in each of many trials: a row for
// each trade, one of their mean for a trade that nothing was learned of, and one
// of ones for what shares no pace.
type factors struct {
	of        [][]float64
	power     [][]int64 // the logarithms of the same to the base 2, in units of 1/octave
	low, high int64     // of all powers
	wait      []float64 // the mean waits
}

// An octave of a length in whole numbers. Bits that a power has beyond it do
// not count: they are 1e-10 of the length.
const (
	octaveBits = 32
	octave     = 1 << octaveBits
)

func newFactors(rows, n int) *factors {
	f := &factors{wait: make([]float64, n)}
	for range rows {
		f.of, f.power = append(f.of, make([]float64, n)), append(f.power, make([]int64, n))
	}
	return f
}

func (m *model) paceOf(trade string) int32 {
	if i := slices.Index(m.l.Trades, trade); i >= 0 {
		return int32(i)
	}
	return int32(len(m.l.Trades))
}

func (m *model) ones() int32 { return int32(len(m.l.Trades)) + 1 }

// learnedFactors lays the rows of all that was drawn of the yard's pace.
func (m *model) learnedFactors() *factors {
	trades := len(m.l.Trades)
	f := newFactors(trades+2, len(m.l.Draws))
	for k := range m.l.Draws {
		d := &m.l.Draws[k]
		mean := 0.0
		for t := range trades {
			f.of[t][k] = d.Trade[t]
			mean += math.Log(d.Trade[t])
		}
		f.of[trades][k] = math.Exp(mean / float64(max(trades, 1)))
		f.of[trades+1][k] = 1
		f.wait[k] = d.Wait
	}
	for t, row := range f.of {
		for k, v := range row {
			f.power[t][k] = int64(math.Round(octave * max(-1000, min(math.Log2(max(v, 0)), 1000))))
			f.low, f.high = min(f.low, f.power[t][k]), max(f.high, f.power[t][k])
		}
	}
	return f
}

// take takes the rows of n trials from one on out of all draws: each once, near
// ones far apart.
func (f *factors) take(all *factors, from, n int) {
	k := len(all.wait)
	stride := strideOf(k)
	f.low, f.high = all.low, all.high
	f.wait = f.wait[:n]
	for b := range f.wait {
		f.wait[b] = all.wait[(from+b)*stride%k]
	}
	for t := range f.of {
		f.of[t], f.power[t] = f.of[t][:n], f.power[t][:n]
		for b := range f.of[t] {
			at := (from + b) * stride % k
			f.of[t][b], f.power[t][b] = all.of[t][at], all.power[t][at]
		}
	}
}

// strideOf returns the number near the golden part of k that has no divisor in
// common with it: steps of it meet every draw once, near ones far apart.
func strideOf(k int) int {
	s := max(1, int(0.6180339887*float64(k)))
	for gcd(int64(s), int64(k)) != 1 {
		s++
	}
	return s
}

// draw draws the work of as many trials as out has, the first of them from, at
// least a second each; and, where it is not nil, the lower halves of the bits
// that it is drawn from.
func (l *law) draw(from int, f *factors, out []int64, lower []uint32) {
	if l.median > 0 && l.sigma > 0 && l.spent == nil && l.by == nil {
		if lower == nil {
			l.key.Normals(uint64(from), out)
		} else {
			l.key.NormalsAndLower(uint64(from), out, lower)
		}
		l.lengths(f, out)
		return
	}
	l.key.Lower(uint64(from), lower)
	factor := f.of[l.pace]
	for b := range out {
		switch {
		case l.certain():
			out[b] = l.work
		case l.spent != nil:
			out[b] = int64(max(1, l.remaining(uint64(from+b), l.median*factor[b])))
		case l.by != nil:
			u := random.Unit32(uint32(l.key.At(uint64(from+b)) >> 32))
			out[b] = max(1, int64(l.median*factor[b]*l.by(u)))
		default:
			out[b] = max(1, int64(l.median*factor[b]))
		}
	}
}

// mostDeviations is beyond every draw of Normals.
const mostDeviations = 6.5

// lengths makes lengths of the normal draws in z: as powers of 2 from a table,
// which is off by less than 1e-4 of the length, three seconds in a working day;
// beyond what that holds, one by one.
func (l *law) lengths(f *factors, z []int64) {
	middle, per, most := math.Log2(l.median), l.sigma/math.Ln2, math.Log2(mostTimes)
	if per*mostDeviations > most {
		for b := range z {
			z[b] = min(z[b], int64(most/per*random.One))
		}
	}
	low, high := float64(f.low)/octave, float64(f.high)/octave
	if middle+low-per*mostDeviations < -30 || middle+high+min(per*mostDeviations, most) >= powerBits {
		for b, factor := range f.of[l.pace][:len(z)] {
			x := math.Exp(l.sigma * float64(z[b]) / random.One)
			z[b] = int64(max(1, min(l.median*factor*x, 1<<60)))
		}
		return
	}
	powersOf2(int64(middle*octave), int64(per*octave), f.power[l.pace][:len(z)], z)
}

// powers are 2 to the power powerBits less the middle of each cell of an octave.
var powers = func() (out [1 << cellBits]uint32) {
	for i := range out {
		out[i] = uint32(math.Round(math.Exp2(powerBits - (float64(i)+0.5)/float64(len(out)))))
	}
	return out
}()

const (
	powerBits = 32
	cellBits  = 12
)

// powersOf2 puts 2 to the power middle + add + per z into z, rounded up.
func powersOf2(middle, per int64, add, z []int64) {
	add, middle = add[:len(z)], powerBits*octave-middle
	for b, v := range z {
		under := middle - add[b] - per*v>>random.OneBits // 1<<powerBits
		z[b] = int64(powers[uint32(under)>>(octaveBits-cellBits)])>>(uint(under>>octaveBits)&63) + 1
	}
}
