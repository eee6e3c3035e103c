package programme

import (
	"math"
	"slices"

	"dogshore/calendar"
)

// layLaunch finds the place of the launch. Where the case names none, it is a
// moment after every step that nothing waits for the finish of.
func (m *model) layLaunch() {
	m.launch = -1
	if m.c.Launch != "" {
		if j := m.byID[m.c.Launch]; m.places[j].ends {
			m.launch = j
		}
		return
	}
	for _, j := range m.net.order {
		if p := &m.places[j]; !p.fixed && !p.ends {
			return
		}
	}
	m.layEnds()
}

// layEnds lays ends among the steps, each after some finishes on one calendar
// and the end before, so that no finish is kept for long, and a moment after the
// last of them, which is the launch.
func (m *model) layEnds() {
	const together = 16
	var order []int32
	open := make([][]simLink, len(m.clocks))
	last := slices.Repeat([]int32{-1}, len(m.clocks))
	put := func(p place) int32 {
		m.places = append(m.places, p)
		order = append(order, int32(len(m.places)-1))
		return int32(len(m.places) - 1)
	}
	link := func(j int32, plain bool) simLink {
		m.links++
		return simLink{from: j, finish: true, plain: plain, clock: m.elapsed(), snap: -1, id: m.links - 1}
	}
	for _, j := range m.order {
		order = append(order, j)
		if int(j) >= len(m.net.nodes) || m.waitedFor(j) {
			continue
		}
		c := m.places[j].clock
		if len(open[c]) == 0 && last[c] >= 0 {
			open[c] = append(open[c], link(last[c], true))
		}
		if open[c] = append(open[c], link(j, true)); len(open[c]) == together {
			last[c] = put(place{starts: true, ends: true, clock: c, base: lowest, final: lowest, hold: -1, in: open[c]})
			open[c] = nil
		}
	}
	var all []simLink
	for c := range open {
		if len(open[c]) == 0 && last[c] >= 0 {
			all = append(all, link(last[c], false))
		}
		for _, l := range open[c] {
			l.plain = false
			all = append(all, l)
		}
	}
	if len(all) > 0 {
		m.launch = put(place{starts: true, ends: true, at: true, clock: m.elapsed(), base: lowest, final: lowest, hold: -1, in: all})
	}
	m.order = order
}

// waitedFor reports whether another step surely finishes no earlier than j.
func (m *model) waitedFor(j int32) bool {
	for _, l := range m.net.out.of(j) {
		e := &m.net.edges[l]
		byWork := e.kind.toFinish() && e.same && m.places[j].at // a moment after hours: the work may be done before
		if !e.kind.fromStart() && e.lag >= 0 && !m.places[e.to].fixed && !byWork {
			return true
		}
	}
	return false
}

// countLaunch notes the launch of each trial of the block.
func (w *worker) countLaunch(from int) {
	m := w.m
	if m.launch < 0 {
		return
	}
	p := &m.places[m.launch]
	c := m.clocks[p.clock]
	for b, k := range w.real.end[p.end][:w.n] {
		m.last[from+b] = c.earliest(k)
	}
}

// launched makes the spread of the launch.
func (m *model) launched(out *Outlook, t *tally) {
	l := &out.Launch
	if m.c.Launch != "" {
		if n := &m.net.nodes[m.byID[m.c.Launch]]; n.done {
			l.Actual = n.to
			return
		}
	}
	if m.launch < 0 {
		return
	}
	l.Dated = true
	out.samples = m.last[:t.trials]
	s := out.samples
	of := func(q float64) calendar.Moment { return m.zero + calendar.Moment(statistic(s, q)) }
	l.Dates, l.P80 = Dates{P10: of(0.1), P50: of(0.5), P90: of(0.9)}, of(0.8)
	off := 1 / math.Sqrt(float64(len(s))) // of a share of a half, twice
	l.Even = [2]calendar.Moment{of(max(0, 0.5-off)), of(min(1, 0.5+off))}
	sum := 0.0
	for _, v := range s {
		sum += float64(v)
	}
	l.Mean = m.zero + calendar.Moment(sum/float64(len(s)))
	for _, d := range m.c.Contract {
		l.By = append(l.By, ByDay{Day: d, Chance: below(s, m.time(calendar.At(d+1))+1)})
	}
}
