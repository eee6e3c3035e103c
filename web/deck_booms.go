package web

import (
	"fmt"

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
	Facts []deckFact  // its sail, the mainsheet
	Said  []deck.Said // let go without a preventer, its end in the water
	Leads []deckLead
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
		b := deckBoom{Of: v.Ref(g.Boom.Self), Facts: boomFacts(g.Result), Said: saidOf(x.Facts, g.Boom.Self)}
		for _, l := range g.Result.Leads {
			lead := deckLead{Of: v.Ref(record.Ref(l.Preventer)), Side: string(l.Side), State: string(l.Verdict), Grave: l.Verdict == rope.MeetsNot, Facts: leadFacts(l), Says: l.Says}
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
