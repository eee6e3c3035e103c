package deck

import (
	"fmt"
	"slices"
	"strings"

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
	out.Says = fmt.Sprintf("the ring comes %.1f m from the line (within %.1f m)", out.Far, tenthUp(out.Error-0.02))
	if f, err := d.w.deck.Reach(l.ID, t.ID, leg); d.w.deck != nil && err == nil {
		out.Figures = []figure.Figure{f}
	}
	if worst := worstSide(l.Sides, t.ID, leg); worst != nil {
		out.Class, out.Edge = worst.Class, record.Ref(worst.Edge)
		if rank(worst.Class) > 0 {
			out.Says += ", " + d.goes(a, *worst)
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

// LegLines says in words where each leg lets the ring come, once for both sides
// and for all tethers of which the same is true.
func (a *Arrangement) LegLines(name func(record.Ref) string) []string {
	type group struct {
		of      Leg
		tethers []string
		alike   bool
	}
	var groups []group
next:
	for _, l := range a.Legs {
		for i := range groups {
			g := &groups[i]
			same := g.of.Line == l.Line && g.of.Says == l.Says
			image := g.of.Line != l.Line && otherSide(name(g.of.Line)) == name(l.Line) && otherSide(g.of.Says) == l.Says
			if g.of.Leg != l.Leg || !same && !image {
				continue
			}
			g.alike = g.alike || image
			if t := name(l.Tether); !slices.Contains(g.tethers, t) {
				g.tethers = append(g.tethers, t)
			}
			continue next
		}
		groups = append(groups, group{l, []string{name(l.Tether)}, false})
	}
	var out []string
	for _, g := range groups {
		line := name(g.of.Line)
		if g.alike {
			line = alike(line, line)
		}
		out = append(out, fmt.Sprintf("%s, on the %s leg of %s: %s", line, metres(g.of.Leg), strings.Join(g.tethers, " and "), g.of.Says))
	}
	return out
}
