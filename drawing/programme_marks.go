package drawing

import (
	"math"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/internal/draw"
	"dogshore/record"
)

// drawMarks draws what was seen, what the step covers up, what holds it back,
// what was said of it and the last days of points that end with it; mid is the
// middle of its line.
func (g *Programme) drawMarks(d *draw.Drawing, a axis, l row, mid float64) {
	s := l.step
	if l.bar.hasStart && a.within(l.bar.start.mid) {
		x := a.x(l.bar.start.mid)
		if len(s.Covers) > 0 {
			closedBox(d, x, mid)
		}
		switch s.Point {
		case "hold":
			stop(d, x-1.2, mid, 2)
		case "witness":
			stop(d, x-1.2, mid, 1)
		}
	}
	for _, k := range g.Looks[s.Self] {
		if x := float64(k.Day) + 0.5; a.within(x) {
			sighted(d, k, a.x(x), mid)
		}
	}
	if s.State != "done" {
		told(d, a, s.Start, mid)
		told(d, a, s.Finish, mid)
	}
	g.lastDays(d, a, l, mid)
}

// closedBox marks what a step covers up: a box that is closed, with its
// diagonals.
func closedBox(d *draw.Drawing, x, mid float64) {
	const h = 1.3
	d.Area(draw.Outline, draw.Box(x, mid-h, 2*h, 2*h)...)
	d.Lines(draw.Outline, [][]draw.Point{{p(x, mid-h), p(x+2*h, mid+h)}, {p(x, mid+h), p(x+2*h, mid-h)}})
}

// stop marks a hold with two bars across, what is announced with one.
func stop(d *draw.Drawing, x, mid float64, bars int) {
	for i := range bars {
		d.Line(draw.Bold, p(x-1.1*float64(i), mid-2.2), p(x-1.1*float64(i), mid+2.2))
	}
}

// sighted marks a look: an open dot where it had not begun, one with a point
// where it was under way, a full one where it was done. What was only told has
// no ring.
func sighted(d *draw.Drawing, k Look, x, mid float64) {
	r := 1.0
	if !k.Own {
		d.Line(draw.Outline, p(x-r, mid+r), p(x, mid-r), p(x+r, mid+r))
		return
	}
	switch k.State {
	case "not started":
		d.Dot(draw.Outline, p(x, mid), r)
	case "under way":
		d.Dot(draw.Outline, p(x, mid), r)
		d.Dot(draw.Ink, p(x, mid), 0.4)
	case "done":
		d.Dot(draw.Ink, p(x, mid), r)
	}
}

// told marks a date that somebody said, over the bar.
func told(d *draw.Drawing, a axis, w desk.When, mid float64) {
	if w.Basis != desk.YardsWord || !a.within(float64(w.Day)) {
		return
	}
	flag(d, a.x(float64(w.Day)+0.5), mid-barRow/2+0.1)
}

// flag is the mark of a date that was said: it points down from y.
func flag(d *draw.Drawing, x, y float64) {
	d.Area(draw.Outline, p(x-1.1, y), p(x+1.1, y), p(x, y+1.9))
}

func (g *Programme) pointsOf(step record.Ref) []plan.Point {
	var out []plan.Point
	for _, x := range g.Points {
		if x.Step == step && !x.Gone && x.Governs().Known() {
			out = append(out, x)
		}
	}
	return out
}

// lastDays measures from the last day of each point to the step that covers
// it up, as a dimension.
func (g *Programme) lastDays(d *draw.Drawing, a axis, l row, mid float64) {
	first := math.Inf(1)
	var at []calendar.Day
	for _, x := range g.pointsOf(l.step.Self) {
		day := x.Governs().Day
		at = append(at, day)
		first = math.Min(first, float64(day))
	}
	if at == nil {
		return
	}
	y := mid + barHigh/2 + 0.7
	end := first
	if l.bar.hasStart {
		end = math.Max(first, l.bar.start.mid)
	}
	d.Line(draw.Lead, p(a.x(first+1), y), p(a.x(math.Max(end, first+1)), y))
	for _, day := range at {
		if a.within(float64(day)) {
			lastDay(d, a.x(float64(day)+1), y)
		}
	}
}

// lastDay is where a dimension to a step begins: its extension line and tick.
func lastDay(d *draw.Drawing, x, y float64) {
	d.Line(draw.Lead, p(x, y+0.4), p(x, y-4.4))
	d.Line(draw.Lead, p(x-0.8, y+0.7), p(x+0.8, y-0.7))
}
