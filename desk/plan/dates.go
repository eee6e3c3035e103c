package plan

import (
	"fmt"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/record"
)

// dateSteps gives each step still to come the dates that the record earns:
// what was said of it, else what follows from the durations entered. A date
// that was told binds nothing else in silence.
func (d *reading) dateSteps() {
	d.startsAt = map[record.Ref]calendar.Moment{}
	for _, ref := range d.live {
		s := d.steps[ref]
		if s.State == done {
			continue
		}
		if s.State != underWay {
			d.dateStart(s)
		}
		d.dateFinish(s)
	}
}

func (d *reading) dateStart(s *Step) {
	cal := d.on(s.Calendar)
	told, has := d.latest(s.Self, hasDay(starts))
	if has && (told.When.Last >= d.day || !d.startComputed(s)) {
		day := told.When.First
		if told.When.Last >= d.day {
			day = max(day, d.day) // a week that has begun: any day now
		}
		day = d.startIf(s, day)
		s.Start = desk.When{Day: day, Basis: desk.YardsWord, Said: d.onWord(told.Statement), Work: d.saidFigure(told, "start of "+desk.The(s.Name))}
		d.startsAt[s.Self] = calendar.At(day)
		d.compareStart(s, told, cal)
		return
	}
	if w, ok := d.foreseenStart(s); ok {
		s.Start = w
		d.startsAt[s.Self] = s.Outlook.Start.P10 // what must be there before is counted from an early start
		return
	}
	if d.startComputed(s) {
		s.Start = desk.When{Day: cal.FirstDay(s.Times.EarlyStart), Basis: desk.Durations, Said: d.byDurations()}
		s.Start.Work = d.computedFigure("ES", "earliest start of "+desk.The(s.Name), s.Start.Day, s)
		d.startsAt[s.Self] = s.Times.EarlyStart
	}
}

// endComputed reports whether the network's end of a step rests on a length
// that somebody entered.
func (d *reading) endComputed(s *Step) bool { return s.Times.Dated && d.hasLength(s) }

// startComputed reports the same of its start. That all it waits for is done
// gives no date to a step of which nobody has said how long it takes.
func (d *reading) startComputed(s *Step) bool {
	by := d.steps[record.R("step", s.Times.Drives)]
	return d.endComputed(s) || s.Times.StartDated && by != nil && d.hasLength(by)
}

// hasLength reports whether somebody said how long a step takes, or how much
// of it is left.
func (d *reading) hasLength(s *Step) bool {
	if s.Work.Known || s.Lasts.Known {
		return true
	}
	_, left := d.workLeft(s.Self)
	return left
}

// compareStart doubts a told start that the durations entered can't meet.
func (d *reading) compareStart(s *Step, told Promise, cal *calendar.Calendar) {
	if !d.startComputed(s) || told.When.Last < d.day {
		return
	}
	if first := cal.FirstDay(s.Times.EarlyStart); first > told.When.Last {
		d.doubt(TooEarly, fmt.Sprintf("%s was said to start %s, %s; by the durations entered it can't start before %s.",
			desk.Capital(desk.The(s.Name)), d.span(told.When), d.onWord(told.Statement), d.short(first)), []record.Ref{s.Self, told.Self},
			"said: "+d.span(told.When), "durations: not before "+d.short(first))
	}
}

func (d *reading) dateFinish(s *Step) {
	told, has := d.latest(s.Self, func(p *Promise) bool { return endsIt(p.What) && p.When.Known() || p.Left.Known })
	if has && told.When.Known() && (told.When.Last >= d.day || !d.endComputed(s)) {
		s.Finish = desk.When{Day: d.finishIf(s, told.When.Last), Basis: desk.YardsWord, Said: d.onWord(told.Statement), Work: d.saidFigure(told, "end of "+desk.The(s.Name))}
		return
	}
	if w, ok := d.foreseenFinish(s); ok {
		s.Finish = w
		return
	}
	if d.endComputed(s) {
		day := d.lastDay(s)
		if s.Start.Basis == desk.YardsWord && day < s.Start.Day {
			return // the durations know nothing of the start that was told
		}
		s.Finish = desk.When{Day: day, Basis: desk.Durations, Said: d.byDurations()}
		s.Finish.Work = d.computedFigure("EF", "earliest end of "+desk.The(s.Name), day, s)
	}
}

// endsIt reports whether what is said to happen is the end of the step that
// it is said of.
func endsIt(what string) bool { return what == isDone || what == launch || what == handOver }

// byDurations says what a computed date rests on.
func (d *reading) byDurations() string {
	if d.a.LastVisit.Day == 0 {
		return "by the durations entered, nothing seen yet"
	}
	return "by the durations entered, from what was seen by " + d.short(d.a.LastVisit.Day)
}

// span prints a span inside a sentence.
func (d *reading) span(s calendar.Span) string {
	switch {
	case s.First == s.Last:
		return "on " + d.short(s.First)
	case s.As != "" && !strings.HasPrefix(s.As, "20"):
		return "in " + s.As
	case strings.HasPrefix(s.Said(), "week of"):
		return "in the week of " + d.short(s.First)
	case !strings.Contains(s.Said(), " to "):
		return "in " + s.Said()
	}
	return "between " + d.short(s.First) + " and " + d.short(s.Last)
}

// lastChance is the last working day that is over before a step can start.
func (d *reading) lastChance(ref record.Ref) desk.When {
	s := d.steps[ref]
	if s == nil || !s.Start.Known() {
		return desk.When{}
	}
	w := s.Start
	if w.Basis == desk.ByChance {
		w.Day = d.on(s.Calendar).ByEndOf(d.startsAt[ref])
		w.Said = d.byForecast(tenth)
		w.Work = d.chanceFigure("last chance, by the end of", w.Day, tenth)
		return w
	}
	w.Day = d.on(s.Calendar).ByEndOf(d.startsAt[ref])
	w.Work = dayBeforeFigure("the last working day before "+desk.The(s.Name)+" can start", w.Day, s.Start.Work)
	return w
}

// earlier returns the earlier of two dates, of which each may be unknown.
func earlier(a, b desk.When) desk.When {
	if !a.Known() || b.Known() && b.Day < a.Day {
		return b
	}
	return a
}

// lastDay is the day to show for a step's computed end.
func (d *reading) lastDay(s *Step) calendar.Day {
	cal := d.on(s.Calendar)
	if s.Times.EarlyFinish == s.Times.EarlyStart {
		return cal.FirstDay(s.Times.EarlyFinish)
	}
	return cal.LastDay(s.Times.EarlyFinish)
}
