package deck

import (
	"fmt"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/figure"
	"dogshore/record"
	"dogshore/rope"
	"dogshore/source"
)

// settled says of an option what must be settled under its fittings, before
// which step and by when, if it is chosen.
func (d *reading) settled(a *Arrangement, p *plan.Point) []string {
	byStep := map[record.Ref]int{}
	var order []record.Ref
	for _, x := range a.Anchors {
		if x.Option != a.Option || x.Before == "" && !demands(x) && x.Result.Verdict != rope.NotKnown {
			continue
		}
		if byStep[x.Before] == 0 {
			order = append(order, x.Before)
		}
		byStep[x.Before]++
	}
	var out []string
	for _, step := range order {
		says := fmt.Sprintf("%s, if it is chosen: what lies under %s must be settled and in", a.Name, desk.Count(byStep[step], "fitting"))
		if step == "" {
			says += "; nobody has said before which step"
		} else {
			says += " before " + desk.The(d.name(step))
		}
		if a.Cost.By.Known() && (step == p.Step || step == "") {
			says += ", " + a.Cost.By.Line(d.r.Day)
		}
		out = append(out, says+".")
	}
	return out
}

// demands reports whether the loads of a fitting ask for something under it.
func demands(x Anchor) bool { return x.Result.Demand.Replace != "" || x.Result.Demand.Thick > 0 }

// actBacking asks for what must be in the laminate under fittings that are
// settled, before the step that closes it.
func (d *reading) actBacking() {
	byStep := map[record.Ref][]Anchor{}
	var order []record.Ref
	for i := range d.a.Arrangements {
		a := &d.a.Arrangements[i]
		if a.Point != "" {
			continue
		}
		for _, x := range a.Anchors {
			if x.Before == "" || !demands(x) {
				continue
			}
			if byStep[x.Before] == nil {
				order = append(order, x.Before)
			}
			byStep[x.Before] = append(byStep[x.Before], x)
		}
	}
	for _, step := range order {
		of := byStep[step]
		act := desk.Act{
			ID: "deck/backing/" + step.Key(), Do: desk.Tell, Where: desk.ToYard, Subject: of[0].Self, On: of[0].Part, Before: step, Gravity: desk.Structure,
			Say:     fmt.Sprintf("Ask the designer to check what must lie under %s before it is closed.", desk.Count(len(of), "fitting")),
			Missed:  "A pad that is missing then is cut in later, through a closed deck.",
			Caution: rope.CautionEstimate.Text(),
		}
		act.Ahead, act.Gone = d.standOf(step)
		for _, x := range of {
			act.How = append(act.How, Demanded(x))
		}
		act.Why = []figure.Figure{{Says: "fittings whose loads were reckoned", Text: desk.Count(len(of), "fitting"), Value: float64(len(of)), Source: source.Source{How: source.Derived}}}
		d.a.Acts = append(d.a.Acts, act)
	}
}

// Demanded says what a fitting needs under it, as a request for the designer's
// check.
func Demanded(x Anchor) string {
	q := x.Result.Demand
	text := x.Name + ": "
	if q.Thick > 0 {
		text += fmt.Sprintf("at least %.0f mm of solid laminate", 1000*q.Thick)
	} else {
		text += "solid laminate"
	}
	if q.Long > 0 {
		text += fmt.Sprintf(" over %.0f by %.0f mm", 1000*q.Long, 1000*q.Wide)
	}
	if q.Replace != "" {
		text += ", " + q.Replace + " out"
	}
	if len(q.Missing) > 0 {
		text += "; not reckoned: " + list(q.Missing)
	}
	return text + "."
}
