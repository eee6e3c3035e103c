package plan

import (
	"sort"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/record"
)

// Cautions, each beside the acts that it belongs to.
const (
	cutting = "Once this is closed in, a late fitting means cutting into a cured sandwich, and that weakens it unless somebody has engineered the repair. " +
		"Ask the designer before you agree to one; bolting it through is no substitute."
	builtOver = "It was closed in before its hold was released. Ask for pictures and cure records, and for opening up where safety hangs on it. " +
		"A pressed programme is no reason to take a hold as released."
	unhurried   = "Cure, post-cure and trials are not to be shortened to win days, unless the resin's maker or the designer says so in writing."
	notAccepted = "A look is noted, it accepts nothing: whether the structure will do is for the designer or a licensed surveyor."
)

// acts turns the answer into things to do, each with a stable name.
func (d *reading) acts() {
	d.actCovers()
	d.actHolds()
	d.actRecords()
	d.actPoints()
	d.actItems()
	d.actOrder()
	d.actDoubts()
	sort.SliceStable(d.a.Acts, func(i, k int) bool {
		a, b := &d.a.Acts[i], &d.a.Acts[k]
		if a.Gone != b.Gone {
			return b.Gone
		}
		if a.Ahead != b.Ahead {
			return b.Ahead == unknown || a.Ahead != unknown && a.Ahead < b.Ahead
		}
		return a.ID < b.ID
	})
}

// act lays the ground of an act about a subject, to be done before a step.
func (d *reading) act(verb string, do desk.Do, where desk.Where, subject, before record.Ref) desk.Act {
	a := desk.Act{ID: verb + "/" + string(subject), Do: do, Where: where, Subject: subject, Before: before, Ahead: d.aheadOf(before)}
	if s := d.steps[before]; s != nil {
		a.On = s.Part
		a.Gone = d.begun(before)
	}
	return a
}

func (d *reading) add(a desk.Act) { d.a.Acts = append(d.a.Acts, a) }

// stateFigure is how a step's state is known: by the last look at it, or by
// what it follows from.
func (d *reading) stateFigure(ref record.Ref) figure.Figure {
	s := d.steps[ref]
	f := figure.Figure{Says: "state of " + desk.The(s.Name), Text: s.State, Source: derived}
	seen, told := d.lastLooks(ref)
	for _, l := range []*look{seen, told} {
		if l != nil && l.state == s.State && s.Grounds != record.Inferred {
			f = desk.Typed(d.r, l.self, "state", "state of "+desk.The(s.Name)+", "+string(l.grounds)+" on "+d.short(l.day))
			break
		}
	}
	if s.Grounds != record.Inferred {
		return f
	}
	f.Text = s.State + ", inferred"
	for _, id := range s.Times.BoundBy {
		by := record.R("step", id)
		if later, _ := d.lastLooks(by); later != nil && by != ref {
			f.Of = append(f.Of, desk.Typed(d.r, later.self, "state", "it follows from what was seen of "+desk.The(d.name(by))+" on "+d.short(later.day)))
		}
	}
	return f
}

func filled(texts ...string) []string {
	var out []string
	for _, t := range texts {
		if clause(t) != "" {
			out = append(out, desk.Sentence(desk.Capital(clause(t))))
		}
	}
	return out
}

func labelled(label, text string) string {
	if clause(text) == "" {
		return ""
	}
	return label + ": " + clause(text)
}
