package programme

import (
	"dogshore/calendar"
)

// Pass computes the dates, floats and bounds of a case.
//
// Forward, in an order in which no step stands before what it waits for:
//
//	ES = next working moment at or after the data date, NotFrom, and for each link
//	     FS: EF' + lag   SS: ES' + lag   FF, SF: such that EF is not before EF' + lag, ES' + lag
//	EF = earliest moment by which the step's work is done from ES
//
// Backward from Finish = the last EF, the same with latest moments. A step is
// one piece: an FF or SF link moves its start too. What is done stands in the
// past; what is under way has its remainder passed by retained logic: it goes
// on no earlier than its FS links allow, even where it was begun before.
//
// The error is an *Invalid with every problem of the case. The same case gives
// the same result. Nothing comes earlier when a length grows, but for a step
// whose finish is bound by an FF or SF link: it starts earlier, to be one piece.
func Pass(c Case) (Result, error) {
	n, err := build(&c)
	if err != nil {
		return Result{}, err
	}
	r := Result{Steps: make([]Times, len(n.nodes)), Order: make([]string, 0, len(n.nodes))}
	for i := range r.Steps {
		r.Steps[i].ID = c.Steps[i].ID
	}
	for _, i := range n.order {
		r.Order = append(r.Order, c.Steps[i].ID)
	}
	b := n.look(&r)
	n.stand(&r, b)
	p := newPass(n)
	if err := p.forward(); err != nil {
		return Result{}, err
	}
	p.dates(&r)
	if r.Dated && r.Finish.Known() {
		p.backward(&r)
		p.trace(&r)
	}
	r.Frontier = n.frontier()
	return r, nil
}

// pass holds the moments of one pass; 0 is not known.
type pass struct {
	*net
	begin    []calendar.Moment // of what began, the moment taken for it; else es
	es, ef   []calendar.Moment
	ls, lf   []calendar.Moment
	drivenBy []int32 // the link that sets es, -1 for none
}

func newPass(n *net) *pass {
	all := make([]calendar.Moment, 5*len(n.nodes))
	cut := func(i int) []calendar.Moment { return all[i*len(n.nodes) : (i+1)*len(n.nodes)] }
	return &pass{net: n, begin: cut(0), es: cut(1), ef: cut(2), ls: cut(3), lf: cut(4), drivenBy: make([]int32, len(n.nodes))}
}

// farthest is where a programme has lost its sense.
var farthest = calendar.At(calendar.Date(2500, 1, 1))

// mostSweeps bounds the sweeps through a network with loops. A loop that can
// be met settles within as many sweeps as it has links; where weekends fall
// differently for several calendars it may take some more.
func (n *net) mostSweeps() int { return min(2*len(n.nodes), 2000) + 10 }

func (p *pass) forward() error {
	for i := range p.nodes {
		p.start(int32(i))
	}
	for range p.mostSweeps() {
		changed := false
		for _, j := range p.order {
			changed = p.step(j) || changed
			if p.ef[j] > farthest {
				return p.endless(j)
			}
		}
		if p.loop == nil || !changed {
			return nil
		}
	}
	return p.endless(p.loop[0])
}

// start gives a step the moments that do not depend on links.
func (p *pass) start(i int32) {
	n := &p.nodes[i]
	p.drivenBy[i] = -1
	switch {
	case n.done:
		p.begin[i], p.ef[i] = n.from, n.to
	default:
		p.es[i] = n.base
		if n.known {
			p.ef[i] = n.cal.Ahead(n.base, n.work)
		}
		if p.begin[i] = n.base; n.begun {
			p.begin[i] = n.from
		}
	}
}

// step computes es and ef of j from the links into it, and reports a change.
func (p *pass) step(j int32) bool {
	n := &p.nodes[j]
	if n.done {
		return false
	}
	es, known, driver := n.base, true, int32(-1)
	for _, l := range p.in.of(j) {
		e := &p.edges[l]
		if n.begun && e.kind == ss {
			continue // satisfied when it began
		}
		x := p.end(e)
		if x == 0 || e.kind.toFinish() && !n.known {
			known = false
			continue
		}
		if v := p.need(e, n, x); v > es || v == es && driver < 0 {
			es, driver = v, l
		}
	}
	ef := calendar.Moment(0)
	if !known {
		es, driver = 0, -1
	} else if n.known {
		ef = n.cal.Ahead(es, n.work)
	}
	changed := es != p.es[j] || ef != p.ef[j]
	p.es[j], p.ef[j], p.drivenBy[j] = es, ef, driver
	if !n.begun {
		p.begin[j] = es
	}
	return changed
}

// end returns the moment of the end that e waits for, 0 if not known.
func (p *pass) end(e *edge) calendar.Moment {
	if e.kind.fromStart() {
		return p.begin[e.from]
	}
	return p.ef[e.from]
}

// need returns the earliest start of e.to, of work n.work, that e allows when
// the waited-for end lies at x. Two steps and a lag on one calendar compare
// work done; on different calendars they compare moments.
func (p *pass) need(e *edge, n *node, x calendar.Moment) calendar.Moment {
	x = e.cal.Ahead(x, e.lag)
	switch {
	case e.kind.toFinish() && e.same && n.instant():
		return n.cal.Earliest(n.cal.Worked(x))
	case e.kind.toFinish() && e.same:
		return n.cal.Latest(n.cal.Worked(x) - n.work)
	case n.instant():
		return x
	case e.kind.toFinish():
		return n.cal.StartFor(x, n.work)
	}
	return n.cal.NextWorking(x)
}

// endless is the error of a programme that never settles or ends.
func (p *pass) endless(j int32) error {
	bad := &Invalid{}
	if p.loop == nil {
		id := p.c.Steps[j].ID
		bad.add(Endless, 0, []string{id}, "step %q would finish after the year 2500: look at the lengths and lags before it", id)
		return bad
	}
	names := p.names(p.events(p.loop))
	bad.add(Cycle, 0, names, "the lags between these steps push each other on without end: %s: a lag or a length must change", quoted(names))
	return bad
}

func (p *pass) events(steps []int32) []int32 {
	out := make([]int32, len(steps))
	for i, s := range steps {
		out[i] = 2 * s
	}
	return out
}

// dates writes early dates.
func (p *pass) dates(r *Result) {
	r.Dated = true
	for i := range p.nodes {
		n, t := &p.nodes[i], &r.Steps[i]
		if n.done {
			continue
		}
		t.StartDated, t.Dated = p.es[i] != 0, p.ef[i] != 0
		t.EarlyStart, t.EarlyFinish = p.es[i], p.ef[i]
		t.FirstDay, t.LastDay = n.days(p.es[i], p.ef[i])
		r.Dated = r.Dated && t.Dated
		r.Finish = max(r.Finish, p.ef[i])
		if d := p.drivenBy[i]; d >= 0 {
			t.Drives = p.c.Steps[p.edges[d].from].ID
		}
	}
	if !r.Dated {
		r.Finish = 0
	}
}

// days returns the days to show for a start and a finish, either maybe 0. A
// start lies where work begins and a finish where it ends, so they are the
// calendar's FirstDay and LastDay without asking it.
func (n *node) days(start, finish calendar.Moment) (first, last calendar.Day) {
	if start != 0 {
		first = start.Day()
	}
	switch {
	case finish == 0:
	case n.instant():
		last = finish.Day()
	default:
		last = (finish - 1).Day()
	}
	return first, last
}

// frontier lists what can come next.
func (n *net) frontier() []string {
	out := []string{}
	for _, j := range n.order {
		if n.nodes[j].done || n.nodes[j].begun {
			continue
		}
		free := true
		for _, l := range n.in.of(j) {
			e := &n.edges[l]
			from := &n.nodes[e.from]
			free = free && (e.kind.toFinish() || from.done || e.kind == ss && from.begun)
		}
		if free {
			out = append(out, n.c.Steps[j].ID)
		}
	}
	return out
}
