package web

import (
	"fmt"
	"slices"
	"strings"

	"dogshore/desk"
	"dogshore/desk/deck"
	"dogshore/desk/plan"
	"dogshore/record"
)

// deckHead says what is drawn, and what must be settled before which step.
type deckHead struct {
	Name    string // of the arrangement; "" for what stands in every one
	Point   Named  // the question that it would settle
	Ways    string // "one of 3 ways to settle"
	Due     string // "before the deck core, which can come next; by Fri 13 November, ..."
	State   string // of the point, where it is not open
	Default string // what is built if nobody says anything
	Sum     string // how much it leaves open
	Under   string // of what stands in every arrangement: "what must lie under 3 fittings"
}

// worstShown is how many matters stand at the top of the page.
const worstShown = 3

func (v *view) deckHead(x *deck.Arrangement) deckHead {
	h := deckHead{Sum: openSum(x)}
	if x.Point == "" {
		h.Under, h.Due = v.deckUnder(x)
		return h
	}
	h.Name, h.Point = x.Name, v.Ref(x.Point)
	ways := 0
	for _, a := range v.rev.Deck.Arrangements {
		if a.Point == x.Point {
			ways++
		}
	}
	h.Ways = "the only way drawn to settle"
	if ways > 1 {
		h.Ways = fmt.Sprintf("one of %d ways to settle", ways)
	}
	p := v.planPoint(x.Point)
	if p == nil {
		return h
	}
	h.Due, h.Default = v.pointDue(p), strings.TrimRight(p.Default, ".")
	if p.State != plan.Open {
		h.State = string(p.State)
	}
	return h
}

// pointDue says before which step a point must be settled, and by when.
func (v *view) pointDue(p *plan.Point) string {
	due := v.event(p.Step, p.Ahead, p.Gone)
	if by := p.Governs(); by.Known() {
		if due != "" {
			due += "; "
		}
		due += by.Line(v.Day)
	}
	return due
}

// planPoint is an open point, or one that is settled, as the plan desk has it.
func (v *view) planPoint(ref record.Ref) *plan.Point {
	for _, list := range [][]plan.Point{v.rev.Plan.Points, v.rev.Plan.Settled} {
		for i := range list {
			if list[i].Self == ref {
				return &list[i]
			}
		}
	}
	return nil
}

// deckUnder says how many fittings of an arrangement need something in the
// laminate before a step, and which comes first.
func (v *view) deckUnder(x *deck.Arrangement) (what, due string) {
	n := 0
	var first *plan.Step
	for _, a := range x.Anchors {
		if a.Before == "" {
			continue
		}
		n++
		for i := range v.rev.Plan.Steps {
			s := &v.rev.Plan.Steps[i]
			if s.Self == a.Before && (first == nil || s.Ahead >= 0 && s.Ahead < first.Ahead) {
				first = s
			}
		}
	}
	if n == 0 || first == nil {
		return "", ""
	}
	return "what must lie under " + desk.Count(n, "fitting"), v.event(first.Self, first.Ahead, first.Begun.Known())
}

func openSum(x *deck.Arrangement) string {
	grave, other := 0, 0
	for _, f := range x.Findings {
		if f.Sort.Grave() {
			grave += f.Count()
		} else {
			other += f.Count()
		}
	}
	switch {
	case grave+other == 0:
		return "On the figures entered nothing was found that it leaves open."
	case grave == 0:
		return fmt.Sprintf("It leaves %s open, none of them grave.", desk.Count(other, "thing"))
	case other == 0:
		return fmt.Sprintf("It leaves %s open that can cost a life; the gravest:", desk.Count(grave, "thing"))
	}
	return fmt.Sprintf("It leaves %s open that can cost a life, and %d more; the gravest:", desk.Count(grave, "thing"), other)
}

// beforeOf says before which steps something must be in under the fittings
// that findings speak of.
func (v *view) beforeOf(x *deck.Arrangement, of []record.Ref) string {
	var said []string
	for _, f := range x.Fittings {
		if f.Before == "" || !slices.Contains(of, f.Self) {
			continue
		}
		for _, s := range v.rev.Plan.Steps {
			if s.Self != f.Before {
				continue
			}
			if text := v.event(s.Self, s.Ahead, s.Begun.Known()); !slices.Contains(said, text) {
				said = append(said, text)
			}
		}
	}
	return strings.Join(said, "; ")
}
