package programme

import (
	"math"
	"slices"
)

// A histogram has binCount bins of a width that is a power of two seconds of
// work, laid over what the pilot met and a quarter of that to each side;
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
	t := &tally{crit: make([]uint32, len(m.places)), owner: make([]int64, len(m.holds)), unmet: make([]bool, len(m.holds))}
	if !m.launchOnly {
		t.bins = make([]uint16, binCount*2*len(m.net.nodes))
	}
	return t
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

// quantiles returns the work by which each share of the trials had come, the
// least first, of one start or finish: the bin of the order statistic, and
// within it by the rank.
func (t *tally) quantiles(at int, b bins, shares [3]float64) (out [3]int64) {
	counts := [][]uint16{t.bins[binCount*at : binCount*(at+1)]}
	for _, o := range t.others {
		counts = append(counts, o.bins[binCount*at:binCount*(at+1)])
	}
	bin, sum, next := int64(-1), int64(0), int64(0) // of the bin, and up to it
	for k, q := range shares {
		rank := int64(math.Ceil(q * float64(t.trials)))
		for sum+next < rank {
			bin, sum, next = bin+1, sum+next, 0
			for _, c := range counts {
				next += int64(c[bin])
			}
		}
		width := int64(1) << b.shift
		out[k] = b.lo + bin*width + (2*(rank-sum)-1)*width/(2*next)
	}
	return out
}

// A pilot is of so many trials, in parts that are shared among cores.
const (
	pilotTrials = 256
	pilotPart   = 64
)

// pilot passes the first trials, and lays the bins over what it met.
func (m *model) pilot(crew []*worker) error {
	m.bins = make([]bins, 2*len(m.net.nodes))
	for i := range m.points {
		for d := range m.points[i].doors {
			door := &m.points[i].doors[d]
			door.look, door.decide = make([]int64, m.trials), make([]int64, m.trials)
		}
	}
	const parts = pilotTrials / pilotPart
	var met [parts][][2]int64
	var errs [parts]error
	onCores(len(crew), parts, func(core int) func(int) {
		w := m.newWorker()
		crew[core] = w
		return func(part int) {
			met[part] = make([][2]int64, len(m.bins))
			errs[part] = w.pass(part*pilotPart, pilotPart, func(j int32, start, end []int64) {
				w.add(j, start, end)
				if int(j) < len(m.net.nodes) {
					met[part][2*j] = [2]int64{slices.Min(start), slices.Max(start)}
					met[part][2*j+1] = [2]int64{slices.Min(end), slices.Max(end)}
				}
			})
		}
	})
	for i := range m.bins {
		lo, hi := met[0][i][0], met[0][i][1]
		for _, more := range met[1:] {
			lo, hi = min(lo, more[i][0]), max(hi, more[i][1])
		}
		m.bins[i] = binsOver(lo, hi)
	}
	return firstError(errs[:])
}

// count puts the finishes of place j into end, and counts it.
func (w *worker) count(j int32, start, end []int64) {
	if int(j) >= len(w.m.net.nodes) {
		w.add(j, start, end)
		return
	}
	t, own := w.tally, w.m.bins[2*j:2*j+2]
	starts, ends := (*[binCount]uint16)(t.bins[binCount*2*j:]), (*[binCount]uint16)(t.bins[binCount*(2*j+1):])
	lengths := w.length[:len(start)]
	end = end[:len(start)]
	lo1, shift1 := own[1].lo, own[1].shift&63
	if w.m.places[j].follows >= 0 {
		for b, v := range start {
			v += lengths[b]
			end[b] = v
			ends[min(uint64(max(v-lo1, 0))>>shift1, binCount-1)]++
		}
		return
	}
	// Both at once: what one waits for, the other works on.
	lo, shift := own[0].lo, own[0].shift&63
	for b, v := range start {
		starts[min(uint64(max(v-lo, 0))>>shift, binCount-1)]++
		v += lengths[b]
		end[b] = v
		ends[min(uint64(max(v-lo1, 0))>>shift1, binCount-1)]++
	}
}

// dates returns the spread of a start, or of a finish.
func (m *model) dates(t *tally, j int32, finish bool) Dates {
	at := int(2 * j)
	switch p := &m.places[j]; {
	case finish:
		at++
	case p.follows >= 0:
		at = int(2*p.follows + 1)
	}
	c := m.clocks[m.places[j].clock]
	k := t.quantiles(at, m.bins[at], [3]float64{0.1, 0.5, 0.9})
	of := c.latest
	if finish {
		of = c.earliest
	}
	return Dates{P10: c.moment(of(k[0])), P50: c.moment(of(k[1])), P90: c.moment(of(k[2]))}
}

// sample returns the order statistic of share q of sorted samples, type 1: the
// least that at least that share does not exceed. It is one of the samples, so
// a map that keeps their order, as to days or visits, may come before or after.
func sample(sorted []int64, q float64) int64 {
	return sorted[max(0, int(math.Ceil(q*float64(len(sorted))))-1)]
}

// statistic is sample of samples in any order: only those of its own bin of the
// range are sorted.
func statistic(x []int64, q float64) int64 {
	const parts = 1024
	rank := max(0, int(math.Ceil(q*float64(len(x))))-1)
	lo, hi, shift := slices.Min(x), slices.Max(x), 0
	for (hi-lo)>>shift >= parts {
		shift++
	}
	var counts [parts]int
	for _, v := range x {
		counts[(v-lo)>>shift]++
	}
	part := int64(0)
	for ; rank >= counts[part]; part++ {
		rank -= counts[part]
	}
	in := make([]int64, 0, counts[part])
	for _, v := range x {
		if (v-lo)>>shift == part {
			in = append(in, v)
		}
	}
	slices.Sort(in)
	return in[rank]
}

// below returns the share of samples that lie before t.
func below(x []int64, t int64) float64 {
	n := 0
	for _, v := range x {
		if v < t {
			n++
		}
	}
	return float64(n) / float64(len(x))
}

// outlook puts together what was counted.
func (m *model) outlook(t *tally, seed uint64) Outlook {
	out := Outlook{Seed: seed, Trials: t.trials, Partial: t.trials < m.trials, Order: m.stands, zero: m.zero}
	for h, i := range m.holds {
		if t.unmet[h] {
			out.Launch.Unmet = append(out.Launch.Unmet, m.c.Steps[i].ID)
		}
	}
	m.launched(&out, t)
	if m.launchOnly {
		return out
	}
	out.Steps = make([]StepOutlook, len(m.net.nodes))
	onCores(0, len(out.Steps), func(int) func(int) {
		return func(i int) { out.Steps[i] = m.stepOutlook(t, int32(i)) }
	})
	for h, i := range m.holds {
		out.Steps[i].OwnerWait = float64(t.owner[h]) / float64(t.trials) / secondsADay
		out.Launch.Owner += out.Steps[i].OwnerWait
	}
	if len(m.points) > 0 {
		out.Points = make([]PointOutlook, len(m.points))
	}
	onCores(0, len(out.Points), func(int) func(int) {
		return func(i int) { out.Points[i] = m.settle(&m.points[i], t.trials) }
	})
	return out
}

func (m *model) stepOutlook(t *tally, i int32) StepOutlook {
	s, p := StepOutlook{ID: m.c.Steps[i].ID}, &m.places[i]
	if p.fixed || !p.starts {
		return s
	}
	s.StartDated, s.Dated = true, p.ends
	s.Start = m.dates(t, i, false)
	if p.ends {
		s.Finish = m.dates(t, i, true)
	}
	s.Critical = float64(t.crit[i]) / float64(t.trials)
	return s
}
