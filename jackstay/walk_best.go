package jackstay

import (
	"math"
	"slices"
)

// cost of a way so far, compared from the left.
type cost struct {
	gap     float64 // m on no hook
	cannot  int     // tasks out of reach
	low     float64 // m gone lower than told
	moments int
	changes int
	leg     float64 // length of leg times way on it
}

func (a cost) less(b cost) bool {
	switch {
	case math.Abs(a.gap-b.gap) > 1e-9:
		return a.gap < b.gap
	case a.cannot != b.cannot:
		return a.cannot < b.cannot
	case math.Abs(a.low-b.low) > 1e-9:
		return a.low < b.low
	case a.moments != b.moments:
		return a.moments < b.moments
	case a.changes != b.changes:
		return a.changes < b.changes
	}
	return a.leg < b.leg-1e-9
}

// reachOf is what a station has within reach: of each thing the distance from
// the ring, as one is and kneeling, and whether a hand gets there kneeling.
type reachOf struct {
	as, kneel float64
	hand      bool
}

// best goes the way station by station, keeping for each hold the least cost to
// be there on it: the shortest path through all ways of clipping.
func (w *walker) best() Walked {
	legs, n := len(w.legs), len(w.things)
	none := n * legs // the state of being on no hook
	states := none + 1
	cost0 := make([]cost, states)
	from := make([][]int32, len(w.at))
	for i := range cost0 {
		cost0[i].gap = math.Inf(1)
	}
	near := make([]reachOf, n)
	for i := range w.at {
		w.reachFrom(&w.at[i], near)
		from[i] = make([]int32, states)
		next := make([]cost, states)
		step := 0.0
		if i > 0 {
			step = w.at[i].along - w.at[i-1].along
		}
		for k := range next {
			next[k].gap = math.Inf(1)
			if i == 0 { // clipped on before the first step, or not
				if k == none || near[k/legs].kneel <= w.reach(k) {
					next[k] = cost{}
				}
				from[i][k] = int32(k)
				continue
			}
			from[i][k] = int32(k)
			next[k] = w.arrive(k, none, cost0[k], near, &w.at[i], step)
		}
		if !w.at[i].fixed {
			w.change(next, from[i], near, none)
		}
		cost0 = next
	}
	end := 0
	for k := range cost0 {
		if cost0[k].less(cost0[end]) {
			end = k
		}
	}
	return w.trace(from, end, none, cost0[end])
}

// reach is the leg of a state, the error of the tracing taken off.
func (w *walker) reach(state int) float64 { return w.legs[state%len(w.legs)] - w.s.tracing }

func (w *walker) reachFrom(at *stationOf, out []reachOf) {
	for t := range w.things {
		p, d := w.things[t].near(at.kneel)
		level := p.plan().Sub(at.place).Norm()
		_, as := w.things[t].near(at.ring)
		out[t] = reachOf{as: as, kneel: d, hand: level <= w.person.Reach && p[2] <= at.kneel[2]+w.person.Reach}
	}
}

// arrive is the cost of coming to a station on the hold that one was on.
func (w *walker) arrive(k, none int, c cost, near []reachOf, at *stationOf, step float64) cost {
	if k == none {
		c.gap += step
		if at.task != "" {
			c.cannot++
		}
		return c
	}
	c.leg += step * w.legs[k%len(w.legs)]
	if near[k/len(w.legs)].as > w.reach(k) {
		switch { // one may be here, but lower
		case near[k/len(w.legs)].kneel > w.reach(k):
			c.gap = math.Inf(1)
		case at.task != "":
			c.cannot++
		}
		c.low += step
	}
	return c
}

// change lets one change the hold at a station: from each to each, once.
func (w *walker) change(next []cost, from []int32, near []reachOf, none int) {
	legs := len(w.legs)
	before := append([]cost(nil), next...)
	for k := range next {
		if k != none && (near[k/legs].kneel > w.reach(k) || !near[k/legs].hand) {
			continue
		}
		for j := range before {
			c := before[j]
			if j == k || math.IsInf(c.gap, 1) {
				continue
			}
			switch {
			case j == none || k == none: // clipping on after a gap, or off before it
				c.changes++
			case near[j/legs].kneel > w.reach(j):
				continue
			case j%legs == k%legs: // the hook that holds is the one that is to go on
				c.moments++
				c.changes++
			default:
				c.changes++
			}
			if c.less(next[k]) {
				next[k], from[k] = c, int32(j)
			}
		}
	}
}

// trace goes back along the best way, and tells it from its beginning.
func (w *walker) trace(from [][]int32, end, none int, c cost) Walked {
	legs := len(w.legs)
	on := make([]int, len(w.at)) // the hold on which one leaves each station
	for i, k := len(w.at)-1, end; i >= 0; i-- {
		on[i] = k
		k = int(from[i][k])
	}
	out := Walked{Length: w.at[len(w.at)-1].along, Changes: c.changes, Moments: c.moments, Low: c.low}
	for i := range w.at {
		k, here, next := on[i], &w.at[i], &w.at[min(i+1, len(w.at)-1)]
		fresh := i == 0 || on[i-1] != k
		if k == none {
			if fresh {
				out.Gaps = append(out.Gaps, Gap{From: here.along, Start: here.place})
			}
			g := &out.Gaps[len(out.Gaps)-1]
			g.To, g.End = next.along, next.place
		} else {
			if fresh {
				out.Parts = append(out.Parts, Part{On: w.things[k/legs].name, Leg: w.legs[k%legs], From: here.along})
			}
			out.Parts[len(out.Parts)-1].To = next.along
		}
		if here.task == "" {
			continue
		}
		if k == none {
			out.CantDo = append(out.CantDo, here.task)
			continue
		}
		part := &out.Parts[len(out.Parts)-1]
		part.Done = append(part.Done, here.task)
		if _, d := w.things[k/legs].near(here.ring); d > w.reach(k) {
			out.CantDo = append(out.CantDo, here.task)
		}
	}
	out.tidy()
	out.Clipped = len(out.Gaps) == 0 && out.Moments == 0
	return out
}

// tidy leaves out what was changed to and from at one place, and finds where an
// eye would close each gap.
func (w *Walked) tidy() {
	w.Parts = slices.DeleteFunc(w.Parts, func(p Part) bool { return p.To == p.From && len(p.Done) == 0 })
	w.Gaps = slices.DeleteFunc(w.Gaps, func(g Gap) bool { return g.To == g.From })
	for i := range w.Gaps {
		g := &w.Gaps[i]
		g.Eye = g.Start.Add(g.End).Scale(0.5)
	}
}
