package programme

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"dogshore/calendar"
)

// StandOutlook is the order in which parts have a stand, and how often it is
// regretted: in how many of the first Trials another order, found for that
// trial alone and breaking this one, launches her a day or more earlier.
type StandOutlook struct {
	ID        string  `json:"id"`
	Turns     []Turn  `json:"turns"` // what has it and will have it, in their order
	Links     []Link  `json:"links"` // that keep the order; part of Outlook.Order
	Trials    int     `json:"trials"`
	Regretted int     `json:"regretted"`
	Sooner    float64 `json:"sooner_days,omitempty"` // in the mean of the regretted trials, days of 24 hours

	gains []int64 // of every trial, seconds; 0 where it is not regretted
}

// Turn is a part's time at a stand, from the start of one step to the finish of
// another.
type Turn struct {
	First string `json:"first"`
	Last  string `json:"last"`
	Has   bool   `json:"has_it,omitempty"` // it has begun
}

// regretTrials are enough to know a chance of one in ten to one in fifty, and
// regretSamples to find the order that one trial would choose.
const (
	regretTrials  = 200
	regretSamples = 4
)

// drawn is what a trial drew, as a planner uses it.
type drawn struct {
	m      *model
	pauses []calendar.Work // before each step
}

// wait returns the start of step j, all that it waits for having come at t: at
// the owner's next visit if it waits for that, and after its pause.
func (d *drawn) wait(j int32, n *node, t calendar.Moment) calendar.Moment {
	if d.m.before[j] != j {
		v, _ := d.m.visitFrom(d.m.time(t))
		t = max(t, n.cal.NextWorking(d.m.zero+calendar.Moment(v)))
	}
	if d.pauses[j] > 0 {
		t = n.cal.Ahead(t, d.pauses[j])
	}
	return t
}

// regret orders the stands anew in trials, each with the lengths, waits and
// visits that it drew, and notes how much earlier that launches her.
func (m *model) regret(ctx context.Context, out *Outlook, workers int) error {
	if m.orderer == nil || m.launch < 0 {
		return nil
	}
	n := min(regretTrials, out.Trials)
	length, pause := m.drawSteps(n)
	broken := m.turnsOf(out)
	found := make([]*schedule, n)
	planners := sync.Pool{New: func() any { return m.orderer.copy() }}
	err := each(ctx, workers, n, func(t int) error {
		g := planners.Get().(*planner)
		found[t] = m.orderAnew(g, length, pause, t)
		planners.Put(g)
		return nil
	})
	if err != nil {
		out.Stands, out.Partial = nil, true
		return err
	}
	for t, s := range found {
		gain := int64(0)
		if s != nil {
			gain = m.last[t] - m.time(s.launch)
		}
		for i := range out.Stands {
			out.Stands[i].note(gain, s, broken[i])
		}
	}
	for i := range out.Stands {
		if o := &out.Stands[i]; o.Regretted > 0 {
			o.Sooner /= float64(o.Regretted)
		}
	}
	return nil
}

// note counts a trial in which another order gains so many seconds; it regrets
// the order at o if it breaks it.
func (o *StandOutlook) note(gain int64, s *schedule, links [][2]int32) {
	o.Trials++
	breaks := s != nil && slices.ContainsFunc(links, func(l [2]int32) bool { return s.start[l[1]] < s.end[l[0]] })
	if gain < leastBand*secondsADay || !breaks {
		gain = 0
	}
	o.gains = append(o.gains, gain)
	if gain > 0 {
		o.Regretted++
		o.Sooner += float64(gain) / secondsADay
	}
}

// turnsOf writes the order at each stand at which a part waits for another, and
// returns its links by places.
func (m *model) turnsOf(out *Outlook) [][][2]int32 {
	var links [][][2]int32
	id := func(i int32) string { return m.c.Steps[i].ID }
	for s, chain := range m.orderer.chains(m.ordered) {
		if len(chain) == 0 {
			continue
		}
		o := StandOutlook{ID: m.c.Stands[s].ID}
		for _, h := range m.orderer.turns(s, m.ordered) {
			o.Turns = append(o.Turns, Turn{First: id(h.first), Last: id(h.last), Has: h.begun})
		}
		for _, l := range chain {
			o.Links = append(o.Links, Link{From: id(l[0]), To: id(l[1]), Type: FS})
		}
		out.Stands, links = append(out.Stands, o), append(links, chain)
	}
	return links
}

// drawSteps draws the lengths and pauses of the first trials, as they are drawn
// when they are played.
func (m *model) drawSteps(n int) (length, pause [][]int64) {
	f, lower := newFactors(len(m.factors.of), n), make([]uint32, n)
	f.take(m.factors, 0, n)
	length, pause = make([][]int64, len(m.net.nodes)), make([][]int64, len(m.net.nodes))
	for i := range length {
		p := &m.places[i]
		if p.fixed {
			continue
		}
		length[i] = make([]int64, n)
		if !p.wait {
			p.draw(0, f, length[i], nil)
			continue
		}
		p.draw(0, f, length[i], lower)
		pause[i] = make([]int64, n)
		m.pauses(p, f, lower, pause[i])
	}
	return length, pause
}

// copy returns a planner of its own for another goroutine, ready for trials.
func (g *planner) copy() *planner {
	out, flat := *g, *g.net
	flat.nodes = slices.Clone(g.nodes)
	out.pass = newPass(&flat)
	out.trial = &drawn{pauses: make([]calendar.Work, len(flat.nodes))}
	return &out
}

// orderAnew returns the schedule that a trial would choose if it could; nil
// where even without stands she would be launched less than a day earlier, or
// where none is found.
func (m *model) orderAnew(g *planner, length, pause [][]int64, trial int) *schedule {
	m.set(g, length, pause, trial)
	if free := g.unbound(); m.last[trial]-m.time(free.launch) < leastBand*secondsADay {
		return nil
	}
	s, err := g.best(regretSamples, m.seed.For("order anew").For(fmt.Sprint(trial)))
	if err != nil {
		return nil
	}
	return s
}

// set gives a planner what a trial drew.
func (m *model) set(g *planner, length, pause [][]int64, trial int) {
	g.trial.m = m
	for i := range g.nodes {
		if n := &g.nodes[i]; !n.done {
			n.work, n.base = calendar.Work(length[i][trial]), m.since(int32(i))
			if g.trial.pauses[i] = 0; pause[i] != nil {
				g.trial.pauses[i] = calendar.Work(pause[i][trial])
			}
		}
	}
}

// unbound is the schedule of the links alone, as if every part had a stand of
// its own.
func (g *planner) unbound() *schedule {
	for i := range g.nodes {
		g.start(int32(i))
	}
	for _, j := range g.order {
		if n := &g.nodes[j]; n.done || n.begun {
			g.step(j)
			continue
		}
		ready, by := g.allowed(j)
		g.lay(j, ready, by)
	}
	return g.schedule()
}
