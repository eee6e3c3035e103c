package programme

import (
	"math"

	"dogshore/calendar"
)

// A blend is a trial between two states of one programme that differ by what
// was seen of its steps. What a step takes, its base b, its wait w and its
// length d, runs straight from the one state to the other,
//
//	b(l) = b0 + l (b1 - b0)    w(l) = w0 + l (w1 - w0)    d(l) = d0 + l (d1 - d0)
//
// and so does what a link adds to the end that it waits for. At l = 0 and l = 1
// it is the two trials themselves, to the second: the lag of a link is read off
// them, so that it holds what calendars and visits did there. A link that one
// state has not, because it was seen that nothing was waited for, has there the
// lag that lets it not bind.
//
// All is in working days of one calendar, that of the launch; what is worked on
// another is scaled by how much is worked on each in the long run.
type blend struct {
	m      [2]*model
	nodes  []blendNode // in the order in which they pass
	launch int32       // the node of the launch
	unit   float64     // seconds of work in a day of the launch's calendar
	yard   int32       // the launch's calendar, by its place among the clocks
	rates  []float64   // how much of it is worked in the long run while a second is worked on each
	at     map[int32]int32
	loops  bool
}

// blendNode is a step, the moment before one that waits for the owner, or the
// launch after all.
type blendNode struct {
	step  int32    // whose doing it is; -1 for nobody's
	place [2]int32 // in each model, -1 if it is not there
	hold  bool
	in    []blendLink
}

// blendLink is a link, or several of one kind from one end. It is steady where
// both states have it with one lag on one calendar.
type blendLink struct {
	from        int32 // node
	finish, end bool
	has         [2]bool
	steady      bool
	lag         float64 // of a steady one, in seconds of work of the launch's calendar
}

// newBlend lays out two models of one plan. It is nil where the launch has no
// date in one of them, or has happened.
func newBlend(m0, m1 *model) *blend {
	b := &blend{m: [2]*model{m0, m1}, at: make(map[int32]int32), loops: m0.net.loop != nil, launch: -1}
	if m0.launch < 0 || m1.launch < 0 || m0.afloat() || m1.afloat() {
		return nil
	}
	if m1.c.Launch != "" {
		b.yard = m1.clockOf(m1.net.nodes[m1.byID[m1.c.Launch]].cal)
	}
	yard := m1.clocks[b.yard]
	b.unit = float64(yard.cal.Of(1))
	for _, c := range m1.clocks {
		b.rates = append(b.rates, yard.pace()/c.pace())
	}
	for _, i := range m0.net.order {
		b.addStep(i)
	}
	for k := range b.nodes {
		b.link(&b.nodes[k])
	}
	b.addLaunch()
	return b
}

// afloat reports whether the launch has happened.
func (m *model) afloat() bool {
	return m.c.Launch != "" && m.net.nodes[m.byID[m.c.Launch]].done
}

// addStep adds the nodes of step i, where it has a date and is not done in both
// states.
func (b *blend) addStep(i int32) {
	n := int32(len(b.m[0].net.nodes))
	hold, step := blendNode{step: i, hold: true, place: [2]int32{-1, -1}}, blendNode{step: i, place: [2]int32{i, i}}
	fixed := 0
	for k, m := range b.m {
		p := &m.places[i]
		switch h := m.before[i]; {
		case p.fixed:
			fixed++
		case !p.starts || !p.ends:
			return
		case h != i:
			hold.place[k] = h
		}
	}
	if fixed == 2 {
		return
	}
	if hold.place != [2]int32{-1, -1} {
		b.at[n+i] = int32(len(b.nodes))
		b.nodes = append(b.nodes, hold)
	}
	b.at[i] = int32(len(b.nodes))
	b.nodes = append(b.nodes, step)
}

// node returns the node of a place of model k, -1 if it has none.
func (b *blend) node(k int, place int32) int32 {
	m := b.m[k]
	if n := int32(len(m.net.nodes)); place >= n {
		h := m.places[place].hold
		if h < 0 {
			return -1
		}
		place = n + m.holds[h]
	}
	if at, ok := b.at[place]; ok {
		return at
	}
	return -1
}

// link gathers the links of both models into a node; those of one kind from one
// end are one.
func (b *blend) link(x *blendNode) {
	for k, m := range b.m {
		if x.place[k] < 0 || m.places[x.place[k]].fixed {
			continue
		}
		p := &m.places[x.place[k]]
		for _, l := range p.in {
			if from := b.node(k, l.from); from >= 0 {
				x.tie(k, blendLink{from: from, finish: l.finish, end: l.end, steady: l.plain, lag: b.rates[p.clock] * float64(l.lag)})
			}
		}
	}
	for i := range x.in {
		l := &x.in[i]
		l.steady = l.steady && l.has[0] && l.has[1]
	}
}

// tie adds a link that state k has.
func (x *blendNode) tie(k int, l blendLink) {
	for i := range x.in {
		o := &x.in[i]
		if o.from == l.from && o.finish == l.finish && o.end == l.end {
			o.steady = o.steady && l.steady && o.lag == l.lag && !o.has[k]
			o.has[k] = true
			return
		}
	}
	l.has[k] = true
	x.in = append(x.in, l)
}

// addLaunch finds the node of the launch; where no step is named it is a moment
// after all.
func (b *blend) addLaunch() {
	if b.m[1].c.Launch != "" {
		b.launch = b.node(1, b.m[1].launch)
		return
	}
	end := blendNode{step: -1, place: [2]int32{-1, -1}}
	for i := range b.nodes {
		if !b.nodes[i].hold {
			end.in = append(end.in, blendLink{from: int32(i), finish: true, has: [2]bool{true, true}})
		}
	}
	b.launch = int32(len(b.nodes))
	b.nodes = append(b.nodes, end)
}

// pace is the share of time that a clock works, over what its tables hold of the
// time to come.
func (c *clock) pace() float64 {
	if c.by {
		return 1
	}
	i := min(max(0, -c.first), int64(len(c.before)-2))
	last := int64(len(c.before) - 1)
	return float64(c.before[last]-c.before[i]) / float64((last-i)*secondsADay)
}

// happened returns start and finish of a step that is done, as work of clock c.
func (m *model) happened(i int32, c *clock) (start, finish float64) {
	n := &m.net.nodes[i]
	work := func(t calendar.Moment) float64 { return float64(c.worked(m.time(t))) }
	return work(n.from), math.Max(work(n.from), work(n.to))
}
