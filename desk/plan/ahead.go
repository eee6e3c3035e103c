package plan

import (
	"math/bits"
	"sort"

	"dogshore/programme"
	"dogshore/record"
)

// unknown stands for a count that the record does not carry.
const unknown = -1

// set is a set of steps, by their place in the network order.
type set []uint64

func newSet(n int) set { return make(set, (n+63)/64) }

func (s set) add(i int) { s[i/64] |= 1 << (i % 64) }

func (s set) join(t set) {
	for i, w := range t {
		s[i] |= w
	}
}

func (s set) count() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

// countAhead counts, for each step, the steps that have to begin before it
// and have not, and finds what it still waits for. A step with none ahead of
// it can come next. What is under way is not ahead: nothing else has to be
// begun first.
func (d *reading) countAhead() {
	place := map[record.Ref]int{}
	starts, ends := make([]set, len(d.live)), make([]set, len(d.live))
	for i, ref := range d.live {
		place[ref] = i
		starts[i], ends[i] = newSet(len(d.live)), newSet(len(d.live))
		s := d.steps[ref]
		for _, l := range d.in[ref] {
			d.addLink(l, place[l.from], starts, ends, i)
			if !d.farEnough(l) {
				s.Waits = append(s.Waits, l.from)
			}
		}
		s.Ahead = starts[i].count()
		if s.State == underWay || s.State == done {
			s.Ahead, s.Waits = 0, nil
		}
	}
	if d.a.Network.Order == nil {
		d.countByRank()
	}
	d.countUnbegunParts()
	d.findNext()
}

// addLink joins to the sets of step i what a link makes it wait for: starts
// holds what must begin before its start, ends what besides must begin before
// its end.
func (d *reading) addLink(l link, from int, starts, ends []set, i int) {
	state := stage(d.steps[l.from].State)
	into := starts[i]
	if l.typ == programme.FF || l.typ == programme.SF {
		into = ends[i]
	}
	if state < stage(underWay) {
		into.add(from)
		into.join(starts[from])
	}
	if (l.typ == programme.FS || l.typ == programme.FF) && state < stage(done) {
		into.join(ends[from])
	}
}

// farEnough reports whether a link lets its step begin.
func (d *reading) farEnough(l link) bool {
	state := stage(d.steps[l.from].State)
	switch l.typ {
	case programme.FS:
		return state == stage(done)
	case programme.SS:
		return state >= stage(underWay)
	}
	return true // it holds back the end only
}

// countByRank counts where no network could be worked out: on each part, the
// steps not begun that stand before in the usual order.
func (d *reading) countByRank() {
	waiting := map[record.Ref]int{}
	for _, ref := range d.live {
		s := d.steps[ref]
		if !s.Rank.Known || s.Part == "" {
			continue
		}
		if stage(s.State) < stage(underWay) {
			s.Ahead = waiting[s.Part]
			waiting[s.Part]++
		}
	}
}

// countUnbegunParts counts steps of other parts for what has no link to them:
// a step of a part that nobody has begun, and whose order rests on rank alone
// within it, comes after all that has a lower rank on the parts begun.
func (d *reading) countUnbegunParts() {
	begun, linked := map[record.Ref]bool{}, map[record.Ref]bool{}
	for _, ref := range d.live {
		s := d.steps[ref]
		if stage(s.State) >= stage(underWay) {
			begun[s.Part] = true
		}
		for _, l := range d.in[ref] {
			if d.steps[l.from].Part != s.Part {
				linked[s.Part] = true
			}
		}
	}
	var lower []float64 // ranks of steps not begun on other parts, in order
	for _, ref := range d.live {
		if s := d.steps[ref]; s.Rank.Known && stage(s.State) < stage(underWay) {
			lower = append(lower, s.Rank.SI)
		}
	}
	sort.Float64s(lower)
	own := map[record.Ref]int{}
	ranked := append([]record.Ref(nil), d.live...)
	sort.SliceStable(ranked, func(i, k int) bool { return d.ranksBefore(ranked[i], ranked[k]) })
	for _, ref := range ranked {
		s := d.steps[ref]
		if !s.Rank.Known || stage(s.State) >= stage(underWay) {
			continue
		}
		before := own[s.Part]
		own[s.Part]++
		if s.Part == "" || begun[s.Part] || linked[s.Part] {
			continue
		}
		others := sort.SearchFloat64s(lower, s.Rank.SI) - before
		s.Ahead += max(0, others)
	}
}

// findNext lists the steps that can come next: first those that wait for
// nothing, then those that wait for what is under way; each by rank.
func (d *reading) findNext() {
	for _, ref := range d.live {
		if s := d.steps[ref]; s.Ahead == 0 && stage(s.State) < stage(underWay) {
			d.a.Next = append(d.a.Next, ref)
		}
	}
	sort.SliceStable(d.a.Next, func(i, k int) bool {
		a, b := d.steps[d.a.Next[i]], d.steps[d.a.Next[k]]
		if x, y := len(a.Waits) == 0, len(b.Waits) == 0; x != y {
			return x
		}
		return d.ranksBefore(a.Self, b.Self)
	})
}

// aheadOf returns how many steps come before a step, or -1.
func (d *reading) aheadOf(ref record.Ref) int {
	if s := d.steps[ref]; s != nil {
		return s.Ahead
	}
	return unknown
}
