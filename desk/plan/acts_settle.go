package plan

import (
	"fmt"
	"strconv"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/record"
)

// actPoints asks to settle open points before the step that covers them up,
// and to ask for the leads that nobody quoted. What was decided and is not
// firm is the visit desk's to bring back.
func (d *reading) actPoints() {
	for i := range d.a.Points {
		p := &d.a.Points[i]
		if p.State == Open {
			if p.Gone {
				d.add(d.builtUnsaid(p))
				continue
			}
			d.add(d.settle(p))
		}
		if p.Guess && !p.Gone {
			d.add(d.askLead(p.Self, p.Step, clause(p.Question), d.pointLeads(p), desk.Gravity(p.Gravity), record.Ref("")))
		}
	}
}

func (d *reading) settle(p *Point) desk.Act {
	a := d.act("settle", desk.Settle, d.whereMoves(p.Move), p.Self, p.Step)
	d.onPoint(&a, p)
	a.By = p.Governs()
	a.Say = "Settle: " + question(p.Question)
	for _, o := range p.Options {
		a.How = append(a.How, filled(labelled(o.Name, o.Reason))...)
		if clause(o.Reason) == "" {
			a.How = append(a.How, filled(o.Name)...)
		}
	}
	for _, x := range p.Doors {
		if x.Gone {
			a.How = append(a.How, fmt.Sprintf("%s is no longer open: %s has begun.", desk.Capital(d.name(x.Option)), desk.The(d.name(x.Step))))
		} else if x.By.Known() && x.By.Day != p.By.Day {
			a.How = append(a.How, fmt.Sprintf("%s can be chosen until the end of %s.", desk.Capital(d.name(x.Option)), d.short(x.By.Day)))
		}
	}
	d.whyPoint(&a, p)
	if clause(p.Default) != "" {
		a.Missed = "If nobody says anything, this is built: " + desk.Sentence(clause(p.Default))
	} else {
		a.Missed = "If nobody says anything, the yard decides; ask what it would build."
	}
	return a
}

// whyPoint gives the working of a point's dates: decide-by and stated cut-off
// both, the earlier of which governs.
func (d *reading) whyPoint(a *desk.Act, p *Point) {
	if p.Step != "" {
		a.Why = append(a.Why, desk.Typed(d.r, p.Self, "covered_by", "the step that covers it up or fixes it"), d.stateFigure(p.Step))
	} else {
		a.Why = append(a.Why, desk.Typed(d.r, p.Self, "question", "nobody has said which step covers it up"))
	}
	if p.By.Known() {
		a.Why = append(a.Why, p.By.Work)
	}
	if p.Cutoff.Known() {
		a.Why = append(a.Why, p.Cutoff.Work)
	}
}

func (d *reading) onPoint(a *desk.Act, p *Point) {
	if p.Part != "" {
		a.On = p.Part
	}
	a.Gravity = desk.Gravity(p.Gravity)
	if gravityOf(p.Gravity) <= gravityOf(string(desk.Cutting)) {
		a.Caution = cutting
	}
}

func (d *reading) builtUnsaid(p *Point) desk.Act {
	a := d.act("ask", desk.Ask, desk.ToYard, p.Self, p.Step)
	d.onPoint(&a, p)
	a.Say = "Ask what was built, for this was not settled: " + question(p.Question)
	d.whyPoint(&a, p)
	a.How = filled(labelled("What was to be built if nobody said anything", p.Default))
	a.Missed = "It stays unknown what lies in there."
	return a
}

func question(text string) string { return desk.Sentence(desk.Capital(text)) }

// whereMoves says where a point is settled: at home if the move is the
// owner's, else by asking whose move it is.
func (d *reading) whereMoves(who record.Ref) desk.Where {
	if who == "" || d.people[who].Role == "owner" {
		return desk.AtHome
	}
	return desk.ToYard
}

func (d *reading) pointLeads(p *Point) []record.Lead {
	out := append([]record.Lead(nil), p.Leads...)
	for _, o := range p.Options {
		out = append(out, d.leads[o.Self]...)
	}
	return out
}

// askLead asks how long something takes: a guess gives no date.
func (d *reading) askLead(subject, step record.Ref, what string, leads []record.Lead, g desk.Gravity, who record.Ref) desk.Act {
	a := d.act("lead", desk.Ask, desk.ToYard, subject, step)
	a.Gravity = g
	of := "the yard"
	if who != "" {
		of = d.name(who)
	}
	needs := "how long it needs, once it is settled"
	if subject.Kind() == "item" {
		needs = "how long it takes, from the order to the day it is there"
	}
	a.Say = fmt.Sprintf("Ask %s %s: %s", of, needs, question(what))
	for _, l := range leads {
		if l.QuotedBy == "" || !l.Work.Known && !l.Wait.Known {
			field := "work"
			if l.Wait.Known {
				field = "wait"
			}
			a.Why = append(a.Why, desk.Typed(d.r, l.Self, field, "nobody has quoted: "+clause(l.What)))
		}
	}
	if a.Why == nil {
		a.Why = []figure.Figure{{Says: "leads on record", Text: "none", Source: derived}}
	}
	a.Missed = "Without a quoted lead no date can be given by which it must be settled."
	return a
}

// actItems asks to order what must be there for its step, and after what is
// late.
func (d *reading) actItems() {
	for i := range d.a.Items {
		x := &d.a.Items[i]
		if x.Arrived != 0 && !x.Lacking {
			continue
		}
		switch {
		case x.Arrived != 0:
			d.add(d.askItem(x, "Ask for the rest of it: %s. Not all was there."))
		case x.Ordered == 0 && x.BoughtBy == "owner":
			d.add(d.orderItem(x))
		case x.Ordered == 0:
			d.add(d.askItem(x, "Ask whether it is ordered, and when it comes: %s."))
		case x.Begun || d.saidLate(x): // a doubt says so, with both sides
		case x.Late:
			d.add(d.askItem(x, "Ask when it comes: %s. Its step needs it sooner."))
		case len(x.Said) == 0 && x.Ahead >= 0 && x.Ahead <= soon:
			d.add(d.askItem(x, "Ask when it comes: %s. Nobody has said."))
		}
		if x.Guess && x.Ordered == 0 && x.Arrived == 0 {
			d.add(d.askLead(x.Self, x.Step, x.Name, d.leads[x.Self], "", x.Supplier))
		}
	}
}

// soon is how many steps ahead an item without a word on its arrival is asked
// after. Chosen: about what comes within the next visits.
const soon = 5

func (d *reading) orderItem(x *Item) desk.Act {
	a := d.act("order", desk.Order, desk.AtHome, x.Self, x.Step)
	a.Say = "Order: " + desk.Sentence(desk.Capital(x.Name))
	d.onItem(&a, x)
	a.By = x.OrderBy
	return a
}

func (d *reading) askItem(x *Item, say string) desk.Act {
	a := d.act("ask", desk.Ask, desk.ToYard, x.Self, x.Step)
	a.Say = fmt.Sprintf(say, clause(x.Name))
	d.onItem(&a, x)
	if a.By = x.OrderBy; x.Ordered != 0 {
		a.By = x.Needed
	}
	return a
}

func (d *reading) onItem(a *desk.Act, x *Item) {
	if x.Part != "" {
		a.On = x.Part
	}
	if x.Step != "" {
		a.Why = append(a.Why, desk.Typed(d.r, x.Self, "needed_by", "the step that can't start without it"), d.stateFigure(x.Step))
	}
	for _, w := range []desk.When{x.OrderBy, x.Needed} {
		if w.Known() {
			a.Why = append(a.Why, w.Work)
		}
	}
	if p, ok := d.latest(x.Self, hasDay(arrives)); ok {
		a.Why = append(a.Why, d.saidFigure(p, "arrival of "+desk.The(x.Name)))
	}
	if a.Why == nil {
		a.Why = []figure.Figure{desk.Typed(d.r, x.Self, "name", "bought in, and no order is on record")}
	}
	a.Missed = "Its step waits, or is done without it."
}

func trim(x float64) string { return strconv.FormatFloat(x, 'g', 4, 64) }
