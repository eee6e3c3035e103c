package drawing

import (
	"fmt"
	"math"

	"dogshore/desk/deck"
	"dogshore/internal/draw"
	"dogshore/jackstay"
	"dogshore/plane"
	"dogshore/record"
)

// DeckView says how a deck is drawn.
type DeckView struct {
	Up   bool       // bow up, for a narrow screen; else bow to the right
	Only record.Ref // the line, eye, task or preventer that is shown alone; "" for all
}

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

// The layers that a page can switch off.
const (
	DeckReachLayer     = "reach"     // as far as a leg lets one go
	DeckSideLayer      = "side"      // who goes over the side, and where
	DeckCatchLayer     = "catch"     // what slack or a hook can catch on
	DeckSweptLayer     = "swept"     // what boom and sheet sweep
	DeckTaskLayer      = "task"      // ways of tasks, and where they are on no hook
	DeckPreventerLayer = "preventer" //
	DeckAloneLayer     = "alone"     // what is drawn only of a thing shown alone
)

// Sizes of the deck's sheet, in millimetres, and of the air around the deck, in
// metres.
const (
	deckW      = 190
	deckUpW    = 105 // as many pixels to the millimetre on a phone as on a desk
	deckSmall  = 84
	deckFoot   = 9
	deckUpFoot = 15
	deckAir    = 0.4
	deckBeyond = 1.0 // with gear: of what lies outside the deck, so much is in sight
)

// deckPen draws one arrangement.
type deckPen struct {
	d     *draw.Drawing
	view  draw.View
	plan  deck.Plan
	x     *deck.Arrangement
	only  record.Ref
	sheet *DeckSheet
}

// Deck draws a deck from above with the lines of an arrangement, where they
// let one go, what they can catch on, what the boom sweeps and where a way has
// a gap, each a layer of its own. x is nil for the bare deck.
func Deck(plan deck.Plan, x *deck.Arrangement, view DeckView) DeckSheet {
	w, foot := float64(deckW), float64(deckFoot)
	if view.Up {
		w, foot = deckUpW, deckUpFoot
	}
	pen, any := deckSheet(plan, x, w, foot, view)
	if !any {
		d := draw.New(deckW, 20, "The deck", "Nothing of the deck has an outline yet.")
		d.Text(draw.Plain, p(margin, 12), 4, draw.Start, "Nothing of the deck has an outline yet: nothing can be drawn.")
		return DeckSheet{Drawing: d}
	}
	pen.levels()
	if x != nil {
		pen.reach()
		pen.swept()
	}
	pen.edges()
	pen.obstacles()
	if x != nil {
		pen.number()
		pen.ways()
		pen.preventers()
		pen.lines()
		pen.eyes()
		pen.warnings()
		pen.labels()
	}
	pen.foot()
	return *pen.sheet
}

// deckSheet lays an empty sheet of a width around a deck, with a foot for the
// scale bar.
func deckSheet(plan deck.Plan, x *deck.Arrangement, w, foot float64, view DeckView) (deckPen, bool) {
	low, high, any := deckBox(plan, x)
	if !any {
		return deckPen{}, false
	}
	says := "The deck to scale, bow to the right, port up."
	along, across := high[0]-low[0], high[1]-low[1]
	inner := w - 2*margin
	h := inner * across / along
	fitted := draw.Fit(low, high, margin, margin, inner, h)
	if view.Up {
		says = "The deck to scale, bow up, port to the left."
		h = inner * along / across
		fitted = draw.FitUp(low, high, margin, margin, inner, h)
	}
	d := draw.New(w, h+foot+2*margin, "The deck from above", says+" The lists of the page say the same in words.")
	sheet := &DeckSheet{Drawing: d, View: fitted}
	return deckPen{d: d, view: fitted, plan: plan, x: x, only: view.Only, sheet: sheet}, true
}

// deckBox is the box around the deck and its gear, and so much more all round
// as tells what reaches or sweeps beyond it. It does not hang on how far that
// is: a drawing keeps its scale while a hand moves something.
func deckBox(plan deck.Plan, x *deck.Arrangement) (low, high [2]float64, any bool) {
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
		for _, f := range x.Fittings {
			if f.Spot.Known {
				add(f.Spot.X, f.Spot.Y)
			}
		}
	}
	if !any {
		return low, high, false
	}
	air := deckAir
	if x != nil {
		air = deckBeyond
	}
	return [2]float64{low[0] - air, low[1] - air}, [2]float64{high[0] + air, high[1] + air}, true
}

// foot draws the scale bar, and how far off a place of the plan may be; on a
// narrow sheet one above the other.
func (t deckPen) foot() {
	y := t.d.H - 4
	high := float64(deckFoot)
	if t.view.Up {
		high = deckUpFoot
	}
	t.d.Area(draw.Paper, draw.Box(0, t.d.H-high, t.d.W, high)...) // what reaches farther ends here
	off := t.plan.Off
	says := fmt.Sprintf("any place within ± %.0f mm", 1000*off)
	wide := 2 * off * t.view.Scale
	x := t.d.W - margin - draw.Width(says, 3.2, false) - wide - 3
	if t.view.Up {
		x = margin
		scaleBar(t.d, p(margin, y-6), t.view.Scale)
	} else {
		scaleBar(t.d, p(margin, y), t.view.Scale)
	}
	if off <= 0 {
		return
	}
	t.d.Line(draw.Outline, p(x, y-0.6), p(x+wide, y-0.6))
	for _, at := range []float64{x, x + wide} {
		t.d.Line(draw.Outline, p(at, y-1.8), p(at, y+0.6))
	}
	t.d.Text(draw.Plain, p(x+wide+2, y), 3.2, draw.Start, says)
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

func longestReach(of []jackstay.Reach) *jackstay.Reach {
	var best *jackstay.Reach
	for i := range of {
		if best == nil || of[i].Leg > best.Leg {
			best = &of[i]
		}
	}
	return best
}
