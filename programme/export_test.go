package programme

import (
	"context"

	"dogshore/calendar"
)

// Schedule orders the stands of a case by a number of samples, and returns the
// start and finish of each step in that schedule.
func Schedule(c ForecastCase, samples int) (start, end []calendar.Moment, err error) {
	l := Learned{Draws: []Pace{{}}}
	m, err := readNetwork(&c, &l, Run{Trials: 1})
	if err != nil {
		return nil, nil, err
	}
	g, err := m.planner()
	if err != nil {
		return nil, nil, err
	}
	s, err := g.best(samples, m.seed.For("order at stands"))
	if err != nil {
		return nil, nil, err
	}
	return s.start, s.end, nil
}

// ForecastBy is Forecast with laws by their quantiles in days: of steps by
// their ids, of leads by what they are for. It holds the trials to worked cases
// of other laws than ours.
func ForecastBy(c ForecastCase, l Learned, run Run, laws map[string]func(p float64) float64) (Outlook, error) {
	m, err := newModel(&c, &l, run, nil)
	if err != nil {
		return Outlook{}, err
	}
	put := func(to *law, f func(float64) float64, cal *calendar.Calendar, key string) {
		to.median = float64(cal.Of(1))
		if to.key == 0 {
			to.key = m.seed.For(key)
		}
		to.by = f
	}
	for i := range c.Steps {
		if f := laws[c.Steps[i].ID]; f != nil {
			p := &m.places[i]
			put(&p.law, f, m.clocks[p.clock].cal, "")
			p.pace = m.paceOf(c.Steps[i].Trade)
		}
	}
	for _, p := range m.points {
		for k, d := range p.of.doors() {
			for q := range d.Leads {
				if f := laws[d.Leads[q].Says]; f != nil {
					lead := &p.doors[k].leads[q]
					put(&lead.law, f, lead.clock.cal, d.Leads[q].Says)
				}
			}
		}
	}
	t, err := m.play(context.Background(), run)
	if err != nil {
		return Outlook{}, err
	}
	return m.outlook(t, run.Seed), nil
}

// Launches returns the launch of each trial, in days of 24 hours from the data
// date.
func (o Outlook) Launches() []float64 {
	out := make([]float64, len(o.samples))
	for i, v := range o.samples {
		out[i] = float64(v) / secondsADay
	}
	return out
}

// OrderKept returns the launch of each trial with the order at stands kept, as
// it was played, and as the planner lays it from what the trial drew.
func OrderKept(c ForecastCase, l Learned, run Run) (played, laid []calendar.Moment, err error) {
	m, err := newModel(&c, &l, run, nil)
	if err != nil {
		return nil, nil, err
	}
	if _, err := m.play(context.Background(), run); err != nil {
		return nil, nil, err
	}
	flat := *m.net
	flat.nodes = append([]node(nil), m.net.nodes...)
	for i := range flat.nodes {
		flat.nodes[i].known = true
	}
	g := &planner{pass: newPass(&flat), goal: -1, trial: &drawn{pauses: make([]calendar.Work, len(flat.nodes))}}
	if c.Launch != "" {
		g.goal = m.byID[c.Launch]
	}
	n := min(run.Trials, 256)
	length, pause := m.drawSteps(n)
	for t := range n {
		m.set(g, length, pause, t)
		played, laid = append(played, m.zero+calendar.Moment(m.last[t])), append(laid, g.unbound().launch)
	}
	return played, laid, nil
}
