package programme

import (
	"errors"
	"slices"

	"dogshore/calendar"
	"dogshore/internal/random"
)

// block is how many trials go through the network together at the most: so many
// that what is kept for each step is fetched seldom, so few that their rows stay
// near.
const block = 1024

// blockOf returns a size of blocks that leaves every core as much to do as any
// other, and holds a part of a pilot.
func blockOf(trials, cores int) int {
	each := (trials + cores - 1) / cores
	parts := (each + block - 1) / block
	return max((each+parts-1)/parts, pilotPart)
}

// blocks is how many blocks the trials are.
func (m *model) blocks() int { return (m.trials + m.block - 1) / m.block }

// model is a case made ready for trials. Its places are the steps of the case,
// then a place for each hold, and one for the end of all.
type model struct {
	c       *ForecastCase
	l       *Learned
	net     *net
	seen    *bounds
	zero    calendar.Moment
	clocks  []*clock // in the order of the net's calendars; the last is the clock itself
	places  []place
	order   []int32 // places to pass, none before what it waits for, loops apart
	before  []int32 // of each step, the place to which links to its start go
	links   int32   // how many
	starts  int32   // rows of starts, and of finishes, that a worker needs
	ends    int32
	byID    map[string]int32
	launch  int32   // the place, -1 if it has no date
	holds   []int32 // the steps that wait for a visit
	visits  []int64 // to come, in seconds from the data date
	every   int64   // seconds between visits after these, 0 for none
	points  []simPoint
	calm    bool // no waiting in any draw: one pass does for both
	factors *factors
	stands  []Link
	orderer *planner // what ordered the stands, and its schedule; nil where no part has to wait
	ordered *schedule
	seed    random.Key
	trials  int
	block   int     // how many go through the network together
	bins    []bins  // two to a step, its start and its finish
	last    []int64 // the launch of each trial

	launchOnly bool
}

// place is a step of the case, or a moment between steps.
type place struct {
	law
	starts, ends bool  // whether its start and its finish have dates
	fixed        bool  // it happened: neither passed nor marked
	at           bool  // nothing but a moment, on the clock itself
	clock        int32 // on which its work runs
	base         int64 // starts no earlier than this, in work of its clock
	final        int64 // finishes no earlier than this
	wait         bool
	hold         int32 // of a moment that waits for a visit: its place in model.holds, else -1
	early        bool  // a point's dates depend on it
	bound        bool  // something bounds its finish
	free         bool  // its base is never later than what its first link asks for
	follows      int32 // the step at whose finish it always starts, -1 for none
	start, end   int32 // rows, -1 where nobody asks for it
	in           []simLink
}

const lowest = -1 << 60

// simLink is a link as trials use it.
type simLink struct {
	from   int32
	finish bool // it waits for the finish of from, else for its start
	end    bool // the finish of the step waits, else its start
	plain  bool // one calendar: work is compared with work
	clock  int32
	lag    int64
	same   bool  // both steps and the lag count on one calendar: what is done by a moment is compared
	snap   int32 // the clock on which a moment is moved to the end of work, -1 for none
	id     int32
	bridge *bridge
}

// newModel checks the case and makes it ready. The order at its stands is sought
// unless it is given.
func newModel(c *ForecastCase, l *Learned, run Run, order []Link) (*model, error) {
	m, err := readNetwork(c, l, run)
	if err != nil {
		return nil, err
	}
	if err := m.orderStands(order); err != nil {
		return nil, err
	}
	if err := m.layClocks(); err != nil {
		return nil, err
	}
	m.layPlaces()
	m.layLinks()
	m.layLaunch()
	m.layBridges()
	m.layStarts()
	if !m.launchOnly {
		m.layPoints()
	}
	m.layRows()
	return m, nil
}

// readNetwork checks the case and stands its network at the data date.
func readNetwork(c *ForecastCase, l *Learned, run Run) (*model, error) {
	plain := c.Case()
	bad := c.check()
	n, err := build(&plain)
	if err != nil {
		var e *Invalid
		if !errors.As(err, &e) {
			return nil, err
		}
		bad.Problems = append(bad.Problems, e.Problems...)
	}
	if err := bad.orNil(); err != nil {
		return nil, err
	}
	m := &model{c: c, l: l, net: n, zero: calendar.At(c.DataDate), trials: run.Trials, block: blockOf(run.Trials, run.workers()), launchOnly: run.LaunchOnly, seed: random.Seed(run.Seed), byID: make(map[string]int32, len(n.nodes))}
	scratch := Result{Steps: make([]Times, len(n.nodes))}
	m.seen = n.look(&scratch)
	n.stand(&scratch, m.seen)
	for i := range n.nodes {
		m.byID[c.Steps[i].ID] = int32(i)
	}
	return m, nil
}

// mostDays bounds the tables of days to come and gone: 350 years. Beyond them
// the calendars are asked, which takes many times as long.
const mostDays = 1 << 17

// layClocks passes the network at its medians, to know how far tables reach.
func (m *model) layClocks() error {
	p := newPass(m.net)
	if err := p.forward(); err != nil {
		return err
	}
	last, first := m.zero, m.zero
	for i := range m.net.nodes {
		last = max(last, p.ef[i])
		if n := &m.net.nodes[i]; n.begun {
			first = min(first, n.from)
		}
	}
	days := min(2*int64(last-m.zero)/secondsADay+400, mostDays)
	back := min(int64(m.zero-first)/secondsADay+400, mostDays)
	for i, cal := range m.net.cals {
		m.clocks = append(m.clocks, newClock(cal, i == len(m.net.cals)-1, m.zero, -back, days))
	}
	return nil
}

func (m *model) elapsed() int32 { return int32(len(m.clocks) - 1) }

func (m *model) clockOf(cal *calendar.Calendar) int32 { return int32(slices.Index(m.net.cals, cal)) }

// time returns a moment in seconds from the data date.
func (m *model) time(t calendar.Moment) int64 { return int64(t - m.zero) }

// layPlaces makes a place of each step, and one before each step that waits for
// a visit of the owner; order is that of the network with these between.
func (m *model) layPlaces() {
	m.factors = m.learnedFactors()
	m.calm = !slices.ContainsFunc(m.factors.wait, func(w float64) bool { return w != 0 })
	m.layVisits()
	m.places = make([]place, len(m.net.nodes), len(m.net.nodes)+8)
	m.before = make([]int32, len(m.net.nodes))
	for _, i := range m.net.order {
		n, s := &m.net.nodes[i], &m.c.Steps[i]
		p := place{clock: m.clockOf(n.cal), final: lowest, hold: -1, fixed: n.done}
		m.before[i] = i
		if !n.done {
			p.law = m.lawOf(s, n, i)
			p.starts, p.ends = true, n.known
			p.wait = !n.begun && !s.Supplier && s.Hours == 0 && !m.calm
			if p.at = n.instant() && p.certain(); p.at {
				p.clock, p.wait = m.elapsed(), false
			}
			since := m.time(m.since(i))
			p.base = m.clocks[p.clock].worked(since)
			if s.Owner && !n.begun {
				m.layHold(i, since)
			}
			m.order = append(m.order, i)
		}
		m.places[i] = p
	}
}

// since returns the moment from which nothing is known of step i any more. A
// step under way was last seen not done the day before. One not begun had not
// begun at the last visit either: whoever was there would have said so. What
// nobody has looked at for three weeks may have gone on in them, and is not late
// for it. Of what was told to be left, or where there was no visit, it is the
// data date.
func (m *model) since(i int32) calendar.Moment {
	n, s := &m.net.nodes[i], &m.c.Steps[i]
	from := m.seen.lo[2*i+1]
	if !n.begun {
		from = max(m.seen.lo[2*i], m.lastLook())
	}
	if from == 0 || s.Left != nil {
		return n.base
	}
	t := calendar.At(from)
	if !n.begun {
		t = max(t, calendar.At(s.NotFrom))
	}
	return n.cal.NextWorking(t)
}

// lastLook is the day after the last visit, 0 if there was none.
func (m *model) lastLook() calendar.Day {
	var last calendar.Day
	for _, d := range m.c.Visits {
		if d <= m.c.DataDate {
			last = max(last, d+1)
		}
	}
	return last
}

// layHold puts a moment before step i, to which the links to its start go.
func (m *model) layHold(i int32, base int64) {
	h := int32(len(m.places))
	m.places = append(m.places, place{
		starts: true, ends: true, at: true, clock: m.elapsed(), base: base, final: lowest, hold: int32(len(m.holds)), law: law{key: m.seed},
	})
	m.before[i] = h
	m.holds = append(m.holds, i)
	m.order = append(m.order, h)
}

// layLinks turns links into those between places, and those from what lies in
// the past into bounds.
func (m *model) layLinks() {
	for changed := true; changed; {
		changed = false
		for _, j := range m.net.order {
			changed = m.undate(j) || changed
		}
	}
	for _, j := range m.net.order {
		n := &m.net.nodes[j]
		for _, l := range m.net.in.of(j) {
			e := &m.net.edges[l]
			if n.done || n.begun && e.kind == ss || !m.places[j].starts {
				continue
			}
			to := j
			if !e.kind.toFinish() {
				to = m.before[j]
			}
			from := &m.net.nodes[e.from]
			switch {
			case from.done && !e.kind.fromStart():
				m.past(&m.places[to], n, e, from.to)
			case from.done || from.begun && e.kind.fromStart():
				m.past(&m.places[to], n, e, from.from)
			default:
				m.tie(to, e)
			}
		}
		if h := m.before[j]; h != j {
			m.places[h].starts = m.places[j].starts
			m.join(j, simLink{from: h, finish: true, clock: m.elapsed(), snap: -1})
		}
	}
}

// undate takes the dates from a step that waits for one without, and reports a
// change.
func (m *model) undate(j int32) bool {
	n, p := &m.net.nodes[j], &m.places[j]
	if !p.starts {
		return false
	}
	for _, l := range m.net.in.of(j) {
		e := &m.net.edges[l]
		from := &m.places[e.from]
		if n.begun && e.kind == ss || from.fixed {
			continue
		}
		known := from.ends || e.kind.fromStart() && (from.starts || m.net.nodes[e.from].begun)
		if !known || e.kind.toFinish() && !n.known {
			p.starts, p.ends = false, false
			return true
		}
	}
	return false
}

// tie makes a link between places.
func (m *model) tie(to int32, e *edge) {
	p, from := &m.places[to], &m.places[e.from]
	l := simLink{
		from: e.from, finish: !e.kind.fromStart(), end: e.kind.toFinish(),
		plain: e.same && !p.at && !from.at, clock: m.clockOf(e.cal), lag: int64(e.lag), same: e.same, snap: -1,
	}
	if e.kind.toFinish() && e.same && p.at {
		l.snap = m.clockOf(m.net.nodes[e.to].cal)
	}
	m.join(to, l)
}

func (m *model) join(to int32, l simLink) {
	l.id = m.links
	m.links++
	m.places[to].in = append(m.places[to].in, l)
}

// past makes a bound of a link from something that happened at x.
func (m *model) past(to *place, n *node, e *edge, x calendar.Moment) {
	t := m.time(e.cal.Ahead(x, e.lag))
	c := m.clocks[to.clock]
	switch {
	case e.kind.toFinish() && e.same && to.at:
		to.base = max(to.base, m.time(n.cal.Earliest(n.cal.Worked(m.zero+calendar.Moment(t)))))
	case to.at || !e.kind.toFinish():
		to.base = max(to.base, c.worked(t))
	case e.same:
		to.final = max(to.final, c.worked(t))
	default:
		to.final = max(to.final, c.finished(t))
	}
}
