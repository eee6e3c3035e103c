package review

import (
	"dogshore/calendar"
	"dogshore/figure"
	"dogshore/record"
)

// jsonMoved is what moved the launch since the last visit, in working days of its
// calendar, later if more than 0.
type jsonMoved struct {
	Before    calendar.Day    `json:"before"`
	After     calendar.Day    `json:"after"`
	Days      float64         `json:"work_days"`
	Band      float64         `json:"band_work_days"`
	None      bool            `json:"none"`
	Words     string          `json:"words"`
	Groups    []jsonGroup     `json:"groups"`
	Remainder float64         `json:"remainder_work_days"`
	Steps     []jsonMovedStep `json:"steps"`
	Rest      float64         `json:"steps_rest_work_days"`
	Mean      float64         `json:"mean_work_days"`
	Missed    float64         `json:"mean_rest_work_days"`
	Working   figure.Figure   `json:"working"`
}

type jsonGroup struct {
	Group string  `json:"group"`
	Days  float64 `json:"work_days"`
}

type jsonMovedStep struct {
	jsonName
	Days float64 `json:"work_days"`
	Mean float64 `json:"mean_work_days"`
}

func (v Review) jsonMoved() *jsonMoved {
	m := v.Since.Launch
	if m == nil {
		return nil
	}
	out := &jsonMoved{
		Before: m.Before.Day(), After: m.After.Day(), Days: m.Days, Band: m.Band, None: m.None, Words: m.Says,
		Groups: []jsonGroup{}, Remainder: m.Remainder, Steps: []jsonMovedStep{}, Rest: m.Rest, Mean: m.Mean, Missed: m.Missed, Working: m.Work,
	}
	for _, p := range m.Movement.Parts {
		out.Groups = append(out.Groups, jsonGroup{string(p.Group), p.Days})
	}
	for _, s := range m.Movement.Steps {
		out.Steps = append(out.Steps, jsonMovedStep{jsonName{record.R("step", s.ID), v.stepName(s.ID)}, s.Days, s.Mean})
	}
	return out
}

// jsonStand is the order at a mould, cradle or bay at which a part waits.
type jsonStand struct {
	Stand     jsonName      `json:"stand"`
	Turns     []jsonTurn    `json:"turns"`
	Trials    int           `json:"trials"`
	Regretted int           `json:"regretted"`
	Sooner    float64       `json:"sooner_days,omitempty"`
	Words     string        `json:"words"`
	Working   figure.Figure `json:"working"`
}

type jsonTurn struct {
	Part  record.Ref `json:"part,omitempty"`
	First record.Ref `json:"first"`
	Last  record.Ref `json:"last"`
	Has   bool       `json:"has_it,omitempty"`
}

func (v Review) jsonStands() []jsonStand {
	out := []jsonStand{}
	for _, o := range v.Plan.Forecast.Stands {
		s := jsonStand{Stand: *v.called(o.Stand), Trials: o.Trials, Regretted: o.Regretted, Sooner: o.Sooner, Words: o.Order + " " + o.Regret, Working: o.Work}
		for _, t := range o.Turns {
			s.Turns = append(s.Turns, jsonTurn(t))
		}
		out = append(out, s)
	}
	return out
}
