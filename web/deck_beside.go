package web

import (
	"fmt"
	"html/template"
	"math"

	"dogshore/desk/deck"
	"dogshore/desk/plan"
	"dogshore/drawing"
	"dogshore/gybe"
	"dogshore/jackstay"
	"dogshore/record"
	"dogshore/rope"
	"dogshore/unit"
)

// deckBeside is the arrangements of one open point, side by side.
type deckBeside struct {
	Point Named // "" for what stands in every arrangement
	Due   string
	State string
	Cards []deckCard
	Told  []deck.Comparison // of the one drawn with each of the others, as they are on record
}

// deckCard is one arrangement beside others: small, with what decides.
type deckCard struct {
	Name, Href string
	Here       bool // it is the one that is drawn large
	Taken      bool // it was decided
	Small      template.HTML
	Facts      []deckFact
}

// deckBeside sets the arrangements of each point beside each other, the one
// that is drawn large among them as it is tried on.
func (v *view) deckBeside(p deck.Plan, x *deck.Arrangement) []deckBeside {
	var out []deckBeside
	at := map[record.Ref]int{}
	for i := range v.rev.Deck.Arrangements {
		a := &v.rev.Deck.Arrangements[i]
		here := a.Option == x.Option
		if here {
			a = x
		}
		n, ok := at[a.Point]
		if !ok {
			n = len(out)
			at[a.Point] = n
			group := deckBeside{}
			if q := v.planPoint(a.Point); a.Point != "" && q != nil {
				group = deckBeside{Point: v.Ref(a.Point), Due: v.pointDue(q)}
				if q.State != plan.Open {
					group.State = string(q.State)
				}
			}
			out = append(out, group)
		}
		card := deckCard{Name: a.Name, Href: v.deckHref(a.Option), Here: here, Small: drawing.DeckSmall(p, a).SVG()}
		if q := v.planPoint(a.Point); q != nil && q.Decision != nil && q.Decision.Option == a.Option {
			card.Taken = true
		}
		other := a
		if a.Point == x.Point && !here {
			other = x
		}
		card.Facts = v.cardFacts(a, other)
		out[n].Cards = append(out[n].Cards, card)
	}
	for _, c := range v.rev.Deck.Compared {
		if n, ok := at[c.Point]; ok && (c.A == x.Option || c.B == x.Option) {
			out[n].Told = append(out[n].Told, c)
		}
	}
	if len(v.rev.Deck.Arrangements) < 2 {
		return nil
	}
	return out
}

// cardFacts are the few figures that decide between arrangements; beside the
// one that is drawn they say whether a difference can be told.
func (v *view) cardFacts(a, drawn *deck.Arrangement) []deckFact {
	var out []deckFact
	put := func(label, text string) { out = append(out, deckFact{Label: label, Text: text}) }
	if len(a.Result.Lines)+len(a.Result.Points) > 0 {
		put("over the side", overCard(a, drawn))
		put("after a fall, in a line", tensionCard(a, drawn))
	}
	if len(a.Tasks) > 0 {
		bare, gaps := 0.0, 0
		for _, t := range a.Tasks {
			bare += bareOf(t)
			if !t.Walked.Clipped {
				gaps++
			}
		}
		text := fmt.Sprintf("clipped on all the way on all %d tasks", len(a.Tasks))
		if gaps > 0 {
			text = fmt.Sprintf("%.1f m on no hook, over %d of %d tasks", bare, gaps, len(a.Tasks))
		}
		put("on the way", text)
	}
	for _, g := range a.Gybe {
		put("preventer", v.leadCard(g))
	}
	put("over what is entered", foundText(found(a, deck.Weak, deck.Unheld)))
	put("not known", foundText(found(a, deck.Unknown)))
	put("catches, in the way, swept", foundText(found(a, deck.Snag, deck.Crossed, deck.Swept)))
	if a.Result.Deck > 0 {
		put("deck that no ring reaches", fmt.Sprintf("%.0f of %.0f m²", a.Result.Bare, a.Result.Deck))
	}
	if a.Point == "" {
		return out
	}
	put("weight", sayOr(a.Cost.Weighs().Text()))
	put("work", workText(a.Cost.Days))
	put("price", sayOr(a.Cost.Price.Text()))
	by := "not said"
	if a.Cost.By.Known() {
		by = a.Cost.By.Line(v.Day)
	}
	put("can be chosen", by)
	return out
}

func sayOr(s string) string {
	if s == "" {
		return "not said"
	}
	return s
}

func workText(q unit.Quantity) string {
	if !q.Known {
		return "not said"
	}
	if q.SI == 1 {
		return "1 working day"
	}
	return fmt.Sprintf("%.3g working days", q.SI)
}

func foundText(n int) string {
	if n == 0 {
		return "none found"
	}
	return count(n, "finding", "findings")
}

func found(a *deck.Arrangement, sorts ...deck.Sort) (n int) {
	for _, f := range a.Findings {
		for _, s := range sorts {
			if f.Sort == s {
				n += f.Count()
			}
		}
	}
	return n
}

// overCard says from how many lines and eyes one ends in the water, and how far
// over the edge at worst.
func overCard(a, drawn *deck.Arrangement) string {
	water, outside, worst := overOf(a)
	if worst == nil {
		return "stays aboard"
	}
	text := ""
	switch {
	case water > 0 && outside > 0:
		text = fmt.Sprintf("in the water from %d, outside from %d", water, outside)
	case water > 0:
		text = fmt.Sprintf("in the water from %d", water)
	case worst.Class == jackstay.ClassAOrB:
		text = fmt.Sprintf("may hang outside from %d", outside)
	default:
		text = fmt.Sprintf("outside, above the water, from %d", outside)
	}
	way := worstWay(*worst)
	text += fmt.Sprintf(" of %d lines and eyes; %s", len(a.Result.Lines)+len(a.Result.Points), overBy(*way))
	if _, _, other := overOf(drawn); drawn != a && other != nil {
		theirs := worstWay(*other)
		text += against(theirs.By, way.By, math.Max(way.Error, theirs.Error))
	}
	return text
}

func overOf(a *deck.Arrangement) (water, outside int, worst *jackstay.Side) {
	add := func(sides []jackstay.Side) {
		s := worstSide(sides)
		if s == nil {
			return
		}
		if classRank(s.Class) == 2 {
			water++
		} else {
			outside++
		}
		if worst == nil || classRank(s.Class) > classRank(worst.Class) || classRank(s.Class) == classRank(worst.Class) && most(worstWay(*s).By) > most(worstWay(*worst).By) {
			worst = s
		}
	}
	for _, l := range a.Result.Lines {
		add(l.Sides)
	}
	for _, p := range a.Result.Points {
		add(p.Sides)
	}
	return water, outside, worst
}

// against says how a figure stands to that of the arrangement drawn.
func against(drawn, this jackstay.Band, err float64) string {
	switch jackstay.Tell(drawn, this, err) {
	case jackstay.First:
		return " (less than drawn)"
	case jackstay.Second:
		return " (more than drawn)"
	}
	return " (no difference from the one drawn that can be told)"
}

func tensionCard(a, drawn *deck.Arrangement) string {
	b, ok := tensionOf(a)
	if !ok {
		return "no line"
	}
	text := bandKN(b)
	if other, has := tensionOf(drawn); has && drawn != a {
		text += against(other, b, 0)
	}
	return text
}

// tensionOf is the greatest tension of any line, at each stiffness.
func tensionOf(a *deck.Arrangement) (b jackstay.Band, ok bool) {
	for _, l := range a.Result.Lines {
		b = jackstay.Band{Soft: max(b.Soft, l.Tension.Soft), As: max(b.As, l.Tension.As), Stiff: max(b.Stiff, l.Tension.Stiff)}
		ok = true
	}
	return b, ok
}

// leadCard is what the preventers of a boom see at most, and how they stand.
func (v *view) leadCard(g deck.Gybe) string {
	low, high, state := math.Inf(1), 0.0, string(rope.Meets)
	for _, l := range g.Result.Leads {
		for _, x := range []gybe.Answer{l.Settles, l.Stops} {
			if x.Outcome != gybe.Holds {
				return sayOr(x.Says)
			}
			low, high = min(low, x.Tension.Least), max(high, x.Tension.Most)
		}
		if l.Verdict != rope.Meets {
			state = v.leadState(l)
		}
	}
	return fmt.Sprintf("%s in the line; %s", span(low/1000, high/1000, "kN"), state)
}
