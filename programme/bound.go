package programme

import (
	"fmt"
	"slices"

	"dogshore/calendar"
)

// bounds are the days between which each start (event 2i) and finish (2i+1)
// must lie, both included; 0 leaves a side open. They follow from order alone:
//
//	start <= finish of a step; the two ends that a link ties, if its lag is not
//	less than nothing
//
// Lengths and lags are plans and bound nothing that was seen: a yard may cut a
// wait short. A link with an overlap bounds nothing at all. As every rule is a
// comparison of two days, sweeping lower bounds forward and upper bounds back
// to a fixed point gives exactly the days that some course allows.
type bounds struct {
	lo, hi       []calendar.Day
	loBy, hiBy   []int32 // the step whose sighting set it, -1 for none
	loVia, hiVia []int32 // the event it came from, -1 for an own sighting
}

func newBounds(n int) *bounds {
	none := func() []int32 { return slices.Repeat([]int32{-1}, 2*n) }
	return &bounds{
		lo: make([]calendar.Day, 2*n), hi: make([]calendar.Day, 2*n),
		loBy: none(), hiBy: none(), loVia: none(), hiVia: none(),
	}
}

func (b *bounds) clone() *bounds {
	return &bounds{
		lo: slices.Clone(b.lo), hi: slices.Clone(b.hi), loBy: slices.Clone(b.loBy),
		hiBy: slices.Clone(b.hiBy), loVia: slices.Clone(b.loVia), hiVia: slices.Clone(b.hiVia),
	}
}

// atLeast and atMost set an own sighting's bound.
func (b *bounds) atLeast(e int32, d calendar.Day) {
	if d > b.lo[e] {
		b.lo[e], b.loBy[e] = d, e/2
	}
}

func (b *bounds) atMost(e int32, d calendar.Day) {
	if b.hi[e] == 0 || d < b.hi[e] {
		b.hi[e], b.hiBy[e] = d, e/2
	}
}

// tieLow and tieHigh carry a bound along "event a comes no later than event
// c", and report a change.
func (b *bounds) tieLow(a, c int32) bool {
	if b.lo[a] <= b.lo[c] {
		return false
	}
	b.lo[c], b.loBy[c], b.loVia[c] = b.lo[a], b.loBy[a], a
	return true
}

func (b *bounds) tieHigh(a, c int32) bool {
	if b.hi[c] == 0 || b.hi[a] != 0 && b.hi[a] <= b.hi[c] {
		return false
	}
	b.hi[a], b.hiBy[a], b.hiVia[a] = b.hi[c], b.hiBy[c], c
	return true
}

// ends returns the two events that a link ties, the waited-for first.
func (e *edge) ends() (a, c int32) {
	a, c = 2*e.from+1, 2*e.to
	if e.kind.fromStart() {
		a--
	}
	if e.kind.toFinish() {
		c++
	}
	return a, c
}

// binds reports whether days that were seen are compared along e.
func (e *edge) binds() bool { return !e.broken && e.lag >= 0 }

// spread carries bounds through the network until nothing changes.
func (n *net) spread(b *bounds) {
	for changed := true; changed; {
		changed = false
		for _, j := range n.order {
			for _, l := range n.in.of(j) {
				if e := &n.edges[l]; e.binds() {
					changed = b.tieLow(e.ends()) || changed
				}
			}
			changed = b.tieLow(2*j, 2*j+1) || changed
		}
		for k := len(n.order) - 1; k >= 0; k-- {
			p := n.order[k]
			for _, l := range n.out.of(p) {
				if e := &n.edges[l]; e.binds() {
					changed = b.tieHigh(e.ends()) || changed
				}
			}
			changed = b.tieHigh(2*p, 2*p+1) || changed
		}
		if n.loop == nil {
			return // one sweep each way is the fixed point of a network without loops
		}
	}
}

// settle finds the pairs of sightings that the network does not allow, and
// gives the steps between them their own sightings' bounds back.
func (n *net) settle(own, b *bounds) []Contradiction {
	type pair struct{ first, second int32 }
	told := make(map[pair]bool)
	var out []Contradiction
	var back []int32
	for e := range b.lo {
		if b.hi[e] == 0 || b.lo[e] <= b.hi[e] {
			continue
		}
		back = append(back, int32(e))
		low, high := follow(b.loVia, int32(e)), follow(b.hiVia, int32(e))
		a, c := low[len(low)-1], high[len(high)-1]
		if told[pair{a / 2, c / 2}] {
			continue
		}
		told[pair{a / 2, c / 2}] = true
		out = append(out, n.contradiction(a, c, b.lo[a], b.hi[c], low, high))
	}
	for _, e := range back {
		for _, ev := range [2]int32{e / 2 * 2, e/2*2 + 1} {
			b.lo[ev], b.loBy[ev] = own.lo[ev], own.loBy[ev]
			b.hi[ev], b.hiBy[ev] = own.hi[ev], own.hiBy[ev]
		}
	}
	return out
}

// follow lists the events from e back to the one that was seen.
func follow(via []int32, e int32) []int32 {
	out := []int32{e}
	for via[e] >= 0 {
		e = via[e]
		out = append(out, e)
	}
	return out
}

// contradiction says that event a was seen not to have come before day lo,
// yet c, which comes no earlier, was seen to have come by day hi.
func (n *net) contradiction(a, c int32, lo, hi calendar.Day, low, high []int32) Contradiction {
	first, second := n.c.Steps[a/2], n.c.Steps[c/2]
	late := Seen{Step: first.ID, Day: lo - 1, State: seenOn(first, lo-1, a%2 == 0)}
	how := "was seen " + string(late.State)
	if late.State == "" {
		late, how = n.leftOver(a/2), "is said to have had work left"
	}
	early := Seen{Step: second.ID, Day: hi, State: seenOn(second, hi, false)}
	out := Contradiction{Steps: []string{first.ID, second.ID}, Of: []Seen{late, early}}
	slices.Reverse(low)
	for _, ev := range append(low, high...) {
		id := n.c.Steps[ev/2].ID
		if ev/2 != a/2 && ev/2 != c/2 && !slices.Contains(out.Through, id) {
			out.Through = append(out.Through, id)
		}
	}
	through := ""
	if len(out.Through) > 0 {
		through = " through " + quoted(out.Through)
	}
	out.Says = fmt.Sprintf("%q was seen %s on %s, but %q, which it waits for%s, %s on %s",
		second.ID, early.State, early.Day, first.ID, through, how, late.Day)
	return out
}

// seenOn returns the last state that s was seen in on day d; notBegun asks for
// one that bounds a start from below.
func seenOn(s Step, d calendar.Day, notBegun bool) State {
	state := State("")
	for _, v := range s.Seen {
		if v.Day == d && (!notBegun || v.State == NotStarted) {
			state = v.State
		}
	}
	return state
}

func quoted(ids []string) string {
	out := ""
	for i, id := range ids {
		if i > 0 {
			out += ", "
		}
		out += fmt.Sprintf("%q", id)
	}
	return out
}
