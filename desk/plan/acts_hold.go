package plan

import (
	"fmt"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/programme"
	"dogshore/record"
)

// unreleased reports whether a step is, or directly comes after, a binding
// hold that nobody who may has released.
func (d *reading) unreleased(ref record.Ref) bool {
	for _, h := range d.a.Holds {
		if !h.Binding || h.ByRight {
			continue
		}
		if h.Step == ref {
			return true
		}
		for _, l := range d.in[ref] {
			if l.from == h.Step && l.typ == programme.FS {
				return true
			}
		}
	}
	return false
}

// actHolds sees to releases, and to looks at stages that are usually stopped
// for or announced: without a clause that binds nobody and is only advice,
// given for what comes soon and is not asked for as the work that a step
// covers up.
func (d *reading) actHolds() {
	hidden := map[record.Ref]bool{}
	for _, c := range d.a.Covers {
		for _, of := range c.Of {
			hidden[of] = true
		}
	}
	for _, h := range d.a.Holds {
		s := d.steps[h.Step]
		switch {
		case h.Binding && !h.ByRight && h.Passed != 0:
			d.add(d.wentOn(s, h))
		case h.Binding && !h.ByRight:
			d.add(d.release(s))
		case !h.Binding && h.Passed == 0 && s.Ahead <= soon && !hidden[h.Step] && d.lookBeforeDay(h.Step, 0).visit == "":
			d.add(d.advise(s, h))
		}
		if h.Released != nil && h.ByRight && d.r.From(h.Released.Self).Grounds == record.Told {
			a := d.act("confirm", desk.Confirm, desk.ToYard, h.Released.Self, h.Step)
			a.Say = "Get the release in writing, it was only said: " + desk.Sentence(s.Name)
			a.Why = []figure.Figure{desk.Typed(d.r, h.Released.Self, "day", "released by "+d.name(h.Released.By))}
			a.Missed = "A release that was only said can't be shown later."
			d.add(a)
		}
	}
}

// release is to be given before the step begins.
func (d *reading) release(s *Step) desk.Act {
	a := d.act("release", desk.Release, desk.AtVisit, s.Self, s.Self)
	a.By = d.lastChance(s.Self)
	a.Gravity = desk.Structure
	a.Say = fmt.Sprintf("See to the release, or say what is missing: %s. By clause %s it waits for %s.", clause(s.Name), clause(s.Clause), d.name(s.Releaser))
	a.How = filled(s.Look, labelled("Measure", s.Measure))
	a.Why = []figure.Figure{desk.Typed(d.r, s.Self, "clause", "the contract's clause for the hold"), d.stateFigure(s.Self)}
	a.Missed = "The yard waits, or goes on without it."
	a.Caution = notAccepted
	return a
}

func (d *reading) wentOn(s *Step, h Hold) desk.Act {
	a := d.act("ask", desk.Ask, desk.ToYard, s.Self, h.Next)
	a.ID = "ask/hold/" + s.Key()
	a.Gravity = desk.Structure
	a.Say = fmt.Sprintf("Ask on whose release the yard went on: %s. By clause %s it waits for %s, and no release by them is on file.", clause(s.Name), clause(s.Clause), d.name(s.Releaser))
	a.Why = []figure.Figure{d.stateFigure(s.Self), desk.Typed(d.r, s.Self, "clause", "the contract's clause for the hold")}
	a.Missed = "A hold that was passed over once is passed over again."
	a.Caution = builtOver
	return a
}

func (d *reading) advise(s *Step, h Hold) desk.Act {
	before := h.Next
	if before == "" {
		before = s.Self
	}
	a := d.act("look", desk.Look, desk.AtVisit, s.Self, before)
	a.By = d.lastChance(before)
	usual := "a usual place to stop"
	if h.Kind == "witness" {
		usual = "usually announced"
	}
	a.Say = fmt.Sprintf("Look at this stage before the work goes on: %s. It is %s, though nothing on record binds the yard to wait.", clause(s.Name), usual)
	notice := ""
	if s.Notice.Known {
		notice = fmt.Sprintf("Ask for %s working days' notice", trim(s.Notice.SI))
	}
	a.How = filled(s.Look, labelled("Measure", s.Measure), notice)
	a.Why = []figure.Figure{desk.Typed(d.r, s.Self, "point", "marked as a place to stop"), d.stateFigure(s.Self)}
	a.Missed = "The work goes on unseen."
	return a
}
