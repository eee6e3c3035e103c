package deck

import (
	"fmt"
	"slices"

	"dogshore/figure"
	"dogshore/jackstay"
	"dogshore/record"
)

// legs says of each leg of each tether, single, double or triple, where it lets
// the ring come on each line: a hook of its own has a result of its own.
func (d *reading) legs(a *Arrangement) {
	for i := range a.Result.Lines {
		l := &a.Result.Lines[i]
		for _, t := range a.Case.Tethers {
			for k, leg := range t.Legs {
				if slices.Contains(t.Legs[:k], leg) {
					continue // two hooks on legs of one length
				}
				if x, ok := d.leg(a, l, t, leg, k); ok {
					a.Legs = append(a.Legs, x)
				}
			}
		}
	}
}

func (d *reading) leg(a *Arrangement, l *jackstay.LineResult, t jackstay.Tether, leg float64, k int) (Leg, bool) {
	i := slices.IndexFunc(l.Reaches, func(r jackstay.Reach) bool { return r.Tether == t.ID && r.Leg == leg })
	at := slices.IndexFunc(a.Case.Lines, func(x jackstay.Line) bool { return x.ID == l.ID })
	if i < 0 || at < 0 {
		return Leg{}, false
	}
	out := Leg{Line: record.Ref(l.ID), Tether: record.Ref(t.ID), Leg: leg, Hook: k + 1, Hooks: len(t.Legs), Class: jackstay.Aboard}
	out.Far, out.Error = l.Reaches[i].Farthest(&a.Case.Lines[at])
	out.Says = fmt.Sprintf("%s on the %s leg of %s: the ring comes %.1f m from the line (within %.1f m)", d.name(out.Line), metres(leg), d.name(out.Tether), out.Far, tenthUp(out.Error-0.02))
	if f, err := d.w.deck.Reach(l.ID, t.ID, leg); d.w.deck != nil && err == nil {
		out.Figures = []figure.Figure{f}
	}
	if worst := worstSide(l.Sides, t.ID, leg); worst != nil {
		out.Class, out.Edge = worst.Class, record.Ref(worst.Edge)
		if rank(worst.Class) > 0 {
			out.Says += ", " + d.goes(a, *worst)
			out.Figures = append(out.Figures, d.w.over(*worst)...)
		}
	}
	if rank(out.Class) == 0 {
		out.Says += ", and stays inboard of every edge"
	}
	out.Says += "."
	return out, true
}

// worstSide is the gravest passing of a leg over an edge, of equal ones that
// which lets it go farthest; nil if it comes near none.
func worstSide(sides []jackstay.Side, tether string, leg float64) *jackstay.Side {
	var worst *jackstay.Side
	for i := range sides {
		s := &sides[i]
		if s.Tether != tether || s.Leg != leg {
			continue
		}
		if worst == nil || rank(s.Class) > rank(worst.Class) || rank(s.Class) == rank(worst.Class) && greatest(passing(*s).By) > greatest(passing(*worst).By) {
			worst = s
		}
	}
	return worst
}
