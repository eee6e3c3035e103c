package jackstay

import (
	"fmt"
	"math"

	"dogshore/figure"
	"dogshore/rope"
	"dogshore/source"
)

// Balanced returns the workings of a hook on a span: the tension of both legs,
// and, in each direction of the boat, the balance that must vanish. The first
// law of Functions is the span's. Kinks have no balance at the hook; then there
// are only the tensions. Springs of anchorages stand in the law.
func (h Hold) Balanced(s Span, k Hook) (out []figure.Figure, law rope.Law) {
	law = springed(s.Law, s.Rest, s.SpringFrom, s.SpringTo)
	var w *Workings
	p := h.At.vec()
	ra, rb := s.From.vec().dist(p), s.To.vec().dist(p)
	length := func(symbol, says string, v float64) figure.Figure {
		return figure.Figure{Symbol: symbol, Says: says, Value: v, Unit: "m", Text: metres(v), Source: byStatics}
	}
	legs := []figure.Figure{length("ra", "leg to the first end", ra), length("rb", "leg to the second end", rb)}
	rest := w.in("L0", "unstretched length", s.Rest, "m", metres(s.Rest), "")
	tension := func(symbol, rule string, v float64, of ...figure.Figure) figure.Figure {
		return figure.Figure{Symbol: symbol, Says: "tension", Value: v, Unit: "N", Text: newtons(v), Rule: rule, Of: of, Source: byStatics}
	}
	var ta, tb figure.Figure
	switch {
	case !k.Jammed && h.How == Sliding:
		ta = tension("Ta", "Ta = tension(0, (ra + rb) / L0 - 1)", h.Tension[0], legs[0], legs[1], rest)
		tb = tension("Tb", "Tb = tension(0, (ra + rb) / L0 - 1)", h.Tension[1], legs[0], legs[1], rest)
	case k.Jammed && s.SpringFrom == 0 && s.SpringTo == 0:
		grip := w.in("g", "where the hook grips, part of the unstretched length", k.At, "", plain(k.At), "")
		ta = tension("Ta", "Ta = tension(0, ra / (g * L0) - 1)", h.Tension[0], legs[0], grip, rest)
		tb = tension("Tb", "Tb = tension(0, rb / ((1 - g) * L0) - 1)", h.Tension[1], legs[1], grip, rest)
	default:
		ta, tb = tension("Ta", "", h.Tension[0]), tension("Tb", "", h.Tension[1])
	}
	out = []figure.Figure{ta, tb}
	if h.How == HeldBySupport || h.Branch == branchSays[loose] {
		return out, law
	}
	for i, axis := range []string{"x", "y", "z"} {
		out = append(out, h.balance(i, axis, s, k, [2]figure.Figure{ta, tb}, [2]figure.Figure{legs[0], legs[1]}))
	}
	return out, law
}

// balance is the balance at the hook along one axis.
func (h Hold) balance(i int, axis string, s Span, k Hook, tension, leg [2]figure.Figure) figure.Figure {
	var w *Workings
	place := func(symbol, says string, v float64) figure.Figure {
		return figure.Figure{Symbol: symbol, Says: says, Value: v, Unit: "m", Text: metres(v), Source: byStatics}
	}
	f, p := k.Load.vec()[i], h.At.vec()[i]
	of := []figure.Figure{w.in("F", "load along "+axis, f, "N", newtons(f), ""), place("p", "hook, along "+axis, p)}
	rule, sum := "B = F", f
	for j, end := range [2]float64{s.From.vec()[i], s.To.vec()[i]} {
		if h.Tension[j] == 0 {
			continue // a slack leg has no direction to speak of
		}
		name := string("ab"[j])
		sum += h.Tension[j] * (end - p) / leg[j].Value
		rule += fmt.Sprintf(" + %s * (%s - p) / %s", tension[j].Symbol, name, leg[j].Symbol)
		of = append(of, tension[j], place(name, "end, along "+axis, end), leg[j])
	}
	return figure.Figure{
		Symbol: "B", Says: "balance along " + axis + ": must vanish", Value: sum, Unit: "N", Text: vanished(sum, "N"), Rule: rule, Of: of, Source: byStatics,
	}
}

// Balanced returns the working of an arrest: the balance of energy that must
// vanish. The strap's law is the one of Functions.
func (a Arrest) Balanced(t Strap, d Drop, line float64) figure.Figure {
	var w *Workings
	j := func(symbol, says string, v float64) figure.Figure {
		return figure.Figure{Symbol: symbol, Says: says, Value: v, Unit: "J", Text: fmt.Sprintf("%.3g J", v), Source: byStatics}
	}
	strain := a.Stretch / t.Length
	strap := j("Ut", "taken up by the tether", t.Length*t.Law.Energy(strain))
	strap.Rule = "Ut = l * energy(0, e)"
	strap.Of = []figure.Figure{
		w.in("l", "length of the tether", t.Length, "m", metres(t.Length), ""),
		{Symbol: "e", Says: "strain of the tether", Value: strain, Text: plain(strain), Source: byStatics},
	}
	k := rope.Capstan(1, d.EdgeMu, d.EdgeAngle)
	rub := figure.Figure{Symbol: "k", Says: "what the edge lets through", Value: k, Text: plain(k), Rule: "k = exp(-mu * al)", Source: byStatics, Of: []figure.Figure{
		w.in("mu", "friction of the edge", d.EdgeMu, "", plain(d.EdgeMu), ""), w.in("al", "bend over the edge", d.EdgeAngle, "rad", plain(d.EdgeAngle), ""),
	}}
	weight := d.Mass * Gravity
	if d.Level {
		weight = 0
	}
	value := line/k + strap.Value - weight*(d.Fall+a.Travel+a.Stretch) - d.Mass*d.Speed*d.Speed/2
	return figure.Figure{
		Symbol: "E", Says: "energy left over: must vanish", Value: value, Unit: "J", Text: vanished(value, "J"), Source: source.Source{How: source.Derived, Text: "conservation of energy; docs/theory/jackstay.md"},
		Rule: "E = Ul / k + Ut - W * (h + s + dt) - m * v * v / 2",
		Of: []figure.Figure{
			j("Ul", "taken up by the line", line), rub, strap,
			w.in("W", "weight that does work", weight, "N", newtons(weight), ""), w.in("h", "free fall", d.Fall, "m", metres(d.Fall), ""),
			{Symbol: "s", Says: "travel of the hook", Value: a.Travel, Unit: "m", Text: metres(a.Travel), Source: byStatics},
			{Symbol: "dt", Says: "stretch of the tether", Value: a.Stretch, Unit: "m", Text: metres(a.Stretch), Source: byStatics},
			w.in("m", "mass", d.Mass, "kg", plain(d.Mass), ""), w.in("v", "speed", d.Speed, "m/s", plain(d.Speed), ""),
		},
	}
}

// vanished says how near a balance is to nothing.
func vanished(v float64, unit string) string {
	if math.Abs(v) < 0.001 {
		return "less than 0.001 " + unit
	}
	return fmt.Sprintf("%.1g %s", v, unit)
}
