package drawing

import (
	"math"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/internal/draw"
	"dogshore/programme"
)

// spread is a date as days on the axis: one case in ten, in two, nine in ten
// come by then. A plain date has all three the same.
type spread struct{ low, mid, high float64 }

func on(day float64) spread { return spread{day, day, day} }

func (s spread) plain() bool { return s.high-s.low < 1e-9 }

// by is the share of cases that have come by a day: the straight lines through
// the three, run on to nothing and to all.
func (s spread) by(day float64) float64 {
	if s.plain() {
		if day < s.mid {
			return 0
		}
		return 1
	}
	switch {
	case day < s.mid:
		if s.mid == s.low {
			return 0.1
		}
		return math.Max(0, 0.1+0.4*(day-s.low)/(s.mid-s.low))
	case s.high == s.mid:
		return 0.9
	}
	return math.Min(1, 0.5+0.4*(day-s.mid)/(s.high-s.mid))
}

// bar is one step on the axis.
type bar struct {
	start, finish       spread
	hasStart, hasFinish bool
	past                bool   // done: it lies where sightings let it lie
	firm                bool   // somebody saw it, or named its dates; else it follows from something else
	weight              string // of its edges
	basis               string // a word on what its dates rest on
}

// openEnd is how far a bar with one end is drawn, in days.
const openEnd = 6

// reach is what a bar covers, in days; ok is false if it has no date.
func (b bar) reach() (low, high float64, ok bool) {
	switch {
	case b.hasStart && b.hasFinish:
		return b.start.low, math.Max(b.finish.high, b.start.high), true
	case b.hasStart:
		return b.start.low, b.start.high + openEnd, true
	case b.hasFinish:
		return b.finish.low - openEnd, b.finish.high, true
	}
	return 0, 0, false
}

// barOf reads a step's bar off its dates.
func (g *Programme) barOf(s *plan.Step) bar {
	b := bar{weight: draw.Thin, firm: true}
	switch {
	case g.Path[s.Self] > 0 || s.Outlook.Critical >= plan.Drives:
		b.weight = draw.Bold
	case s.Outlook.Critical >= plan.MayDrive:
		b.weight = draw.Outline
	}
	switch s.State {
	case "done":
		b.done(s)
	case "under way":
		b.began(s)
		b.ends(s)
		b.basis = "under way"
	default:
		b.starts(s)
		b.ends(s)
	}
	return b
}

// done lays a bar between the days that sightings leave open.
func (b *bar) done(s *plan.Step) {
	b.past, b.firm = true, s.Grounds.Rank() >= 2 && !s.NeverSeen
	t := s.Times
	b.began(s)
	switch {
	case t.FinishBy.Known() && t.FinishFrom.Known():
		b.finish, b.hasFinish = evenly(t.FinishFrom, t.FinishBy), true
	case t.FinishBy.Known():
		b.finish, b.hasFinish = on(float64(t.FinishBy)+1), true
	case s.Since.Known():
		b.finish, b.hasFinish = on(float64(s.Since)+1), true
	}
	b.basis = "done, " + string(s.Grounds)
	if s.NeverSeen {
		b.basis = "done, never seen"
	}
}

// began lays the start where sightings let it lie.
func (b *bar) began(s *plan.Step) {
	t := s.Times
	switch {
	case t.StartFrom.Known() && t.StartBy.Known():
		b.start, b.hasStart = evenly(t.StartFrom, t.StartBy), true
	case t.StartBy.Known():
		b.start, b.hasStart = on(float64(t.StartBy)), true
	case s.Begun.Known():
		b.start, b.hasStart = on(float64(s.Begun)), true
	}
	if b.hasStart && b.hasFinish && b.start.low > b.finish.high {
		b.hasStart = false
	}
}

// evenly spreads a date evenly over days of which nobody knows which.
func evenly(first, last calendar.Day) spread {
	a, w := float64(first), float64(last+1-first)
	return spread{a + 0.1*w, a + 0.5*w, a + 0.9*w}
}

func (b *bar) starts(s *plan.Step) {
	switch o := s.Outlook; {
	case o.StartDated:
		b.start, b.hasStart, b.basis = dates(o.Start), true, ""
	case s.Start.Known():
		b.start, b.hasStart = on(float64(s.Start.Day)), true
		b.rests(s.Start)
	}
}

func (b *bar) ends(s *plan.Step) {
	switch o := s.Outlook; {
	case o.Dated:
		b.finish, b.hasFinish = dates(o.Finish), true
	case s.Finish.Known():
		b.finish, b.hasFinish = on(float64(s.Finish.Day)+1), true
		if b.basis == "" {
			b.rests(s.Finish)
		}
	}
}

// rests says what a plain date rests on.
func (b *bar) rests(w desk.When) {
	switch w.Basis {
	case desk.Durations:
		b.firm, b.basis = false, "by durations"
	case desk.YardsWord:
		b.basis = "told"
	case desk.Contract:
		b.basis = "contract"
	}
}

func dates(d programme.Dates) spread {
	return spread{days(d.P10), days(d.P50), days(d.P90)}
}

// days is a moment as a number of days.
func days(m calendar.Moment) float64 { return float64(m) / 86400 }

// ends returns where on the sheet a line's bar and marks begin and end.
func (g *Programme) ends(a axis, l row) (low, high float64) {
	from, to, _ := l.bar.reach()
	low, high = a.x(from), a.x(to)
	if b := l.bar; b.hasStart && a.within(b.start.mid) {
		if len(l.step.Covers) > 0 {
			high = math.Max(high, a.x(b.start.mid)+2.6)
		}
		if l.step.Point == "hold" || l.step.Point == "witness" {
			low = math.Min(low, a.x(b.start.mid)-3)
		}
	}
	for _, k := range g.Looks[l.step.Self] {
		if x := float64(k.Day) + 0.5; a.within(x) {
			low, high = math.Min(low, a.x(x)-1), math.Max(high, a.x(x)+1)
		}
	}
	for _, pt := range g.pointsOf(l.step.Self) {
		if g := pt.Governs(); g.Known() && a.within(float64(g.Day)) {
			low, high = math.Min(low, a.x(float64(g.Day))-1), math.Max(high, a.x(float64(g.Day))+1)
		}
	}
	return low, high
}

// drawBar draws a bar whose upper edge is y.
func (g *Programme) drawBar(d *draw.Drawing, a axis, b bar, y float64) {
	low, high, ok := b.reach()
	if !ok {
		return
	}
	x0, x1 := a.x(low), a.x(high)
	if b.past {
		d.Area(draw.Tint, draw.Box(x0, y+0.6, math.Max(x1-x0, 0.3), barHigh-1.2)...)
	}
	b.hatching(d, a, x0, x1, y)
	b.edges(d, a, y)
	for _, e := range []struct {
		has bool
		at  float64
	}{{b.hasStart, b.start.mid}, {b.hasFinish, b.finish.mid}} {
		if e.has && a.within(e.at) {
			d.Line(draw.Outline, p(a.x(e.at), y-0.7), p(a.x(e.at), y+barHigh+0.7))
		}
	}
}

// edges draws the upper and lower edge as far as the bar is sure: from where
// nine cases in ten have begun to where one in ten has ended. What follows
// from something else is dashed.
func (b bar) edges(d *draw.Drawing, a axis, y float64) {
	low, high, _ := b.reach()
	if b.hasStart {
		low = b.start.high
	}
	if b.hasFinish {
		high = b.finish.low
	}
	if b.hasStart && b.hasFinish && low >= high { // never sure: from middle to middle
		low, high = b.start.mid, b.finish.mid
	}
	x0, x1 := a.x(low), a.x(high)
	if x1-x0 < 0.05 {
		return
	}
	name := b.weight
	if !b.firm && name != draw.Bold {
		name = draw.Hidden
	}
	d.Lines(name, [][]draw.Point{{{X: x0, Y: y}, {X: x1, Y: y}}, {{X: x0, Y: y + barHigh}, {X: x1, Y: y + barHigh}}})
}

// Gaps between hatching lines, in millimetres: where the step is sure to be
// under way, and where that is hardly likely.
const (
	closest = 0.9
	widest  = 4.5
)

// hatching draws lines that stand the closer the surer the step is under way.
// Plain dates are not hatched: nobody has said how sure they are. Open ends
// fade evenly.
func (b bar) hatching(d *draw.Drawing, a axis, x0, x1, y float64) {
	spreads := b.hasStart && !b.start.plain() || b.hasFinish && !b.finish.plain()
	open := b.hasStart != b.hasFinish
	if !spreads && !open || b.past && !spreads {
		return
	}
	const slant = barHigh * 0.6
	var runs [][]draw.Point
	for x := x0; x < x1; {
		sure := b.sure(a.from + (x-a.x(a.from))/a.perDay)
		if sure >= 0.05 {
			right := math.Min(x+slant, x1)
			runs = append(runs, []draw.Point{{X: x, Y: y + barHigh}, {X: right, Y: y + barHigh - barHigh*(right-x)/slant}})
		}
		x += math.Min(widest, closest/math.Max(sure, 0.05))
	}
	d.Lines(draw.Hatched, runs)
}

// sure is how surely a step is under way on a day, from 0 to 1.
func (b bar) sure(day float64) float64 {
	begun, going := 1.0, 1.0
	switch {
	case b.hasStart:
		begun = b.start.by(day)
	case b.hasFinish:
		begun = math.Max(0, 1-(b.finish.low-day)/openEnd)
	}
	switch {
	case b.hasFinish:
		going = 1 - b.finish.by(day)
	case b.hasStart:
		going = math.Max(0, 1-(day-b.start.high)/openEnd)
	}
	return math.Min(begun, going)
}
