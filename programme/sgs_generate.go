package programme

import (
	"cmp"
	"slices"

	"dogshore/calendar"
)

// generation is one schedule in the making, forward or, pushed to the end,
// backward.
type generation struct {
	*planner
	use     []profile
	put     []bool
	taken   []calendar.Moment // since when a step that is put keeps its stands
	pending []int32           // links from what is not put yet
	ready   []int32           // the most urgent first
	urgency []calendar.Moment
	back    bool
}

func (g *planner) fresh(urgency []calendar.Moment, back bool) *generation {
	n := len(g.nodes)
	x := &generation{planner: g, put: make([]bool, n), taken: make([]calendar.Moment, n), pending: make([]int32, n), urgency: urgency, back: back}
	for range g.room {
		x.use = append(x.use, newProfile())
	}
	for i := range g.edges {
		if e := &g.edges[i]; g.place[e.from] < g.place[e.to] { // what closes a loop is left out
			x.pending[x.behind(e)]++
		}
	}
	for _, h := range g.held {
		if h.begun && !back {
			x.use[h.stand].add(never, forever, h.need)
		}
	}
	for i := range n {
		if x.pending[i] == 0 {
			x.offer(int32(i))
		}
	}
	return x
}

// behind returns the end of e that is put second.
func (x *generation) behind(e *edge) int32 {
	if x.back {
		return e.from
	}
	return e.to
}

func (x *generation) offer(j int32) {
	at, _ := slices.BinarySearchFunc(x.ready, j, func(a, b int32) int {
		if x.back {
			a, b = b, a
		}
		return cmp.Or(cmp.Compare(x.urgency[a], x.urgency[b]), cmp.Compare(x.place[a], x.place[b]))
	})
	x.ready = slices.Insert(x.ready, at, j)
}

// settle notes that j has its moments.
func (x *generation) settle(j int32) {
	x.put[j] = true
	links := x.out.of(j)
	if x.back {
		links = x.in.of(j)
	}
	for _, l := range links {
		e := &x.edges[l]
		if k := x.behind(e); x.place[e.from] < x.place[e.to] {
			if x.pending[k]--; x.pending[k] == 0 {
				x.offer(k)
			}
		}
	}
}

// generate puts the steps one by one, the lesser urgency value first. It fails
// where holdings shut each other out.
func (g *planner) generate(urgency []calendar.Moment, choose chooser) (*schedule, error) {
	x := g.fresh(urgency, false)
	for i := range g.nodes {
		g.start(int32(i))
	}
	for len(x.ready) > 0 {
		at := choose(len(x.ready), func(i int) float64 {
			return 1 + float64(urgency[x.ready[len(x.ready)-1]]-urgency[x.ready[i]])/secondsADay
		})
		if !x.fits(x.ready[at]) {
			if at = slices.IndexFunc(x.ready, x.fits); at < 0 {
				return nil, x.stuck()
			}
		}
		j := x.ready[at]
		x.ready = slices.Delete(x.ready, at, at+1)
		x.take(j)
		x.settle(j)
	}
	return g.schedule(), nil
}

// schedule is what was generated last.
func (g *planner) schedule() *schedule {
	s := &schedule{start: slices.Clone(g.es), end: slices.Clone(g.ef), finish: slices.Max(g.ef)}
	if s.launch = s.finish; g.goal >= 0 {
		s.launch = g.ef[g.goal]
	}
	return s
}

// fits puts j at the first moment that its links and stands allow, and reports
// whether there is one.
func (x *generation) fits(j int32) bool {
	n := &x.nodes[j]
	if n.done || n.begun {
		x.step(j)
		return true
	}
	ready, by := x.allowed(j)
	for moved := true; moved; {
		moved = false
		x.taken[j] = x.lay(j, ready, by)
		for _, k := range x.byFirst[j] {
			h := &x.held[k]
			end := x.ef[j]
			if h.last != j {
				end = forever
			}
			at := x.use[h.stand].firstFit(x.taken[j], end, x.room[h.stand]-h.need)
			if at == forever {
				return false
			}
			if at > x.taken[j] {
				ready, moved = at, true
				break
			}
		}
	}
	return true
}

// allowed returns when all has come that the start of j waits for, and the
// start that its finish is bound to.
func (g *planner) allowed(j int32) (ready, by calendar.Moment) {
	n := &g.nodes[j]
	ready, by = n.base, never
	for _, l := range g.in.of(j) {
		e := &g.edges[l]
		if v := g.need(e, n, g.end(e)); e.kind.toFinish() {
			by = max(by, v)
		} else {
			ready = max(ready, v)
		}
	}
	return ready, by
}

// lay starts j at the first moment after ready, and no earlier than by, and
// returns since when it must have its stands: a trial's wait, and the one for
// the owner, come after that.
func (g *planner) lay(j int32, ready, by calendar.Moment) (taken calendar.Moment) {
	n := &g.nodes[j]
	work := func(t calendar.Moment) calendar.Moment {
		if n.instant() {
			return t
		}
		return n.cal.NextWorking(t)
	}
	taken = work(ready)
	start := taken
	if g.trial != nil {
		start = work(g.trial.wait(j, n, taken))
	}
	if by > start {
		taken, start = by, by
	}
	g.es[j], g.ef[j], g.begin[j] = start, n.cal.Ahead(start, n.work), start
	return taken
}

// take notes what j, being put, takes and gives back.
func (x *generation) take(j int32) {
	for _, k := range x.byFirst[j] {
		if h := &x.held[k]; !h.begun {
			x.use[h.stand].add(x.taken[j], forever, h.need)
			if x.put[h.last] {
				x.use[h.stand].add(max(x.taken[j], x.ef[h.last]), forever, -h.need)
			}
		}
	}
	for _, k := range x.byLast[j] {
		if h := &x.held[k]; h.begun || x.put[h.first] || h.first == j {
			x.use[h.stand].add(x.ef[j], forever, -h.need)
		}
	}
}

// stuck names the holdings that shut each other out.
func (x *generation) stuck() error {
	bad := &Invalid{}
	var names []string
	for _, j := range x.ready {
		names = append(names, x.c.Steps[j].ID)
	}
	var stands []string
	for _, j := range x.ready {
		for _, k := range x.byFirst[j] {
			if name := x.names[x.held[k].stand]; !slices.Contains(stands, name) {
				stands = append(stands, name)
			}
		}
	}
	bad.add(BadStand, 0, names, "the steps %s wait for stand %s, and none of the parts that have it can go on to give it back: look at what first takes it and what gives it back", quoted(names), quoted(stands))
	return bad
}

// push puts every step of s as late as its finish allows, last ones first, and
// returns the starts. It only serves as an order, so what cannot have a stand
// there goes where its links allow.
func (g *planner) push(s *schedule) []calendar.Moment {
	x := g.fresh(s.end, true)
	for i := range g.nodes {
		n := &g.nodes[i]
		g.ls[i], g.lf[i] = s.start[i], s.end[i]
		if !n.done {
			g.ls[i] = n.cal.Behind(s.finish, n.work)
		}
	}
	for len(x.ready) > 0 {
		j := x.ready[0]
		x.ready = x.ready[1:]
		x.pushed(j)
		x.settle(j)
	}
	return slices.Clone(g.ls)
}

func (x *generation) pushed(j int32) {
	n := &x.nodes[j]
	if n.done {
		return
	}
	for _, l := range x.out.of(j) {
		if e := &x.edges[l]; !x.free(e) {
			x.ls[j] = min(x.ls[j], x.allow(e, n, x.ls[e.to], x.lf[e.to]))
		}
	}
	x.lf[j] = n.cal.Ahead(x.ls[j], n.work)
	for moved := true; moved; {
		moved = false
		for _, k := range x.byLast[j] {
			h := &x.held[k]
			start := x.ls[j]
			if h.first != j {
				start = never
			}
			at := x.use[h.stand].lastFit(start, x.lf[j], x.room[h.stand]-h.need)
			if at == never || at >= x.lf[j] {
				continue
			}
			x.ls[j] = n.cal.Behind(at, n.work)
			x.lf[j], moved = n.cal.Ahead(x.ls[j], n.work), true
		}
	}
	for _, k := range x.byLast[j] {
		h := &x.held[k]
		x.use[h.stand].add(never, x.lf[j], h.need)
	}
	for _, k := range x.byFirst[j] {
		if h := &x.held[k]; x.put[h.last] || h.last == j {
			x.use[h.stand].add(never, x.ls[j], -h.need)
		}
	}
}

// chains returns, for each stand, the links that keep s's order at it: every
// unit of room goes from holding to holding in the order of their starts.
func (g *planner) chains(s *schedule) [][][2]int32 {
	out := make([][][2]int32, len(g.room))
	for stand, room := range g.room {
		unit := slices.Repeat([]int32{-1}, room) // the step that gives each back
		for _, h := range g.turns(stand, s) {
			out[stand] = append(out[stand], g.hand(unit, h, s)...)
		}
	}
	return out
}

// turns returns what has a stand and will have it, in the order of s.
func (g *planner) turns(stand int, s *schedule) []held {
	var all []held
	for _, h := range g.held {
		if h.stand == stand {
			all = append(all, h)
		}
	}
	slices.SortStableFunc(all, func(a, b held) int {
		if a.begun != b.begun {
			return cmp.Compare(b2i(b.begun), b2i(a.begun))
		}
		return cmp.Or(cmp.Compare(s.start[a.first], s.start[b.first]), cmp.Compare(s.end[a.last], s.end[b.last]), cmp.Compare(g.place[a.first], g.place[b.first]))
	})
	return all
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// hand gives h the units that were given back last before it begins: so those
// that were free for longer stay free for others.
func (g *planner) hand(unit []int32, h held, s *schedule) [][2]int32 {
	end := func(u int) calendar.Moment {
		if unit[u] < 0 {
			return never
		}
		return s.end[unit[u]]
	}
	free := make([]int, 0, len(unit))
	for u := range unit {
		if h.begun && unit[u] < 0 || !h.begun && end(u) <= s.start[h.first] {
			free = append(free, u)
		}
	}
	slices.SortStableFunc(free, func(a, b int) int { return cmp.Compare(end(b), end(a)) })
	var out [][2]int32
	for _, u := range free[:min(h.need, len(free))] {
		if unit[u] >= 0 && unit[u] != h.first {
			out = append(out, [2]int32{unit[u], h.first})
		}
		unit[u] = h.last
	}
	return out
}
