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
			a.Say = "Get it on file while it is open: " + desk.Sentence(d.hides(*c))
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
	a.Say = "Look while it is open: " + desk.Sentence(d.hides(*c))
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
	a.Say = fmt.Sprintf("Ask for the record: %s. %s closed it in, and nothing is on file.", d.hides(*c), desk.Capital(desk.The(d.name(c.Step))))
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
	f := desk.Typed(d.r, c.Self, "hides", "covered up by "+desk.The(d.name(c.Step)))
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
