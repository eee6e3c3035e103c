package programme

import (
	"fmt"
	"slices"

	"dogshore/calendar"
)

// look reads the sightings: own bounds, links seen out of order, bounds
// through the network, and from all of them the state of each step.
func (n *net) look(r *Result) *bounds {
	own := newBounds(len(n.nodes))
	for i := range n.nodes {
		seen, contradictions := n.agreed(int32(i))
		r.Contradictions = append(r.Contradictions, contradictions...)
		n.bound(own, int32(i), seen)
		r.Contradictions = append(r.Contradictions, n.told(own, int32(i))...)
	}
	r.OutOfOrder = n.outOfOrder(own)
	b := own.clone()
	n.spread(b)
	r.Contradictions = append(r.Contradictions, n.settle(own, b)...)
	for i := range n.nodes {
		n.judge(r, b, own, int32(i))
	}
	return b
}

// rank orders the states as a step goes through them.
func (s State) rank() int {
	switch s {
	case NotStarted:
		return 0
	case UnderWay:
		return 1
	}
	return 2
}

// agreed returns a step's sightings in the order of their days, without those
// that a later one takes back: a step does not go backwards, so each such pair
// is a contradiction, and the later look holds.
func (n *net) agreed(i int32) ([]Sighting, []Contradiction) {
	s := &n.c.Steps[i]
	if len(s.Seen) < 2 {
		return s.Seen, nil
	}
	seen := slices.Clone(s.Seen)
	slices.SortStableFunc(seen, func(a, b Sighting) int { return int(a.Day - b.Day) })
	var out []Contradiction
	var kept []Sighting
	for _, v := range seen {
		for len(kept) > 0 && kept[len(kept)-1].State.rank() > v.State.rank() {
			u := kept[len(kept)-1]
			kept = kept[:len(kept)-1]
			out = append(out, Contradiction{
				Steps: []string{s.ID},
				Of:    []Seen{{Step: s.ID, Day: u.Day, State: u.State}, {Step: s.ID, Day: v.Day, State: v.State}},
				Says:  fmt.Sprintf("%q was seen %s on %s, and %s on %s", s.ID, u.State, u.Day, v.State, v.Day),
			})
		}
		kept = append(kept, v)
	}
	return sameDay(kept), out
}

// sameDay keeps the last of several states seen on one day: at the end of the
// day the step had come so far.
func sameDay(seen []Sighting) []Sighting {
	out := seen[:0]
	for i, v := range seen {
		if i+1 < len(seen) && seen[i+1].Day == v.Day {
			continue
		}
		out = append(out, v)
	}
	return out
}

// bound writes what a step's own sightings say of its start and finish.
func (n *net) bound(b *bounds, i int32, seen []Sighting) {
	start, finish := 2*i, 2*i+1
	for _, v := range seen {
		switch v.State {
		case NotStarted:
			b.atLeast(start, v.Day+1)
			b.atLeast(finish, v.Day+1)
		case UnderWay:
			b.atMost(start, v.Day)
			b.atLeast(finish, v.Day+1)
		case Done:
			b.atMost(start, v.Day)
			b.atMost(finish, v.Day)
		}
	}
}

// told takes work that is said to be left for what it says: the step is not
// done before the data date. Where it was seen done, what was seen holds.
func (n *net) told(b *bounds, i int32) []Contradiction {
	s := &n.c.Steps[i]
	if s.Left == nil || *s.Left == 0 {
		return nil
	}
	done := b.hi[2*i+1]
	if done == 0 {
		b.atLeast(2*i+1, n.c.DataDate)
		return nil
	}
	return []Contradiction{{
		Steps: []string{s.ID},
		Of:    []Seen{{Step: s.ID, Day: done, State: Done}, n.leftOver(i)},
		Says:  fmt.Sprintf("%q was seen done on %s, and is said to have %g days left on %s", s.ID, done, *s.Left, n.c.DataDate),
	}}
}

// leftOver is what somebody said of work left, as if it were a sighting of the
// evening before the data date.
func (n *net) leftOver(i int32) Seen {
	return Seen{Step: n.c.Steps[i].ID, Day: n.c.DataDate - 1, State: UnderWay, Told: true}
}

// outOfOrder finds the links whose own two ends were seen the wrong way round,
// and marks them so that no bound runs along them.
func (n *net) outOfOrder(own *bounds) []OutOfOrder {
	var out []OutOfOrder
	for l := range n.edges {
		e := &n.edges[l]
		a, c := e.ends()
		if !e.binds() || own.hi[c] == 0 || own.lo[a] <= own.hi[c] {
			continue
		}
		e.broken = true
		out = append(out, OutOfOrder{
			Step: n.c.Steps[e.to].ID, WaitsFor: n.c.Steps[e.from].ID, Type: kindNames[e.kind],
			Seen: own.hi[c], StillOn: own.lo[a] - 1, Told: seenOn(n.c.Steps[e.from], own.lo[a]-1, a%2 == 0) == "",
		})
	}
	return out
}

// judge reads a step's state off its bounds.
func (n *net) judge(r *Result, b, own *bounds, i int32) {
	start, finish := 2*i, 2*i+1
	state, by, seen := State(""), int32(-1), true
	switch {
	case b.hi[finish] != 0:
		state, by, seen = Done, b.hiBy[finish], own.hi[finish] != 0
	case b.hi[start] != 0:
		state, by, seen = UnderWay, b.hiBy[start], own.hi[start] != 0
	case b.lo[start] != 0:
		state, by, seen = NotStarted, b.loBy[start], own.lo[start] != 0
	}
	t := &r.Steps[i]
	t.State = state
	if t.Inferred = !seen; t.Inferred {
		t.InferredFrom = n.c.Steps[by].ID
	}
	t.StartFrom, t.StartBy = b.lo[start], b.hi[start]
	t.FinishFrom, t.FinishBy = b.lo[finish], b.hi[finish]
	var by4 []int32
	for _, s := range [4]int32{b.loBy[start], b.hiBy[start], b.loBy[finish], b.hiBy[finish]} {
		if s >= 0 && !slices.Contains(by4, s) {
			by4 = append(by4, s)
		}
	}
	slices.Sort(by4)
	for _, s := range by4 {
		t.BoundBy = append(t.BoundBy, n.c.Steps[s].ID)
	}
	d := &n.nodes[i]
	d.state, d.done, d.begun = state, state == Done, state == UnderWay
}

// middle takes a moment for something that happened between the days lo and
// hi, both included: the middle, or, where only hi is known, one end of it.
func middle(lo, hi calendar.Day, one calendar.Moment) calendar.Moment {
	if lo == 0 {
		return one
	}
	return (calendar.At(lo) + calendar.At(hi+1)) / 2
}
