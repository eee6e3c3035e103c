package programme

import (
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

// layEnds lays moments among the steps, each after some finishes and the moment
// before, so that no finish is kept for long. The last is the launch.
func (m *model) layEnds() {
	const together = 16
	var order []int32
	var open []simLink
	collect := func() {
		end := int32(len(m.places))
		m.places = append(m.places, place{starts: true, ends: true, at: true, clock: m.elapsed(), final: lowest, hold: -1, in: open})
		order, open, m.launch = append(order, end), nil, end
	}
	tie := func(j int32) {
		open = append(open, simLink{from: j, finish: true, clock: m.elapsed(), snap: -1, id: m.links})
		m.links++
	}
	for _, j := range m.order {
		order = append(order, j)
		if int(j) >= len(m.net.nodes) || m.waitedFor(j) {
			continue
		}
		if len(open) == 0 && m.launch >= 0 {
			tie(m.launch)
		}
		if tie(j); len(open) == together {
			collect()
		}
	}
	if len(open) > 0 {
		collect()
	}
	m.order = order
}

// waitedFor reports whether another step surely finishes no earlier than j.
func (m *model) waitedFor(j int32) bool {
	for _, l := range m.net.out.of(j) {
		if e := &m.net.edges[l]; !e.kind.fromStart() && e.lag >= 0 && !m.places[e.to].fixed {
			return true
		}
	}
	return false
}

// countLaunch notes the launch of each trial of the block.
func (w *worker) countLaunch(from, n int) {
	m := w.m
	if m.launch < 0 {
		return
	}
	p := &m.places[m.launch]
	c := m.clocks[p.clock]
	for b, k := range w.end[p.row][:n] {
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
	s := slices.Sorted(slices.Values(out.samples))
	of := func(q float64) calendar.Moment { return m.zero + calendar.Moment(sample(s, q)) }
	l.Dates, l.P80 = Dates{P10: of(0.1), P50: of(0.5), P90: of(0.9)}, of(0.8)
	sum := 0.0
	for _, v := range s {
		sum += float64(v)
	}
	l.Mean = m.zero + calendar.Moment(sum/float64(len(s)))
	for _, d := range m.c.Contract {
		l.By = append(l.By, ByDay{Day: d, Chance: below(s, m.time(calendar.At(d+1))+1)})
	}
}
