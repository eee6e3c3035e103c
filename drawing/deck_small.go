package drawing

import (
	"strconv"

	"dogshore/desk/deck"
	"dogshore/internal/draw"
	"dogshore/record"
)

// DeckSmall draws an arrangement small, to be seen beside others: lines and
// eyes, how far they let one go, and where somebody goes over the side or is on
// no hook.
func DeckSmall(plan deck.Plan, x *deck.Arrangement) *draw.Drawing {
	pen, any := deckSheet(plan, x, deckSmall, 0, DeckView{})
	if !any {
		return draw.New(deckSmall, 10, x.Name, "Nothing of the deck has an outline yet.")
	}
	pen.d.Title, pen.d.Desc = x.Name, "The deck from above with this arrangement; the figures beside it say the same in words."
	pen.levels()
	pen.reach()
	pen.edges()
	for _, task := range x.Tasks {
		for _, gap := range task.Gaps() {
			pen.d.Line(draw.Lead, pen.at(gap)...)
		}
	}
	for _, g := range x.Gybe {
		for _, lead := range g.Result.Leads {
			pen.d.Line(draw.Hidden, pen.at(leadRun(g, lead.Preventer, string(lead.Side), lead.Set))...)
		}
	}
	for _, l := range x.Case.Lines {
		run := pen.run(l.ID)
		pen.d.Line(draw.Bold, run...)
		for _, at := range run {
			pen.d.Dot(draw.Outline, at, 0.8)
		}
	}
	for _, c := range x.Case.Points {
		pen.d.Dot(draw.Outline, pen.view.At(c.At.X, c.At.Y), 0.8)
	}
	for _, l := range x.Result.Lines {
		pen.over(l.Sides)
	}
	for _, c := range x.Result.Points {
		pen.over(c.Sides)
	}
	return pen.d
}

// deckPaper draws the deck for the designer: what is there, the lines, and the
// fittings with the numbers of the table. What the owner's figures say of reach
// and side is not the designer's question.
func deckPaper(plan deck.Plan, x *deck.Arrangement, numbers map[record.Ref]int) (DeckSheet, bool) {
	pen, any := deckSheet(plan, x, deckW, deckFoot, DeckView{})
	if !any {
		return DeckSheet{}, false
	}
	pen.levels()
	pen.edges()
	pen.obstacles()
	for _, g := range x.Gybe {
		for _, lead := range g.Result.Leads {
			pen.d.Line(draw.Hidden, pen.at(leadRun(g, lead.Preventer, string(lead.Side), lead.Set))...)
		}
	}
	for _, l := range x.Case.Lines {
		pen.d.Line(draw.Bold, pen.run(l.ID)...)
	}
	for _, f := range x.Fittings {
		if !f.Spot.Known {
			continue
		}
		at := pen.view.At(f.Spot.X, f.Spot.Y)
		pen.d.Dot(draw.Outline, at, 1.1)
		up := 1.0
		if f.Spot.Y < 0 {
			up = -1
		}
		label := p(at.X+3.4, at.Y-3.4*up)
		pen.d.Line(draw.Thin, at, label)
		pen.d.Dot(draw.Outline, label, 2.4)
		pen.d.Text(draw.Plain, p(label.X, label.Y+1.1), 3.2, draw.Middle, strconv.Itoa(numbers[f.Self]))
	}
	pen.foot()
	return *pen.sheet, true
}
