package plan

import (
	"dogshore/calendar"
	"dogshore/record"
)

// event is what is known of when something happened: in the days from to by,
// ends included; zero leaves that end open.
type event struct{ from, by calendar.Day }

// happened says between which days something is known to have happened.
func (d *reading) happened(about record.Ref, what string) event {
	switch about.Kind() {
	case "step":
		return d.happenedToStep(about, what)
	case "build":
		stages := map[string]string{launch: "launched", handOver: "delivered"}
		return d.happenedToStep(d.lastOfStage(stages[what]), isDone)
	case "item":
		return d.happenedToItem(about, what)
	case "defect":
		return d.happenedToDefect(about)
	}
	return d.answeredOn(about)
}

// happenedToStep joins the looks at the step with the bounds that the network
// sets. Only firm looks count.
func (d *reading) happenedToStep(ref record.Ref, what string) event {
	s := d.steps[ref]
	if s == nil {
		return event{}
	}
	e, need := event{s.Times.FinishFrom, s.Times.FinishBy}, stage(done)
	if what == starts {
		e, need = event{s.Times.StartFrom, s.Times.StartBy}, stage(underWay)
	}
	if e.from != 0 {
		e.from-- // the day of the look itself: it may have happened that evening
	}
	for _, l := range d.looks[ref] {
		switch {
		case !l.firm():
		case stage(l.state) < need:
			e.from = max(e.from, l.day)
		case e.by == 0 || l.day < e.by:
			e.by = l.day
		}
	}
	return e
}

// lastOfStage returns the last step that ends in a stage of the picture key.
func (d *reading) lastOfStage(slug string) record.Ref {
	var last record.Ref
	for _, ref := range d.live {
		if slug != "" && d.steps[ref].Stage == slug {
			last = ref
		}
	}
	return last
}

// happenedToDefect reads the looks at a defect.
func (d *reading) happenedToDefect(ref record.Ref) event {
	var e event
	for _, m := range d.remedies[ref] {
		switch day := d.remedyDay(m); {
		case m.State == "not yet right":
			e.from = max(e.from, day)
		case m.State == "put right" && d.seenRemedy(m) && (e.by == 0 || day < e.by):
			e.by = day
		}
	}
	return e
}

func (d *reading) remedyDay(m record.Remedy) calendar.Day {
	if v, ok := d.visits[m.Visit]; ok && m.Day == 0 {
		return v.Day
	}
	return m.Day
}

func (d *reading) seenRemedy(m record.Remedy) bool {
	h, ok := d.r.Held(m.Self, "state")
	return ok && h.Entry.Grounds.Rank() >= record.Shown.Rank()
}

// answeredOn reads when a point was decided or a question answered.
func (d *reading) answeredOn(ref record.Ref) event {
	var first calendar.Day
	for _, x := range d.decisions[ref] {
		if first == 0 || x.Day < first {
			first = x.Day
		}
	}
	for _, x := range d.answers[ref] {
		if x.Day != 0 && (first == 0 || x.Day < first) {
			first = x.Day
		}
	}
	return event{first, first}
}

// happenedToItem reads when an item was ordered, or was all there. An arrival
// found at a visit may have come any day before.
func (d *reading) happenedToItem(ref record.Ref, what string) event {
	if what == ordered {
		return event{d.orders[ref], d.orders[ref]}
	}
	var e event
	for _, a := range d.arrivals[ref] {
		switch {
		case a.Whole == record.No:
			e.from = max(e.from, a.Day)
		case e.by == 0 || a.Day < e.by:
			e.by = a.Day
			if a.Visit == "" {
				e.from = max(e.from, a.Day)
			}
		}
	}
	return e
}
