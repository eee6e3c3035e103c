package jackstay

import (
	"fmt"
	"math"
	"strings"

	"dogshore/figure"
	"dogshore/plane"
	"dogshore/source"
)

var bySweep = source.Source{How: source.Derived, Text: "greatest over all places of the hook and all directions of the load, jammed and sliding; docs/theory/jackstay.md"}

// bandText prints a band of forces.
func bandText(b Band) string {
	low, high := newtons(b.least()), newtons(b.most())
	if low == high {
		return low
	}
	return strings.TrimSuffix(low, " kN") + " to " + high
}

// overBand is the greatest of a quantity at half, entered and double stiffness.
func overBand(symbol, says string, b Band, unit, text string, print func(float64) string, src source.Source) figure.Figure {
	at := func(n, how string, v float64) figure.Figure {
		return figure.Figure{Symbol: symbol + n, Says: says + ", " + how, Value: v, Unit: unit, Text: print(v), Source: src}
	}
	return figure.Figure{
		Symbol: symbol, Says: says + ", greatest of half to double stiffness", Value: b.most(), Unit: unit, Text: text,
		Rule: fmt.Sprintf("%[1]s = max(%[1]s1, %[1]s2, %[1]s3)", symbol), Source: src,
		Of: []figure.Figure{at("1", "at half the stiffness", b.Soft), at("2", "at the stiffness entered", b.As), at("3", "at double the stiffness", b.Stiff)},
	}
}

// Loads returns the workings of a line's greatest tension, of the load that a
// fall and that a slide put on it. The tension at the stiffness entered unfolds
// to the balance of energy of a fall in the middle of the longest span, where
// the line runs through no guide.
func (w *Workings) Loads(line string) ([]figure.Figure, error) {
	for i := range w.r.Lines {
		l := &w.r.Lines[i]
		if l.ID != line {
			continue
		}
		t := overBand("T", "tension of the line in a fall", l.Tension, "N", bandText(l.Tension), newtons, bySweep)
		t.Of[1].Of = w.loaded(&w.c.Lines[i], l)
		return []figure.Figure{
			t,
			overBand("F", "load of a fall over the edge on the line", l.Arrest, "N", bandText(l.Arrest), newtons, bySweep),
			overBand("P", "load of a fall over the edge on the person", l.Body, "N", bandText(l.Body), newtons, bySweep),
			overBand("S", "load of a slide across the deck on the line", l.Slide, "N", bandText(l.Slide), newtons, bySweep),
		}, nil
	}
	return nil, bad(NotThere, line, "there is no line %q", line)
}

// loaded is what a line's tension rests on.
func (w *Workings) loaded(l *Line, r *LineResult) []figure.Figure {
	of := []figure.Figure{
		w.in("L", "length between supports", r.Length, "m", metres(r.Length), l.ID),
		w.in("L0", "unstretched length", r.Rest.As, "m", metres(r.Rest.As), l.ID),
		w.in("m", "mass of the heaviest", w.s.mass, "kg", plain(w.s.mass), ""),
		w.in("h", "free fall before the tether comes tight", w.s.fall, "m", metres(w.s.fall), ""),
	}
	if law, ok := l.Stuff.law(); ok && len(l.Stuff.Curve) == 0 {
		of = append(of, w.in("EA", "stiffness of the line", law.Slope(), "N", newtons(law.Slope()), l.ID))
	}
	m := figure.Figure{Symbol: "Tm", Says: "the same in the middle of the longest span, jammed", Value: r.Middle.Tension.As, Unit: "N", Text: newtons(r.Middle.Tension.As), Source: byStatics}
	if f, ok := w.caughtInMiddle(l); ok {
		m.Of = []figure.Figure{f}
	}
	return append(of, m)
}

// caughtInMiddle is the balance of energy of a fall in the middle of the
// longest span, at the stiffness entered.
func (w *Workings) caughtInMiddle(l *Line) (figure.Figure, bool) {
	if l.guides() || l.Supports[0].Spring > 0 || l.Supports[len(l.Supports)-1].Spring > 0 {
		return figure.Figure{}, false
	}
	r := l.ready(1)
	best := r.longest()
	span := Span{From: best.a.spot(), To: best.b.spot(), Law: r.law, Rest: best.chord * r.ratio}
	hook := Hook{Load: best.side.force(), Jammed: true, At: 0.5}
	sw := sweep{s: w.s, r: r, q: asEntered}
	_, fall := sw.drops()
	strap := *sw.stiffest()
	a, err := Caught(span, hook, strap, fall)
	if err != nil {
		return figure.Figure{}, false
	}
	return a.Balanced(strap, fall, a.Hold.Energy-restEnergy(span, hook)), true
}

// ByEye returns the working of a fall on a fixed eye: the greatest of the band,
// at the stiffness entered with the balance of energy that must vanish.
func (w *Workings) ByEye(point string) (figure.Figure, error) {
	for _, p := range w.r.Points {
		if p.ID != point {
			continue
		}
		sw := sweep{s: w.s, q: asEntered}
		_, fall := sw.drops()
		strap := *sw.stiffest()
		f := overBand("F", "load of a fall on the eye", p.Arrest, "N", bandText(p.Arrest), newtons, byStatics)
		if a, err := CaughtByEye(strap, fall); err == nil {
			f.Of[1].Of = []figure.Figure{a.Balanced(strap, fall, 0)}
		}
		return f, nil
	}
	return figure.Figure{}, bad(NotThere, point, "there is no clip point %q", point)
}

// Farthest is how far from the unloaded line the ring can come, lying, on this
// leg, at half stiffness, with its error, m. It is seen from above.
func (r *Reach) Farthest(l *Line) (far, err float64) {
	path := make([]plane.Point, len(l.Supports))
	for i, s := range l.Supports {
		path[i] = s.At.vec().plan()
	}
	for _, ring := range r.Soft {
		for _, p := range ring {
			_, _, d := plane.Nearest(p, path)
			far = max(far, d)
		}
	}
	return far, r.Error
}

// Reach returns the working of how far from a line the ring can come on one leg
// of one tether.
func (w *Workings) Reach(line, tether string, leg float64) (figure.Figure, error) {
	for i := range w.r.Lines {
		l := &w.r.Lines[i]
		for k := range l.Reaches {
			r := &l.Reaches[k]
			if l.ID != line || r.Tether != tether || r.Leg != leg {
				continue
			}
			far, off := r.Farthest(&w.c.Lines[i])
			sag := Band{}
			for _, s := range l.Spans {
				sag = Band{max(sag.Soft, s.Sag.Soft), max(sag.As, s.Sag.As), max(sag.Stiff, s.Sag.Stiff)}
			}
			return figure.Figure{
				Symbol: "R", Says: fmt.Sprintf("farthest from the line that the harness ring comes on the %s leg", metres(leg)),
				Value: far, Unit: "m", Text: printed(far, math.Ceil(10*off-0.2)/10), Rule: "R = l + x", Source: bySweep,
				Of: []figure.Figure{
					w.in("l", "leg, unstretched", leg, "m", metres(leg), tether),
					{Symbol: "x", Says: "what line and leg give under a slide, at half stiffness, the hook wherever it reaches farthest", Value: far - leg, Unit: "m", Text: metres(far - leg), Source: bySweep, Of: []figure.Figure{
						{Symbol: "S", Says: "load of that slide", Value: r.Load.Soft, Unit: "N", Text: newtons(r.Load.Soft), Source: bySweep},
						{Symbol: "s", Says: "greatest sag of the line on the longest leg", Value: sag.Soft, Unit: "m", Text: metres(sag.Soft), Source: bySweep},
					}},
				},
			}, nil
		}
	}
	return figure.Figure{}, bad(NotThere, line, "line %q has no reach on a leg of %g m", line, leg)
}

// LeftOver returns the working of the most tether that is left over beyond an
// edge, over half to double stiffness.
func (w *Workings) LeftOver(p Passing) figure.Figure {
	f := overBand("o", "tether left over beyond the edge", p.By, "m", printed(p.By.most(), p.Error), metres, byStatics)
	entered := w.Over(p)
	entered.Symbol, entered.Rule = f.Of[1].Symbol, strings.Replace(entered.Rule, "o =", f.Of[1].Symbol+" =", 1)
	f.Of[1] = entered
	return f
}
