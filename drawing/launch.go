package drawing

import (
	"math"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/internal/draw"
	"dogshore/programme"
)

// LaunchAt is what was known of the launch at one visit.
type LaunchAt struct {
	Visit    calendar.Day
	Dated    bool // it has a spread
	Dates    programme.Dates
	P80      calendar.Moment
	Even     [2]calendar.Moment // as likely before as after, as far as the trials tell it
	Said     calendar.Day       // the latest date said by then; none if nobody said one
	Reckoned calendar.Day       // by the durations, where there is no spread
	Afloat   calendar.Day       // she was seen afloat by this day
}

// spread of the launch: what lies beyond the fourth case in five thins out as
// before it.
func (l LaunchAt) spread() spread { return dates(l.Dates) }

const launchRow = 9

// Launch draws the launch as it looked at each visit, the latest below: a bar
// from the day that one case in ten has reached to the day that nine have,
// with ticks at the middle and at four in five, and what was said beside it. The
// middle is a box where the trials tell it no better.
// Contract is the day that the contract names, or none.
func Launch(visits []LaunchAt, contract, today calendar.Day) *draw.Drawing {
	h := barHead + launchRow*float64(len(visits)) + 3
	d := draw.New(AxisWidth+2*barMargin, h, "The launch over the visits",
		"For each visit a bar from the earliest to the latest day at which the launch was then to be expected. The list beside says the same in words.")
	g := launchRange(visits, contract, today)
	a := axis{from: float64(g.From), to: float64(g.To) + 1, foot: h}
	a.perDay = AxisWidth / (a.to - a.from)
	a.draw(d, &g)
	if c := float64(contract) + 1; contract.Known() && a.within(c) {
		d.Line(draw.Hidden, p(a.x(c), barHead-2), p(a.x(c), h))
		d.Text(draw.Label, p(a.x(c)+0.8, barHead+1), 2.8, draw.Start, "contract")
	}
	var middles []draw.Point
	for i, v := range visits {
		y := barHead + launchRow*float64(i) + launchRow/2
		d.Line(draw.Rule, p(a.x(a.from), y+launchRow/2), p(a.x(a.to), y+launchRow/2))
		v.draw(d, a, y)
		if v.Dated {
			middles = append(middles, p((a.x(days(v.Even[0]))+a.x(days(v.Even[1])))/2, y))
		}
	}
	d.Line(draw.Thin, middles...)
	return d
}

func (l LaunchAt) draw(d *draw.Drawing, a axis, y float64) {
	top := y - barHigh/2
	switch {
	case l.Afloat.Known():
		d.Dot(draw.Ink, p(a.x(float64(l.Afloat)+0.5), y), 1.2)
		d.Text(draw.Label, p(a.x(float64(l.Afloat))+2.5, y+1.1), barType, draw.Start, "seen afloat")
	case l.Dated:
		s := l.spread()
		l.hatching(d, a, s, top)
		l.even(d, a, top)
		late := days(l.P80)
		d.Line(draw.Outline, p(a.x(late), top-0.5), p(a.x(late), top+barHigh+0.5))
		d.Line(draw.Outline, p(a.x(late)-1, top-0.5), p(a.x(late), top-0.5))
		d.Line(draw.Outline, p(a.x(s.low), top), p(a.x(s.low), top+barHigh))
	case l.Reckoned.Known():
		x := a.x(float64(l.Reckoned) + 1)
		d.Line(draw.Hidden, p(x, top-0.7), p(x, top+barHigh+0.7))
	default:
		d.Text(draw.Faint, p(a.x(a.from)+25, y+1.1), barType*0.9, draw.Start, "no date by reckoning")
	}
	d.Text(draw.Label, p(math.Max(l.begins(a)-1.6, barMargin+22), y+1.1), barType, draw.End, l.Visit.Time().Format("2 Jan 2006"))
	if l.Said.Known() {
		flag(d, a.x(float64(l.Said)+0.5), top-2.2)
	}
}

// even draws the middle: a heavy tick, or a heavy box over the time in which it
// may lie, such as a shutdown.
func (l LaunchAt) even(d *draw.Drawing, a axis, top float64) {
	x0, x1 := a.x(days(l.Even[0])), a.x(days(l.Even[1]))
	if x1-x0 < barHigh {
		x := (x0 + x1) / 2
		d.Line(draw.Bold, p(x, top-0.9), p(x, top+barHigh+0.9))
		return
	}
	d.Line(draw.Bold, p(x0, top-0.9), p(x1, top-0.9), p(x1, top+barHigh+0.9), p(x0, top+barHigh+0.9), p(x0, top-0.9))
}

// begins is where on the sheet what is drawn of it begins.
func (l LaunchAt) begins(a axis) float64 {
	x := a.x(a.to)
	if l.Said.Known() {
		x = math.Min(x, a.x(float64(l.Said))-1)
	}
	switch {
	case l.Afloat.Known():
		return math.Min(x, a.x(float64(l.Afloat))-1)
	case l.Dated:
		return math.Min(x, a.x(l.spread().low))
	case l.Reckoned.Known():
		return math.Min(x, a.x(float64(l.Reckoned)))
	case l.Said.Known():
		return x
	}
	return a.x(a.from) + 24
}

// hatching draws the launch's bar: lines the closer the likelier the days
// around are.
func (l LaunchAt) hatching(d *draw.Drawing, a axis, s spread, top float64) {
	const slant = barHigh * 0.6
	x1 := a.x(s.high)
	var runs [][]draw.Point
	for x := a.x(s.low); x < x1; {
		day := a.from + (x-a.x(a.from))/a.perDay
		sure := math.Min(1, 2*math.Min(s.by(day), 1-s.by(day)))
		right := math.Min(x+slant, x1)
		runs = append(runs, []draw.Point{p(x, top+barHigh), p(right, top+barHigh-barHigh*(right-x)/slant)})
		x += math.Min(widest, closest/math.Max(sure, 0.1))
	}
	d.Lines(draw.Hatched, runs)
}

// launchRange is the range of days that shows all launches, with room before
// them for the days of the visits.
func launchRange(visits []LaunchAt, contract, today calendar.Day) Programme {
	g := Programme{Today: today}
	take := func(d calendar.Day) {
		switch {
		case !d.Known():
		case !g.From.Known():
			g.From, g.To = d, d
		default:
			g.From, g.To = min(g.From, d), max(g.To, d)
		}
	}
	take(contract)
	for _, v := range visits {
		take(v.Said)
		take(v.Reckoned)
		take(v.Afloat)
		if v.Dated {
			take(v.Dates.P10.Day())
			take(v.Dates.P90.Day())
		}
	}
	if !g.From.Known() {
		g.From, g.To = today, today
	}
	g.To = max(g.To+14, g.From+60)
	g.From -= (g.To - g.From) / 8
	return g
}

// Says says in one line what a bar of the launch shows.
func (l LaunchAt) Says(from calendar.Day) string {
	switch {
	case l.Afloat.Known():
		return "seen afloat by " + l.Afloat.Said()
	case l.Dated:
		return "could be as early as " + desk.Coarse(l.Dates.P10.Day(), from) + ", as likely before as after " + desk.CoarseBetween(l.Even[0].Day(), l.Even[1].Day(), from) + ", 4 in 5 by " + desk.Coarse(l.P80.Day(), from)
	case l.Reckoned.Known():
		return "by the durations entered " + desk.Coarse(l.Reckoned, from)
	}
	return "no date by reckoning"
}
