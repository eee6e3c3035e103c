package web

import (
	"fmt"
	"math"
	"strings"

	"dogshore/desk/deck"
	"dogshore/figure"
	"dogshore/jackstay"
	"dogshore/record"
)

// deckFact is one figure of a line, eye, task or preventer, as it stands by the
// drawing.
type deckFact struct {
	Label, Text string
	Figure      *figure.Figure // its working, if there is one
}

func metres(m float64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", m), "0"), ".") + " m"
}

func kN(n float64) string { return fmt.Sprintf("%.1f kN", n/1000) }

func least(b jackstay.Band) float64 { return min(b.Soft, b.As, b.Stiff) }
func most(b jackstay.Band) float64  { return max(b.Soft, b.As, b.Stiff) }

// span says two values with their unit, or one where both read alike.
func span(low, high float64, unit string) string {
	a, b := fmt.Sprintf("%.1f", low), fmt.Sprintf("%.1f", high)
	if a == b {
		return b + " " + unit
	}
	return a + " to " + b + " " + unit
}

// bandKN is a force at half, entered and double stiffness.
func bandKN(b jackstay.Band) string { return span(least(b)/1000, most(b)/1000, "kN") }

// ring says where a harness ring ends over the water, over its band.
func ring(b jackstay.Band) string {
	low, high := least(b), most(b)
	switch {
	case high < 0:
		return span(-high, -low, "m") + " under water"
	case low < -0.05:
		return fmt.Sprintf("%.1f m under water to %.1f m over it", -low, high)
	}
	return span(max(low, 0), max(high, 0), "m") + " over water"
}

// beyondEdge says how much tether is left over beyond an edge.
func beyondEdge(p jackstay.Passing) string {
	err := fmt.Sprintf(" ± %.1f", math.Max(0.1, math.Ceil(10*p.Error)/10))
	if by := most(p.By); by > 0 {
		return fmt.Sprintf("%.1f m%s", by, err)
	}
	return fmt.Sprintf("stays %.1f m%s inboard", math.Abs(most(p.By)), err)
}

// overBy says how far over an edge, or how little short of it.
func overBy(p jackstay.Passing) string {
	err := math.Max(0.1, math.Ceil(10*p.Error)/10)
	if by := most(p.By); by > 0 {
		return fmt.Sprintf("by up to %.1f m ± %.1f", by, err)
	}
	return fmt.Sprintf("%.1f m ± %.1f short of it", math.Abs(most(p.By)), err)
}

// classWords say what a class means, beside its letter.
var classWords = map[jackstay.Class]string{
	jackstay.Aboard: "A, stays aboard", jackstay.Outboard: "B, outside", jackstay.Dragging: "C, in the water", jackstay.Inboard: "a drop within the boat",
	jackstay.ClassAOrB: "A or B, may hang outside", jackstay.ClassBOrC: "B or C, outside or in the water", jackstay.ClassAOrC: "A to C, can’t be told",
}

// classRank is 2 for who is in the water or may be, 1 for who hangs outside or
// may, 0 for who stays aboard.
func classRank(c jackstay.Class) int {
	switch c {
	case jackstay.Dragging, jackstay.ClassBOrC, jackstay.ClassAOrC:
		return 2
	case jackstay.Outboard, jackstay.ClassAOrB:
		return 1
	}
	return 0
}

// worstWay is the worse of the two ways over an edge; nil if there is none.
func worstWay(s jackstay.Side) *jackstay.Passing {
	if s.Under == nil || s.Over != nil && classRank(s.Over.Class) > classRank(s.Under.Class) {
		return s.Over
	}
	return s.Under
}

// worstSide is the gravest way over the side, by class and then by how far.
func worstSide(sides []jackstay.Side) (worst *jackstay.Side) {
	for i := range sides {
		s := &sides[i]
		if classRank(s.Class) == 0 || worstWay(*s) == nil {
			continue
		}
		if worst == nil || classRank(s.Class) > classRank(worst.Class) ||
			classRank(s.Class) == classRank(worst.Class) && most(worstWay(*s).By) > most(worstWay(*worst).By) {
			worst = s
		}
	}
	return worst
}

// sideFact says how one goes over the side at worst.
func (v *view) sideFact(sides []jackstay.Side) deckFact {
	s := worstSide(sides)
	if s == nil {
		if len(sides) == 0 {
			return deckFact{Label: "over the side", Text: "no edge is within reach"}
		}
		return deckFact{Label: "over the side", Text: "stays aboard at every edge within reach"}
	}
	way := worstWay(*s)
	return deckFact{Label: "over the side", Text: fmt.Sprintf("%s: %s on the %s leg, %s; ring %s", v.nameOr(s.Edge), classWords[s.Class], metres(s.Leg), overBy(*way), ring(way.Ring))}
}

// lineFacts are the few figures of a line: what can be said while a hand holds
// it.
func (v *view) lineFacts(l jackstay.LineResult) []deckFact {
	strength := bandKN(l.Tension)
	if l.Strength.MBL > 0 {
		strength += fmt.Sprintf("; it breaks at %s when new, and %.0f times the load is asked of it", kN(l.Strength.MBL), l.Strength.Factor)
	}
	out := []deckFact{{Label: "in the line after a fall", Text: strength}, v.sideFact(l.Sides)}
	sag := 0.0
	for _, s := range l.Spans {
		sag = max(sag, most(s.Sag))
	}
	if sag > 0 {
		out = append(out, deckFact{Label: "the hook is drawn aside", Text: fmt.Sprintf("up to %.1f m", sag)})
	}
	if on := worstSupport(l); on != nil {
		out = append(out, deckFact{Label: "on " + v.nameOr(on.ID), Text: fmt.Sprintf("up to %s; it should hold %s: %s", kN(most(on.Load)), kN(on.Needed), on.Verdict)})
	}
	var slack []string
	for _, c := range l.Catches {
		if name := v.nameOr(c.Catch); c.Slack && !strings.Contains(strings.Join(slack, "\n"), name) {
			slack = append(slack, name)
		}
	}
	text := "nothing within reach"
	if len(slack) > 0 {
		text = fewOf(slack, 3)
	}
	return append(out, deckFact{Label: "its slack can catch on", Text: text})
}

func worstSupport(l jackstay.LineResult) (worst *jackstay.LoadOn) {
	for i := range l.Supports {
		if worst == nil || most(l.Supports[i].Load) > most(worst.Load) {
			worst = &l.Supports[i]
		}
	}
	return worst
}

// fewOf joins names, the first few of many.
func fewOf(names []string, few int) string {
	if more := len(names) - few; more > 1 {
		return strings.Join(names[:few], ", ") + fmt.Sprintf(" and %d more", more)
	}
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}

// nameOr is the name of a subject, or what it is called where it is none; the
// pieces of a line between its fixed points are told by number.
func (v *view) nameOr(of string) string {
	if kind, rest, ok := strings.Cut(of, " "); ok && v.rec.Has(record.Ref(rest)) {
		return kind + ": " + v.rec.Name(record.Ref(rest))
	}
	line, piece, _ := strings.Cut(of, ", ")
	if ref := record.Ref(line); v.rec.Has(ref) {
		if piece != "" {
			piece = ", " + piece
		}
		return v.rec.Name(ref) + piece
	}
	return of
}

// sideless is a text with its sides taken out: what port and starboard have
// alike.
func sideless(s string) string { return sides.Replace(strings.ToLower(s)) }

var sides = strings.NewReplacer("starboard", "side", "port", "side")

// assumedOf lists what nobody entered, and what could not be said.
func (v *view) assumedOf(a *deck.Arrangement) Section {
	s := Section{Title: "Taken as usual, since nobody entered it", Folded: true}
	seen := map[string]bool{}
	add := func(what, of, text string) {
		if key := what + "\n" + of + "\n" + text; !seen[key] {
			seen[key] = true
			s.Rows = append(s.Rows, Row{Link: Named{Name: what}, State: v.nameOr(of), Lines: []Line{{Text: text}}})
		}
	}
	for _, x := range a.Result.Assumed {
		add(x.What, x.Of, assumedText(x.Value, x.Unit)+"; "+x.Source.String())
	}
	for _, g := range a.Gybe {
		for _, text := range g.Result.Assumed {
			add(text, string(g.Boom.Self), "taken as usual")
		}
	}
	for _, text := range a.Sweep.Assumed {
		add(text, "what is swept", "taken as usual")
	}
	for _, x := range a.Result.Unknown {
		add(x.What, x.Of, "not said: it would need "+x.Needs)
	}
	return s
}

// assumedText prints a value as people write it: kilonewtons, degrees.
func assumedText(value float64, unit string) string {
	switch unit {
	case "N":
		return fmt.Sprintf("%.4g kN", value/1000)
	case "rad":
		return fmt.Sprintf("%.0f°", value*180/math.Pi)
	}
	return strings.TrimSpace(fmt.Sprintf("%.4g %s", value, unit))
}
