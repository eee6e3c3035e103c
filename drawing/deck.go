package drawing

import (
	"math"
	"strconv"

	"dogshore/desk/deck"
	"dogshore/internal/draw"
	"dogshore/jackstay"
	"dogshore/plane"
	"dogshore/record"
)

// DeckSheet is the deck as drawn with one arrangement of its lines, and what a
// page needs to lay handles over it.
type DeckSheet struct {
	*draw.Drawing
	View    draw.View // from metres to the sheet
	Handles []Handle
	Rows    []DeckRow // what the numbers in the drawing stand for
}

// Handle is a point of the drawing that a hand can move.
type Handle struct {
	Self record.Ref // the fitting, support or turn whose spot it is
	Name string
	Spot record.Spot
	At   draw.Point
}

// DeckRow is a numbered thing of the drawing.
type DeckRow struct {
	Number int
	Of     record.Ref
	Name   string
}

// Sizes of the deck's sheet, in millimetres.
const (
	deckW    = 190
	deckFoot = 34
)

// deckPen draws one arrangement.
type deckPen struct {
	d     *draw.Drawing
	view  draw.View
	plan  deck.Plan
	x     *deck.Arrangement
	sheet *DeckSheet
}

// Deck draws a deck from above, bow to the right, with the lines of an
// arrangement, where they let one go, what they can catch on, what the boom
// sweeps and where a way has a gap. x is nil for the bare deck.
func Deck(plan deck.Plan, x *deck.Arrangement) DeckSheet {
	low, high, any := deckReach(plan, x)
	if !any {
		d := draw.New(deckW, 20, "The deck", "Nothing of the deck has an outline yet.")
		d.Text(draw.Plain, p(margin, 12), 4, draw.Start, "Nothing of the deck has an outline yet: nothing can be drawn.")
		return DeckSheet{Drawing: d}
	}
	h := (deckW - 2*margin) * (high[1] - low[1]) / (high[0] - low[0])
	d := draw.New(deckW, h+deckFoot+2*margin, "The deck from above",
		"The deck to scale, bow to the right, port up, with lines, reach, what can catch and what the boom sweeps. The lists below say the same in words.")
	sheet := DeckSheet{Drawing: d, View: draw.Fit(low, high, margin, margin, deckW-2*margin, h)}
	pen := deckPen{d: d, view: sheet.View, plan: plan, x: x, sheet: &sheet}
	pen.levels()
	if x != nil {
		pen.reach()
		pen.swept()
	}
	pen.edges()
	pen.obstacles()
	if x != nil {
		pen.ways()
		pen.preventers()
		pen.lines()
		pen.warnings()
	}
	scaleBar(d, p(margin, h+2*margin+5), sheet.View.Scale)
	pen.legend(h + 2*margin + 11)
	return sheet
}

// deckReach is the box around the deck and its lines, a hand wider all round.
func deckReach(plan deck.Plan, x *deck.Arrangement) (low, high [2]float64, any bool) {
	low, high = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	add := func(px, py float64) {
		low = [2]float64{math.Min(low[0], px), math.Min(low[1], py)}
		high = [2]float64{math.Max(high[0], px), math.Max(high[1], py)}
		any = true
	}
	for _, l := range plan.Levels {
		for _, c := range l.Plan {
			add(c[0], c[1])
		}
	}
	for _, e := range plan.Edges {
		for _, c := range e.Path {
			add(c[0], c[1])
		}
	}
	if x != nil {
		for _, l := range x.Case.Lines {
			for _, s := range l.Supports {
				add(s.At.X, s.At.Y)
			}
		}
		for _, l := range x.Result.Lines {
			if r := longestReach(l.Reaches); r != nil {
				for _, piece := range r.Soft {
					for _, c := range piece {
						add(c.X, c.Y)
					}
				}
			}
		}
		for _, z := range x.Sweep.Zones {
			for _, ring := range z.Outlines {
				for _, c := range ring {
					add(c.X, c.Y)
				}
			}
		}
	}
	const air = 0.4
	return [2]float64{low[0] - air, low[1] - air}, [2]float64{high[0] + air, high[1] + air}, any
}

func (t deckPen) on(o record.Outline) []draw.Point {
	out := make([]draw.Point, len(o))
	for i, c := range o {
		out[i] = t.view.At(c[0], c[1])
	}
	return out
}

func (t deckPen) at(ps []plane.Point) []draw.Point {
	out := make([]draw.Point, len(ps))
	for i, c := range ps {
		out[i] = t.view.At(c.X, c.Y)
	}
	return out
}

func (t deckPen) levels() {
	for _, l := range t.plan.Levels {
		t.d.Area(draw.Thin, t.on(l.Plan)...)
	}
}

// edges draws guard-rails as a double line; an open edge is heavy.
func (t deckPen) edges() {
	for _, e := range t.plan.Edges {
		run := t.on(e.Path)
		if e.Rail.Known && e.Rail.SI > 0 {
			t.d.Line(draw.Outline, run...)
			t.d.Line(draw.Thin, draw.Beside(run, 0.9)...)
			continue
		}
		t.d.Line(draw.Bold, run...)
	}
}

func (t deckPen) obstacles() {
	for _, o := range t.plan.Obstacles {
		run := t.on(o.Plan)
		switch {
		case len(run) > 2:
			t.d.Area(draw.Thin, run...)
		case len(run) == 2:
			t.d.Line(draw.Outline, run...)
		case len(run) == 1:
			t.d.Dot(draw.Thin, run[0], 0.7)
		}
	}
}

// reach draws how far the longest leg lets one go, under load and idle.
func (t deckPen) reach() {
	for _, l := range t.x.Result.Lines {
		if r := longestReach(l.Reaches); r != nil {
			for _, piece := range r.Soft {
				t.d.Area("shut", t.at(piece)...)
				t.d.Line(draw.Hidden, t.at(plane.Closed(piece))...)
			}
		}
	}
}

func longestReach(of []jackstay.Reach) *jackstay.Reach {
	var best *jackstay.Reach
	for i := range of {
		if best == nil || of[i].Leg > best.Leg {
			best = &of[i]
		}
	}
	return best
}

// swept hatches what the boom and its sheet sweep.
func (t deckPen) swept() {
	for _, z := range t.x.Sweep.Zones {
		for _, o := range z.Outlines {
			var run []draw.Point
			for _, c := range o {
				run = append(run, t.view.At(c.X, c.Y))
			}
			t.d.Hatch(0.12, -45, run...)
			if len(run) > 0 {
				t.d.Line(draw.Centre, append(run, run[0])...)
			}
		}
	}
}

// ways draws the ways of the tasks; where one is not clipped on, heavily.
func (t deckPen) ways() {
	for _, task := range t.x.Tasks {
		t.d.Line(draw.Centre, t.on(task.Way)...)
	}
	for _, task := range t.x.Tasks {
		for _, gap := range task.Gaps() {
			t.d.Line(draw.Lead, t.at(gap)...)
		}
	}
}

// preventers draws each lead from the boom, as far out as it is set up.
func (t deckPen) preventers() {
	for _, g := range t.x.Gybe {
		for _, lead := range g.Result.Leads {
			run := leadRun(g, lead.Preventer, string(lead.Side), lead.Set)
			var on []draw.Point
			for _, s := range run {
				on = append(on, t.view.At(s[0], s[1]))
			}
			t.d.Line(draw.Hidden, on...)
		}
	}
}

// leadRun is where a preventer runs, seen from above: from the boom at its
// angle through its turns; on the other side mirrored.
func leadRun(g deck.Gybe, name, side string, set float64) [][2]float64 {
	for _, pr := range g.Case.Preventers {
		if pr.Name != name {
			continue
		}
		s := 1.0
		if side == "starboard" {
			s = -1
		}
		sin, cos := math.Sincos(set)
		b := g.Case.Boom.Gooseneck
		run := [][2]float64{{b.X - pr.At*cos, b.Y + s*pr.At*sin}}
		for _, turn := range pr.Turns {
			y := turn.Spot.Y
			if !turn.Stays && s*y < 0 {
				y = -y
			}
			run = append(run, [2]float64{turn.Spot.X, y})
		}
		return run
	}
	return nil
}

// lines draws jackstays with their points, and eyes to clip to, and numbers
// them.
func (t deckPen) lines() {
	handled := map[record.Ref]bool{}
	for _, l := range t.x.Case.Lines {
		var run []draw.Point
		for _, s := range l.Supports {
			run = append(run, t.view.At(s.At.X, s.At.Y))
		}
		ref := record.Ref(l.ID)
		n := t.row(ref)
		t.d.Link("/of/jackstay/"+ref.Key(), t.sheet.Rows[n-1].Name, func() { t.d.Line(draw.Bold, run...) })
		for i, s := range l.Supports {
			self := record.Ref(s.ID)
			t.handle(self, record.Spot{Known: true, X: s.At.X, Y: s.At.Y, Z: s.At.Z}, handled)
			t.d.Dot(draw.Outline, run[i], 1.1)
		}
		mid := middleOf(run)
		t.d.Text(draw.Label, p(mid.X, mid.Y-1.4), 4, draw.Middle, strconv.Itoa(n))
	}
	for _, f := range t.x.Fittings {
		if !f.Spot.Known || handled[f.Self] {
			continue
		}
		at := t.view.At(f.Spot.X, f.Spot.Y)
		t.handle(f.Self, f.Spot, handled)
		t.d.Dot(draw.Outline, at, 0.9)
		if f.Clip == record.Yes {
			t.d.Dot(draw.Outline, at, 1.6)
			n := t.row(f.Self)
			t.d.Text(draw.Label, p(at.X, at.Y-2.2), 4, draw.Middle, strconv.Itoa(n))
		}
	}
}

func middleOf(run []draw.Point) draw.Point {
	if len(run) == 2 {
		return p((run[0].X+run[1].X)/2, (run[0].Y+run[1].Y)/2)
	}
	i := len(run) / 2
	return p((run[i-1].X+run[i].X)/2, (run[i-1].Y+run[i].Y)/2)
}

// row numbers a thing of the drawing.
func (t deckPen) row(self record.Ref) int {
	t.sheet.Rows = append(t.sheet.Rows, DeckRow{len(t.sheet.Rows) + 1, self, t.nameOf(self)})
	return len(t.sheet.Rows)
}

func (t deckPen) handle(self record.Ref, at record.Spot, handled map[record.Ref]bool) {
	if handled[self] {
		return
	}
	handled[self] = true
	t.sheet.Handles = append(t.sheet.Handles, Handle{Self: self, Name: t.nameOf(self), Spot: at, At: t.view.At(at.X, at.Y)})
}

func (t deckPen) nameOf(self record.Ref) string {
	for _, l := range t.x.Lines {
		if l.Self == self {
			return l.Name
		}
	}
	for _, f := range t.x.Fittings {
		if f.Self == self {
			return f.Name
		}
	}
	for _, line := range t.x.Lines {
		for _, s := range t.x.Supports[line.Self] {
			if s.Self == self {
				return line.Name + ", point " + strconv.Itoa(int(s.Number.SI+0.5))
			}
		}
	}
	return self.Key()
}
