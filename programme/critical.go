package programme

import "slices"

// trace marks what lies on a longest chain: from the steps that finish last
// back through every link that drives, that is, whose need is the early start
// itself. Unlike a float of nothing this holds on several calendars and under
// hard dates.
func (p *pass) trace(r *Result) {
	var todo []int32
	mark := func(i int32) {
		if !r.Steps[i].Critical && !p.nodes[i].done {
			r.Steps[i].Critical = true
			todo = append(todo, i)
		}
	}
	for i := range p.nodes {
		if p.ef[i] == r.Finish {
			mark(int32(i))
		}
	}
	for len(todo) > 0 {
		j := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		n := &p.nodes[j]
		for _, l := range p.in.of(j) {
			e := &p.edges[l]
			if n.begun && e.kind == ss || p.need(e, n, p.end(e)) != p.es[j] {
				continue
			}
			if from := &p.nodes[e.from]; from.begun && e.kind.fromStart() {
				continue // driven by a start that lies in the past
			}
			mark(e.from)
		}
	}
	r.Critical = []string{}
	for _, i := range p.order {
		if r.Steps[i].Critical {
			r.Critical = append(r.Critical, p.c.Steps[i].ID)
		}
	}
}

// Path returns the chain of steps that sets the early start of step id, the
// first of the chain first and id last: each waits for the one before it by
// the link that drives. The first waits for the data date or its own NotFrom,
// or for something that is done. It is nil for a step without a start.
func (r Result) Path(id string) []string {
	place := make(map[string]int, len(r.Steps))
	for i := range r.Steps {
		place[r.Steps[i].ID] = i
	}
	var out []string
	for at := id; at != ""; {
		i, ok := place[at]
		if !ok || !r.Steps[i].StartDated || slices.Contains(out, at) {
			break
		}
		out = append(out, at)
		at = r.Steps[i].Drives
	}
	slices.Reverse(out)
	return out
}

// LongestPath returns the Path of the step that finishes last, of several the
// last in the order of the network; nil where no finish is known.
func (r Result) LongestPath() []string {
	last := make(map[string]bool)
	for i := range r.Steps {
		if t := &r.Steps[i]; t.Dated && t.EarlyFinish == r.Finish {
			last[t.ID] = true
		}
	}
	for k := len(r.Order) - 1; k >= 0; k-- {
		if last[r.Order[k]] {
			return r.Path(r.Order[k])
		}
	}
	return nil
}
