package web

import (
	"fmt"

	"dogshore/desk"
	"dogshore/desk/deck"
	"dogshore/jackstay"
	"dogshore/record"
)

// deckLine is all that is said of one line or eye, one tap down.
type deckLine struct {
	Number    int
	Of        Named
	State     string
	Grave     bool
	Length    string
	Sides     []deckSide
	Holds     []deckHold
	More      []deckFact // friction, several persons
	Otherwise []deckOtherwise
}

// deckSide is a row of a line's table: one edge, one leg.
type deckSide struct {
	Edge  Named
	Leg   string
	Class string
	Grave bool
	Under deckWay // under the lowest wire, or over an open edge
	Over  deckWay // over the top rail
}

// deckWay is how far one goes over an edge on one way, and where the harness
// ring ends.
type deckWay struct{ By, Ring string }

// deckHold is what one point of a line sees.
type deckHold struct {
	Of                         Named
	Load, How, Needed, Verdict string
	Grave                      bool
}

// deckOtherwise sets a figure of the line beside the same with one thing
// changed.
type deckOtherwise struct{ What, If, As, Then, Told string }

func (v *view) deckLines(x *deck.Arrangement, picks []deckPick) []deckLine {
	numbers := map[string]deckPick{}
	for _, p := range picks {
		numbers[string(p.Of.Ref)] = p
	}
	var out []deckLine
	for _, l := range x.Result.Lines {
		p := numbers[l.ID]
		line := deckLine{Number: p.Number, Of: v.Ref(record.Ref(l.ID)), State: p.State, Grave: p.Grave, Length: metres(l.Length), Sides: v.deckSides(l.Sides)}
		for _, on := range l.Supports {
			line.Holds = append(line.Holds, deckHold{
				Of: v.refOr(on.ID), Load: bandKN(on.Load), How: string(on.How), Needed: kN(on.Needed), Verdict: string(on.Verdict), Grave: on.Verdict == jackstay.MeetsNot,
			})
		}
		line.More = lineMore(l)
		for _, r := range l.Remarks {
			line.Otherwise = append(line.Otherwise, deckOtherwise{What: r.What, If: r.Change, As: inUnit(r.As, r.Unit), Then: inUnit(r.Then, r.Unit), Told: toldWords[r.Told]})
		}
		out = append(out, line)
	}
	for _, e := range x.Result.Points {
		p := numbers[e.ID]
		out = append(out, deckLine{
			Number: p.Number, Of: v.Ref(record.Ref(e.ID)), State: p.State, Grave: p.Grave, Sides: v.deckSides(e.Sides),
			Holds: []deckHold{{Of: v.Ref(record.Ref(e.ID)), Load: bandKN(e.Arrest), How: "a fall", Needed: kN(e.Needed), Verdict: string(e.Verdict), Grave: e.Verdict == jackstay.MeetsNot}},
		})
	}
	return out
}

// refOr is a subject as a link, or a name alone where it is none.
func (v *view) refOr(of string) Named {
	if ref := record.Ref(of); v.rec.Has(ref) {
		return v.Ref(ref)
	}
	return Named{Name: of}
}

// deckSides are the rows of a table over edges and legs; what two tethers do
// alike is one row.
func (v *view) deckSides(sides []jackstay.Side) []deckSide {
	var out []deckSide
	seen := map[deckSide]bool{}
	for _, s := range sides {
		row := deckSide{Edge: v.refOr(s.Edge), Leg: metres(s.Leg), Class: classWords[s.Class], Grave: classRank(s.Class) == 2, Under: way(s.Under), Over: way(s.Over)}
		if !seen[row] {
			seen[row] = true
			out = append(out, row)
		}
	}
	return out
}

func way(p *jackstay.Passing) deckWay {
	if p == nil {
		return deckWay{By: "no such way"}
	}
	w := deckWay{By: beyondEdge(*p)}
	if most(p.By) > 0 {
		w.Ring = ring(p.Ring)
	}
	return w
}

// lineMore says what a line comes to with friction in its guides, and with
// several persons on it.
func lineMore(l jackstay.LineResult) []deckFact {
	var out []deckFact
	for _, b := range l.Brackets {
		out = append(out, deckFact{Label: desk.Capital(b.Says), Text: bandKN(b.Tension) + " in the line, the hook " + bandM(b.Sag) + " off its straight way"})
	}
	if r := l.Rubbing; r != nil {
		out = append(out, deckFact{Label: "With the friction entered", Text: fmt.Sprintf("%s in the middle of the longest span; %s with none, %s stuck in every guide", kN(r.Tension), kN(r.Free), kN(r.Stuck))})
	}
	if g := l.Group; g != nil {
		out = append(out, deckFact{Label: fmt.Sprintf("%d persons falling together", g.Persons), Text: bandKN(g.Tension) + " in the line"})
	}
	return out
}

func inUnit(value float64, unit string) string {
	if unit == "N" {
		return kN(value)
	}
	return fmt.Sprintf("%.1f %s", value, unit)
}

// toldWords say whether two figures differ by more than is known of them.
var toldWords = map[jackstay.Told]string{
	jackstay.NoDifference: "no difference that can be told", jackstay.First: "less", jackstay.Second: "more",
}
