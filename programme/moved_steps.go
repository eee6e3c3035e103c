package programme

import "math"

// midpoints is in how many parts the way from one state to the other is cut.
const midpoints = 16

// rounding is how far two moments on different calendars may lie apart and be
// one, in seconds.
const rounding = 0.5

// lanes are how many trials go together: as many as there are draws of the pace
// as a rule, so that each counts as often as the others.
const lanes = 256

// lane is a number for each of them.
type lane = [lanes]float64

// shares are the parts that steps have in what moved the sum of launches, by
// their ids.
//
//	part of j = E integral over l from 0 to 1 of 1{j drives at l} (d1_j - d0_j)
//
// trial by trial, with b and w beside d (R. Aumann, L. Shapley, Values of
// non-atomic games, 1974, from memory; its integral by 16 midpoints). The launch
// is piecewise straight in l, so what is left of the whole is what the midpoints
// miss where the chain that drives changes, and what other calendars and the
// links that have a lag of their own did.
type shares struct {
	step  map[string]float64
	whole float64
}

// add adds o, so many times.
func (s *shares) add(o shares, times float64) {
	if s.step == nil {
		s.step = make(map[string]float64)
	}
	s.whole += times * o.whole
	for id, x := range o.step {
		s.step[id] += times * x
	}
}

// blendWorker passes blocks of trials between two states.
type blendWorker struct {
	*blend
	n      int // trials at hand
	worker [2]*worker
	of     []blendLanes
	lag    [2][][]*lane // by node and link; nil for steady ones
	xs, xe []lane       // at one l
	was    []lane       // xs in the sweep before, where there are loops
	driver [][lanes]int32

	length, pause, need lane
}

// blendLanes is what a node has in each state, in seconds of work of the
// launch's calendar.
type blendLanes struct{ start, end, wait, base, length [2]lane }

func (b *blend) newWorker() *blendWorker {
	n := len(b.nodes)
	w := &blendWorker{blend: b, of: make([]blendLanes, n), xs: make([]lane, n), xe: make([]lane, n), driver: make([][lanes]int32, n)}
	if b.loops {
		w.was = make([]lane, n)
	}
	for k := range b.m {
		w.worker[k] = b.m[k].newWorker()
		w.lag[k] = make([][]*lane, len(b.nodes))
		for i := range b.nodes {
			w.lag[k][i] = make([]*lane, len(b.nodes[i].in))
			for q := range b.nodes[i].in {
				if !b.nodes[i].in[q].steady {
					w.lag[k][i][q] = new(lane)
				}
			}
		}
	}
	return w
}

// run plays n trials from one on in both states, and shares out what moved their
// launches.
func (w *blendWorker) run(from, n int) (shares, error) {
	for k := range w.m {
		if err := w.play(k, from, n); err != nil {
			return shares{}, err
		}
		w.worker[k].countLaunch(from)
	}
	for i := range w.nodes {
		w.settle(int32(i))
	}
	out := shares{step: make(map[string]float64)}
	for b := range n {
		out.whole += w.of[w.launch].end[1][b] - w.of[w.launch].end[0][b]
	}
	parts := make([]float64, len(w.m[0].net.nodes))
	for q := range midpoints {
		w.pass((float64(q) + 0.5) / midpoints)
		for b := range n {
			w.trace(b, parts)
		}
	}
	for i, x := range parts {
		if x != 0 {
			out.step[w.m[0].c.Steps[i].ID] = x / midpoints
		}
	}
	return out, nil
}

// settle turns what links asked for into their lags, and fits base and lags so
// that both ends of the blend are the trials that were played.
func (w *blendWorker) settle(at int32) {
	n := &w.nodes[at]
	for k := range w.m {
		x := &w.of[at]
		start, length, wait, base := &x.start[k], &x.length[k], &x.wait[k], &x.base[k]
		for b := range lanes {
			length[b] = x.end[k][b] - start[b]
		}
		var bound, most lane
		for b := range lanes {
			bound[b], most[b] = math.Inf(-1), math.Inf(-1)
		}
		for i, l := range n.in {
			if !l.has[k] {
				continue
			}
			lag, from := w.lag[k][at][i], w.moment(k, l)
			for b := range lanes {
				need := from[b] + l.lag
				if lag != nil {
					need = lag[b]
					lag[b] -= from[b]
				}
				if l.end {
					bound[b] = max(bound[b], need-length[b])
				} else {
					most[b] = max(most[b], need)
				}
			}
		}
		for b := range lanes {
			free := start[b] - wait[b]
			if base[b] > free || most[b] < free-rounding && bound[b] < start[b]-rounding {
				base[b] = free
			}
		}
	}
	for i, l := range n.in {
		for k := range w.m {
			if !l.has[k] {
				w.loosen(k, at, i)
			}
		}
	}
}

// moment is the end that a link waits for.
func (w *blendWorker) moment(k int, l blendLink) *lane {
	if l.finish {
		return &w.of[l.from].end[k]
	}
	return &w.of[l.from].start[k]
}

// loosen gives a link that state k has not the lag that it has in the other, or
// the one that just does not bind.
func (w *blendWorker) loosen(k int, at int32, i int) {
	l, x := w.nodes[at].in[i], &w.of[at]
	from := w.moment(k, l)
	for b := range lanes {
		most := x.start[k][b] - x.wait[k][b]
		if l.end {
			most = x.end[k][b]
		}
		w.lag[k][at][i][b] = min(w.lag[1-k][at][i][b], most-from[b])
	}
}

// pass lays all nodes at l, and notes which link drives each: -1 is its base.
func (w *blendWorker) pass(l float64) {
	for range w.m[0].net.mostSweeps() {
		changed := false
		for i := range w.nodes {
			x, at, length, wait := &w.of[i], &w.xs[i], &w.length, &w.pause
			mix(at, &x.base[0], &x.base[1], l)
			for b := range lanes {
				w.driver[i][b] = -1
			}
			w.raise(i, l, false)
			mix(wait, &x.wait[0], &x.wait[1], l)
			mix(length, &x.length[0], &x.length[1], l)
			for b := range lanes {
				at[b] += wait[b]
			}
			w.raise(i, l, true)
			for b := range lanes {
				end := at[b] + length[b]
				changed = changed || w.loops && (end != w.xe[i][b] || at[b] != w.was[i][b])
				w.xe[i][b] = end
			}
			if w.loops {
				w.was[i] = *at
			}
		}
		if !changed {
			return
		}
	}
}

// mix puts what lies between a and b at l into out.
func mix(out, a, b *lane, l float64) {
	for i := range out {
		out[i] = a[i] + l*(b[i]-a[i])
	}
}

// raise raises the starts of node i to what the links to it, or to its finish,
// ask for.
func (w *blendWorker) raise(i int, l float64, end bool) {
	for q := range w.nodes[i].in {
		link := &w.nodes[i].in[q]
		if link.end != end {
			continue
		}
		need := &w.xs[link.from]
		if link.finish {
			need = &w.xe[link.from]
		}
		if a0, a1 := w.lag[0][i][q], w.lag[1][i][q]; a0 != nil {
			mix(&w.need, a0, a1, l)
			for b := range lanes {
				w.need[b] += need[b]
			}
			need = &w.need
		} else if link.lag != 0 {
			for b := range lanes {
				w.need[b] = need[b] + link.lag
			}
			need = &w.need
		}
		if end {
			for b := range lanes {
				w.need[b] = need[b] - w.length[b]
			}
			need = &w.need
		}
		at, driver := &w.xs[i], &w.driver[i]
		for b := range lanes {
			if v := need[b]; v > at[b] || v == at[b] && driver[b] < 0 {
				at[b], driver[b] = v, int32(q)
			}
		}
	}
}

// trace goes back along the chain that drives the launch of trial b, and adds
// what each step on it changes by: its length, base and wait, the lag of a link
// that only one state has, and, where it waits for the owner, the days of the
// week on which it is ready. What other calendars do to a lag is nobody's.
func (w *blendWorker) trace(b int, parts []float64) {
	change := func(x *[2]lane) float64 { return x[1][b] - x[0][b] }
	at, finish := w.launch, true
	for range 2 * len(w.nodes) {
		n, x := &w.nodes[at], &w.of[at]
		add, length := 0.0, change(&x.length)
		if finish {
			add += length
		}
		q := w.driver[at][b]
		switch {
		case q < 0:
			add += change(&x.base) + change(&x.wait)
		case n.in[q].end:
			add -= length
		default:
			add += change(&x.wait)
		}
		if q >= 0 {
			if l := n.in[q]; !l.steady && (l.has[0] != l.has[1] || n.hold || w.nodes[l.from].hold) {
				add += w.lag[1][at][q][b] - w.lag[0][at][q][b]
			}
		}
		if n.step >= 0 {
			parts[n.step] += add
		}
		if q < 0 {
			return
		}
		at, finish = n.in[q].from, n.in[q].finish
	}
}
