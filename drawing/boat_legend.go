package drawing

import (
	"fmt"
	"math"

	"dogshore/internal/draw"
	"dogshore/record"
)

// scaleBar draws a bar of a round number of metres.
func scaleBar(d *draw.Drawing, at draw.Point, scale float64) {
	length := 0.1
	for _, l := range []float64{0.2, 0.5, 1, 2, 5, 10, 20, 50} {
		if l*scale <= 60 {
			length = l
		}
	}
	for i := range 4 {
		x := at.X + scale*length*float64(i)/4
		b := draw.Box(x, at.Y-1.2, scale*length/4, 1.2)
		d.Area(draw.Thin, b...)
		if i%2 == 0 {
			d.Area(draw.Ink, b...)
		}
	}
	d.Text(draw.Plain, p(at.X+scale*length+2, at.Y), 3.4, draw.Start, metres(length))
}

func metres(v float64) string {
	if v == math.Trunc(v) {
		return fmt.Sprintf("%.0f m", v)
	}
	return fmt.Sprintf("%.1f m", v)
}

// legend draws samples of the hatching, from the top at y.
func legend(d *draw.Drawing, y float64, schematic bool) {
	samples := []struct {
		standing Standing
		says     string
	}{
		{Standing{How: record.Seen}, "not begun"},
		{Standing{Stage: "core", How: record.Seen}, "core"},
		{Standing{Stage: "bonded", How: record.Seen}, "bonded"},
		{Standing{Stage: "painted", How: record.Seen}, "painted"},
		{Standing{Stage: "bonded", How: record.Inferred}, "follows, not seen"},
		{Standing{}, "not known"},
	}
	const perRow, cell, row = 3, 43.0, 8.0
	for i, s := range samples {
		x, top := margin+cell*float64(i%perRow), y+row*float64(i/perRow)
		b := draw.Box(x, top, 9, 6)
		d.Area(s.standing.edge(), b...)
		d.Hatch(s.standing.tone(), 45, b...)
		d.Text(draw.Plain, p(x+10.5, top+4.2), 3.2, draw.Start, s.says)
	}
	if schematic {
		d.Text(draw.Faint, p(margin, y+2*row+2.6), 3, draw.Start,
			"Schematic: outlines follow from type and length alone. Numbers as in the list.")
	}
}
