package plan

import (
	"fmt"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/figure"
	"dogshore/record"
	"dogshore/source"
)

var derived = source.Source{How: source.Derived}

// saidFigure is the working of a date that somebody said.
func (d *reading) saidFigure(p Promise, what string) figure.Figure {
	f := desk.Typed(d.r, p.Self, "when", what+", "+d.onWord(p.Statement))
	if p.Said != "" {
		f.Says += fmt.Sprintf(" (%q)", p.Said)
	}
	return f
}

// momentFigure is a moment counted in working days of a calendar from the
// data date, so that leads in working days can be taken off it.
func (d *reading) momentFigure(symbol, says string, at calendar.Moment, cal record.Ref, of ...figure.Figure) figure.Figure {
	c := d.on(cal)
	return figure.Figure{
		Symbol: symbol, Says: says, Value: c.Between(calendar.At(d.day), at),
		Unit: fmt.Sprintf("working days from %s (%s)", d.day, d.calendarSays(cal)),
		Text: d.momentText(at), Of: of, Source: derived,
	}
}

// elapsedFigure is a moment counted in elapsed days from the data date.
func (d *reading) elapsedFigure(symbol, says string, at calendar.Moment, of ...figure.Figure) figure.Figure {
	return figure.Figure{
		Symbol: symbol, Says: says, Value: float64(at-calendar.At(d.day)) / 86400,
		Unit: fmt.Sprintf("days from %s", d.day), Text: d.momentText(at), Of: of, Source: derived,
	}
}

func (d *reading) momentText(at calendar.Moment) string { return "start of " + at.Day().Said() }

// dayBeforeFigure prints an instant as the last working day that is over by
// then.
func dayBeforeFigure(says string, day calendar.Day, of figure.Figure) figure.Figure {
	return figure.Figure{
		Says:  says,
		Value: float64(day), Unit: "day", Text: day.Said(), Of: []figure.Figure{of}, Source: derived,
	}
}

// computedFigure is a date that the network gives: what sets it, and the
// duration entered.
func (d *reading) computedFigure(symbol, says string, day calendar.Day, s *Step) figure.Figure {
	f := figure.Figure{Symbol: symbol, Says: says, Value: float64(day), Unit: "day", Text: day.Said(), Source: derived}
	f.Of = []figure.Figure{d.driver(s, chainShown)}
	switch {
	case symbol == "EF" && s.State == underWay:
		f.Of = append(f.Of, d.leftFigure(s))
	case symbol == "EF":
		f.Of = append(f.Of, d.lengthFigure(s)...)
	}
	return f
}

// leftFigure is the work left on a step under way: as somebody said, less the
// days since, or reckoned from its length and from when it was seen begun.
func (d *reading) leftFigure(s *Step) figure.Figure {
	f := figure.Figure{Says: "work left on " + desk.The(s.Name) + ", reckoned from its length and when it was begun",
		Value: s.Times.Left, Unit: "working days", Text: trim(s.Times.Left) + " working days", Source: derived}
	if _, ok := d.workLeft(s.Self); ok {
		p, _ := d.latest(s.Self, func(p *Promise) bool { return p.Left.Known })
		f.Says = "work left on " + desk.The(s.Name) + ", as said, less the working days since"
		f.Of = []figure.Figure{desk.Typed(d.r, p.Self, "left", "work left, "+d.onWord(p.Statement))}
		return f
	}
	f.Of = d.lengthFigure(s)
	return f
}

// chainShown is how many steps of the chain that sets a date its working
// shows; the rest unfolds from the last step shown.
const chainShown = 6

// driver is the step that sets the start of s, and what sets that one.
func (d *reading) driver(s *Step, depth int) figure.Figure {
	by := d.steps[record.R("step", s.Times.Drives)]
	if by == nil || !by.Times.Dated {
		return figure.Figure{Says: "the day from which all is reckoned", Value: float64(d.day), Unit: "day", Text: d.day.Said(), Source: derived}
	}
	day := d.lastDay(by)
	f := figure.Figure{Symbol: "EF", Says: "set by the earliest end of " + desk.The(by.Name), Value: float64(day), Unit: "day", Text: day.Said(), Source: derived}
	if depth > 0 {
		f.Of = append([]figure.Figure{d.driver(by, depth-1)}, d.lengthFigure(by)...)
	}
	return f
}

// lengthFigure is how long a step takes, as entered; it is made once.
func (d *reading) lengthFigure(s *Step) []figure.Figure {
	if f, ok := d.lengths[s.Self]; ok {
		return f
	}
	var out []figure.Figure
	switch {
	case s.Work.Known:
		w := desk.Typed(d.r, s.Self, "work", "working days of "+desk.The(s.Name)+", the most likely of the three guesses")
		w.Value, w.Unit = s.Work.Mode, "working days"
		out = []figure.Figure{w}
	case s.Lasts.Known:
		out = []figure.Figure{desk.Typed(d.r, s.Self, "lasts", "elapsed time of "+desk.The(s.Name))}
	}
	d.lengths[s.Self] = out
	return out
}
