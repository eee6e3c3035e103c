package deck

import (
	"fmt"
	"math"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/gybe"
	"dogshore/jackstay"
	"dogshore/record"
	"dogshore/rope"
	"dogshore/source"
)

// workings are the engines' workings of one arrangement, down to what was
// typed.
type workings struct {
	d    *reading
	a    *Arrangement
	deck *jackstay.Workings // nil if nothing was worked
}

// explain makes the workings of an arrangement ready, and the numbers of each
// line, eye, task, fitting and preventer.
func (d *reading) explain(a *Arrangement) {
	w := &workings{d: d, a: a}
	d.w = w
	if len(a.Result.Lines)+len(a.Result.Points) > 0 {
		if deck, err := jackstay.Explain(a.Case, a.Result); err == nil {
			deck.Entry = w.deckEntry
			w.deck = deck
			w.lines()
		}
	}
	for _, t := range a.Tasks {
		w.put(t.Self, "", w.task(t)...)
	}
	w.anchors()
	for _, g := range a.Gybe {
		w.leads(g)
	}
}

func (w *workings) put(of record.Ref, side string, figures ...figure.Figure) {
	if len(figures) > 0 {
		w.a.Figures = append(w.a.Figures, About{of, side, figures})
	}
}

// deckEntry is where the engine's input called what of a thing comes from.
func (w *workings) deckEntry(what, of string) *figure.Entered {
	ref := record.Ref(of)
	from := func(self record.Ref, field string) *figure.Entered { return desk.From(w.d.r, self, field) }
	switch what {
	case "heel":
		return from("build/build", "heel")
	case "taken off for waves":
		return from("build/build", "wave")
	case "height of the edge above the water, upright":
		return from(ref, "height")
	case "height of the rail that it passes over":
		return from(ref, "rail")
	case "of the edge from the middle":
		return from(ref, "path")
	case "leg, unstretched":
		return from(ref, "long")
	}
	for _, j := range w.a.Lines {
		if j.Self != ref {
			continue
		}
		switch what {
		case "breaking load when new":
			return from(j.Rope, "breaking")
		case "stiffness of the line":
			return from(j.Rope, "stiffness")
		case "unstretched length":
			if j.Tension.Known {
				return from(ref, "tension")
			}
			return from(ref, "slack")
		}
	}
	return nil
}

// lines puts the numbers of the lines and of the eyes that one clips to.
func (w *workings) lines() {
	for _, l := range w.a.Result.Lines {
		var out []figure.Figure
		if loads, err := w.deck.Loads(l.ID); err == nil {
			out = append(out, loads...)
		}
		if m, err := w.deck.Margin(l.ID); err == nil {
			out = append(out, m)
		}
		for _, s := range l.Supports {
			if f, err := w.deck.Needed(l.ID, s.ID); err == nil {
				f.Says = "what " + w.d.name(record.Ref(s.ID)) + " should hold"
				out = append(out, f)
			}
		}
		for _, r := range l.Reaches {
			if f, err := w.deck.Reach(l.ID, r.Tether, r.Leg); err == nil {
				out = append(out, f)
			}
		}
		out = append(out, w.sides(l.Sides)...)
		w.put(record.Ref(l.ID), "", out...)
	}
	for _, p := range w.a.Result.Points {
		var out []figure.Figure
		if f, err := w.deck.ByEye(p.ID); err == nil {
			out = append(out, f)
		}
		w.put(record.Ref(p.ID), "", append(out, w.sides(p.Sides)...)...)
	}
}

// sides are the figures of what passes over the edges, of legs of one length
// once.
func (w *workings) sides(sides []jackstay.Side) []figure.Figure {
	type at struct {
		edge string
		leg  float64
	}
	seen := map[at]bool{}
	var out []figure.Figure
	for _, s := range sides {
		if k := (at{s.Edge, s.Leg}); rank(s.Class) > 0 && !seen[k] {
			seen[k] = true
			out = append(out, w.over(s)...)
		}
	}
	return out
}

// over are the workings of one passing: what is left of the tether beyond the
// edge, and where the ring comes to hang.
func (w *workings) over(s jackstay.Side) []figure.Figure {
	if w.deck == nil {
		return nil
	}
	p := passing(s)
	edge := w.d.name(record.Ref(s.Edge))
	left := w.deck.LeftOver(p)
	left.Says += fmt.Sprintf(" at %s, on the %s leg", edge, metres(s.Leg))
	out := []figure.Figure{left}
	if f, err := w.deck.Ring(s.Edge, p, s.Over != nil && p == *s.Over); err == nil {
		f.Says += " at " + edge + ", at the stiffness entered"
		out = append(out, f)
	}
	return out
}

// task are the numbers of a walked task.
func (w *workings) task(t Task) []figure.Figure {
	walked := source.Source{How: source.Derived, Text: "the way gone in steps of a tenth of a metre, clipped as well as it can be; docs/theory/jackstay.md"}
	of := func(symbol, says string, v float64, unit, text string) figure.Figure {
		return figure.Figure{Symbol: symbol, Says: says, Value: v, Unit: unit, Text: text, Source: walked}
	}
	long := of("L", "length of the way", t.Walked.Length, "m", metres1(t.Walked.Length))
	long.Of = []figure.Figure{desk.Typed(w.d.r, t.Self, "way", "the way as it was drawn")}
	gaps := of("g", "of that on no hook", t.Bare(), "m", metres1(t.Bare()))
	clipped := of("c", "clipped on", t.Walked.Length-t.Bare(), "m", metres1(t.Walked.Length-t.Bare()))
	clipped.Rule, clipped.Of = "c = L - g", []figure.Figure{long, gaps}
	hands := of("h", "hands that the work needs", float64(t.Walked.Hands), "", fmt.Sprint(t.Walked.Hands))
	hands.Of = []figure.Figure{desk.Typed(w.d.r, t.Self, "hands", "hands, as entered")}
	return []figure.Figure{
		clipped,
		of("n", "changes of hook", float64(t.Walked.Changes), "", fmt.Sprint(t.Walked.Changes)),
		of("n0", "changes at which the only hook is let go first", float64(t.Walked.Moments), "", fmt.Sprint(t.Walked.Moments)),
		hands,
	}
}

func metres1(v float64) string { return fmt.Sprintf("%.1f m", v) }

// anchors puts what share of each part of each fitting its loads use.
func (w *workings) anchors() {
	for i := range w.a.Anchors {
		x := &w.a.Anchors[i]
		e, err := rope.ExplainAnchor(x.Case)
		if err != nil {
			continue
		}
		e.Entry = func(field string) *figure.Entered {
			if name := anchorFields[field]; name != "" {
				return desk.From(w.d.r, x.Self, name)
			}
			return nil
		}
		for _, p := range x.Result.Parts {
			if p.Verdict == rope.NotKnown && p.Load == 0 {
				continue // there is no number
			}
			x.Figures = append(x.Figures, e.Used(p))
		}
		if f, ok := e.Radius(); ok {
			x.Figures = append(x.Figures, f)
		}
		w.put(x.Self, "", x.Figures...)
	}
}

// anchorFields are a fitting's fields by the engine's.
var anchorFields = map[string]string{
	"bolts.size_m": "bolt_size", "rated_n": "rated", "under.solid_m": "laminate", "under.long_m": "pad_long", "under.wide_m": "pad_wide",
	"under.outer_skin_m": "outer_skin", "under.core_m": "core", "under.inner_skin_m": "inner_skin",
	"under.bearing_pa": "bearing", "under.shear_pa": "shear", "under.core_shear_pa": "core_shear",
}

// leads puts the numbers of a boom and of its preventers.
func (w *workings) leads(g Gybe) {
	e, err := gybe.Explain(g.Case)
	if err != nil {
		return
	}
	e.Entry = w.gybeEntry(g.Boom, record.Preventer{}, "")
	var boom []figure.Figure
	if f, ok := e.Swing(g.Result.Swing); ok {
		boom = append(boom, f)
	}
	if g.Result.Dip != nil {
		boom = append(boom, e.Dips(*g.Result.Dip))
	}
	if f, ok := e.SheetLoad(); ok {
		boom = append(boom, f)
	}
	w.put(g.Boom.Self, "", boom...)
	for _, l := range g.Result.Leads {
		w.put(record.Ref(l.Preventer), string(l.Side), w.lead(g, l, "")...)
	}
}

// lead are the workings of a preventer on one side; of one part alone, or of
// all if part is "".
func (w *workings) lead(g Gybe, l gybe.Lead, part string) []figure.Figure {
	e, err := gybe.Explain(g.Case)
	if err != nil {
		return nil
	}
	p, of := w.preventer(g, l)
	var out []figure.Figure
	if part == "" {
		e.Entry = w.gybeEntry(g.Boom, of, "")
		if f, ok := e.Tension(l, p); ok {
			out = append(out, f)
		}
	}
	for _, q := range l.Parts {
		if part == "" || part == q.Name+q.Sort {
			e.Entry = w.gybeEntry(g.Boom, of, q.Name)
			out = append(out, e.Part(q, w.d.part(q)))
		}
	}
	return out
}

func (w *workings) preventer(g Gybe, l gybe.Lead) (p gybe.Preventer, of record.Preventer) {
	for _, x := range g.Case.Preventers {
		if x.Name == l.Preventer {
			p = x
		}
	}
	for _, x := range w.d.preventers {
		if string(x.Self) == l.Preventer {
			of = x
		}
	}
	return p, of
}

// gybeEntry is where the inputs of a preventer's workings come from.
func (w *workings) gybeEntry(b record.Boom, p record.Preventer, turn string) func(string) *figure.Entered {
	booms := map[string]string{
		"wind_m_s": "wind", "mainsheet.wind_m_s": "wind", "mainsheet.forward_m": "sheet_at", "sail.area_m2": "sail_area", "sail.foot_m": "foot", "sail.luff_m": "luff",
		"boom.out_rad": "out", "boom.rise_m": "rise", "boom.length_m": "length", "boom.compression_n": "squeeze", "boom.bending_nm": "bending",
	}
	return func(field string) *figure.Entered {
		switch field {
		case "preventers.line.holds_n":
			return desk.From(w.d.r, p.Rope, "breaking")
		case "preventers.line.stiffness_n":
			return desk.From(w.d.r, p.Rope, "stiffness")
		case "preventers.slack_m":
			return desk.From(w.d.r, p.Self, "slack")
		case "preventers.at_m":
			return desk.From(w.d.r, p.Self, "at")
		case "preventers.turns.rated_n":
			return desk.From(w.d.r, record.Ref(turn), "rated")
		}
		if name := booms[field]; name != "" {
			return desk.From(w.d.r, b.Self, name)
		}
		return nil
	}
}

// degrees prints an angle.
func degrees(rad float64) string { return fmt.Sprintf("%.0f°", rad*180/math.Pi) }
