package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dogshore/calendar"
	"dogshore/desk/plan"
	"dogshore/internal/draw"
	"dogshore/record"
)

// Programme is what a programme sheet shows: steps as bars on an axis of
// days, grouped by part, each with what was seen and what hangs on it.
type Programme struct {
	Steps    []plan.Step             // in the order of the network
	Points   []plan.Point            // open ones: their last days stand at the steps that cover them up
	Looks    map[record.Ref][]Look   // what was seen of each step
	Path     map[record.Ref]int      // place on the path that drives the launch, from 1
	Called   func(record.Ref) string // names of parts and points
	Today    calendar.Day
	From, To calendar.Day       // the range of days, both included
	Week     *calendar.Calendar // what it does not work is shaded; may be nil
	Width    float64            // of the axis, in millimetres; 0 stands for 250
}

// Look is one sighting of a step.
type Look struct {
	Day   calendar.Day
	State string // not started, under way, done
	Own   bool   // seen, in the flesh or in a picture; else only told
}

// ProgrammeSheet is the drawing, cut into sheets of some thirty lines, and
// what it leaves out.
type ProgrammeSheet struct {
	Sheets  []*draw.Drawing
	ByOrder []*draw.Drawing // the steps without a date, on an axis that counts what comes before
	Outside int             // steps whose dates lie outside the range
	Undated int             // steps without any date
}

// Sizes of a programme sheet, in millimetres.
const (
	barRow      = 5.6
	barHigh     = 3
	barType     = 3.2
	barMargin   = 3
	barHead     = 11 // the axis above the bars
	linesASheet = 27
	AxisWidth   = 250
)

// row is one line of the sheet: the heading of a part, or a step with its
// bar.
type row struct {
	part record.Ref // of a heading
	of   [2]float64 // what a heading spans, in days
	step *plan.Step
	bar  bar
}

// DrawProgramme draws a programme. Where a date has a spread its bar fades in
// from the day that one case in ten has reached to the day that nine have, and
// out in the same way; a tick stands at the middle. Dates that were said or
// reckoned are drawn plain.
func DrawProgramme(g Programme) ProgrammeSheet {
	if g.Width == 0 {
		g.Width = AxisWidth
	}
	if g.To <= g.From {
		g.To = g.From + 1
	}
	sheet := ProgrammeSheet{}
	sheet.Sheets = g.sheets(g.lines(&sheet), false)
	if sheet.Undated > 0 {
		still, lines := g.byOrder()
		sheet.ByOrder = still.sheets(lines, true)
	}
	return sheet
}

// sheets cuts lines into sheets and draws them.
func (g *Programme) sheets(lines []row, byOrder bool) []*draw.Drawing {
	var out []*draw.Drawing
	for len(lines) > 0 {
		n := cut(lines)
		out = append(out, g.sheet(lines[:n], len(out)+1, byOrder))
		lines = lines[n:]
	}
	return out
}

// cut is how many lines the next sheet takes: no heading stands last.
func cut(lines []row) int {
	if len(lines) <= linesASheet {
		return len(lines)
	}
	n := linesASheet
	if lines[n-1].step == nil {
		n--
	}
	return n
}

// lines puts the steps that have something in the range under their parts,
// in the order in which the parts first come.
func (g *Programme) lines(sheet *ProgrammeSheet) []row {
	var parts []record.Ref
	under := map[record.Ref][]row{}
	for i := range g.Steps {
		s := &g.Steps[i]
		b := g.barOf(s)
		low, high, ok := b.reach()
		switch {
		case !ok:
			sheet.Undated++
			continue
		case high < float64(g.From) || low > float64(g.To)+1:
			sheet.Outside++
			continue
		}
		if under[s.Part] == nil {
			parts = append(parts, s.Part)
		}
		under[s.Part] = append(under[s.Part], row{step: s, bar: b})
	}
	var out []row
	for _, part := range parts {
		out = append(out, heading(part, under[part]))
		out = append(out, under[part]...)
	}
	return out
}

func heading(part record.Ref, steps []row) row {
	h := row{part: part, of: [2]float64{math.Inf(1), math.Inf(-1)}}
	for _, l := range steps {
		low, high, _ := l.bar.reach()
		h.of = [2]float64{math.Min(h.of[0], low), math.Max(h.of[1], high)}
	}
	return h
}

// axis carries days to the sheet.
type axis struct {
	from, to float64 // days, from one midnight to another
	perDay   float64
	foot     float64 // of the sheet
}

func (a axis) x(day float64) float64 {
	return barMargin + (math.Min(math.Max(day, a.from), a.to)-a.from)*a.perDay
}

// within reports whether a day can be shown.
func (a axis) within(day float64) bool { return day >= a.from && day <= a.to }

// sheet draws lines as the sheet of that number.
func (g *Programme) sheet(lines []row, number int, byOrder bool) *draw.Drawing {
	a := axis{from: float64(g.From), to: float64(g.To) + 1}
	a.perDay = g.Width / (a.to - a.from)
	h := barHead + barRow*float64(len(lines)) + 2
	a.foot = h
	title := fmt.Sprintf("The programme from %s to %s, sheet %d", g.From.Said(), g.To.Said(), number)
	desc := "Steps as bars on an axis of days. Hatching grows sparse where a date is unsure; a tick stands at its middle. The list below says the same in words."
	if byOrder {
		title = fmt.Sprintf("The programme by order, sheet %d", number)
		desc = "Steps on an axis that counts how many have to begin before each. No date is earned yet. The list below says the same in words."
	}
	d := draw.New(g.Width+2*barMargin, h, title, desc)
	if byOrder {
		a.drawOrder(d)
	} else {
		a.draw(d, g)
	}
	for i, l := range lines {
		y := barHead + barRow*float64(i)
		if l.step == nil {
			g.drawHeading(d, a, l, y)
			continue
		}
		g.drawLine(d, a, l, y)
	}
	return d
}

// drawHeading draws the name of a part over a line that measures from its
// first day to its last, as dimensions are drawn.
func (g *Programme) drawHeading(d *draw.Drawing, a axis, l row, y float64) {
	name := "Of no part"
	if l.part != "" {
		name = g.Called(l.part)
	}
	y += barRow - 1.6
	x0, x1 := a.x(l.of[0]), a.x(l.of[1])
	d.Line(draw.Thin, p(x0, y), p(x1, y))
	for _, e := range []struct{ day, x float64 }{{l.of[0], x0}, {l.of[1], x1}} {
		if a.within(e.day) {
			d.Line(draw.Outline, p(e.x-0.8, y+0.8), p(e.x+0.8, y-0.8))
		}
	}
	name = draw.Clip(name, barType, true, g.Width-2)
	at := math.Min(math.Max(x0+1.2, barMargin), barMargin+g.Width-draw.Width(name, barType, true))
	d.Text(draw.Strong, p(at, y-0.9), barType, draw.Start, name)
}

// drawLine draws one step: its bar, its marks and its name. All of it leads to
// the page of the step.
func (g *Programme) drawLine(d *draw.Drawing, a axis, l row, y float64) {
	called := strings.Join(slices.DeleteFunc([]string{g.named(l, true), whenSays(l.step, g.Today)}, func(s string) bool { return s == "" }), "; ")
	d.Link("/step/"+l.step.Key(), called, func() {
		g.drawBar(d, a, l.bar, y+(barRow-barHigh)/2)
		g.drawMarks(d, a, l, y+barRow/2)
		g.drawName(d, a, l, y)
	})
}

// named is a step's name as it stands beside its bar: with its number on the
// path, and a word on what its dates rest on if there is room.
func (g *Programme) named(l row, room bool) string {
	name := l.step.Name
	if n := g.Path[l.step.Self]; n > 0 {
		name = fmt.Sprintf("%d. %s", n, name)
	}
	if room && l.bar.basis != "" {
		name += ", " + l.bar.basis
	}
	return name
}

// drawName writes the step's name beside its bar: behind it, else before it,
// else over it.
func (g *Programme) drawName(d *draw.Drawing, a axis, l row, y float64) {
	const widest = 90
	low, high := g.ends(a, l)
	end, base := barMargin+g.Width, y+barRow/2+barType*0.36
	for _, room := range []bool{true, false} {
		name := draw.Clip(g.named(l, room), barType, false, widest)
		switch w := draw.Width(name, barType, false); {
		case high+1.6+w <= end:
			d.Text(draw.Label, p(high+1.6, base), barType, draw.Start, name)
			return
		case low-1.6-w >= barMargin:
			d.Text(draw.Label, p(low-1.6, base), barType, draw.End, name)
			return
		}
	}
	d.Text(draw.Label, p(math.Max(low, barMargin)+1, base), barType, draw.Start, draw.Clip(g.named(l, false), barType, false, end-math.Max(low, barMargin)-2))
}

// Reach returns the first and the last day that the steps cover; no days if
// none has a date.
func (g *Programme) Reach() (first, last calendar.Day) {
	for i := range g.Steps {
		b := g.barOf(&g.Steps[i])
		low, high, ok := b.reach()
		if !ok {
			continue
		}
		if first == 0 || calendar.Day(low) < first {
			first = calendar.Day(low)
		}
		last = max(last, calendar.Day(high))
	}
	return first, last
}
