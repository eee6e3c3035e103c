package drawing

import (
	"fmt"
	"math"
	"time"

	"dogshore/calendar"
	"dogshore/internal/draw"
)

// draw draws months and weeks, what is not worked, and today's line.
func (a axis) draw(d *draw.Drawing, g *Programme) {
	a.shut(d, g)
	top := float64(barHead) - 2
	d.Line(draw.Outline, p(a.x(a.from), top), p(a.x(a.to), top))
	a.months(d, g, top)
	a.weeks(d, g, top)
	if x := float64(g.Today); a.within(x) {
		d.Line(draw.Centre, p(a.x(x), top-2), p(a.x(x), a.foot))
		d.Text(draw.Label, p(math.Min(a.x(x)+0.6, a.x(a.to)-8), a.foot-0.2), 2.8, draw.Start, "today")
	}
}

// months writes the months' names and rules their first days, as many as have
// room.
func (a axis) months(d *draw.Drawing, g *Programme, top float64) {
	every := 1
	for _, n := range []int{1, 2, 3, 6, 12} {
		if every = n; float64(n)*30*a.perDay >= 15 {
			break
		}
	}
	first := g.From.Time()
	m := time.Date(first.Year(), first.Month(), 1, 0, 0, 0, 0, time.UTC)
	for m = m.AddDate(0, -(int(m.Month())-1)%every, 0); ; m = m.AddDate(0, every, 0) {
		day := float64(calendar.Of(m))
		if day >= a.to {
			return
		}
		next := float64(calendar.Of(m.AddDate(0, every, 0)))
		x0, x1 := a.x(day), a.x(next)
		if a.within(day) {
			d.Line(draw.Rule, p(x0, 1), p(x0, a.foot))
		}
		name := m.Format("January 2006")
		if draw.Width(name, barType, true) > x1-x0-1.5 {
			name = m.Format("Jan 06")
		}
		if draw.Width(name, barType, true) <= x1-x0-1 {
			d.Text(draw.Strong, p(x0+0.8, 3.9), barType, draw.Start, name)
		}
	}
}

// weeks ticks Mondays, with the day of the month where there is room.
func (a axis) weeks(d *draw.Drawing, g *Programme, top float64) {
	if 7*a.perDay < 1.2 {
		return
	}
	every := 1
	for 7*a.perDay*float64(every) < 4.4 {
		every *= 2
	}
	monday := g.From + calendar.Day((8-int(g.From.Weekday()))%7)
	for i := 0; float64(monday) < a.to; i, monday = i+1, monday+7 {
		x := a.x(float64(monday))
		d.Line(draw.Thin, p(x, top-1.2), p(x, top))
		if i%every == 0 && x+3.5 < a.x(a.to) {
			d.Text(draw.Faint, p(x+0.4, top-1.5), 2.6, draw.Start, fmt.Sprint(monday.Time().Day()))
		}
		if 7*a.perDay >= 9 {
			d.Line(draw.Rule, p(x, top), p(x, a.foot))
		}
	}
}

// shut shades runs of days on which the yard does not work: weekends where
// they are wide enough to be seen, shutdowns always.
func (a axis) shut(d *draw.Drawing, g *Programme) {
	if g.Week == nil {
		return
	}
	const top = barHead - 2
	for day := g.From; day <= g.To; day++ {
		if g.Week.Works(day) > 0 {
			continue
		}
		first := day
		for day < g.To && g.Week.Works(day+1) == 0 {
			day++
		}
		n := float64(day - first + 1)
		if n <= 4 && n*a.perDay < 1.4 {
			continue
		}
		x0, x1 := a.x(float64(first)), a.x(float64(day)+1)
		d.Area(draw.Shut, draw.Box(x0, top, x1-x0, a.foot-top)...)
		if n > 4 && x1-x0 > 8 {
			d.Text(draw.Faint, p(x0+0.6, a.foot-0.2), 2.6, draw.Start, "shut")
		}
	}
}

// drawOrder draws the axis of a programme without dates: how many steps have
// to begin before.
func (a axis) drawOrder(d *draw.Drawing) {
	top := float64(barHead) - 2
	d.Line(draw.Outline, p(barMargin, top), p(a.x(a.to), top))
	d.Text(draw.Strong, p(barMargin, 3.4), barType, draw.Start, "Steps that have to begin before: 0 can come next")
	every := 1.0
	for every*a.perDay < 9 {
		if every == 1 {
			every = 5
		} else {
			every *= 2
		}
	}
	for n := 0.0; n < a.to; n += every {
		d.Line(draw.Rule, p(a.x(n), top-1.2), p(a.x(n), a.foot))
		d.Text(draw.Faint, p(a.x(n)+0.4, top-1.3), 2.6, draw.Start, fmt.Sprint(n))
	}
}

// byOrder lays the steps still to come that have no date on an axis of order.
func (g *Programme) byOrder() (Programme, []row) {
	still := *g
	still.From, still.To, still.Points = 0, 1, nil
	still.Looks = nil
	var lines []row
	at := map[string]bool{}
	for i := range g.Steps {
		s := &g.Steps[i]
		if b := g.barOf(s); b.hasStart || b.hasFinish || s.State == "done" || s.State == "under way" || s.Ahead < 0 || at[s.Key()] {
			continue
		}
		at[s.Key()] = true
		still.To = max(still.To, calendar.Day(s.Ahead))
		lines = append(lines, row{step: s, bar: bar{start: on(float64(s.Ahead)), finish: on(float64(s.Ahead)), hasStart: true, hasFinish: true, firm: true, weight: draw.Thin}})
	}
	return still, lines
}
