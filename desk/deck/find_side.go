package deck

import (
	"fmt"
	"math"
	"slices"

	"dogshore/jackstay"
	"dogshore/record"
	"dogshore/rope"
)

// findSides says over which edges a thing lets one go: where one is dragged in
// the water, and where one hangs outside, each by its worst edge, the others
// named.
func (d *reading) findSides(a *Arrangement, of record.Ref, sides []jackstay.Side) {
	for _, sort := range []Sort{Dragged, OverSide} {
		want := 1
		if sort == Dragged {
			want = 2
		}
		var worst *jackstay.Side
		var edges []string
		for i := range sides {
			s := &sides[i]
			if rank(s.Class) != want {
				continue
			}
			if name := d.name(record.Ref(s.Edge)); !slices.Contains(edges, name) {
				edges = append(edges, name)
			}
			if worst == nil || greatest(passing(*s).By) > greatest(passing(*worst).By) {
				worst = s
			}
		}
		if worst == nil {
			continue
		}
		at := d.name(record.Ref(worst.Edge))
		f := Finding{Sort: sort, Of: of, Caution: rope.CautionDragged.Text(), Figures: d.w.over(*worst)}
		f.Says = fmt.Sprintf("%s, on the %s leg: %s.", d.name(of), metres(worst.Leg), d.goes(a, *worst))
		if others := slices.DeleteFunc(edges, func(e string) bool { return e == at }); len(others) > 0 {
			f.Says += " Also at " + list(others) + "."
		}
		a.add(f)
	}
}

// goes says how far over an edge somebody goes, and where the ring ends; of
// what lies within its error that it may.
func (d *reading) goes(a *Arrangement, s jackstay.Side) string {
	p := passing(s)
	at, by, off := d.name(record.Ref(s.Edge)), greatest(p.By), tenthUp(p.Error)
	if by < 0.05 {
		return fmt.Sprintf("may reach over the edge at %s: %.1f m short of it, within the error of %.1f m", at, math.Abs(math.Min(by, 0)), off)
	}
	under := ""
	if s.Under != nil && p == *s.Under && s.Over != nil {
		under = ", under the lower wire,"
	}
	return fmt.Sprintf("over the edge at %s%s by %.1f m (within %.1f m); the harness ring ends %s", at, under, by, off, ringAt(p.Ring, p.Error+spreadOf(a, s.Edge)))
}

// spreadOf is half the band of an edge's height above the water.
func spreadOf(a *Arrangement, edge string) float64 {
	for _, e := range a.Case.Edges {
		if e.ID == edge {
			return max(e.Spread, usualSpread)
		}
	}
	return usualSpread
}

func greatest(b jackstay.Band) float64 { return math.Max(b.Soft, math.Max(b.As, b.Stiff)) }

// tenthUp is an error rounded up to a tenth of a metre: no plan knows more.
func tenthUp(v float64) float64 { return math.Max(0.1, math.Ceil(10*v-1e-9)/10) }

func ringAt(b jackstay.Band, off float64) string {
	low := math.Min(b.Soft, math.Min(b.As, b.Stiff))
	within := fmt.Sprintf(" (within %.1f m)", tenthUp(off))
	switch {
	case low < -0.05:
		return fmt.Sprintf("%.1f m under the surface", -low) + within
	case low < 0.05:
		return "at the surface" + within
	}
	return fmt.Sprintf("%.1f m over the water", low) + within
}

// rank is 2 for who is dragged in the water (or may be), 1 for who hangs over
// the side, 0 for who stays aboard.
func rank(c jackstay.Class) int {
	switch c {
	case jackstay.Dragging, jackstay.ClassBOrC, jackstay.ClassAOrC:
		return 2
	case jackstay.Outboard, jackstay.ClassAOrB:
		return 1
	}
	return 0
}

// passing is the worse of the two ways over an edge.
func passing(s jackstay.Side) jackstay.Passing {
	if s.Under == nil || s.Over != nil && rank(s.Over.Class) > rank(s.Under.Class) {
		return *s.Over
	}
	return *s.Under
}
