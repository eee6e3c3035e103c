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

// pauses draws the waiting of a block of trials before a step: exponential
// about the trial's mean, so a step that has waited may wait as long again.
func (w *worker) pauses(p *place, from int) {
	day := float64(w.m.clocks[p.clock].cal.Of(1))
	w.pause = w.pause[:w.n]
	p.key.Many(uint64(from), w.bits[:w.n])
	for b, draw := range w.bits[:w.n] {
		u := uint32(draw) // the half that the length does not use
		at := u >> lower
		if at >= cells-outer {
			w.pause[b] = int64(day * w.factors.wait[b] * -math.Log1p(-(float64(u)+0.5)/(1<<32)))
			continue
		}
		x := exponentials[at]
		x += (exponentials[at+1] - x) * (float64(int64(u&(1<<lower-1))) * (1.0 / (1 << lower)))
		w.pause[b] = int64(day * w.factors.wait[b] * x)
	}
}

// exponentials are the quantiles of the exponential law of mean 1 where cells of
// equal chance begin; between them runs a straight line. In the four outermost,
// where that is off by more than 0.001, it is computed.
var exponentials = func() (x [cells + 1]float64) {
	for i := range cells {
		x[i] = -math.Log1p(-float64(i) / cells)
	}
	return x
}()

const (
	cells = 512
	outer = 4
	lower = 32 - 9 // bits of a draw that lie within a cell
)
