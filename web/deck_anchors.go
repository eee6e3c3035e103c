package web

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"dogshore/desk"
	"dogshore/desk/deck"
	"dogshore/figure"
	"dogshore/rope"
)

// deckAnchor is a fitting with what it sees, what is under it, and what is
// asked of the laminate before which step.
type deckAnchor struct {
	Of     Named
	Also   []Named // of which all this is true as well
	State  string
	Grave  bool
	Sees   []deckFact // each load, as it is held against it
	Parts  []deckPart
	Asks   string
	Rests  []string // the strengths that the demand was reckoned with
	Before string

	Figures []figure.Figure
}

// deckPart is one way in which a fitting or a preventer can fail.
type deckPart struct {
	Says    string
	Sees    string
	Holds   string
	Used    string // of what it holds, its factor taken off: "48 %"
	Bar     float64
	Verdict string
	Grave   bool
	Needs   string
}

// barFull is where the bar of what a part is used to ends: twice what it holds.
const barFull = 2

// used says how much of what a part holds its load comes to.
func (p *deckPart) used(margin float64) {
	if margin <= 0 {
		return
	}
	p.Used = fmt.Sprintf("%.0f %%", 100/margin)
	p.Bar = math.Round(math.Min(1/margin, barFull) * 100 / barFull)
}

func (v *view) deckAnchors(x *deck.Arrangement) []deckAnchor {
	anchors := slices.Clone(x.Anchors)
	rank := map[rope.Verdict]int{rope.MeetsNot: 0, rope.NotKnown: 1, rope.Meets: 2}
	slices.SortStableFunc(anchors, func(a, b deck.Anchor) int {
		return cmp.Or(cmp.Compare(rank[a.Result.Verdict], rank[b.Result.Verdict]), cmp.Compare(a.Result.Margin, b.Result.Margin))
	})
	var out []deckAnchor
	for _, a := range anchors {
		one := deckAnchor{Figures: a.Figures, Of: v.Ref(a.Self), State: anchorState(a.Result), Grave: a.Result.Verdict == rope.MeetsNot, Asks: desk.Capital(strings.TrimPrefix(deck.Demanded(a), a.Name+": "))}
		for _, l := range a.Case.Loads {
			f := l.Force
			one.Sees = append(one.Sees, deckFact{Label: l.Name, Text: kN(math.Sqrt(f.X*f.X + f.Y*f.Y + f.Z*f.Z))})
		}
		for _, p := range a.Result.Parts {
			part := deckPart{Says: desk.Capital(p.Says), Verdict: string(p.Verdict), Grave: p.Verdict == rope.MeetsNot, Needs: fewOf(p.Missing, 4), Sees: inSI(p.Load, p.Unit), Holds: inSI(p.Holds, p.Unit)}
			if p.Verdict != rope.NotKnown {
				part.used(p.Margin)
			}
			one.Parts = append(one.Parts, part)
		}
		for _, r := range a.Result.Demand.Rests {
			text := r.What + " " + inSI(r.Value, r.Unit)
			if r.Assumed {
				text += ", the low end of what is usual"
			}
			one.Rests = append(one.Rests, text)
		}
		if a.Before != "" {
			one.Before = v.stepNamed(a.Before)
		}
		if i := slices.IndexFunc(out, func(o deckAnchor) bool { return o.alike() == one.alike() }); i >= 0 {
			out[i].Also = append(out[i].Also, one.Of)
			continue
		}
		out = append(out, one)
	}
	return out
}

// alike is what fittings that are each other's mirror image have in common.
func (a deckAnchor) alike() string {
	return sideless(fmt.Sprint(a.Of.Name, a.State, a.Sees, a.Parts, a.Asks, a.Before))
}

// anchorState is the verdict on a fitting with its weakest part.
func anchorState(r rope.AnchorResult) string {
	if r.Verdict == rope.MeetsNot && r.Margin > 0 {
		for _, p := range r.Parts {
			if string(p.Key) == r.Weakest || p.Says == r.Weakest {
				return fmt.Sprintf("%s: %s used to %.0f %%", r.Verdict, p.Says, 100/r.Margin)
			}
		}
	}
	if r.Verdict == rope.NotKnown {
		return "nothing can be said of what it holds"
	}
	return string(r.Verdict)
}

// inSI prints a load or a strength as people write it; "" for nothing.
func inSI(v float64, unit string) string {
	switch {
	case v == 0:
		return ""
	case unit == "N":
		return kN(v)
	case unit == "N m":
		return fmt.Sprintf("%.1f kN m", v/1000)
	case unit == "Pa":
		return fmt.Sprintf("%.3g MPa", v/1e6)
	case unit == "":
		return fmt.Sprintf("%.2g", v)
	}
	return fmt.Sprintf("%.3g %s", v, unit)
}
