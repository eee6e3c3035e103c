package programme

import (
	"math"
	"slices"

	"dogshore/calendar"
)

// noon is when in a day a visit is: an instant, no work.
const noon = secondsADay / 2

// layVisits lists the visits to come. A visit on the data date itself is one.
func (m *model) layVisits() {
	days := slices.Clone(m.c.Visits)
	slices.Sort(days)
	for _, d := range days {
		if t := m.time(calendar.At(d)) + noon; t >= 0 && (len(m.visits) == 0 || t > m.visits[len(m.visits)-1]) {
			m.visits = append(m.visits, t)
		}
	}
	m.every = int64(m.c.VisitEvery) * secondsADay
	if len(m.visits) == 0 && len(days) > 0 && m.every > 0 {
		t := m.time(calendar.At(days[len(days)-1])) + noon
		m.visits = append(m.visits, t+(-t+m.every-1)/m.every*m.every)
	}
}

// visitFrom returns the first visit at or after t.
func (m *model) visitFrom(t int64) (int64, bool) {
	i, _ := slices.BinarySearch(m.visits, t)
	if i < len(m.visits) {
		return m.visits[i], true
	}
	if m.every == 0 || i == 0 {
		return t, false
	}
	last := m.visits[i-1]
	return last + (t-last+m.every-1)/m.every*m.every, true
}

// visitBefore returns the last visit at or before t.
func (m *model) visitBefore(t int64) (int64, bool) {
	i, found := slices.BinarySearch(m.visits, t)
	switch {
	case found:
		return t, true
	case i == 0:
		return 0, false
	case i < len(m.visits) || m.every == 0:
		return m.visits[i-1], true
	}
	last := m.visits[i-1]
	return last + (t-last)/m.every*m.every, true
}

// visit moves what is ready to the next visit, and notes how long that took.
func (w *worker) visit(p *place, ready []int64, note bool) {
	held := w.held[p.hold]
	for b, t := range ready {
		v, ok := w.m.visitFrom(t)
		if !ok && w.tally != nil {
			w.tally.unmet[p.hold] = true
		}
		if note {
			held[b] = v - t
		}
		ready[b] = v
	}
}

// pauses makes the waiting before a step of even draws, the halves of those of
// its length that this does not use: exponential about the trial's mean, so a
// step that has waited may wait as long again.
func (m *model) pauses(p *place, f *factors, lower []uint32, out []int64) {
	day, wait := float64(m.clocks[p.clock].cal.Of(1)), f.wait
	for b, u := range lower {
		x, at := 0.0, u>>exponentialBits
		if at < exponentialCells-exponentialTail {
			c := &exponentials[at]
			x = c[0] + c[1]*float64(int64(u&(1<<exponentialBits-1)))
		} else {
			x = -math.Log1p(-(float64(u) + 0.5) / (1 << 32))
		}
		out[b] = int64(day * wait[b] * x)
	}
}

// exponentials are the quantiles of the exponential law of mean 1 where cells of
// equal chance begin, and how they grow within: a straight line, off by 0.005 at
// the most. In the four outermost they are computed.
var exponentials = func() (out [exponentialCells][2]float64) {
	at := func(i int) float64 { return -math.Log1p(-float64(i) / exponentialCells) }
	for i := range exponentialCells - 1 {
		out[i] = [2]float64{at(i), (at(i+1) - at(i)) / (1 << exponentialBits)}
	}
	return out
}()

const (
	exponentialBits  = 23 // of a draw of 32 that lie within a cell
	exponentialCells = 1 << (32 - exponentialBits)
	exponentialTail  = 4
)
