package plan

import (
	"fmt"
	"sort"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/figure"
	"dogshore/record"
)

// decideBy counts the leads back from the start of a step: the last day by
// whose end a thing must be settled, ordered or begun.
//
//	D = S - L
//
// S is the start of the step, L the sum of the leads; working days run on the
// calendar that each lead names (the step's, if none), elapsed time in civil
// time. D is an instant: "start of working day k" is printed as "by the end
// of the working day before". The waits are taken off first (delivery, by a
// supplier's calendar), then the work on other calendars, then the work on
// the step's own (deciding, checking): the order in which they come, read
// backwards.
//
// Source: definition. What was quoted is taken as quoted; a lead that nobody
// quoted gives no date.
func (d *reading) decideBy(ref record.Ref, leads []record.Lead) desk.When {
	s := d.steps[ref]
	if s == nil || !s.Start.Known() {
		return desk.When{}
	}
	at, says := d.startsAt[ref], "start of "+desk.The(s.Name)
	if s.Start.Basis == desk.ByChance {
		says += ", " + tenth
	}
	work := d.momentFigure("S", says, at, s.Calendar, s.Start.Work)
	n := 0
	if s.Notice.Known && s.Notice.SI > 0 && (s.Point == "hold" || s.Point == "witness") {
		n++
		at, work = d.takeOff(n, at, work, s.Calendar, s.Notice.SI, "notice before "+desk.The(s.Name), desk.Typed(d.r, s.Self, "notice", "notice to be given"))
	}
	for _, l := range d.backwards(leads, s.Calendar) {
		n++
		if l.Wait.Known {
			at, work = d.takeOffElapsed(n, at, work, l)
			continue
		}
		cal := l.Calendar
		if cal == "" {
			cal = s.Calendar
		}
		at, work = d.takeOff(n, at, work, cal, l.Work.SI, l.What, desk.Typed(d.r, l.Self, "work", "lead: "+clause(l.What)))
	}
	w := s.Start
	if w.Basis == desk.ByChance {
		w.Said = d.byForecast("in time nine times in ten")
	}
	w.Day = d.on(s.Calendar).ByEndOf(at)
	w.Work = dayBeforeFigure("settle by the end of", w.Day, work)
	return w
}

// backwards puts leads in the order in which they are counted back.
func (d *reading) backwards(leads []record.Lead, own record.Ref) []record.Lead {
	out := append([]record.Lead(nil), leads...)
	place := func(l record.Lead) int {
		switch {
		case l.Wait.Known:
			return 0
		case l.Calendar != "" && d.calendarOf(l.Calendar) != d.calendarOf(own):
			return 1
		}
		return 2
	}
	sort.SliceStable(out, func(i, k int) bool {
		if a, b := place(out[i]), place(out[k]); a != b {
			return a < b
		}
		return out[i].Self < out[k].Self
	})
	return out
}

// takeOff counts working days back and adds the step to the working.
func (d *reading) takeOff(n int, at calendar.Moment, before figure.Figure, cal record.Ref, days float64, what string, lead figure.Figure) (calendar.Moment, figure.Figure) {
	from := d.momentFigure(fmt.Sprintf("T%d", n-1), before.Says, at, cal, before)
	at = d.on(cal).Back(at, days)
	lead.Symbol = fmt.Sprintf("L%d", n)
	f := d.momentFigure(fmt.Sprintf("T%d", n), "latest begin of: "+clause(what), at, cal)
	f.Rule = fmt.Sprintf("T%d = T%d - L%d", n, n-1, n)
	f.Of = []figure.Figure{from, lead}
	return at, f
}

// takeOffElapsed counts elapsed time back, through nights and weekends.
func (d *reading) takeOffElapsed(n int, at calendar.Moment, before figure.Figure, l record.Lead) (calendar.Moment, figure.Figure) {
	from := d.elapsedFigure(fmt.Sprintf("T%d", n-1), before.Says, at, before)
	at = at.After(-l.Wait.SI / 3600)
	lead := desk.Typed(d.r, l.Self, "wait", "lead: "+clause(l.What))
	lead.Symbol = fmt.Sprintf("L%d", n)
	f := d.elapsedFigure(fmt.Sprintf("T%d", n), "latest begin of: "+clause(l.What), at)
	f.Rule = fmt.Sprintf("T%d = T%d - L%d", n, n-1, n)
	f.Of = []figure.Figure{from, lead}
	return at, f
}

// quoted splits leads into those that somebody quoted with a length, and
// whether any is a guess.
func quoted(leads []record.Lead) (ok []record.Lead, guess bool) {
	for _, l := range leads {
		if l.QuotedBy == "" || !l.Work.Known && !l.Wait.Known {
			guess = true
			continue
		}
		ok = append(ok, l)
	}
	return ok, guess
}
