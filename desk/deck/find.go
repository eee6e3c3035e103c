package deck

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"dogshore/jackstay"
	"dogshore/plane"
	"dogshore/record"
	"dogshore/rope"
)

// grave orders the sorts of findings.
var grave = []Sort{Dragged, Gap, OverSide, Weak, Unheld, Swept, Crossed, Snag, RuleNot, Unknown}

// Grave reports whether what a finding of this sort leaves can cost a life.
func (s Sort) Grave() bool { return slices.Index(grave, s) < slices.Index(grave, Snag) }

// find says what the figures of an arrangement come to.
func (d *reading) find(a *Arrangement) {
	for _, l := range a.Result.Lines {
		d.findSides(a, record.Ref(l.ID), l.Sides)
		d.findCatches(a, l)
		d.findStrength(a, l)
	}
	for _, p := range a.Result.Points {
		d.findSides(a, record.Ref(p.ID), p.Sides)
	}
	d.findCrossed(a)
	d.findTasks(a)
	d.findSwept(a)
	d.findLeads(a)
	d.findAnchors(a)
	d.findRules(a)
	slices.SortStableFunc(a.Findings, func(x, y Finding) int {
		return cmp.Compare(slices.Index(grave, x.Sort), slices.Index(grave, y.Sort))
	})
}

func (a *Arrangement) add(f Finding) { a.Findings = append(a.Findings, f) }

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
			if worst == nil || passing(*s).By.Soft > passing(*worst).By.Soft {
				worst = s
			}
		}
		if worst == nil {
			continue
		}
		by, at := passing(*worst), d.name(record.Ref(worst.Edge))
		f := Finding{Sort: sort, Of: of, Caution: caution("attached")}
		f.Says = fmt.Sprintf("%s, on the %s leg: over the edge at %s by %s; the harness ring ends %s.",
			d.name(of), metres(worst.Leg), at, tenth(by.By.Soft, by.Error), ringAt(by.Ring))
		if others := slices.DeleteFunc(edges, func(e string) bool { return e == at }); len(others) > 0 {
			f.Says += " Also at " + list(others) + "."
		}
		a.add(f)
	}
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

// caution is the text of one of the engine's cautions.
func caution(key string) string {
	for _, c := range jackstay.Cautions() {
		if c.Key == key {
			return c.Says
		}
	}
	return ""
}

func ringAt(b jackstay.Band) string {
	low := math.Min(b.Soft, math.Min(b.As, b.Stiff))
	if low < -0.05 {
		return fmt.Sprintf("%.1f m under the surface", -low)
	}
	return fmt.Sprintf("%.1f m over the water", math.Max(low, 0))
}

// tenth prints a reach to 0.1 m with its error.
func tenth(v, err float64) string {
	return fmt.Sprintf("%.1f m (within %.1f m)", v, math.Max(0.1, math.Ceil(10*err)/10))
}

func metres(v float64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", v), "0"), ".") + " m"
}

func (d *reading) name(of record.Ref) string {
	if of == "" {
		return ""
	}
	return d.r.Name(of)
}

// findCatches says what a slack line can be pulled onto, and onto what a loaded
// hook can be dragged.
func (d *reading) findCatches(a *Arrangement, l jackstay.LineResult) {
	var slack, loaded, side []string
	for _, c := range l.Catches {
		name := d.name(record.Ref(c.Catch))
		if c.Slack {
			slack = append(slack, name)
		}
		switch {
		case c.Side:
			side = append(side, name)
		case c.Loaded:
			loaded = append(loaded, name)
		}
	}
	of := record.Ref(l.ID)
	put := func(names []string, says string) {
		if len(names) > 0 {
			a.add(Finding{Sort: Snag, Of: of, Says: fmt.Sprintf(says, d.name(of), list(names)), Caution: caution("hook")})
		}
	}
	put(slack, "%s: its slack can be pulled onto %s.")
	put(side, "%s: a hook on it can come to lie across %s, where it may open.")
	put(loaded, "%s: a hook under load can be dragged onto %s.")
}

// list joins names, the first few of many.
func list(names []string) string {
	const most = 4
	more := ""
	if len(names) > most {
		more, names = fmt.Sprintf(" and %d more", len(names)-most), names[:most]
	} else if len(names) > 1 {
		more, names = " and "+names[len(names)-1], names[:len(names)-1]
	}
	return strings.Join(names, ", ") + more
}

// findStrength says whether a line is over what it holds.
func (d *reading) findStrength(a *Arrangement, l jackstay.LineResult) {
	of := record.Ref(l.ID)
	if l.Strength.Verdict == jackstay.MeetsNot {
		a.add(Finding{Sort: Weak, Of: of, Caution: caution("renew"),
			Says: fmt.Sprintf("%s: up to %s in the line after a fall, with a design factor of %.0f; it holds %s when new, less what age and ends take away.",
				d.name(of), kN(top(l.Tension)), l.Strength.Factor, kN(l.Strength.MBL))})
	}
}

func top(b jackstay.Band) float64 { return math.Max(b.Soft, math.Max(b.As, b.Stiff)) }

func kN(n float64) string { return fmt.Sprintf("%.1f kN", n/1000) }

// findCrossed says which lines run through what a hatch lid or an arm swings
// over.
func (d *reading) findCrossed(a *Arrangement) {
	for _, l := range a.Case.Lines {
		for _, o := range d.a.Plan.Obstacles {
			if !o.Swings.Known || o.Swings.SI <= 0 || len(o.Plan) == 0 {
				continue
			}
			if apart(l, points(o.Plan)) < o.Swings.SI {
				of := record.Ref(l.ID)
				a.add(Finding{Sort: Crossed, Of: of, Says: fmt.Sprintf("%s runs through the swing of %s.", d.name(of), d.name(o.Self))})
			}
		}
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

// findAnchors says which fittings are over what they hold, and of which nobody
// knows.
func (d *reading) findAnchors(a *Arrangement) {
	for _, x := range a.Anchors {
		switch x.Result.Verdict {
		case rope.MeetsNot:
			a.add(Finding{Sort: Weak, Of: x.Self, Caution: rope.CautionEstimate.Text(),
				Says: fmt.Sprintf("%s does not meet the figures entered: %s.", x.Name, weakest(x.Result))})
		case rope.NotKnown:
			a.add(Finding{Sort: Unknown, Of: x.Self, Caution: rope.CautionEstimate.Text(),
				Says: fmt.Sprintf("%s: nothing can be said of what it holds. It would need: %s.", x.Name, list(x.Result.Missing))})
		}
	}
}

// weakest is the part of an anchor that is farthest over what it holds.
func weakest(r rope.AnchorResult) string {
	says, least := "", math.Inf(1)
	for _, p := range r.Parts {
		if p.Verdict == rope.MeetsNot && p.Margin < least {
			says, least = fmt.Sprintf("%s, %.2f times what is asked of it", p.Says, p.Margin), p.Margin
		}
	}
	return says
}

// lowered begins a name small inside a sentence, unless it is a proper one.
func lowered(s string) string {
	if len(s) > 1 && s[0] >= 'A' && s[0] <= 'Z' && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}
