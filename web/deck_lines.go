package web

import (
	"fmt"
	"slices"

	"dogshore/desk/deck"
	"dogshore/figure"
	"dogshore/jackstay"
	"dogshore/record"
)

// deckLine is all that is said of one line or eye, one tap down.
type deckLine struct {
	Number  int
	Of      Named
	Also    []Named // of which all this is true as well
	State   string
	Grave   bool
	Length  string
	Sides   []deckSide
	Holds   []deckHold
	Legs    []deck.Leg  // where the ring comes on each leg
	Facts   []deck.Said // friction, several persons
	Remarks []deck.Said // what is often taken to be the other way round
	Figures []figure.Figure
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
		line.Legs = legsOf(x, line.Of.Ref)
		line.Facts, line.Remarks, line.Figures = saidOf(x.Facts, line.Of.Ref), saidOf(x.Remarks, line.Of.Ref), x.Of(line.Of.Ref)
		out = append(out, line)
	}
	for _, e := range x.Result.Points {
		p := numbers[e.ID]
		out = append(out, deckLine{
			Figures: x.Of(record.Ref(e.ID)),
			Number:  p.Number, Of: v.Ref(record.Ref(e.ID)), State: p.State, Grave: p.Grave, Sides: v.deckSides(e.Sides),
			Holds: []deckHold{{Of: v.Ref(record.Ref(e.ID)), Load: bandKN(e.Arrest), How: "a fall", Needed: kN(e.Needed), Verdict: string(e.Verdict), Grave: e.Verdict == jackstay.MeetsNot}},
		})
	}
	return alikeLines(out)
}

// alikeLines makes one of lines and eyes that are each other's mirror image.
func alikeLines(all []deckLine) []deckLine {
	var out []deckLine
	for _, l := range all {
		key := l.alike()
		if i := slices.IndexFunc(out, func(o deckLine) bool { return o.alike() == key }); i >= 0 {
			out[i].Also = append(out[i].Also, l.Of)
			continue
		}
		out = append(out, l)
	}
	return out
}

func (l deckLine) alike() string {
	text := fmt.Sprint(l.Of.Name, l.State, l.Length)
	for _, s := range l.Sides {
		text += fmt.Sprint(s.Edge.Name, s.Leg, s.Class, s.Under, s.Over)
	}
	for _, h := range l.Holds {
		text += fmt.Sprint(h.Of.Name, h.Load, h.How, h.Needed, h.Verdict)
	}
	return sideless(text)
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

// saidOf is what is said of one thing, or of the whole deck for "".
func saidOf(all []deck.Said, of record.Ref) []deck.Said {
	var out []deck.Said
	for _, s := range all {
		if s.Of == of || slices.Contains(s.Also, of) {
			out = append(out, s)
		}
	}
	return out
}

func legsOf(x *deck.Arrangement, line record.Ref) []deck.Leg {
	var out []deck.Leg
	for _, l := range x.Legs {
		if l.Line == line {
			out = append(out, l)
		}
	}
	return out
}
