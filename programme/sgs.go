package programme

import (
	"cmp"
	"slices"

	"dogshore/calendar"
	"dogshore/internal/random"
)

// The order in which parts have a stand is found once, at median lengths, and
// then holds in every trial as plain links. (An order found anew in each trial
// would let a shorter length make a later launch.)
//
// It is found by serial schedule generation: of the steps whose predecessors
// have their dates the one with the earliest late finish is put at the first
// moment at which its links and stands allow it. Then the schedule is pushed
// to its end, last steps first, and generated again in the order of the starts
// that this gives, until that helps no more; and all this again for a number
// of samples in which a step with more float may come first now and then. The
// schedule that launches her first is kept.
//
// Sources, all from memory: serial scheme and late-finish rule, R. Kolisch,
// Eur. J. Oper. Res. 90 (1996) 320-333; regret-based sampling, A. Drexl 1991;
// forward-backward improvement, K. Li and R. Willis, Eur. J. Oper. Res. 56
// (1992) 370-379.

const orderSamples = 20

// held is a holding that has not been given back.
type held struct {
	stand       int
	first, last int32
	need        int
	begun       bool // it is held already
}

// planner generates schedules of a network, at its medians or, for a trial, at
// the lengths that it drew.
type planner struct {
	*pass
	names   []string // of the stands
	room    []int
	held    []held
	byFirst [][]int // holdings by step
	byLast  [][]int
	place   []int // of each step in the order of the network
	goal    int32 // the step whose finish is the launch, -1 for the last finish of all
	trial   *drawn
}

// orderStands finds the order at the stands, unless it is given, and adds it to
// the network. Where there is room for all that still have one, none is needed.
func (m *model) orderStands(given []Link) error {
	if given != nil {
		var links [][2]int32
		for _, l := range given {
			links = append(links, [2]int32{m.byID[l.From], m.byID[l.To]})
		}
		return m.follow(links)
	}
	if len(m.c.Stands) == 0 {
		return nil
	}
	g, err := m.planner()
	if err != nil {
		return err
	}
	if g.roomForAll() {
		return nil
	}
	best, err := g.best(orderSamples, m.seed.For("order at stands"))
	if err != nil {
		return err
	}
	m.orderer, m.ordered = g, best
	var links [][2]int32
	for _, turns := range g.chains(best) {
		links = append(links, turns...)
	}
	return m.follow(links)
}

// follow adds links from what gives a stand back to what has it next.
func (m *model) follow(links [][2]int32) error {
	slices.SortFunc(links, func(a, b [2]int32) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	for _, l := range slices.Compact(links) {
		e := edge{from: l[0], to: l[1], cal: m.net.nodes[l[1]].cal, same: m.net.nodes[l[0]].cal == m.net.nodes[l[1]].cal, broken: true}
		m.net.edges = append(m.net.edges, e)
		m.stands = append(m.stands, Link{From: m.c.Steps[l[0]].ID, To: m.c.Steps[l[1]].ID, Type: FS})
	}
	return m.net.relink()
}

// roomForAll reports whether no part has to wait for another's stand.
func (g *planner) roomForAll() bool {
	for s, room := range g.room {
		for _, h := range g.held {
			if h.stand == s {
				room -= h.need
			}
		}
		if room < 0 {
			return false
		}
	}
	return true
}

// relink sorts a network anew after links were added.
func (n *net) relink() error {
	n.in = byStep(len(n.nodes), n.edges, func(e *edge) int32 { return e.to })
	n.out = byStep(len(n.nodes), n.edges, func(e *edge) int32 { return e.from })
	n.order, n.loop = nil, nil
	bad := &Invalid{}
	n.sort(bad)
	return bad.orNil()
}

// planner makes the network ready at median lengths and median pace; a step
// without a length takes no time in it.
func (m *model) planner() (*planner, error) {
	flat := *m.net
	flat.nodes = slices.Clone(m.net.nodes)
	for i := range flat.nodes {
		n, s := &flat.nodes[i], &m.c.Steps[i]
		n.known = true
		m.goOn(n, int32(i))
		if !n.done && s.Left == nil && s.Spread.Known() && !s.Supplier {
			n.work = calendar.Work(float64(n.work) * m.medianPace(s.Trade))
		}
	}
	g := &planner{pass: newPass(&flat), byFirst: make([][]int, len(flat.nodes)), byLast: make([][]int, len(flat.nodes)), place: make([]int, len(flat.nodes)), goal: -1}
	for k, i := range flat.order {
		g.place[i] = k
	}
	if m.c.Launch != "" {
		g.goal = m.byID[m.c.Launch]
	}
	for s, stand := range m.c.Stands {
		g.names, g.room = append(g.names, stand.ID), append(g.room, stand.room())
		for _, h := range stand.Holdings {
			first, last := m.byID[h.First], m.byID[h.last()]
			if flat.nodes[last].done {
				continue
			}
			begun := flat.nodes[first].begun || flat.nodes[first].done
			g.byFirst[first] = append(g.byFirst[first], len(g.held))
			g.byLast[last] = append(g.byLast[last], len(g.held))
			g.held = append(g.held, held{stand: s, first: first, last: last, need: h.need(), begun: begun})
		}
		if n := g.takenNow(s); n > g.room[s] {
			bad := &Invalid{}
			bad.add(BadStand, 0, nil, "stand %q has room for %d, and what has begun and is not given back takes %d", stand.ID, g.room[s], n)
			return nil, bad
		}
	}
	return g, g.forward()
}

// goOn lets a step go on from when trials play it, not from the data date: days
// that pass without news turn no order round.
func (m *model) goOn(n *node, i int32) {
	if n.done {
		return
	}
	n.base = m.since(i)
	if s := &m.net.c.Steps[i]; n.begun && s.Left == nil {
		n.work = max(0, n.cal.Of(s.Work)+n.cal.Of(s.Hours/24)-(n.cal.Worked(n.base)-n.cal.Worked(n.from)))
	}
}

func (g *planner) takenNow(stand int) int {
	n := 0
	for _, h := range g.held {
		if h.stand == stand && h.begun {
			n += h.need
		}
	}
	return n
}

func (m *model) medianPace(trade string) float64 {
	row := m.paceOf(trade)
	if int(row) >= len(m.l.Trades) {
		return 1
	}
	x := make([]float64, len(m.l.Draws))
	for i := range x {
		x[i] = m.l.Draws[i].Trade[row]
	}
	slices.Sort(x)
	return x[len(x)/2]
}

// schedule is a set of moments for each step.
type schedule struct {
	start, end []calendar.Moment
	finish     calendar.Moment // of all
	launch     calendar.Moment
}

// before reports whether s launches her before o does or, as early, is all done
// before.
func (s *schedule) before(o *schedule) bool {
	return cmp.Or(cmp.Compare(s.launch, o.launch), cmp.Compare(s.finish, o.finish)) < 0
}

// best returns the best schedule of a number of samples; the first is without
// chance.
func (g *planner) best(samples int, key random.Key) (*schedule, error) {
	late := g.lateFinish()
	var best *schedule
	var err error
	for k := range samples {
		choose := first
		if k > 0 {
			choose = func(n int, weight func(int) float64) int { return pick(n, weight, &key) }
		}
		s, e := g.generate(late, choose)
		if e != nil {
			err = e
			continue
		}
		if s = g.improve(s); best == nil || s.before(best) {
			best = s
		}
	}
	if best == nil {
		return nil, err
	}
	return best, nil
}

// A chooser picks one of n, of which the first is the most urgent; the weight
// of each grows with its urgency.
type chooser func(n int, weight func(int) float64) int

func first(int, func(int) float64) int { return 0 }

// pick draws one of n by weight; key moves on to the next draw.
func pick(n int, weight func(int) float64, key *random.Key) int {
	*key = key.For("next")
	sum := 0.0
	for i := range n {
		sum += weight(i)
	}
	at := key.Unit(0) * sum
	for i := range n - 1 {
		if at -= weight(i); at < 0 {
			return i
		}
	}
	return n - 1
}

// lateFinish is the late finish of each step without regard to stands.
func (g *planner) lateFinish() []calendar.Moment {
	r := Result{Steps: make([]Times, len(g.nodes)), Finish: slices.Max(g.ef)}
	g.backward(&r)
	return slices.Clone(g.lf)
}

// improve pushes a schedule to its end and generates it again, while that
// helps.
func (g *planner) improve(s *schedule) *schedule {
	for {
		pushed := g.push(s)
		again, err := g.generate(pushed, first)
		if err != nil || !again.before(s) {
			return s
		}
		s = again
	}
}
