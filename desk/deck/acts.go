package deck

import (
	"fmt"
	"strings"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/figure"
	"dogshore/record"
	"dogshore/rope"
	"dogshore/source"
)

// act asks what the figures ask. An arrangement among others is a matter of its
// open point: one act says what each leaves open. What stands in every
// arrangement is built, and each sort of finding is an act of its own.
func (d *reading) act() {
	points := map[record.Ref][]*Arrangement{}
	var order []record.Ref
	for i := range d.a.Arrangements {
		a := &d.a.Arrangements[i]
		if a.Point == "" {
			d.actBuilt(a)
			continue
		}
		if points[a.Point] == nil {
			order = append(order, a.Point)
		}
		points[a.Point] = append(points[a.Point], a)
	}
	for _, p := range order {
		d.actPoint(p, points[p])
	}
	d.actBacking()
}

// says is what a finding asks somebody to do.
var says = map[Sort]struct {
	do    desk.Do
	where desk.Where
	lead  string
	miss  string
}{
	Dragged:  {desk.Settle, desk.AtHome, "Bring the line in, or shorten the leg: %s", "Whoever goes over there is dragged in the water, still attached."},
	OverSide: {desk.Settle, desk.AtHome, "Look at who could go over the side: %s", "Whoever goes over hangs outside, and has to be got back aboard."},
	Gap:      {desk.Settle, desk.AtHome, "Find something to clip to: %s", "There one goes without being clipped on."},
	Weak:     {desk.Ask, desk.ToYard, "Ask the designer about a load above what is entered: %s", "It may give way when somebody hangs on it."},
	Unheld:   {desk.Ask, desk.ToYard, "Ask the designer about a preventer that does not hold: %s", "The boom comes across all the same."},
	Swept:    {desk.Settle, desk.AtHome, "Move what lies where gear sweeps: %s", "Who stands there can be struck."},
	Crossed:  {desk.Settle, desk.AtHome, "Lead it clear: %s", "It chafes or jams, and is left unused."},
	Snag:     {desk.Look, desk.AtVisit, "Look whether a line can catch there: %s", "A hook pulled sideways over an edge can open."},
	RuleNot:  {desk.Settle, desk.AtHome, "A rule is not met by the figures entered: %s", "An inspector for the race or the flag may refuse it."},
	Unknown:  {desk.Ask, desk.ToYard, "Ask what it is made of: %s", "Without it nothing can be said of what it holds."},
}

// actBuilt makes an act of each sort of finding on what stands in every
// arrangement.
func (d *reading) actBuilt(a *Arrangement) {
	for _, sort := range grave {
		var of []Finding
		for _, f := range a.Findings {
			if f.Sort == sort {
				of = append(of, f)
			}
		}
		if len(of) == 0 {
			continue
		}
		w := says[sort]
		act := desk.Act{
			ID: "deck/" + slug(sort), Do: w.do, Where: w.where, Subject: of[0].Of, Ahead: -1,
			Say: fmt.Sprintf(w.lead, of[0].Says), Gravity: desk.Safety, Missed: w.miss, Caution: of[0].Caution,
		}
		for _, f := range of[1:] {
			act.How = append(act.How, f.Says)
		}
		act.Why = d.why(a, of)
		d.before(&act, of)
		d.a.Acts = append(d.a.Acts, act)
	}
}

// before hangs an act on the step before which something under a fitting must
// be in: the first that is still ahead.
func (d *reading) before(act *desk.Act, of []Finding) {
	for _, f := range of {
		if x, ok := d.fitting(f.Of); ok && x.Before != "" {
			act.Before = x.Before
			act.Ahead, act.Gone = d.standOf(x.Before)
			return
		}
	}
}

func (d *reading) standOf(step record.Ref) (ahead int, gone bool) {
	for _, s := range d.plan.Steps {
		if s.Self == step {
			return s.Ahead, s.Begun.Known()
		}
	}
	return -1, false
}

// actPoint says of an open point what each of its arrangements leaves open.
func (d *reading) actPoint(point record.Ref, of []*Arrangement) {
	p := d.point(point)
	if p == nil || p.Gone {
		return
	}
	act := desk.Act{
		ID: "deck/" + string(point), Do: desk.Settle, Where: desk.AtHome, Subject: point, On: p.Part, Before: p.Step, Ahead: p.Ahead,
		By: p.Governs(), Gravity: desk.Gravity(p.Gravity),
		Say:    fmt.Sprintf("Compare the %s on the deck plan before you settle: %s", desk.Count(len(of), "arrangement"), desk.Sentence(desk.Capital(p.Question))),
		Missed: "What is built then keeps its gaps, and a late eye means cutting into a closed deck.",
	}
	for _, a := range of {
		act.How = append(act.How, a.Name+": "+a.Sum())
		act.How = append(act.How, d.settled(a, p)...)
		act.Why = append(act.Why, d.why(a, a.Findings)...)
		if act.Caution == "" && len(a.Findings) > 0 {
			act.Caution = rope.CautionEstimate.Text()
		}
	}
	d.a.Acts = append(d.a.Acts, act)
}

func (d *reading) point(ref record.Ref) *plan.Point {
	for i := range d.plan.Points {
		if d.plan.Points[i].Self == ref {
			return &d.plan.Points[i]
		}
	}
	return nil
}

// Sum says in a line what an arrangement leaves open: of each sort how many
// lines, fittings, tasks it is true of.
func (a *Arrangement) Sum() string {
	if len(a.Findings) == 0 {
		return "nothing found on the figures entered."
	}
	var parts []string
	for _, sort := range grave {
		count := map[string]int{}
		seen := map[record.Ref]bool{}
		var order []string
		for _, f := range a.Findings {
			if f.Sort != sort {
				continue
			}
			thing := f.thing()
			if count[thing] == 0 {
				order = append(order, thing)
			}
			for _, ref := range f.all() {
				if ref == "" || !seen[ref] {
					count[thing]++
				}
				seen[ref] = true
			}
		}
		if len(order) == 0 {
			continue
		}
		for i, thing := range order {
			order[i] = desk.Count(count[thing], thing)
		}
		parts = append(parts, string(sort)+": "+list(order))
	}
	return strings.Join(parts, "; ") + "."
}

// thing is what a finding counts.
func (f Finding) thing() string {
	switch kind := f.Of.Kind(); {
	case f.Sort == Gap:
		return "task"
	case kind == "jackstay":
		return "line"
	case kind == "fitting" || kind == "preventer" || kind == "tether" || kind == "boom" || kind == "rope":
		return kind
	case kind == "obstacle":
		return "place"
	case f.Sort == RuleNot:
		return "clause"
	}
	return "thing"
}

// why gives the findings as figures: what was reckoned, from what is on record.
func (d *reading) why(a *Arrangement, of []Finding) []figure.Figure {
	var out []figure.Figure
	for _, f := range of {
		out = append(out, figure.Figure{Says: string(f.Sort), Text: f.Says, Source: source.Source{How: source.Derived}, Of: f.Figures})
	}
	const most = 6
	if len(out) > most {
		out = out[:most]
	}
	return out
}

func slug(s Sort) string {
	out := []byte(s)
	for i, c := range out {
		if c == ' ' || c == ',' {
			out[i] = '-'
		}
	}
	return string(out)
}
