package plan

import (
	"fmt"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/figure"
	"dogshore/record"
)

// actCovers asks for a look at what a step covers up, while there is one, and
// for a record once there is none. What was closed in before anybody looked
// at all is asked for part by part (actRecords).
func (d *reading) actCovers() {
	for i := range d.a.Covers {
		c := &d.a.Covers[i]
		switch {
		case c.Gone && c.unseen() && !d.beforeWatch(c.GoneBy, d.steps[c.Step].Part):
			d.add(d.closedIn(c))
		case c.Gone:
		case c.Looked == "" && c.File != Full:
			d.add(d.lookBefore(c))
		case c.Looked != "" && c.File == Nothing && clause(c.Evidence) != "":
			a := d.lookBefore(c)
			a.Say = fmt.Sprintf("Get on file%s: %s", d.before(c.Step), stop(d.hides(*c)))
			d.add(a)
		}
	}
}

// beforeWatch reports whether something was closed in by the first look at
// the build; only a part can be asked for then.
func (d *reading) beforeWatch(closed calendar.Day, part record.Ref) bool {
	return part != "" && (d.first == 0 || closed <= d.first)
}

func (d *reading) lookBefore(c *Cover) desk.Act {
	a := d.act("look", desk.Look, desk.AtVisit, c.Self, c.Step)
	if c.What.Kind() == "part" || c.What.Kind() == "place" {
		a.On = c.What
	}
	a.By, a.Gravity = c.Before, desk.Gravity(c.Gravity)
	a.Say = fmt.Sprintf("Look%s: it covers up %s", d.before(c.Step), stop(d.hides(*c)))
	s := d.steps[c.Step]
	a.How = filled(c.Look, labelled("Measure", s.Measure), labelled("Have on file", c.Evidence))
	a.Why = []figure.Figure{d.coverFigure(c), d.stateFigure(c.Step)}
	if c.Before.Known() {
		a.Why = append(a.Why, c.Before.Work)
	}
	a.Missed = "Afterwards it can be seen only by cutting it open."
	if a.Gravity == desk.Finish {
		a.Missed = "Afterwards it can be seen only by taking the finish off again."
	}
	if gravityOf(c.Gravity) <= gravityOf(string(desk.Safety)) {
		a.Caution = notAccepted
	}
	return a
}

func (d *reading) closedIn(c *Cover) desk.Act {
	a := d.act("ask", desk.Ask, desk.ToYard, c.Self, c.Step)
	a.Gravity = desk.Gravity(c.Gravity)
	a.Say = fmt.Sprintf("Ask for the record of what %s closed in, since nothing is on file: %s", the(d.name(c.Step)), stop(d.hides(*c)))
	a.How = filled(labelled("Ask for", c.Evidence), labelled("What was to be looked at", c.Look))
	a.Why = []figure.Figure{d.coverFigure(c), d.stateFigure(c.Step)}
	a.Missed = "Without a record it stays closed in without evidence, unless somebody opens it up."
	if d.unreleased(c.Step) {
		a.Caution = builtOver
	}
	return a
}

// coverFigure is what a step covers up, and what is known of it.
func (d *reading) coverFigure(c *Cover) figure.Figure {
	f := desk.Typed(d.r, c.Self, "hides", "covered up by "+the(d.name(c.Step)))
	if c.Usual != "" {
		f.Says += " (" + clause(c.Usual) + ")"
	}
	for _, e := range c.OnFile {
		field := "what"
		if e.Photo != "" {
			field = "photo"
		}
		f.Of = append(f.Of, desk.Typed(d.r, e.Self, field, "on file"))
	}
	return f
}

// unreleased reports whether a step is, or stands behind, a binding hold that
// nobody who may has released.
func (d *reading) unreleased(ref record.Ref) bool {
	for _, h := range d.a.Holds {
		if h.Step == ref && h.Binding && !h.ByRight {
			return true
		}
	}
	return false
}

// actHolds sees to releases, and to looks where a step is usually stopped
// for: a hold or witness without a clause binds nobody and is only advice.
func (d *reading) actHolds() {
	for _, h := range d.a.Holds {
		s := d.steps[h.Step]
		begun := d.begun(h.Step)
		switch {
		case h.Binding && !h.ByRight && begun:
			d.add(d.wentOn(s))
		case h.Binding && !h.ByRight:
			d.add(d.release(s))
		case !h.Binding && !begun && len(s.Covers) == 0 && d.lookedAt(record.Cover{Step: h.Step}) == "":
			d.add(d.advise(s))
		}
		if h.Released != nil && h.ByRight && d.r.From(h.Released.Self).Grounds == record.Told {
			a := d.act("confirm", desk.Confirm, desk.ToYard, h.Released.Self, h.Step)
			a.Say = fmt.Sprintf("Get the release of %s in writing: it was only said.", the(s.Name))
			a.Why = []figure.Figure{desk.Typed(d.r, h.Released.Self, "day", "released by "+d.name(h.Released.By))}
			a.Missed = "A release that was only said can't be shown later."
			d.add(a)
		}
	}
}

func (d *reading) release(s *Step) desk.Act {
	a := d.act("release", desk.Release, desk.AtVisit, s.Self, s.Self)
	a.By = d.lastChance(s.Self)
	a.Gravity = desk.Structure
	a.Say = fmt.Sprintf("See to the release of %s, or say what is missing: by clause %s it waits for %s.", the(s.Name), clause(s.Clause), d.name(s.Releaser))
	a.How = filled(s.Look, labelled("Measure", s.Measure))
	a.Why = []figure.Figure{desk.Typed(d.r, s.Self, "clause", "the contract's clause for the hold"), d.stateFigure(s.Self)}
	a.Missed = "The yard waits, or goes on without it."
	a.Caution = notAccepted
	return a
}

func (d *reading) wentOn(s *Step) desk.Act {
	a := d.act("ask", desk.Ask, desk.ToYard, s.Self, s.Self)
	a.ID = "ask/hold/" + s.Key()
	a.Gravity = desk.Structure
	a.Say = fmt.Sprintf("Ask on whose release %s went on: by clause %s it waits for %s, and no release is on file.", the(s.Name), clause(s.Clause), d.name(s.Releaser))
	a.Why = []figure.Figure{d.stateFigure(s.Self), desk.Typed(d.r, s.Self, "clause", "the contract's clause for the hold")}
	a.Missed = "A hold that was passed over once is passed over again."
	a.Caution = builtOver
	return a
}

func (d *reading) advise(s *Step) desk.Act {
	a := d.act("look", desk.Look, desk.AtVisit, s.Self, s.Self)
	a.By = d.lastChance(s.Self)
	a.Say = fmt.Sprintf("Look before %s begins: it is a usual place to stop, though nothing on record binds the yard to wait.", the(s.Name))
	notice := ""
	if s.Notice.Known {
		notice = fmt.Sprintf("Ask for %s working days' notice", trim(s.Notice.SI))
	}
	a.How = filled(s.Look, labelled("Measure", s.Measure), notice)
	a.Why = []figure.Figure{desk.Typed(d.r, s.Self, "point", "marked as a place to stop"), d.stateFigure(s.Self)}
	a.Missed = "The work goes on unseen."
	return a
}
