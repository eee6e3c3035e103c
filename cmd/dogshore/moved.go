package main

import (
	"dogshore/desk"
	"dogshore/review"
)

// stands says who has a mould, cradle or bay after whom, and how often that order
// is regretted.
func (p *page) stands(v review.Review) {
	all := v.Plan.Forecast.Stands
	p.list("Who has a mould, cradle or bay after whom", len(all), len(all), func(i int) string { return all[i].Order + " " + all[i].Regret })
}

// moved says what moved the launch, group by group and step by step.
func (p *page) moved(m *review.Moved) {
	if m == nil {
		return
	}
	p.para(plainInk, "  ", "  ", "Launch: "+m.Says)
	for _, x := range m.Parts {
		p.para(plainInk, "  - ", "    ", x.Name+": "+desk.Sentence(x.Says))
		if x.Name != "sightings" {
			continue
		}
		for _, s := range m.Steps {
			p.para(plainInk, "      - ", "        ", s.Name+": "+desk.Sentence(s.Says))
		}
	}
	if m.Over != "" {
		p.para(plainInk, "  ", "  ", m.Over)
	}
}
