package deck

import (
	"fmt"
	"slices"
	"strings"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/jackstay"
	"dogshore/record"
	"dogshore/source"
)

var byDeck = source.Source{How: source.Derived, Text: "docs/theory/jackstay.md"}

func (a *Arrangement) fact(of record.Ref, what, says string, figures ...figure.Figure) {
	a.Facts = append(a.Facts, Said{Of: of, What: what, Says: says, Figures: figures})
}

// facts says what the engines know of the arrangement that is no finding.
func (d *reading) facts(a *Arrangement) {
	r := &a.Result
	if len(r.Lines)+len(r.Points) > 0 {
		d.factSea(a)
		d.factIslands(a)
		if r.Deck > 0 {
			a.fact("", "bare deck", fmt.Sprintf("%.1f of %.1f m² of deck lie where no ring comes on the longest leg, the lines unloaded.", r.Bare, r.Deck),
				figure.Figure{Says: "deck that no ring reaches", Value: r.Bare, Unit: "m²", Text: fmt.Sprintf("%.1f m²", r.Bare), Source: byDeck},
				figure.Figure{Says: "deck within its outline", Value: r.Deck, Unit: "m²", Text: fmt.Sprintf("%.1f m²", r.Deck), Source: byDeck})
		}
	}
	for i := range r.Lines {
		d.factRubbing(a, &r.Lines[i])
	}
	for _, g := range a.Gybe {
		d.factBoom(a, g)
	}
	a.Facts = alikeSaid(a.Facts, d.name)
}

// factSea says how she was taken to lie.
func (d *reading) factSea(a *Arrangement) {
	if len(a.Case.Edges) == 0 {
		return
	}
	b := record.Ref("build/build")
	sea := a.Case.Sea
	if sea == (jackstay.Sea{}) {
		a.fact("", "sea", "Reckoned upright on flat water: nobody has entered a heel or a wave, and either lets one come lower.")
		return
	}
	parts := []string{}
	var figures []figure.Figure
	for _, x := range []struct {
		there       bool
		field, says string
	}{{sea.Heel != 0, "heel", "a heel of %s"}, {sea.Wave != 0, "wave", "waves that take %s off the freeboard"}, {sea.Tow != 0, "at_sea", "a speed of %s"}} {
		if x.there {
			f := desk.Typed(d.r, b, x.field, "entered for the sea")
			parts, figures = append(parts, fmt.Sprintf(x.says, f.Text)), append(figures, f)
		}
	}
	says := "Reckoned with " + list(parts) + ", as entered"
	if sea.Tow > 0 {
		drag := jackstay.TowDrag(0.30, sea.Tow)
		says += fmt.Sprintf("; the water then pulls at somebody in it with some %s", kN(drag))
		figures = append(figures, figure.Figure{Says: "drag of the water on somebody towed, with a drag area of 0.30 m² that nobody has measured", Value: drag, Unit: "N", Text: kN(drag), Source: source.Source{How: source.Memory}})
	}
	a.fact("", "sea", says+".", figures...)
}

// factIslands says between which places one cannot go clipped.
func (d *reading) factIslands(a *Arrangement) {
	r := &a.Result
	if len(r.Islands) < 2 {
		if len(r.Islands) == 1 && len(r.Transfers) > 0 {
			a.fact("", "islands", "One can change between all that there is to clip to without unclipping, kneeling, on the longest tether.", d.bridge(r.Transfers[0]))
		}
		return
	}
	var parts []string
	for _, island := range r.Islands {
		var names []string
		for _, n := range island {
			name, _, _ := strings.Cut(n, ", ") // the pieces of a line hang together, or the gap tells
			if name = d.name(record.Ref(name)); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		parts = append(parts, pairs(names))
	}
	says := fmt.Sprintf("What there is to clip to lies in %d groups, between which one cannot change without unclipping: %s.", len(r.Islands), strings.Join(first(parts, 6), "; "))
	var figures []figure.Figure
	for _, t := range r.Transfers {
		if !t.Can {
			if len(figures) == 0 {
				says += fmt.Sprintf(" The narrowest gap is that from %s to %s, %.1f m; %.1f m can be bridged.", d.thing(t.From), d.thing(t.To), t.Apart, t.Bridge)
				figures = append(figures, d.bridge(t))
			}
			figures = append(figures, figure.Figure{Says: "gap from " + d.thing(t.From) + " to " + d.thing(t.To), Value: t.Apart, Unit: "m", Text: metres1(t.Apart), Source: byDeck})
		}
	}
	a.fact("", "islands", says, figures...)
}

// first cuts a list after n.
func first(all []string, n int) []string {
	if len(all) <= n {
		return all
	}
	return append(append([]string{}, all[:n]...), fmt.Sprintf("and %d more", len(all)-n))
}

// thing is what a line's piece or an eye is called.
func (d *reading) thing(name string) string {
	ref, part, _ := strings.Cut(name, ", ")
	text := d.name(record.Ref(ref))
	if part != "" {
		text += " (" + part + ")"
	}
	return text
}

func (d *reading) bridge(t jackstay.Transfer) figure.Figure {
	return figure.Figure{
		Symbol: "b", Says: "gap that the shortest-armed person can bridge, kneeling, on two legs of one tether", Value: t.Bridge, Unit: "m", Text: fmt.Sprintf("%.1f m, give or take 0.1", t.Bridge),
		Source: source.Source{How: source.Derived, Text: "reach over two legs, ring at the height of a kneeling person; docs/theory/jackstay.md"},
	}
}

// factRubbing says what friction in guides makes of a line, between its two
// brackets, and what several persons on it at once do.
func (d *reading) factRubbing(a *Arrangement, l *jackstay.LineResult) {
	of := record.Ref(l.ID)
	force := func(says string, v float64) figure.Figure {
		return figure.Figure{Says: says, Value: v, Unit: "N", Text: kN(v), Source: byDeck}
	}
	if l.Rubbing != nil {
		b := l.Rubbing
		a.fact(of, "friction", fmt.Sprintf("%s: with the friction entered a fall in the middle of its longest span puts %s into it; with none in the guides it would be %s, stuck in every guide %s.", d.name(of), kN(b.Tension), kN(b.Free), kN(b.Stuck)),
			force("tension with the friction entered", b.Tension), force("with none", b.Free), force("stuck", b.Stuck))
	}
	var parts []string
	var figures []figure.Figure
	for _, b := range l.Brackets {
		parts = append(parts, fmt.Sprintf("%s %s, the hook up to %.2f m off its straight way", b.Says, kNs(b.Tension), greatest(b.Sag)))
		figures = append(figures, force("greatest tension, "+b.Says, greatest(b.Tension)))
	}
	if parts != nil {
		a.fact(of, "friction", fmt.Sprintf("%s, over all places and directions: %s. The truth lies between.", d.name(of), strings.Join(parts, "; ")), figures...)
	}
	if g := l.Group; g != nil {
		j := record.Jackstay{}
		for _, x := range a.Lines {
			if x.Self == of {
				j = x
			}
		}
		a.fact(of, "together", fmt.Sprintf("%s: %d persons that fall together put %s into it.", d.name(of), g.Persons, kNs(g.Tension)),
			force("greatest tension, all together", greatest(g.Tension)), desk.Typed(d.r, j.Self, "persons", "how many can be clipped to it at once"))
	}
}

// factBoom says how the boom swings without a preventer, and when its end goes
// into the water.
func (d *reading) factBoom(a *Arrangement, g Gybe) {
	of := g.Boom.Self
	figures := a.Of(of)
	if s := g.Result.Swing; s.End > 0 {
		a.fact(of, "swing", fmt.Sprintf("%s: held by nothing, it swings from %s out to amidships in %.1f s in the strongest wind entered; its end then moves at %.0f m/s.", g.Boom.Name, degrees(s.Angle), s.Time, s.End), figures...)
	}
	if dip := g.Result.Dip; dip != nil {
		a.fact(of, "dip", fmt.Sprintf("%s: right out, its end touches the water at a heel of %s; the water then drags at it with %.1f to %s.", g.Boom.Name, degrees(dip.Roll), dip.Force.Least/1000, kN(dip.Force.Most)), figures...)
	}
}

// alikeSaid makes one of two sayings that are each other's image.
func alikeSaid(all []Said, name func(record.Ref) string) []Said {
	var out []Said
	gone := map[int]bool{}
	for i, s := range all {
		if gone[i] {
			continue
		}
		for k := i + 1; k < len(all); k++ {
			if x := all[k]; !gone[k] && s.Of != "" && x.What == s.What && x.Says != s.Says && otherSide(s.Says) == x.Says {
				gone[k] = true
				s.Also = append(s.Also, x.Of)
				s.Says = alike(s.Says, name(s.Of))
				break
			}
		}
		out = append(out, s)
	}
	return out
}
