package deck

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dogshore/record"
	"dogshore/rope"
)

// findAnchors says which fittings are over what they hold, and of which nobody
// knows. Fittings of which the same is to be said are said together.
func (d *reading) findAnchors(a *Arrangement) {
	from, lacks := len(a.Findings), map[record.Ref][]string{}
	for _, x := range a.Anchors {
		missing := missingOf(x.Result)
		f := Finding{Of: x.Self, Caution: rope.CautionEstimate.Text(), Figures: x.Figures}
		switch x.Result.Verdict {
		case rope.MeetsNot:
			f.Sort, f.Says = Weak, " does not meet the figures entered: "+weakest(x.Result)+"."
			if len(x.Result.Missing) > 0 {
				f.Says += " Besides, nobody has said: " + list(missing) + "."
			}
		case rope.NotKnown:
			f.Sort, f.Says = Unknown, ": nothing can be said of what it holds. It would need: "+list(missing)+"."
			if len(x.Result.Missing) == 1 {
				f.Says = ": what it holds is not known for want of one figure: " + x.Result.Missing[0] + "."
			}
		default:
			continue
		}
		same := slices.IndexFunc(a.Findings[from:], func(g Finding) bool {
			return g.Sort == f.Sort && g.Says == f.Says && slices.Equal(missing, lacks[g.Of])
		})
		lacks[x.Self] = missing
		if same >= 0 {
			a.Findings[from+same].Also = append(a.Findings[from+same].Also, f.Of)
			continue
		}
		a.add(f)
	}
	for i := range a.Findings[from:] {
		f := &a.Findings[from+i]
		names := []string{d.name(f.Of)}
		for _, x := range f.Also {
			names = append(names, d.name(x))
		}
		if len(names) > 1 {
			f.Says = strings.Replace(f.Says, " does not meet", " do not meet", 1)
			f.Says = strings.Replace(f.Says, "what it holds", "what each holds", 1)
		}
		f.Says = pairs(names) + f.Says
	}
}

// missingOf is what nobody has said of an anchor, what it stands on first.
func missingOf(r rope.AnchorResult) []string {
	i := slices.Index(r.Missing, rope.UnderFoot)
	if i < 0 {
		return r.Missing
	}
	return append([]string{rope.UnderFoot}, slices.Delete(slices.Clone(r.Missing), i, i+1)...)
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

// pairs joins names like list, but names what lies on both sides once.
func pairs(names []string) string {
	var out []string
	gone := map[string]bool{}
	for _, n := range names {
		if gone[n] {
			continue
		}
		if o := otherSide(n); o != n && slices.Contains(names, o) {
			gone[o] = true
			n += " (and to " + strings.ToLower(sideWords.FindString(o)) + ")"
		}
		out = append(out, n)
	}
	return list(out)
}

// all are the things that a finding is true of.
func (f Finding) all() []record.Ref { return append([]record.Ref{f.Of}, f.Also...) }
