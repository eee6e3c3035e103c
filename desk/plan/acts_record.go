package plan

import (
	"fmt"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/record"
)

// actRecords asks, once for each part, for the record of what nobody of the
// owner's side saw: stages done by inference, and what was closed in before
// the first look.
func (d *reading) actRecords() {
	type missing struct {
		steps  []record.Ref
		covers []*Cover
	}
	found := map[record.Ref]*missing{}
	var parts []record.Ref
	at := func(part record.Ref) *missing {
		if found[part] == nil {
			found[part] = &missing{}
			parts = append(parts, part)
		}
		return found[part]
	}
	filed := d.evidence()
	for i := range d.a.Steps {
		if s := &d.a.Steps[i]; s.NeverSeen && s.Part != "" && len(filed[s.Self]) == 0 {
			m := at(s.Part)
			m.steps = append(m.steps, s.Self)
		}
	}
	for i := range d.a.Covers {
		c := &d.a.Covers[i]
		if part := d.steps[c.Step].Part; c.Gone && c.unseen() && d.beforeWatch(c.GoneBy, part) {
			m := at(part)
			m.covers = append(m.covers, c)
		}
	}
	for _, part := range parts {
		d.add(d.askRecord(part, found[part].steps, found[part].covers))
	}
}

func (d *reading) askRecord(part record.Ref, steps []record.Ref, covers []*Cover) desk.Act {
	a := desk.Act{ID: "ask/" + string(part), Do: desk.Ask, Where: desk.ToYard, Subject: part, On: part, Ahead: unknown, Gone: true}
	switch {
	case len(steps) == 0:
		a.Say = fmt.Sprintf("Ask for the record of %s: %s closed in before the first look.", desk.The(d.name(part)), desk.Count(len(covers), "thing"))
	case len(covers) == 0 && len(steps) == 1:
		a.Say = fmt.Sprintf("Ask for the record of %s: nobody of yours saw %s.", desk.The(d.name(part)), desk.The(d.name(steps[0])))
	case len(covers) == 0:
		a.Say = fmt.Sprintf("Ask for the record of %s: nobody of yours saw %s.", desk.The(d.name(part)), desk.Count(len(steps), "stage"))
	default:
		a.Say = fmt.Sprintf("Ask for the record of %s: nobody of yours saw %s, and %s closed in.", desk.The(d.name(part)), desk.Count(len(steps), "stage"), desk.Count(len(covers), "thing"))
	}
	worst := 4
	for _, s := range steps {
		a.Why = append(a.Why, d.stateFigure(s))
	}
	for _, c := range covers {
		a.How = append(a.How, filled(labelled(d.hides(*c), c.Evidence))...)
		if clause(c.Evidence) == "" {
			a.How = append(a.How, filled(d.hides(*c))...)
		}
		a.Why = append(a.Why, d.coverFigure(c))
		if g := gravityOf(c.Gravity); g < worst {
			worst, a.Gravity = g, desk.Gravity(c.Gravity)
		}
	}
	a.Missed = "What is inferred stays unseen: it meets no look, no hold and no payment."
	return a
}

// actOrder asks about steps that were begun before what they wait for. It is
// a question, never a verdict: the order on record may be wrong.
func (d *reading) actOrder() {
	over := map[record.Ref][]record.Ref{}
	var steps []record.Ref
	for _, o := range d.a.Network.OutOfOrder {
		ref := record.R("step", o.Step)
		if over[ref] == nil {
			steps = append(steps, ref)
		}
		over[ref] = append(over[ref], record.R("step", o.WaitsFor))
	}
	for _, ref := range steps {
		s := d.steps[ref]
		a := d.act("ask", desk.Ask, desk.ToYard, ref, ref)
		usual := true
		var names string
		for i, w := range over[ref] {
			if i > 0 {
				names += " and "
			}
			names += desk.The(d.name(w))
			usual = usual && d.usualLink(w, ref)
			a.Why = append(a.Why, d.stateFigure(w))
			if d.unreleased(w) || d.unreleased(ref) {
				a.Caution = builtOver
			}
		}
		a.Why = append([]figure.Figure{d.stateFigure(ref)}, a.Why...)
		a.Say = fmt.Sprintf("Ask why %s was begun before %s.", desk.The(s.Name), names)
		a.Missed = "Either the order on record is wrong, or work is being built over."
		if usual {
			a.Say = fmt.Sprintf("Ask in which order this yard works: %s was begun before %s, against the usual order.", desk.The(s.Name), names)
		}
		if len(s.Covers) > 0 && a.Caution == "" {
			a.Caution = "It covers up what was not done. Ask for pictures of what lies under it before more is laid on top."
		}
		d.add(a)
	}
}

// usualLink reports whether only the usual order says that to waits for from.
func (d *reading) usualLink(from, to record.Ref) bool {
	for _, l := range d.in[to] {
		if l.from == from && !l.usual {
			return false
		}
	}
	return true
}

// actDoubts makes each contradiction an act with both sides shown.
func (d *reading) actDoubts() {
	for _, x := range d.a.Doubts {
		if len(x.About) == 0 {
			continue
		}
		a := desk.Act{ID: string(x.Kind), Do: desk.Ask, Where: desk.ToYard, Subject: x.About[0], Ahead: unknown}
		for _, ref := range x.About {
			a.ID += "/" + string(ref)
			if s := d.steps[ref]; s != nil && a.Before == "" {
				a.On, a.Before, a.Ahead = s.Part, ref, s.Ahead
			}
		}
		a.Say = "Ask which is right: " + x.Says
		switch x.Kind {
		case Sightings, WordAgainstSight:
			a.Do, a.Where, a.Say = desk.Look, desk.AtVisit, "Look again: "+x.Says
		case Unreadable, Ring:
			a.Do, a.Where, a.Say = desk.Plan, desk.AtHome, "Put the record right: "+x.Says
		case Decisions, Power:
			a.Do, a.Say = desk.Confirm, "Get it in writing from somebody who may say so: "+x.Says
		}
		if x.Kind == TooEarly {
			a.Caution = unhurried
		}
		for _, side := range x.Sides {
			a.Why = append(a.Why, figure.Figure{Says: "one side", Text: side, Source: derived})
		}
		d.add(a)
	}
}
