package programme

import (
	"slices"
	"strings"
)

// sort orders the steps so that none stands before what it waits for, and
// keeps to the order of the case where it can. A chain that leads from a
// step's start or finish back to the same is a cycle, and told by its steps.
// A loop that is none (B starts after A starts, A finishes after B finishes)
// is noted: it is passed by repeated sweeps.
func (n *net) sort(bad *Invalid) {
	cycles := 0
	order := walk(len(n.nodes), func(j int32, i int) (int32, bool) {
		links := n.in.of(j)
		if i >= len(links) {
			return 0, false
		}
		return n.edges[links[i]].from, true
	}, func(loop []int32) {
		cycles++
		if n.loop == nil {
			n.loop = loop
		}
	})
	if cycles == 0 {
		n.order = order
		return
	}
	n.sortEvents(bad)
}

// sortEvents orders starts (2i) and finishes (2i+1); the steps then stand in
// the order of their starts.
func (n *net) sortEvents(bad *Invalid) {
	const mostTold = 20
	told := 0
	into := n.byEvent()
	next := func(e int32, i int) (int32, bool) { return n.before(into, e, i) }
	events := walk(2*len(n.nodes), next, func(loop []int32) {
		if told++; told > mostTold {
			return
		}
		names := n.names(loop)
		bad.add(Cycle, 0, names, "these steps wait for each other in a ring: %s, and again %s: one of the links must go",
			strings.Join(names, ", "), names[0])
	})
	for _, e := range events {
		if e%2 == 0 {
			n.order = append(n.order, e/2)
		}
	}
}

// before returns the i-th event that event e waits for; into lists links by
// the event that waits.
func (n *net) before(into csr, e int32, i int) (int32, bool) {
	if e%2 == 1 { // a finish waits for its own start
		if i == 0 {
			return e - 1, true
		}
		i--
	}
	links := into.of(e)
	if i >= len(links) {
		return 0, false
	}
	a, _ := n.edges[links[i]].ends()
	return a, true
}

func (n *net) byEvent() csr {
	return byStep(2*len(n.nodes), n.edges, func(e *edge) int32 {
		_, c := e.ends()
		return c
	})
}

// names lists the steps of a ring of events, each once, in the order of work.
func (n *net) names(events []int32) []string {
	var out []string
	seen := make(map[int32]bool)
	for k := len(events) - 1; k >= 0; k-- {
		if s := events[k] / 2; !seen[s] {
			seen[s] = true
			out = append(out, n.c.Steps[s].ID)
		}
	}
	return out
}

// walk lists the places 0 to count-1 so that each stands after all that next
// names for it, in their own order where that leaves a choice. ring is called
// with each ring that it meets, each place followed by one that it waits for.
func walk(count int, next func(place int32, i int) (int32, bool), ring func([]int32)) []int32 {
	const (
		open = 1
		shut = 2
	)
	type frame struct {
		place int32
		i     int
	}
	mark := make([]uint8, count)
	order := make([]int32, 0, count)
	var stack []frame
	for first := range int32(count) {
		if mark[first] != 0 {
			continue
		}
		mark[first] = open
		stack = append(stack, frame{place: first})
		for len(stack) > 0 {
			top := &stack[len(stack)-1]
			p, more := next(top.place, top.i)
			top.i++
			switch {
			case !more:
				mark[top.place] = shut
				order = append(order, top.place)
				stack = stack[:len(stack)-1]
			case mark[p] == 0:
				mark[p] = open
				stack = append(stack, frame{place: p})
			case mark[p] == open:
				k := slices.IndexFunc(stack, func(f frame) bool { return f.place == p })
				var met []int32
				for _, f := range stack[k:] {
					met = append(met, f.place)
				}
				ring(met)
			}
		}
	}
	return order
}
