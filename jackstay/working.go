package jackstay

import (
	"fmt"
	"math"

	"dogshore/figure"
	"dogshore/rope"
	"dogshore/source"
)

var byStatics = source.Source{How: source.Derived, Text: "elastic line, balance at the hook; docs/theory/jackstay.md"}

// Workings says how the numbers of a deck follow from what was entered.
type Workings struct {
	s *setup
	r *Result
	c *Case

	// Entry says where an input comes from; without it inputs end in their
	// values. Of is the id of a line, support, edge, tether or person.
	Entry func(what, of string) *figure.Entered
}

// Explain makes the workings of a deck ready; r must be the case's result.
func Explain(c Case, r Result) (*Workings, error) {
	s, err := prepare(&c)
	if err != nil {
		return nil, err
	}
	return &Workings{s: s, r: &r, c: &c}, nil
}

func metres(v float64) string  { return fmt.Sprintf("%.2f m", v) }
func newtons(v float64) string { return fmt.Sprintf("%.3g kN", v/1e3) }
func plain(v float64) string   { return fmt.Sprintf("%.3g", v) }

// printed rounds a reach to a tenth of a metre: no plan knows more.
func printed(v, err float64) string { return fmt.Sprintf("%.1f m, give or take %.1f", v, err) }

func (w *Workings) in(symbol, says string, v float64, unit, text, of string) figure.Figure {
	f := figure.Figure{Symbol: symbol, Says: says, Value: v, Unit: unit, Text: text, Source: source.Source{How: source.Entered}}
	if w != nil && w.Entry != nil {
		f.Entry = w.Entry(says, of)
	}
	return f
}

// Needed returns the working of what a support of a line is asked to hold.
func (w *Workings) Needed(line, support string) (figure.Figure, error) {
	for i := range w.r.Lines {
		l := &w.r.Lines[i]
		for _, s := range l.Supports {
			if l.ID == line && s.ID == support {
				most := figure.Figure{Symbol: "F", Says: "greatest load on " + support + ", " + string(s.How), Value: s.Load.most(), Unit: "N", Text: newtons(s.Load.most()), Source: byStatics}
				return figure.Figure{
					Symbol: "N", Says: "what " + support + " should hold", Value: s.Needed, Unit: "N", Text: newtons(s.Needed), Rule: "N = max(k * F, F0)", Source: byStatics,
					Of: []figure.Figure{most, w.factor(l.Strength.Factor), w.in("F0", "least load that an anchorage is asked to hold", w.s.anchorMin, "N", newtons(w.s.anchorMin), support)},
				}, nil
			}
		}
	}
	return figure.Figure{}, bad(NotThere, line, "there is no support %q on a line %q", support, line)
}

func (w *Workings) factor(k float64) figure.Figure {
	return figure.Figure{
		Symbol: "k", Says: "design factor on a computed peak: 2 for wire, 3 where there is textile", Value: k, Text: plain(k),
		Source: source.Source{How: source.Published, Text: "Singapore WSH code of practice, flexible horizontal lifelines"},
	}
}

// Margin returns the working of a line's breaking load over its tension, at
// double stiffness.
func (w *Workings) Margin(line string) (figure.Figure, error) {
	for i := range w.r.Lines {
		l := &w.r.Lines[i]
		if l.ID != line || l.Strength.Low == 0 {
			continue
		}
		t := figure.Figure{Symbol: "T", Says: "greatest tension at double stiffness", Value: l.Tension.Stiff, Unit: "N", Text: newtons(l.Tension.Stiff), Source: byStatics}
		return figure.Figure{
			Symbol: "M", Says: "breaking load over tension", Value: l.Strength.Margin.Stiff, Text: plain(l.Strength.Margin.Stiff), Rule: "M = B / T", Source: byStatics,
			Of: []figure.Figure{w.left(&w.c.Lines[i], &l.Strength), t},
		}, nil
	}
	return figure.Figure{}, bad(NotThere, line, "nothing is known of the strength of a line %q", line)
}

// left is the working of what is left of a breaking load.
func (w *Workings) left(l *Line, s *Strength) figure.Figure {
	f := figure.Figure{Symbol: "B", Says: "breaking load with what takes away from it", Value: s.Low, Unit: "N", Text: newtons(s.Low), Rule: "B = B0", Source: source.Source{How: source.Derived}}
	b := w.in("B0", "breaking load when new", s.MBL, "N", newtons(s.MBL), l.ID)
	stuff, listed := rope.StuffOf(l.Stuff.Material)
	if l.Stuff.MBL == 0 && listed {
		b.Source = stuff.Strength
	}
	f.Of = []figure.Figure{b}
	add := func(says string, v float64, src source.Source) {
		symbol := fmt.Sprintf("f%d", len(f.Of))
		f.Rule += " * " + symbol
		f.Of = append(f.Of, figure.Figure{Symbol: symbol, Says: "left by " + says, Value: v, Text: plain(v), Source: src})
	}
	for _, key := range l.Stuff.Factors {
		for _, k := range rope.Factors() {
			if k.Key == key {
				add(key, k.Low, k.Source)
			}
		}
	}
	if listed && l.Stuff.Years != nil && stuff.Fibre.Textile() {
		if low, _, ok := rope.Sun(stuff.Fibre, *l.Stuff.Years); ok {
			add("the sun", low, sunSource)
		}
	}
	return f
}

// Over returns the working of the tether left over beyond an edge, at the
// stiffness entered.
func (w *Workings) Over(p Passing) figure.Figure {
	of := p.Of
	d := func(symbol, says string, v float64) figure.Figure {
		return figure.Figure{Symbol: symbol, Says: says, Value: v, Unit: "m", Text: metres(v), Source: byStatics}
	}
	return figure.Figure{
		Symbol: "o", Says: "tether left over beyond the edge", Value: p.By.As, Unit: "m", Text: printed(p.By.As, p.Error), Source: byStatics,
		Rule: "o = l - hyp(max(0, d - s), z) + max(0, s - d)",
		Of: []figure.Figure{
			d("l", "leg, stretched", of.Leg), d("d", "from the unloaded line to the edge", of.Away),
			d("s", "hook moved toward it", of.Moved), d("z", "rise from the hook to where it passes", of.Rise),
		},
	}
}

// Ring returns the working of how high above the water the ring comes to hang.
func (w *Workings) Ring(edge string, p Passing, overRail bool) (figure.Figure, error) {
	for i := range w.c.Edges {
		e := &w.c.Edges[i]
		if e.ID != edge || e.Inside {
			continue
		}
		rise := 0.0
		if n := len(e.Rails); overRail && n > 0 {
			rise = e.Rails[n-1]
		}
		heel := math.Abs(w.c.Sea.Heel)
		return figure.Figure{
			Symbol: "R", Says: "height of the ring above the water", Value: p.Ring.As, Unit: "m", Text: printed(p.Ring.As, p.Error), Source: byStatics,
			Rule: "R = FB + zr - y * sin(a) - w - o",
			Of: []figure.Figure{
				w.in("FB", "height of the edge above the water, upright", e.board(), "m", metres(e.board()), e.ID),
				w.in("zr", "height of the rail that it passes over", rise, "m", metres(rise), e.ID),
				w.in("y", "of the edge from the middle", math.Abs(p.At.Y), "m", metres(math.Abs(p.At.Y)), e.ID),
				w.in("a", "heel", heel, "rad", plain(heel), ""), w.in("w", "taken off for waves", w.c.Sea.Wave, "m", metres(w.c.Sea.Wave), ""),
				w.Over(p),
			},
		}, nil
	}
	return figure.Figure{}, bad(NotThere, edge, "there is no edge %q over water", edge)
}

// Functions are what the rules of workings call: hyp(x, y) is the third side,
// sin and exp are themselves, tension(i, e) and energy(i, e) the law number i
// of a span at a strain.
func Functions(laws ...rope.Law) map[string]func(...float64) float64 {
	return map[string]func(...float64) float64{
		"hyp": func(a ...float64) float64 { return math.Hypot(a[0], a[1]) },
		"sin": func(a ...float64) float64 { return math.Sin(a[0]) },
		"exp": func(a ...float64) float64 { return math.Exp(a[0]) },
		"tension": func(a ...float64) float64 {
			t, _ := laws[int(a[0])].At(a[1])
			return t
		},
		"energy": func(a ...float64) float64 { return laws[int(a[0])].Energy(a[1]) },
	}
}
