package drawing

import (
	"slices"
	"strconv"

	"dogshore/internal/draw"
	"dogshore/jackstay"
	"dogshore/plane"
	"dogshore/record"
)

// warnings rings what can catch, and crosses the edge where somebody goes over
// it: in the water with two strokes, above it with one.
func (t deckPen) warnings() {
	for _, l := range t.x.Result.Lines {
		t.layer(DeckCatchLayer, []record.Ref{record.Ref(l.ID)}, func() { t.catches(l) })
		t.layer(DeckSideLayer, t.hung(l.ID), func() { t.over(l.Sides) })
	}
	for _, p := range t.x.Result.Points {
		t.layer(DeckSideLayer, t.hung(p.ID), func() { t.over(p.Sides) })
	}
}

func (t deckPen) catches(l jackstay.LineResult) {
	said := map[string]bool{}
	for _, c := range l.Catches {
		if !c.Slack && !c.Loaded || said[c.Catch] {
			continue
		}
		said[c.Catch] = true
		for _, o := range t.plan.Obstacles {
			if string(o.Self) == c.Catch {
				t.d.Line(draw.Lead, draw.Arc(middleOfOutline(t.on(o.Plan)), 1.9, 1.9, 0, 360)...)
			}
		}
	}
}

// over crosses each edge once for each place: what two tethers do alike there
// is one mark.
func (t deckPen) over(sides []jackstay.Side) {
	var said []plane.Point
	for _, s := range sides {
		way := s.Under
		if way == nil {
			way = s.Over
		}
		if way == nil {
			continue
		}
		at := plane.Point{X: way.At.X, Y: way.At.Y}
		if slices.ContainsFunc(said, func(q plane.Point) bool { return q.Sub(at).Norm() < 0.05 }) {
			continue
		}
		switch s.Class {
		case jackstay.Dragging, jackstay.ClassBOrC, jackstay.ClassAOrC:
			t.stroke(way.At, 0.6)
			t.stroke(way.At, -0.6)
		case jackstay.Outboard, jackstay.ClassAOrB:
			t.stroke(way.At, 0)
		default:
			continue
		}
		said = append(said, at)
	}
}

func (t deckPen) stroke(at jackstay.Spot, by float64) {
	c := t.view.At(at.X, at.Y)
	t.d.Line(draw.Lead, p(c.X-1.4+by, c.Y+1.8), p(c.X+1.4+by, c.Y-1.8))
}

func middleOfOutline(run []draw.Point) draw.Point {
	var c draw.Point
	for _, q := range run {
		c.X += q.X / float64(len(run))
		c.Y += q.Y / float64(len(run))
	}
	return c
}

const numberSize = 4.8

// labels writes the number of each thing beside it, off the other numbers.
func (t deckPen) labels() {
	var taken [][2]draw.Point
	for _, row := range t.sheet.Rows {
		at, layer := t.labelAt(row.Of)
		if (at != draw.Point{}) {
			var box [2]draw.Point
			at, box = offOthers(at, draw.Width(strconv.Itoa(row.Number), numberSize, false), taken)
			taken = append(taken, box)
		}
		put := func() { t.d.Text(draw.Label, at, numberSize, draw.Middle, strconv.Itoa(row.Number)) }
		switch {
		case at == draw.Point{}:
		case layer == "":
			put()
		default:
			t.layer(layer, []record.Ref{row.Of}, put)
		}
	}
}

// offOthers moves a number of some width off those that are written already, no
// farther than it must; where all is full it stays.
func offOthers(at draw.Point, w float64, taken [][2]draw.Point) (draw.Point, [2]draw.Point) {
	around := func(q draw.Point) [2]draw.Point {
		return [2]draw.Point{{X: q.X - w/2 - 0.4, Y: q.Y - numberSize*0.8}, {X: q.X + w/2 + 0.4, Y: q.Y + 0.4}}
	}
	for _, far := range []float64{0, 1, 1.5, 2} {
		for _, way := range []draw.Point{{Y: 1}, {Y: -1}, {X: 1}, {X: -1}, {X: 1, Y: 1}, {X: -1, Y: 1}, {X: 1, Y: -1}, {X: -1, Y: -1}} {
			q := p(at.X+far*(w+1)*way.X, at.Y+far*numberSize*way.Y)
			if !meets(around(q), taken) {
				return q, around(q)
			}
		}
	}
	return at, around(at)
}

func (t deckPen) labelAt(of record.Ref) (at draw.Point, layer string) {
	if run := t.run(string(of)); len(run) > 1 {
		mid := middleOf(run)
		side := 1.0 // inboard of the line, where less lies than on it
		if t.lineSide(string(of)) < 0 {
			side = -1
		}
		if t.view.Up {
			return p(mid.X+3*side, mid.Y+1.7), ""
		}
		return p(mid.X, mid.Y+3*side+1.7), ""
	}
	for _, c := range t.x.Case.Points {
		if c.ID == string(of) {
			q := t.view.At(c.At.X, c.At.Y)
			return p(q.X, q.Y-2.6), ""
		}
	}
	for _, task := range t.x.Tasks {
		if task.Self == of && len(task.Way) > 0 {
			run := t.on(task.Way)
			q := run[len(run)-1]
			return p(q.X+2.2, q.Y+1.4), DeckTaskLayer
		}
	}
	for _, g := range t.x.Gybe {
		for _, lead := range g.Result.Leads {
			if run := t.at(leadRun(g, lead.Preventer, string(lead.Side), lead.Set)); lead.Preventer == string(of) && len(run) > 1 {
				return p((run[0].X+run[1].X)/2, (run[0].Y+run[1].Y)/2-1), DeckPreventerLayer
			}
		}
	}
	return draw.Point{}, ""
}

// lineSide is more than 0 for a line to port, less for one to starboard.
func (t deckPen) lineSide(id string) (y float64) {
	for _, l := range t.x.Case.Lines {
		for _, s := range l.Supports {
			if l.ID == id {
				y += s.At.Y
			}
		}
	}
	return y
}

func middleOf(run []draw.Point) draw.Point {
	if len(run) == 2 {
		return p((run[0].X+run[1].X)/2, (run[0].Y+run[1].Y)/2)
	}
	i := len(run) / 2
	return p((run[i-1].X+run[i].X)/2, (run[i-1].Y+run[i].Y)/2)
}

// DeckMark is a mark of the deck's drawing, with a sample of it.
type DeckMark struct {
	Layer  string // that it switches; "" if it is always there
	Says   string
	Sample *draw.Drawing
}

// DeckMarks lists the marks of the deck's drawing.
func DeckMarks() []DeckMark {
	x, y := 1.0, 3.0
	box := draw.Box(x, y-2, 10, 4)
	mark := func(layer, says string, body func(d *draw.Drawing)) DeckMark {
		d := draw.New(12, 6, says, "")
		body(d)
		return DeckMark{layer, says, d}
	}
	return []DeckMark{
		mark(DeckReachLayer, "reach of the long leg", func(d *draw.Drawing) {
			d.Area("shut", box...)
			d.Line(draw.Hidden, append(box, box[0])...)
		}),
		mark(DeckSideLayer, "over the side; two strokes: in the water", func(d *draw.Drawing) {
			for _, by := range []float64{2, 7, 8.2} {
				d.Line(draw.Lead, p(x+by-1, y+1.8), p(x+by+1, y-1.8))
			}
		}),
		mark(DeckCatchLayer, "can catch", func(d *draw.Drawing) { d.Line(draw.Lead, draw.Arc(p(x+5, y), 1.9, 1.9, 0, 360)...) }),
		mark(DeckSweptLayer, "swept by boom or sheet", func(d *draw.Drawing) {
			d.Hatch(0.3, -45, box...)
			d.Line(draw.Centre, append(box, box[0])...)
		}),
		mark(DeckTaskLayer, "way of a task; heavy: on no hook", func(d *draw.Drawing) {
			d.Line(draw.Centre, p(x, y), p(x+5, y))
			d.Line(draw.Lead, p(x+5, y), p(x+10, y))
		}),
		mark(DeckPreventerLayer, "preventer", func(d *draw.Drawing) { d.Line(draw.Hidden, p(x, y), p(x+10, y)) }),
		mark("", "line, with its points", func(d *draw.Drawing) {
			d.Line(draw.Bold, p(x+0.5, y), p(x+9.5, y))
			d.Dot(draw.Outline, p(x+0.5, y), 1.1)
			d.Dot(draw.Outline, p(x+9.5, y), 1.1)
		}),
		mark("", "eye to clip to", func(d *draw.Drawing) {
			d.Dot(draw.Outline, p(x+5, y), 1.7)
			d.Dot(draw.Outline, p(x+5, y), 0.9)
		}),
		mark("", "edge with a rail; open edge", func(d *draw.Drawing) {
			d.Line(draw.Outline, p(x, y-1), p(x+10, y-1))
			d.Line(draw.Thin, p(x, y-0.1), p(x+10, y-0.1))
			d.Line(draw.Bold, p(x, y+1.6), p(x+10, y+1.6))
		}),
	}
}
