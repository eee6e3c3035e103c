package programme

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"dogshore/figure"
	"dogshore/source"
)

var byShare = source.Source{How: source.Derived, Text: "shares that add up, of forecasts with the same draws; docs/theory/programme.md, Played forward"}

// Says returns the working of what moved the launch: its parts, and those of
// steps within the sightings. name says how a person calls a step.
func (m Movement) Says(name func(id string) string) figure.Figure {
	f := moved("D", "working days by which the launch moved, as likely before as after", m.Days)
	f.Rule = "D = "
	for i, p := range m.Parts {
		symbol := fmt.Sprintf("P%d", i+1)
		part := moved(symbol, string(p.Group), p.Days)
		if p.Group == BySightings {
			m.within(&part, name)
		}
		f.Rule += symbol + " + "
		f.Of = append(f.Of, part)
	}
	f.Rule += "R"
	f.Of = append(f.Of, moved("R", "remainder", m.Remainder))
	return f
}

// stepsShown is how many steps a working names; the others are one.
const stepsShown = 12

// within adds the working of the sightings' part, the steps that did most first.
func (m Movement) within(f *figure.Figure, name func(string) string) {
	if len(m.Steps) == 0 {
		return
	}
	all := slices.Clone(m.Steps)
	slices.SortStableFunc(all, func(a, b MovedStep) int { return cmp.Compare(math.Abs(b.Days), math.Abs(a.Days)) })
	f.Rule = f.Symbol + " = "
	rest := 0.0
	for i, s := range all {
		if i >= stepsShown {
			rest += s.Days
			continue
		}
		symbol := fmt.Sprintf("S%d", i+1)
		f.Rule += symbol + " + "
		f.Of = append(f.Of, moved(symbol, name(s.ID), s.Days))
	}
	if len(all) > stepsShown {
		f.Rule += "O + "
		f.Of = append(f.Of, moved("O", fmt.Sprintf("%d other steps together", len(all)-stepsShown), rest))
	}
	f.Rule += "Q"
	f.Of = append(f.Of, moved("Q", "no step's: what other calendars and the scale from mean to even chance leave over", m.Rest))
}

func moved(symbol, says string, days float64) figure.Figure {
	return figure.Figure{Symbol: symbol, Says: says, Value: days, Unit: "working days", Text: fmt.Sprintf("%+.1f working days", days), Source: byShare}
}
