package drawing

import (
	"dogshore/internal/draw"
)

// keyMark is one mark of the key: drawn from x on, about the middle y.
type keyMark struct {
	says string
	draw func(d *draw.Drawing, x, y float64)
}

// sample draws a bar of the key.
func sample(b bar) func(d *draw.Drawing, x, y float64) {
	return func(d *draw.Drawing, x, y float64) {
		var g Programme
		g.drawBar(d, axis{from: barMargin - x, to: 26, perDay: 1}, b, y-barHigh/2)
	}
}

func whole(b bar) bar {
	b.hasStart, b.hasFinish = true, true
	if b.weight == "" {
		b.weight = draw.Thin
	}
	return b
}

var keyMarks = []keyMark{
	{"fades with its spread; ticks: the middle", sample(whole(bar{start: spread{2, 5, 8}, finish: spread{13, 17, 23}, firm: true, weight: draw.Outline}))},
	{"drives the launch, numbered as listed", sample(whole(bar{start: spread{2, 5, 8}, finish: spread{13, 17, 23}, firm: true, weight: draw.Bold}))},
	{"done: somewhere between these days", sample(whole(bar{start: spread{3, 6, 9}, finish: spread{14, 18, 22}, firm: true, past: true}))},
	{"dates as they were said, spread not known", sample(whole(bar{start: on(4), finish: on(20), firm: true}))},
	{"by the durations entered, spread not known", sample(whole(bar{start: on(4), finish: on(20)}))},
	{"not begun, under way, done; only told", func(d *draw.Drawing, x, y float64) {
		for i, k := range []Look{{State: "not started", Own: true}, {State: "under way", Own: true}, {State: "done", Own: true}, {}} {
			sighted(d, k, x+4+5*float64(i), y)
		}
	}},
	{"covers something up", func(d *draw.Drawing, x, y float64) { closedBox(d, x+10, y) }},
	{"waits for a release; is announced", func(d *draw.Drawing, x, y float64) { stop(d, x+8, y, 2); stop(d, x+16, y, 1) }},
	{"a date that somebody said", func(d *draw.Drawing, x, y float64) { flag(d, x+12, y-1) }},
	{"last day to settle a point, up to the step", func(d *draw.Drawing, x, y float64) {
		d.Line(draw.Lead, p(x+4, y+1), p(x+20, y+1))
		lastDay(d, x+4, y+1)
	}},
	{"not worked", func(d *draw.Drawing, x, y float64) { d.Area(draw.Shut, draw.Box(x+4, y-2.4, 16, 4.8)...) }},
	{"today", func(d *draw.Drawing, x, y float64) { d.Line(draw.Centre, p(x+12, y-2.8), p(x+12, y+2.8)) }},
}

// ProgrammeKey explains the marks of a programme sheet.
func ProgrammeKey() *draw.Drawing {
	const columns, row = 3, 6.6
	const w = AxisWidth + 2*barMargin
	const cell = w / columns
	rows := (len(keyMarks) + columns - 1) / columns
	d := draw.New(w, row*float64(rows)+2, "How to read the bars", "A sample of each mark, with what it means.")
	for i, k := range keyMarks {
		x, y := barMargin+cell*float64(i/rows), row*(float64(i%rows)+0.5)+1
		k.draw(d, x, y)
		d.Text(draw.Plain, p(x+26, y+1.1), barType, draw.Start, k.says)
	}
	return d
}
