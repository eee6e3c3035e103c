package programme

import "slices"

// Waiting answers what steps wait for, as far as it has not come yet.
type Waiting struct {
	n     *net
	into  csr // links by the event that waits
	place map[string]int32
	mark  []int32 // of events: the query that has met it last
	query int32
}

// Waits makes a case and its result ready for questions. The result must be
// the case's own.
func Waits(c Case, r Result) (*Waiting, error) {
	n, err := build(&c)
	if err != nil {
		return nil, err
	}
	w := &Waiting{n: n, into: n.byEvent(), place: make(map[string]int32, len(c.Steps)), mark: make([]int32, 2*len(c.Steps))}
	for i := range c.Steps {
		w.place[c.Steps[i].ID] = int32(i)
		n.nodes[i].done = r.Steps[i].State == Done
		n.nodes[i].begun = r.Steps[i].State == UnderWay
	}
	return w, nil
}

// came reports whether an event lies in the past.
func (w *Waiting) came(e int32) bool {
	n := &w.n.nodes[e/2]
	return n.done || n.begun && e%2 == 0
}

// For returns the steps that id's start waits for itself and that have not
// come so far: by FS not done, by SS not begun. They stand in the order of the
// case's links.
func (w *Waiting) For(id string) []string {
	i, ok := w.place[id]
	if !ok || w.came(2*i) {
		return nil
	}
	var out []string
	for k := 0; ; k++ {
		e, more := w.n.before(w.into, 2*i, k)
		if !more {
			return out
		}
		if name := w.n.c.Steps[e/2].ID; !w.came(e) && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
}

// Before returns the steps that must still be done, or begun, before id can
// start, directly or through others, in the order of the network. A step that
// id follows only by their finishes (FF) is not among them.
func (w *Waiting) Before(id string) []string {
	i, ok := w.place[id]
	if !ok || w.came(2*i) {
		return nil
	}
	w.query++
	todo := []int32{2 * i}
	w.mark[2*i] = w.query
	for len(todo) > 0 {
		e := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for k := 0; ; k++ {
			p, more := w.n.before(w.into, e, k)
			if !more {
				break
			}
			if !w.came(p) && w.mark[p] != w.query {
				w.mark[p] = w.query
				todo = append(todo, p)
			}
		}
	}
	var out []string
	for _, j := range w.n.order {
		if j != i && (w.mark[2*j] == w.query || w.mark[2*j+1] == w.query) {
			out = append(out, w.n.c.Steps[j].ID)
		}
	}
	return out
}

// Ahead returns how many steps stand before id: the length of Before. It is 0
// for one that can come next or has begun.
func (w *Waiting) Ahead(id string) int { return len(w.Before(id)) }
