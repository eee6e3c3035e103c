package drawing

import (
	"dogshore/internal/draw"
	"dogshore/jackstay"
)

// warnings rings what can catch, and crosses the edge where somebody goes over
// it: in the water with two strokes, above it with one.
func (t deckPen) warnings() {
	for _, l := range t.x.Result.Lines {
		for _, c := range l.Catches {
			if !c.Slack && !c.Loaded {
				continue
			}
			for _, o := range t.plan.Obstacles {
				if string(o.Self) == c.Catch {
					t.d.Dot(draw.Lead, middleOfOutline(t.on(o.Plan)), 1.9)
				}
			}
		}
		t.over(l.Sides)
	}
	for _, p := range t.x.Result.Points {
		t.over(p.Sides)
	}
}

func (t deckPen) over(sides []jackstay.Side) {
	for _, s := range sides {
		way := s.Under
		if way == nil {
			way = s.Over
		}
		switch s.Class {
		case jackstay.Dragging, jackstay.ClassBOrC, jackstay.ClassAOrC:
			t.stroke(way.At, 0.6)
			t.stroke(way.At, -0.6)
		case jackstay.Outboard, jackstay.ClassAOrB:
			t.stroke(way.At, 0)
		}
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

// legend says what the marks mean, from the top at y.
func (t deckPen) legend(y float64) {
	const cell, row = 61.0, 6.5
	samples := []struct {
		says string
		draw func(x, y float64)
	}{
		{"line, with its points", func(x, y float64) {
			t.d.Line(draw.Bold, p(x, y), p(x+10, y))
			t.d.Dot(draw.Outline, p(x, y), 1.1)
			t.d.Dot(draw.Outline, p(x+10, y), 1.1)
		}},
		{"as far as the long leg lets one go", func(x, y float64) {
			t.d.Area("shut", draw.Box(x, y-2, 10, 4)...)
			t.d.Line(draw.Hidden, p(x, y-2), p(x+10, y-2), p(x+10, y+2), p(x, y+2), p(x, y-2))
		}},
		{"eye to clip to", func(x, y float64) { t.d.Dot(draw.Outline, p(x+5, y), 1.6); t.d.Dot(draw.Outline, p(x+5, y), 0.9) }},
		{"edge with rail; open edge", func(x, y float64) {
			t.d.Line(draw.Outline, p(x, y-1), p(x+10, y-1))
			t.d.Line(draw.Thin, p(x, y-0.1), p(x+10, y-0.1))
			t.d.Line(draw.Bold, p(x, y+1.6), p(x+10, y+1.6))
		}},
		{"swept by the boom or its sheet", func(x, y float64) {
			b := draw.Box(x, y-2, 10, 4)
			t.d.Hatch(0.3, -45, b...)
			t.d.Line(draw.Centre, append(b, b[0])...)
		}},
		{"way of a task; not clipped on", func(x, y float64) {
			t.d.Line(draw.Centre, p(x, y), p(x+5, y))
			t.d.Line(draw.Lead, p(x+5, y), p(x+10, y))
		}},
		{"can catch", func(x, y float64) { t.d.Dot(draw.Lead, p(x+5, y), 1.9) }},
		{"over the side; twice: in the water", func(x, y float64) {
			for _, by := range []float64{2, 6.4, 7.6} {
				t.d.Line(draw.Lead, p(x+by-1, y+1.6), p(x+by+1, y-1.6))
			}
		}},
		{"preventer", func(x, y float64) { t.d.Line(draw.Hidden, p(x, y), p(x+10, y)) }},
	}
	if t.x == nil {
		samples = samples[3:4]
	}
	for i, s := range samples {
		x, at := margin+cell*float64(i%3), y+row*float64(i/3)
		s.draw(x, at)
		t.d.Text(draw.Plain, p(x+12.5, at+1.1), 3.2, draw.Start, s.says)
	}
}
