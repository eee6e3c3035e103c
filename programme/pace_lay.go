package programme

import "math"

// laying is how the course of a step is laid, as far as no pace changes it.
type laying struct {
	begins            beginning
	start, finish     scale
	toStart, toFinish apart     // from what it waits for, and from its start
	says              bool      // whether the wait before it teaches: it waits for nothing but its links
	pause             span      // in which that wait ended
	fixed             []float64 // what is laid at the distances of toStart by a law that no pace changes
}

// beginning says what a start is laid by.
type beginning int

const (
	notSeen   beginning = iota // it was not seen to begin
	unbound                    // nothing that it waits for was seen
	heldUp                     // it waits for more than its links
	afterWait                  // the links, and the yard's wait
	inTime                     // the links, and the wait of a step that had time
	atOnce                     // the links alone
)

// laying makes step j ready to be laid.
func (o *observer) laying(j int32) laying {
	g, ready := &o.seen[j], o.gates[j].within
	var l laying
	l.pause, l.says = o.pause(j)
	if !g.begun {
		return l
	}
	l.start = ruled(g.start)
	switch {
	case ready.n == 0:
		l.begins = unbound
	case o.held[j] || o.barred(j, ready.lo):
		l.begins = heldUp
	case o.waits(j) && o.idle[j]:
		l.begins = inTime
	case o.waits(j):
		l.begins = afterWait
	default:
		l.begins = atOnce
	}
	if l.begins >= afterWait {
		l.toStart = newApart(ready, l.start)
		l.fixed = fixed(l.begins, &l.toStart)
	}
	if g.done {
		l.finish = ruled(g.finish)
		l.toFinish = newApart(l.start, l.finish)
	}
	return l
}

// fixed returns what is laid at the distances of a for the laws that no pace and
// no wait changes: it is worked once, not at each cell of what is learned.
func fixed(b beginning, a *apart) []float64 {
	u := make([]float64, len(a.x))
	switch b {
	case inTime:
		a.lay(lingering{}, u)
	case atOnce:
		a.lay(exact(0), u)
	default:
		return nil
	}
	return u
}

// waits reports whether the yard's wait comes before step j: a supplier, the
// clock and a mere moment have none.
func (o *observer) waits(j int32) bool {
	s := &o.c.Steps[j]
	return !s.Supplier && s.Hours == 0 && o.laws[j] != exact(0)
}

// pause reads in which span the wait before step j ended, where it waits for
// nothing but its links.
func (o *observer) pause(j int32) (span, bool) {
	ready := o.gates[j].within
	if !o.gates[j].whole || !o.waits(j) || o.held[j] || o.idle[j] || o.barred(j, ready.lo) {
		return span{}, false
	}
	cal, start := o.nodes[j].cal, span{ready.lo, math.Inf(1)}
	if d := o.own.lo[2*j]; d != 0 {
		start.lo = max(start.lo, morning(cal, d))
	}
	if d := o.own.hi[2*j]; d != 0 {
		start.hi = morning(cal, d+1)
	}
	return start, start.hi > ready.lo && (start.lo > ready.lo || !math.IsInf(start.hi, 1))
}
