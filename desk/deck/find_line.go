package deck

import (
	"fmt"
	"math"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/jackstay"
	"dogshore/plane"
	"dogshore/record"
	"dogshore/rope"
	"dogshore/source"
)

// findCatches says what a slack line can be pulled onto, and onto what a loaded
// hook can be dragged.
func (d *reading) findCatches(a *Arrangement, l jackstay.LineResult) {
	of := record.Ref(l.ID)
	put := func(says string, is func(jackstay.CatchHit) bool) {
		var names []string
		var figures []figure.Figure
		for _, c := range l.Catches {
			if is(c) {
				names = append(names, d.name(record.Ref(c.Catch)))
				figures = append(figures, d.spare(c))
			}
		}
		if len(names) > 0 {
			a.add(Finding{Sort: Snag, Of: of, Says: fmt.Sprintf(says, d.name(of), list(names)), Caution: rope.CautionHooks.Text(), Figures: figures})
		}
	}
	put("%s: its slack can be pulled onto %s.", func(c jackstay.CatchHit) bool { return c.Slack })
	put("%s: a hook on it can come to lie across %s, where it may open.", func(c jackstay.CatchHit) bool { return c.Side })
	put("%s: a hook under load can be dragged onto %s.", func(c jackstay.CatchHit) bool { return c.Loaded && !c.Side })
}

// spare is the figure of what a line has left over where it is pulled onto
// something by hand.
func (d *reading) spare(c jackstay.CatchHit) figure.Figure {
	ref := record.Ref(c.Catch)
	return figure.Figure{
		Symbol: "q", Says: "line left over, pulled onto " + d.name(ref) + " by hand; less than 0: a loaded hook alone comes there", Value: c.Spare, Unit: "m", Text: fmt.Sprintf("%.2f m", c.Spare),
		Source: source.Source{How: source.Derived, Text: "ellipse of all places that the line allows; docs/theory/jackstay.md"},
		Of: []figure.Figure{
			{Symbol: "d", Says: "from the line as it lies", Value: c.Distance, Unit: "m", Text: metres(c.Distance), Source: source.Source{How: source.Derived}},
			desk.Typed(d.r, ref, "plan", "where it is, as drawn"),
		},
	}
}

// findStrength says whether a line is over what it holds, lies within the band
// of what can be told, or that nobody knows.
func (d *reading) findStrength(a *Arrangement, l jackstay.LineResult) {
	of := record.Ref(l.ID)
	f := Finding{Of: of, Caution: rope.CautionWebbing.Text()}
	if d.w.deck != nil {
		f.Figures, _ = d.w.deck.Loads(l.ID)
		if m, err := d.w.deck.Margin(l.ID); err == nil {
			f.Figures = append([]figure.Figure{m}, f.Figures...)
		}
	}
	loads := fmt.Sprintf("%s: %s in the line after a fall, with a design factor of %.0f", d.name(of), kNs(l.Tension), l.Strength.Factor)
	switch l.Strength.Verdict {
	case jackstay.MeetsNot:
		f.Sort = Weak
		f.Says = loads + fmt.Sprintf("; of %s when new it keeps %s with what age and ends take away.", kN(l.Strength.MBL), kN(l.Strength.Low))
	case jackstay.Between:
		f.Sort = Unknown
		f.Says = loads + fmt.Sprintf("; it keeps %s, which lies within the band of half and double stiffness: whether that is enough can't be told.", kN(l.Strength.Low))
	case jackstay.NotKnown:
		var needs []string
		for _, u := range l.Unknown {
			if u.Of == "line "+l.ID {
				needs = append(needs, u.Needs)
			}
		}
		f.Sort = Unknown
		f.Says = loads + "; whether it holds that is not known. It would need: " + list(needs) + "."
	default:
		return
	}
	a.add(f)
}

// findRopes says of which rope the stretch test can't be read.
func (d *reading) findRopes(a *Arrangement) {
	said := map[record.Ref]bool{}
	look := func(ref record.Ref) {
		x, ok := d.ropes[ref]
		if !ok || x.Stretch == "" || said[ref] {
			return
		}
		said[ref] = true
		if _, err := record.ParseStretch(x.Stretch); err != nil {
			a.add(Finding{Sort: Unknown, Of: ref, Figures: []figure.Figure{desk.Typed(d.r, ref, "stretch", "stretch test, as entered")},
				Says: fmt.Sprintf("%s: its stretch test can't be read, so it is left out. %s.", x.Name, desk.Capital(err.Error()))})
		}
	}
	for _, l := range a.Lines {
		look(l.Rope)
	}
	for _, t := range d.tethers {
		look(t.Rope)
	}
	for _, b := range d.booms {
		for _, p := range d.preventersOf(b.Self, a.Option) {
			look(p.Rope)
		}
	}
}

// findTethers says which tether is entered with less than a fall puts on it:
// its stiffest leg on a fixed eye, which gives nothing.
func (d *reading) findTethers(a *Arrangement) {
	if a.Option != "" { // tethers belong to none
		return
	}
	for _, t := range d.tethers {
		f, holds, ok := d.tetherLoad(t)
		if !ok {
			continue
		}
		a.Figures = append(a.Figures, About{Of: t.Self, Figures: []figure.Figure{f}})
		if holds > 0 && holds < f.Value {
			a.add(Finding{Sort: Weak, Of: t.Self, Caution: rope.CautionDragged.Text(), Figures: []figure.Figure{f, desk.Typed(d.r, t.Rope, "breaking", "breaking load, as entered")},
				Says: fmt.Sprintf("%s: a fall of 1 m on a fixed eye puts up to %s on it and on its wearer; it is entered with %s.", t.Name, kN(f.Value), kN(holds))})
		}
	}
}

// tetherLoad is the greatest load of a fall on a tether that is hooked to a
// fixed eye by its shortest leg, at double stiffness.
func (d *reading) tetherLoad(t record.Tether) (f figure.Figure, holds float64, ok bool) {
	stuff := d.stuff(t.Rope, "tether webbing 25 mm")
	mass := t.Mass.SI
	if !t.Mass.Known {
		return f, 0, false
	}
	leg := t.Long.SI
	if int(t.Hooks.SI+0.5) > 1 {
		leg = min(leg, shortLeg(t))
	}
	law, err := lawOf(stuff)
	if err != nil {
		return f, 0, false
	}
	strap, drop := jackstay.Strap{Law: law.Scaled(2), Length: leg}, jackstay.Drop{Mass: mass, Fall: 1}
	arrest, err := jackstay.CaughtByEye(strap, drop)
	if err != nil {
		return f, 0, false
	}
	return figure.Figure{
		Symbol: "F", Says: fmt.Sprintf("load of a fall of 1 m on the tether and its wearer, %s leg on a fixed eye, at double stiffness", metres(leg)), Value: arrest.Body, Unit: "N", Text: kN(arrest.Body),
		Source: source.Source{How: source.Derived, Text: "conservation of energy; docs/theory/jackstay.md"}, Of: []figure.Figure{arrest.Balanced(strap, drop, 0)},
	}, stuff.MBL, true
}

// lawOf is the stretch law of some stuff: a test before a stiffness before the
// table, as the engine takes it.
func lawOf(s jackstay.Stuff) (rope.Law, error) {
	if len(s.Curve) > 0 {
		points := make([]rope.Point, len(s.Curve))
		for i, p := range s.Curve {
			points[i] = rope.Point(p)
		}
		return rope.Table(points)
	}
	ea := s.Stiffness
	if m, ok := rope.StuffOf(s.Material); ea == 0 && ok {
		ea = m.EA
	}
	return rope.Linear(ea)
}

func kN(n float64) string { return fmt.Sprintf("%.1f kN", n/1000) }

// kNs prints a band of forces.
func kNs(b jackstay.Band) string {
	low := math.Min(b.Soft, math.Min(b.As, b.Stiff))
	if fmt.Sprintf("%.1f", low/1000) == fmt.Sprintf("%.1f", greatest(b)/1000) {
		return kN(low)
	}
	return fmt.Sprintf("%.1f to %s", low/1000, kN(greatest(b)))
}

// findCrossed says which lines run through what a hatch lid or an arm swings
// over.
func (d *reading) findCrossed(a *Arrangement) {
	for _, l := range a.Case.Lines {
		for _, o := range d.a.Plan.Obstacles {
			if !o.Swings.Known || o.Swings.SI <= 0 || len(o.Plan) == 0 {
				continue
			}
			if away := apart(l, points(o.Plan)); away < o.Swings.SI {
				of := record.Ref(l.ID)
				a.add(Finding{Sort: Crossed, Of: of, Caution: rope.CautionHooks.Text(), Figures: []figure.Figure{d.swing(o, away)},
					Says: fmt.Sprintf("%s runs through the swing of %s.", d.name(of), d.name(o.Self))})
			}
		}
	}
}

// swing is the figure of how much of a lid's swing is left to a line.
func (d *reading) swing(o record.Obstacle, away float64) figure.Figure {
	opens := desk.Typed(d.r, o.Self, "swings", "how far it swings out")
	opens.Symbol = "w"
	return figure.Figure{
		Symbol: "r", Says: "room left between the line and the swing of " + o.Name, Value: away - o.Swings.SI, Unit: "m", Text: fmt.Sprintf("%.2f m", away-o.Swings.SI), Rule: "r = d - w",
		Source: source.Source{How: source.Derived}, Of: []figure.Figure{
			{Symbol: "d", Says: "least distance, seen from above", Value: away, Unit: "m", Text: metres(away), Source: source.Source{How: source.Derived}}, opens,
		},
	}
}

// apart is the least distance between a line and an outline, seen from above;
// 0 where they cross.
func apart(l jackstay.Line, o []plane.Point) float64 {
	best := math.Inf(1)
	ring := plane.Closed(o)
	for i := 0; i+1 < len(l.Supports); i++ {
		p := plane.Point{X: l.Supports[i].At.X, Y: l.Supports[i].At.Y}
		q := plane.Point{X: l.Supports[i+1].At.X, Y: l.Supports[i+1].At.Y}
		for k := 0; k+1 < len(ring); k++ {
			if plane.Meet(p, q, ring[k], ring[k+1]) {
				return 0
			}
		}
		for _, c := range o {
			at, _ := plane.OnSegment(c, p, q)
			best = math.Min(best, at.Sub(c).Norm())
		}
		for _, c := range []plane.Point{p, q} {
			_, _, far := plane.Nearest(c, ring)
			best = math.Min(best, far)
		}
	}
	return best
}
