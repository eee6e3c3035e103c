package programme

import (
	"math"
	"slices"
)

// play plays a block in state k and notes start, finish, wait and what each link
// asked for.
func (w *blendWorker) play(k, from, n int) error {
	m, x := w.m[k], w.worker[k]
	w.n = n
	err := x.pass(from, n, func(j int32, start, end []int64) {
		x.add(j, start, end)
		at := w.node(k, j)
		if at < 0 {
			return
		}
		p := &m.places[j]
		c := w.rates[p.clock]
		of := &w.of[at]
		for b := range w.n {
			of.start[k][b], of.end[k][b] = c*float64(start[b]), c*float64(end[b])
			of.wait[k][b], of.base[k][b] = 0, c*float64(p.base)
		}
		if p.wait {
			for b := range w.n {
				of.wait[k][b] = c * float64(x.pause[b])
			}
		}
		if p.hold >= 0 {
			for b := range w.n {
				of.wait[k][b] = c * float64(x.held[p.hold][b])
			}
		}
		w.ask(k, at, p, c)
	})
	if err != nil {
		return err
	}
	w.absent(k)
	return nil
}

// ask notes what the links of a place ask for, of one kind from one end the most.
func (w *blendWorker) ask(k int, at int32, p *place, c float64) {
	x, lags := w.worker[k], w.lag[k][at]
	for _, lag := range lags {
		for b := range w.n {
			if lag != nil {
				lag[b] = math.Inf(-1)
			}
		}
	}
	for q := range p.in {
		l := &p.in[q]
		from := w.node(k, l.from)
		i := slices.IndexFunc(w.nodes[at].in, func(o blendLink) bool { return o.from == from && o.finish == l.finish && o.end == l.end })
		if i < 0 || lags[i] == nil {
			continue
		}
		need := x.needs(p, l, &x.real, x.need[1])
		for b := range w.n {
			lags[i][b] = max(lags[i][b], c*float64(need[b]))
		}
	}
}

// absent gives the nodes that a state has not their moments: what is done lies in
// the past, a wait for the owner that is over is nothing, the launch comes after
// all.
func (w *blendWorker) absent(k int) {
	m := w.m[k]
	for i := range w.nodes {
		n := &w.nodes[i]
		switch {
		case n.step < 0:
			w.after(k, int32(i))
		case n.hold && n.place[k] < 0:
			step := w.at[n.step]
			if m.places[n.step].fixed {
				w.done(k, step)
			}
			of := &w.of[i]
			for b := range w.n {
				at := w.of[step].start[k][b] - w.of[step].wait[k][b]
				of.start[k][b], of.end[k][b], of.wait[k][b], of.base[k][b] = at, at, 0, at
			}
		case !n.hold && m.places[n.step].fixed:
			w.done(k, int32(i))
		}
	}
}

func (w *blendWorker) done(k int, at int32) {
	m, i := w.m[k], w.nodes[at].step
	clock := m.places[i].clock
	c := w.rates[clock]
	start, finish := m.happened(i, m.clocks[clock])
	of := &w.of[at]
	for b := range w.n {
		of.start[k][b], of.end[k][b], of.wait[k][b], of.base[k][b] = c*start, c*finish, 0, c*start
	}
}

// after puts the launch after all steps, as work of its calendar.
func (w *blendWorker) after(k int, at int32) {
	m := w.m[k]
	last := &w.of[at].end[k]
	for b := range w.n {
		last[b] = math.Inf(-1)
	}
	for i, l := range w.nodes[at].in {
		step := w.nodes[l.from].step
		p := &m.places[step]
		c, clock, yard := w.rates[p.clock], m.clocks[p.clock], m.clocks[w.yard]
		for b := range w.n {
			need := w.of[l.from].end[k][b]
			if p.clock != w.yard {
				need = float64(yard.worked(clock.earliest(int64(math.Round(need / c)))))
			}
			w.lag[k][at][i][b] = need
			last[b] = max(last[b], need)
		}
	}
	w.of[at].start[k], w.of[at].wait[k] = *last, lane{}
	for b := range w.n {
		w.of[at].base[k][b] = lowest
	}
}
