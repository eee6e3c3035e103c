package plan

import (
	"fmt"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// readItems says of each bought-in item whether it was ordered, whether it
// arrived, and by when it must be ordered to be there for its step.
func (d *reading) readItems() {
	for _, x := range journal.All[record.Item](d.r) {
		if x.Withdrawn == record.Yes {
			continue
		}
		out := Item{Item: x, Step: d.liveStep(x.NeededBy), Ordered: d.orders[x.Self], Said: latestFirst(d.said[x.Self])}
		d.arrival(&out)
		out.Ahead, out.Begun = d.aheadOf(out.Step), d.begun(out.Step)
		if s := d.steps[out.Step]; s != nil {
			out.Needed = s.Start
		}
		leads, guess := quoted(d.leads[x.Self])
		out.Guess = guess || len(leads) == 0
		if !out.Guess && out.Ordered == 0 && out.Arrived == 0 {
			out.OrderBy = d.decideBy(out.Step, leads)
		}
		if c, ok := d.cutoff(x.Self); ok && out.Ordered == 0 {
			out.OrderBy = earlier(d.cutoffWhen(c), out.OrderBy)
		}
		out.Late = d.late(&out, leads)
		d.doubtItem(&out)
		d.a.Items = append(d.a.Items, out)
	}
}

// gatherDeliveries reads orders and arrivals, by item.
func (d *reading) gatherDeliveries() {
	d.orders, d.arrivals = map[record.Ref]calendar.Day{}, map[record.Ref][]record.Arrival{}
	for _, o := range journal.All[record.Order](d.r) {
		if old := d.orders[o.Item]; o.Day != 0 && (old == 0 || o.Day < old) {
			d.orders[o.Item] = o.Day
		}
	}
	for _, a := range journal.All[record.Arrival](d.r) {
		d.arrivals[a.Item] = append(d.arrivals[a.Item], a)
	}
}

// arrival reads the arrivals of an item: the first day, and whether it is all
// there by the latest of them.
func (d *reading) arrival(x *Item) {
	var latest record.Arrival
	for _, a := range d.arrivals[x.Self] {
		if x.Arrived == 0 || a.Day < x.Arrived {
			x.Arrived = a.Day
		}
		if a.Whole == record.Yes {
			x.Whole = true
		}
		if a.Day > latest.Day || a.Day == latest.Day && a.Self > latest.Self {
			latest = a
		}
	}
	x.Lacking = !x.Whole && latest.Whole == record.No
}

// late reports whether an item will, by what was said or quoted, come after
// its step needs it.
func (d *reading) late(x *Item, leads []record.Lead) bool {
	if x.Arrived != 0 && !x.Lacking {
		return false
	}
	if x.Begun {
		return true
	}
	if !x.Needed.Known() {
		return false
	}
	if _, said := d.latest(x.Self, hasDay(arrives)); said {
		return d.saidLate(x)
	}
	if x.Ordered != 0 && len(leads) > 0 && !x.Guess {
		return d.comes(x.Ordered, leads) > x.Needed.Day
	}
	return x.OrderBy.Known() && x.OrderBy.Day < d.day
}

// saidLate reports whether an item, or what is still lacking of it, is said to
// arrive on or after the day its step begins.
func (d *reading) saidLate(x *Item) bool {
	p, ok := d.latest(x.Self, hasDay(arrives))
	return ok && x.Needed.Known() && (x.Arrived == 0 || x.Lacking) && p.When.Last >= x.Needed.Day && p.When.Last >= d.day
}

// comes is the day on which something ordered then is there, by its leads.
func (d *reading) comes(from calendar.Day, leads []record.Lead) calendar.Day {
	at := calendar.At(from)
	back := d.backwards(leads, d.cals.yard)
	for i := len(back) - 1; i >= 0; i-- {
		if l := back[i]; l.Wait.Known {
			at = at.After(l.Wait.SI / 3600)
		} else {
			at = d.on(l.Calendar).Forward(at, l.Work.SI)
		}
	}
	return at.Day()
}

// doubtItem notes an item that was built in, or arrived, against its papers.
func (d *reading) doubtItem(x *Item) {
	if x.Begun && x.Arrived == 0 {
		d.doubt(Built, fmt.Sprintf("%s has begun, but nobody has noted that %s arrived.", desk.Capital(desk.The(d.name(x.Step))), desk.The(x.Name)),
			[]record.Ref{x.Self, x.Step}, "begun by "+d.short(d.begunDay(x.Step)), "no arrival on record")
	}
	if x.Arrived != 0 && x.Ordered != 0 && x.Ordered > x.Arrived {
		d.doubt(Deliveries, fmt.Sprintf("%s arrived on %s, but was ordered on %s.", desk.Capital(desk.The(x.Name)), d.short(x.Arrived), d.short(x.Ordered)),
			[]record.Ref{x.Self}, "arrived "+d.short(x.Arrived), "ordered "+d.short(x.Ordered))
	}
	if d.saidLate(x) {
		p, _ := d.latest(x.Self, hasDay(arrives))
		d.doubt(Delivery, fmt.Sprintf("%s is to arrive %s, %s; %s needs it by %s, %s.", desk.Capital(desk.The(x.Name)), d.span(p.When), d.onWord(p.Statement),
			desk.The(d.name(x.Step)), d.short(x.Needed.Day), x.Needed.Said), []record.Ref{x.Self, x.Step, p.Self},
			"arrives "+d.span(p.When), "needed "+d.short(x.Needed.Day))
	}
}
