package programme

import (
	"math"
	"slices"

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
	table  *[cells + 1]float32     // of quantiles, in medians
	exact  func(u float64) float64 // the quantile that the table stands for at the quantiles 0, 1/cells, ..., 1
	pace   int32                   // row of factors
	spent  *spent
	key    random.Key
}

func (l *law) certain() bool { return l.median == 0 }

// Tables of quantiles have cells of equal chance. Within the outermost at each
// side the quantile is computed, elsewhere it is a straight line between two:
// the most that this is off is 0.002 standard deviations.
const (
	cells = 512
	outer = 4
	lower = 32 - 9 // bits of a draw that lie within a cell

	mostTimes = 100 // no length is drawn beyond so many times its median
)

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
	if sigma := l.sigma; sigma > 0 {
		l.lay(func(u float64) float64 { return min(math.Exp(sigma*random.Quantile(u)), mostTimes) })
	}
	return l
}

// lay lays the table of a law by its quantiles in medians. Its first and last
// entries are never read.
func (l *law) lay(exact func(u float64) float64) {
	l.table, l.exact = new([cells + 1]float32), exact
	for i := 1; i < cells; i++ {
		l.table[i] = float32(exact(float64(i) / cells))
	}
}

// Rows of factors: one for each trade, the mean of them for a trade that
// nothing was learned of, and ones for what shares no pace.
func (m *model) paceOf(trade string) int32 {
	if i := slices.Index(m.l.Trades, trade); i >= 0 {
		return int32(i)
	}
	return int32(len(m.l.Trades))
}

func (m *model) ones() int32 { return int32(len(m.l.Trades)) + 1 }

// paces lays the rows of factors, and the mean waits, for the trials from on.
func (m *model) paces(from int, rows [][block]float64, wait *[block]float64) {
	k := len(m.l.Draws)
	stride := strideOf(k)
	for b := range block {
		d := &m.l.Draws[(from+b)*stride%k]
		wait[b] = d.Wait
		mean, n := 0.0, 0
		for t := range m.l.Trades {
			rows[t][b] = d.Trade[t]
			mean, n = mean+math.Log(d.Trade[t]), n+1
		}
		rows[len(m.l.Trades)][b] = math.Exp(mean / float64(max(n, 1)))
		rows[len(m.l.Trades)+1][b] = 1
	}
}

// strideOf returns the number near the golden part of k that has no divisor in
// common with it: steps of it meet every draw once, near ones far apart.
func strideOf(k int) int {
	gcd := func(a, b int) int {
		for b != 0 {
			a, b = b, a%b
		}
		return a
	}
	s := max(1, int(0.6180339887*float64(k)))
	for gcd(s, k) != 1 {
		s++
	}
	return s
}

// draw draws the work of a block of trials, at least a second each.
func (l *law) draw(from int, pace *[block]float64, out *row) {
	switch {
	case l.certain():
		for b := range out {
			out[b] = l.work
		}
	case l.spent != nil:
		for b := range out {
			out[b] = int64(max(1, l.remaining(uint64(from+b), l.median*pace[b])))
		}
	case l.table == nil:
		for b := range out {
			out[b] = max(1, int64(l.median*pace[b]))
		}
	default:
		key, n, table, median := l.key, uint64(from), l.table, l.median
		for b := range out {
			u := uint32(key.At(n+uint64(b)) >> 32)
			x, i := 0.0, u>>lower
			if i-outer < cells-2*outer { // u wraps round below
				p, q := float64(table[i]), float64(table[i+1])
				x = p + (q-p)*(float64(int64(u&(1<<lower-1)))*(1.0/(1<<lower)))
			} else {
				x = l.exact(random.Unit32(u))
			}
			out[b] = max(1, int64(median*pace[b]*x))
		}
	}
}
