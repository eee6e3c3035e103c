package programme

import (
	"math"
	"slices"

	"dogshore/calendar"
)

// A histogram has binCount bins of a width that is a power of two seconds of
// work, laid over what the pilot block met and a quarter of that to each side;
// what lies outside is counted in the outermost. Counts are whole numbers, so
// those of several workers add up to the same in any order.
const binCount = 512

type bins struct {
	lo    int64
	shift uint
}

func binsOver(lo, hi int64) bins {
	pad := (hi - lo + 3) / 4
	b := bins{lo: lo - pad}
	for (hi+pad-b.lo)>>b.shift >= binCount {
		b.shift++
	}
	return b
}

// tally is what a worker has counted.
type tally struct {
	trials int
	bins   []uint16 // binCount to a start or finish
	crit   []uint32 // by place
	owner  []int64  // by hold, seconds
	unmet  []bool   // by hold
	others []*tally // bins that count too
}

func (m *model) newTally() *tally {
	return &tally{
		bins: make([]uint16, binCount*2*len(m.net.nodes)), crit: make([]uint32, len(m.places)),
		owner: make([]int64, len(m.holds)), unmet: make([]bool, len(m.holds)),
	}
}

// add takes another worker's counts in.
func (t *tally) add(o *tally) {
	t.trials += o.trials
	t.others = append(t.others, o)
	for i, c := range o.crit {
		t.crit[i] += c
	}
	for i := range o.owner {
		t.owner[i] += o.owner[i]
		t.unmet[i] = t.unmet[i] || o.unmet[i]
	}
}

// sums adds up what all workers counted in bins of one start or finish.
func (t *tally) sums(at int, out *[binCount]int64) {
	clear(out[:])
	for _, o := range append([]*tally{t}, t.others...) {
		for i, c := range o.bins[binCount*at : binCount*(at+1)] {
			out[i] += int64(c)
		}
	}
}

// pilot passes the first block and lays the bins over what it met.
func (w *worker) pilot() error {
	m := w.m
	m.bins = make([]bins, 2*len(m.net.nodes))
	m.last = make([]int64, m.trials)
	for i := range m.points {
		for d := range m.points[i].doors {
			door := &m.points[i].doors[d]
			door.look, door.decide = make([]int64, m.trials), make([]int64, m.trials)
		}
	}
	return w.pass(0, func(j int32) {
		if int(j) < len(m.net.nodes) {
			p := &m.places[j]
			s, e := &w.start[p.row], &w.end[p.row]
			m.bins[2*j] = binsOver(slices.Min(s[:]), slices.Max(s[:]))
			m.bins[2*j+1] = binsOver(slices.Min(e[:]), slices.Max(e[:]))
		}
	})
}

// count counts n trials of place j.
func (w *worker) count(j int32, n int) {
	if int(j) >= len(w.m.net.nodes) {
		return
	}
	r := w.m.places[j].row
	w.tally.count(int(2*j), w.m.bins[2*j], w.start[r][:n])
	w.tally.count(int(2*j+1), w.m.bins[2*j+1], w.end[r][:n])
}

func (t *tally) count(at int, b bins, x []int64) {
	h := (*[binCount]uint16)(t.bins[binCount*at:])
	shift := b.shift & 63
	for _, v := range x {
		i := uint64(v-b.lo) >> shift
		if i >= binCount {
			i = outside(v, b.lo)
		}
		h[i]++
	}
}

// outside returns the bin of what lies before or after all.
func outside(v, lo int64) uint64 {
	if v < lo {
		return 0
	}
	return binCount - 1
}

// quantile returns the work by which a share q of the trials had come: the
// order statistic's bin, and within it by the rank.
func (b bins) quantile(counts *[binCount]int64, trials int, q float64) int64 {
	rank, sum := int64(math.Ceil(q*float64(trials))), int64(0)
	for i, c := range counts {
		if sum+c >= rank {
			width := int64(1) << b.shift
			return b.lo + int64(i)*width + (2*(rank-sum)-1)*width/(2*c)
		}
		sum += c
	}
	return b.lo + binCount<<b.shift
}

// dates returns the spread of a start, or of a finish.
func (m *model) dates(t *tally, j int32, finish bool) Dates {
	at := int(2 * j)
	if finish {
		at++
	}
	c := m.clocks[m.places[j].clock]
	var counts [binCount]int64
	t.sums(at, &counts)
	of := func(q float64) calendar.Moment {
		k := m.bins[at].quantile(&counts, t.trials, q)
		if finish {
			return c.moment(c.earliest(k))
		}
		return c.moment(c.latest(k))
	}
	return Dates{P10: of(0.1), P50: of(0.5), P90: of(0.9)}
}

// sample returns the order statistic of share q of sorted samples, type 1: the
// least that at least that share does not exceed. It is one of the samples, so
// a map that keeps their order, as to days or visits, may come before or after.
func sample(sorted []int64, q float64) int64 {
	return sorted[max(0, int(math.Ceil(q*float64(len(sorted))))-1)]
}

// below returns the share of sorted samples that lie before x.
func below(sorted []int64, x int64) float64 {
	n, _ := slices.BinarySearch(sorted, x)
	return float64(n) / float64(len(sorted))
}

// outlook puts together what was counted.
func (m *model) outlook(t *tally, seed uint64) Outlook {
	out := Outlook{Seed: seed, Trials: t.trials, Partial: t.trials < m.trials, Order: m.stands, zero: m.zero}
	out.Steps = make([]StepOutlook, len(m.net.nodes))
	for i := range out.Steps {
		s, p := &out.Steps[i], &m.places[i]
		s.ID = m.c.Steps[i].ID
		if p.fixed || !p.starts {
			continue
		}
		s.StartDated, s.Dated = true, p.ends
		s.Start = m.dates(t, int32(i), false)
		if p.ends {
			s.Finish = m.dates(t, int32(i), true)
		}
		s.Critical = float64(t.crit[i]) / float64(t.trials)
	}
	for h, i := range m.holds {
		out.Steps[i].OwnerWait = float64(t.owner[h]) / float64(t.trials) / secondsADay
		out.Launch.Owner += out.Steps[i].OwnerWait
		if t.unmet[h] {
			out.Launch.Unmet = append(out.Launch.Unmet, m.c.Steps[i].ID)
		}
	}
	m.launched(&out, t)
	for i := range m.points {
		out.Points = append(out.Points, m.settle(&m.points[i], t.trials))
	}
	return out
}
