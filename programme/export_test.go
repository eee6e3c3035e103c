package programme

import "dogshore/calendar"

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
