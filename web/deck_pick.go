package web

import (
	"fmt"
	"math"
	"net/url"
	"slices"
	"strings"

	"dogshore/desk"
	"dogshore/desk/deck"
	"dogshore/drawing"
	"dogshore/gybe"
	"dogshore/jackstay"
	"dogshore/record"
	"dogshore/rope"
)

// deckPick is one numbered thing of the drawing with its own few figures: it
// can be shown alone.
type deckPick struct {
	Number int
	Of     Named
	State  string
	Grave  bool
	Facts  []deckFact
	Alone  string // leads to the page that shows it alone
	Here   bool   // it is shown alone
}

// pick says what stands beside the drawing of one thing.
func (v *view) pick(x *deck.Arrangement, row drawing.DeckRow, show record.Ref) deckPick {
	p := deckPick{Number: row.Number, Of: v.Ref(row.Of), Here: row.Of == show}
	p.Alone = v.Link("/deck?option=" + url.QueryEscape(x.Option.Key()) + "&show=" + url.QueryEscape(string(row.Of)) + "#deck-sheet")
	for _, l := range x.Result.Lines {
		if l.ID == string(row.Of) {
			p.State, p.Grave = lineState(l.Sides, x.Stands(row.Of))
			p.Facts = append(v.lineFacts(l), v.underFacts(x, l)...)
		}
	}
	for _, e := range x.Result.Points {
		if e.ID == string(row.Of) {
			p.State, p.Grave = lineState(e.Sides, x.Stands(row.Of))
			p.Facts = v.eyeFacts(x, e)
		}
	}
	for _, t := range x.Tasks {
		if t.Self == row.Of {
			p.State, p.Grave = taskState(t), !t.Walked.Clipped
			p.Facts = v.taskFacts(t)
		}
	}
	for _, g := range x.Gybe {
		for _, l := range g.Result.Leads {
			if l.Preventer == string(row.Of) {
				p.State, p.Grave = v.leadState(l), p.Grave || l.Verdict == rope.MeetsNot
				p.Facts = append(p.Facts, v.leadFacts(l)...)
			}
		}
	}
	return p
}

// lineState is the gravest word on a line or an eye.
func lineState(sides []jackstay.Side, stands jackstay.Verdict) (string, bool) {
	s := worstSide(sides)
	switch {
	case s != nil && classRank(s.Class) == 2:
		return "in the water", true
	case stands == jackstay.MeetsNot:
		return string(stands), true
	case s != nil:
		return "over the side", true
	}
	return string(stands), false
}

// underFacts say what the ends of a line ask of the laminate under them.
func (v *view) underFacts(x *deck.Arrangement, l jackstay.LineResult) []deckFact {
	var out []deckFact
	for _, s := range l.Supports {
		out = append(out, v.underFact(x, s.ID)...)
	}
	return out
}

func (v *view) underFact(x *deck.Arrangement, id string) []deckFact {
	for _, a := range x.Anchors {
		if string(a.Self) != id {
			continue
		}
		text := string(a.Result.Verdict) + "; asked for: " + strings.TrimSuffix(strings.TrimPrefix(deck.Demanded(a), a.Name+": "), ".")
		if before := v.beforeOf(x, []record.Ref{a.Self}); before != "" {
			text += ", " + before
		}
		return []deckFact{{Label: "under " + a.Name, Text: text}}
	}
	return nil
}

func (v *view) eyeFacts(x *deck.Arrangement, e jackstay.PointResult) []deckFact {
	out := []deckFact{{Label: "a fall puts on it", Text: fmt.Sprintf("%s; it should hold %s: %s", bandKN(e.Arrest), kN(e.Needed), e.Verdict)}, v.sideFact(e.Sides)}
	var zones []string
	for _, in := range x.Sweep.Inside {
		zone := v.nameOr(in.Zone)
		if in.Station == e.ID && !slices.Contains(zones, zone) {
			zones = append(zones, zone)
		}
	}
	if len(zones) > 0 {
		out = append(out, deckFact{Label: "lies in what is swept by", Text: fewOf(zones, 3)})
	}
	return append(out, v.underFact(x, e.ID)...)
}

func taskState(t deck.Task) string {
	switch {
	case t.Walked.Clipped:
		return "clipped on all the way, by the figures entered"
	case len(t.Walked.Gaps) > 0:
		return fmt.Sprintf("%.1f of %.1f m on no hook", bareOf(t), t.Walked.Length)
	}
	return "a change on no hook"
}

// bareOf is how much of a task's way is on no hook, in metres.
func bareOf(t deck.Task) (m float64) {
	for _, g := range t.Walked.Gaps {
		m += g.To - g.From
	}
	return m
}

// taskFacts say how a way is clipped, stretch by stretch.
func (v *view) taskFacts(t deck.Task) []deckFact {
	w := t.Walked
	out := []deckFact{{Label: "on the way", Text: fmt.Sprintf("%s of hook; the work needs %s", count(w.Changes, "change", "changes"), count(w.Hands, "hand", "hands"))}}
	if w.Moments > 0 {
		out = append(out, deckFact{Label: "the only hook is let go first", Text: fmt.Sprintf("at %d of the changes", w.Moments)})
	}
	for _, p := range w.Parts {
		out = append(out, deckFact{Label: fmt.Sprintf("%.1f to %.1f m", p.From, p.To), Text: fmt.Sprintf("on %s, the %s leg", v.nameOr(p.On), metres(p.Leg))})
	}
	for _, g := range w.Gaps {
		out = append(out, deckFact{Label: fmt.Sprintf("%.1f to %.1f m", g.From, g.To), Text: fmt.Sprintf("on no hook; one more eye near %.1f m forward, %s would come first to mind", g.Eye.X, desk.Abeam(g.Eye.Y))})
	}
	if w.Low > 0 {
		out = append(out, deckFact{Label: "only on hands and knees", Text: fmt.Sprintf("%.1f m", w.Low)})
	}
	for _, x := range w.Dragged {
		on, leg, _ := strings.Cut(x, " on ")
		out = append(out, deckFact{Label: "a fall may end in the water", Text: "from " + v.nameOr(on) + ", leg of " + leg})
	}
	for _, x := range w.Through {
		out = append(out, deckFact{Label: "leads through", Text: v.nameOr(x) + ": is it drawn right?"})
	}
	return out
}

// leadFacts say what a preventer sees, in words where there is no equilibrium.
func (v *view) leadFacts(l gybe.Lead) []deckFact {
	out := []deckFact{
		{Label: "boom out to " + string(l.Side) + ", set up at", Text: fmt.Sprintf("%.0f°", l.Set*180/math.Pi)},
		aback("the wind coming slowly", l.Settles), aback("caught aback at once", l.Stops),
	}
	if l.Dipped != nil {
		out = append(out, aback("the boom’s end in the water", *l.Dipped))
	}
	if l.Weakest != "" {
		text := v.nameOr(l.Weakest)
		if l.Margin > 0 {
			text += fmt.Sprintf(": used to %.0f %% of what is entered, its factor taken off", 100/l.Margin)
		}
		out = append(out, deckFact{Label: "weakest", Text: text})
	}
	return out
}

func aback(label string, x gybe.Answer) deckFact {
	if x.Outcome != gybe.Holds {
		text := string(x.Outcome)
		if x.Says != "" {
			text = x.Says
		}
		return deckFact{Label: label, Text: text}
	}
	return deckFact{Label: label, Text: span(x.Tension.Least/1000, x.Tension.Most/1000, "kN") + " in the line at the boom"}
}
