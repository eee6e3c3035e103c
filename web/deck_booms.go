package web

import (
	"fmt"
	"slices"

	"dogshore/desk"
	"dogshore/desk/deck"
	"dogshore/figure"
	"dogshore/gybe"
	"dogshore/record"
	"dogshore/rope"
)

// deckBoom is a boom with its preventers.
type deckBoom struct {
	Of    Named
	Facts []deckFact // its sail, the mainsheet
	Said  []string   // let go without a preventer, its end in the water
	Leads []deckLead

	Figures []figure.Figure
}

// deckLead is one preventer on one side.
type deckLead struct {
	Of    Named
	Side  string
	State string
	Grave bool
	Facts []deckFact
	Parts []deckPart
	Fouls []string
	Says  []string

	Figures []figure.Figure
}

func (v *view) deckBooms(x *deck.Arrangement) []deckBoom {
	var out []deckBoom
	for _, g := range x.Gybe {
		b := deckBoom{Of: v.Ref(g.Boom.Self), Facts: boomFacts(g.Result), Figures: x.Of(g.Boom.Self)}
		for _, s := range saidOf(x.Facts, g.Boom.Self) {
			b.Said = append(b.Said, s.Says)
		}
		for _, l := range g.Result.Leads {
			lead := deckLead{Of: v.Ref(record.Ref(l.Preventer)), Side: string(l.Side), State: v.leadState(l), Grave: l.Verdict == rope.MeetsNot, Facts: v.leadFacts(l), Says: l.Says}
			for _, p := range l.Parts {
				lead.Parts = append(lead.Parts, v.leadPart(p))
			}
			for _, f := range l.Fouls {
				lead.Fouls = append(lead.Fouls, v.nameOr(f.Obstacle))
			}
			for _, about := range x.Figures {
				if about.Of == lead.Of.Ref && about.Side == lead.Side {
					lead.Figures = append(lead.Figures, about.Figures...)
				}
			}
			b.Leads = append(b.Leads, lead)
		}
		out = append(out, b)
	}
	return out
}

// leadState is the gravest word on a preventer: that it does not hold, that a
// part is over its rating, or that its lead comes foul of something.
func (v *view) leadState(l gybe.Lead) string {
	for _, x := range []gybe.Answer{l.Settles, l.Stops} {
		if x.Outcome != gybe.Holds {
			return string(x.Outcome)
		}
	}
	over := slices.ContainsFunc(l.Parts, func(p gybe.Part) bool { return p.Verdict == rope.MeetsNot })
	if !over && len(l.Fouls) > 0 {
		return "comes foul of " + v.nameOr(l.Fouls[0].Obstacle)
	}
	return string(l.Verdict)
}

// boomFacts say what the boom does by itself.
func boomFacts(r gybe.Result) []deckFact {
	out := []deckFact{{Label: "the sail pulls with", Text: span(r.Force.Least/1000, r.Force.Most/1000, "kN") + fmt.Sprintf(", in wind up to %.0f m/s", r.Force.At.Wind)}}
	if m := r.Sheet; m != nil {
		out = append(out, deckFact{Label: "mainsheet by the trade’s formula, to compare", Text: kN(m.Load)})
	}
	return out
}

// leadPart is the line, a point of a preventer's way, or the boom, against its
// rating.
func (v *view) leadPart(p gybe.Part) deckPart {
	name := p.Sort
	if ref := record.Ref(p.Name); v.rec.Has(ref) {
		name = v.rec.Name(ref)
	}
	out := deckPart{Says: desk.Capital(name), Verdict: string(p.Verdict), Grave: p.Verdict == rope.MeetsNot, Needs: fewOf(p.Missing, 4), Holds: inSI(p.Rated, p.Unit)}
	unit := "kN"
	if p.Unit == "N m" {
		unit = "kN m"
	}
	out.Sees = span(p.Load.Least/1000, p.Load.Most/1000, unit)
	if p.Verdict != rope.NotKnown {
		out.used(p.Margin)
	}
	return out
}
