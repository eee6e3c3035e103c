package drawing

import "dogshore/internal/draw"

// These pictures show what joiners, plumbers, electricians and mechanics
// leave behind.

// bay draws the inside of the hull between two frames.
func bay(d *draw.Drawing) {
	for _, x := range []float64{4, 52} {
		f := pts(x, 3, x+4, 3, x+4, 37, x, 37)
		d.Area(draw.Outline, f...)
		d.Hatch(0.45, 45, f...)
	}
	line(d, draw.Thin, 8, 37, 52, 37)
	line(d, draw.Thin, 8, 3, 52, 3)
}

// tag draws a label hanging from a point.
func tag(d *draw.Drawing, x, y float64) {
	line(d, draw.Thin, x, y, x+1.6, y+2)
	area(d, draw.Outline, x+0.6, y+2, x+5.6, y+2, x+5.6, y+5, x+0.6, y+5)
	line(d, draw.Thin, x+1.6, y+3.2, x+4.6, y+3.2)
	line(d, draw.Thin, x+1.6, y+4.1, x+3.6, y+4.1)
}

func firstFix(d *draw.Drawing) {
	bay(d)
	pipe := draw.Band(pts(8, 9, 52, 11), 2.6) // a pipe with a fall
	d.Area(draw.Bold, pipe...)
	for _, x := range []float64{16, 44} { // clips
		line(d, draw.Bold, x, 5.4, x, 11.6)
	}
	for i, y := range []float64{16, 18, 20} { // cables, ends hanging loose
		end := 30 + 7*float64(i)
		curve(d, draw.Bold, 8, y, end-6, y, end-1, y+2, end, y+7, end-1, y+10)
	}
	tag(d, 29, 26)
	tag(d, 43, 30)
	curve(d, draw.Bold, 12, 37, 12, 30, 15, 27.5, 19, 28)
	curve(d, draw.Bold, 15, 37, 15, 32, 17, 30.6, 19, 30.6)
	line(d, draw.Bold, 19, 27.6, 19, 31)
}

func secondFix(d *draw.Drawing) {
	// worktop and basin with a running tap
	line(d, draw.Bold, 3, 30, 31, 30)
	d.Line(draw.Outline, append(append(pts(8, 30), draw.Arc(p(17, 30), 9, 7, 180, 0)...), p(26, 30))...)
	d.Line(draw.Bold, append(append(pts(7, 30, 7, 19), draw.Arc(p(11.5, 19), 4.5, 4.5, 180, 360)...), p(16, 22))...)
	line(d, draw.Bold, 5, 24, 9, 24)
	for _, y := range []float64{24, 27, 30} {
		line(d, draw.Outline, 16, y, 16, y+1.8)
	}
	// lamp with light
	d.Area(draw.Bold, append(draw.Arc(p(45, 10), 6, 5, 180, 360), p(39, 10))...)
	line(d, draw.Outline, 45, 5, 45, 2)
	for _, x := range []float64{-7, -3.5, 0, 3.5, 7} {
		line(d, draw.Outline, 45+x*0.7, 12, 45+x*1.2, 18)
	}
	// switch panel
	area(d, draw.Outline, 36, 22, 55, 22, 55, 37, 36, 37)
	for i, x := range []float64{39, 44.5, 50} {
		area(d, draw.Outline, x, 25, x+2.6, 25, x+2.6, 31, x, 31)
		y := 25.0
		if i == 1 {
			y = 28
		}
		area(d, draw.Ink, x+0.4, y+0.4, x+2.2, y+0.4, x+2.2, y+2.8, x+0.4, y+2.8)
		d.Dot(draw.Ink, p(x+1.3, 34), 0.7)
	}
}

func lined(d *draw.Drawing) {
	// what is behind: dashed
	d.Line(draw.Hidden, pts(4, 12, 56, 14)...)
	d.Line(draw.Hidden, pts(4, 14.5, 56, 16.5)...)
	for _, x := range []float64{10, 24, 38, 52} { // panels
		line(d, draw.Bold, x, 4, x, 30)
	}
	area2 := func(x0, x1 float64) {
		line(d, draw.Bold, x0, 4, x1, 4)
		line(d, draw.Bold, x0, 30, x1, 30)
	}
	area2(3, 57)
	line(d, draw.Bold, 3, 4, 3, 30)
	line(d, draw.Bold, 57, 4, 57, 30)
	for _, x := range []float64{5, 12, 19, 26, 33, 40, 47} { // grain
		curve(d, draw.Thin, x, 20, x+1, 23, x+0.4, 26, x+1.4, 29)
		curve(d, draw.Thin, x+2, 5.5, x+2.6, 8, x+2.2, 10)
	}
	// settee in front
	area(d, draw.Outline, 6, 27, 54, 27, 54, 31.5, 6, 31.5)
	area(d, draw.Outline, 8, 31.5, 52, 31.5, 52, 38, 8, 38)
	area(d, draw.Tint, 6, 27, 54, 27, 54, 31.5, 6, 31.5)
	line(d, draw.Outline, 30, 27, 30, 31.5)
}

func installed(d *draw.Drawing) {
	// beds in section
	for _, x := range []float64{8, 42} {
		b := pts(x, 30, x+12, 30, x+12, 37, x, 37)
		d.Area(draw.Outline, b...)
		d.Hatch(0.5, 45, b...)
	}
	// engine
	area(d, draw.Bold, 14, 12, 42, 12, 42, 28, 14, 28)
	area(d, draw.Bold, 18, 7, 38, 7, 38, 12, 18, 12)
	area(d, draw.Outline, 42, 16, 50, 18, 50, 26, 42, 27)
	d.Dot(draw.Outline, p(14, 20), 5.5)
	d.Dot(draw.Ink, p(14, 20), 1)
	for _, x := range []float64{21, 26, 31, 36} {
		line(d, draw.Thin, x, 14, x, 23)
	}
	// mounts and bolts
	for _, x := range []float64{12, 44} {
		area(d, draw.Outline, x-1, 27, x+5, 27, x+6, 30, x-2, 30)
		line(d, draw.Bold, x+2, 25, x+2, 34)
		line(d, draw.Bold, x+0.4, 26.2, x+3.6, 26.2)
	}
	// openings plugged
	area(d, draw.Ink, 24, 4.6, 29, 4.6, 29, 7, 24, 7)
	area(d, draw.Ink, 50, 20.6, 52.4, 20.6, 52.4, 23.6, 50, 23.6)
}

func hardware(d *draw.Drawing) {
	deck := pts(2, 24, 58, 24, 58, 28, 2, 28)
	d.Area(draw.Outline, deck...)
	d.Hatch(0.5, 45, deck...)
	// winch, cleat, stanchion
	area(d, draw.Bold, 8, 24, 22, 24, 20, 15, 10, 15)
	area(d, draw.Bold, 9, 15, 21, 15, 20, 11, 10, 11)
	line(d, draw.Bold, 15, 9.6, 27, 8)
	area(d, draw.Bold, 29, 20.5, 43, 20.5, 44, 19, 39, 18.4, 33, 18.4, 28, 19)
	area(d, draw.Bold, 33, 24, 34.6, 20.5, 37.4, 20.5, 39, 24)
	area(d, draw.Bold, 50, 24, 50, 3, 51.6, 3, 51.6, 24)
	line(d, draw.Outline, 46, 5, 58, 5)
	line(d, draw.Outline, 46, 13, 58, 13)
	// bolts and backing plates below
	for _, x := range [][2]float64{{10, 20}, {33, 39}, {48, 54}} {
		area(d, draw.Ink, x[0]-2, 28, x[1]+2, 28, x[1]+2, 30, x[0]-2, 30)
		for _, b := range x {
			line(d, draw.Bold, b, 24, b, 33.5)
			area(d, draw.Ink, b-1.2, 30.6, b+1.2, 30.6, b+1.2, 32, b-1.2, 32)
		}
	}
}

// sheetOfPaper draws a page with lines; with a tick before the first ticks of
// them.
func sheetOfPaper(d *draw.Drawing, x, y, w, h float64, lines, ticks int) {
	d.Area(draw.Outline, draw.Box(x, y, w, h)...)
	step := (h - 4) / float64(lines)
	for i := range lines {
		ly := y + 3.5 + float64(i)*step
		line(d, draw.Thin, x+6, ly, x+w-2.5, ly)
		d.Area(draw.Thin, draw.Box(x+2, ly-1.6, 2.6, 2.6)...)
		if i < ticks {
			line(d, draw.Bold, x+2.2, ly-0.4, x+3.2, ly+0.8, x+5.4, ly-2.6)
		}
	}
}

func tested(d *draw.Drawing) {
	gauge(d, 17, 14, 11, 40)
	// from the gauge a hose to a fitting under test
	curve(d, draw.Bold, 17, 25, 17, 32, 24, 34, 30, 33)
	area(d, draw.Outline, 30, 30, 36, 30, 36, 36, 30, 36)
	area(d, draw.Outline, 28, 36, 38, 36, 38, 38.4, 28, 38.4)
	// a paper with a seal and a tick
	area(d, draw.Outline, 40, 4, 57, 4, 57, 28, 40, 28)
	for _, y := range []float64{8, 11, 14} {
		line(d, draw.Thin, 43, y, 54, y)
	}
	line(d, draw.Bold, 43.5, 21, 47.5, 25, 54, 17)
}

func putRight(d *draw.Drawing) {
	sheetOfPaper(d, 12, 2.5, 30, 35, 6, 6)
	// pencil
	area(d, draw.Outline, 41, 27, 53, 10, 56, 12, 44, 29)
	area(d, draw.Ink, 41, 27, 40, 31.4, 44, 29)
}

func delivered(d *draw.Drawing) {
	// paper, signed by two
	area(d, draw.Outline, 4, 3, 31, 3, 31, 37, 4, 37)
	for _, y := range []float64{8, 11.5, 15, 18.5} {
		line(d, draw.Thin, 8, y, 27, y)
	}
	curve(d, draw.Bold, 8, 27, 10, 24, 11, 28, 13, 25, 15, 27.5, 17, 26)
	line(d, draw.Thin, 7, 29, 17, 29)
	curve(d, draw.Bold, 19, 33, 21, 30.5, 22, 34, 24, 31, 26, 33.5, 28, 31.5)
	line(d, draw.Thin, 18.5, 35, 28.5, 35)
	// key on a cork float
	d.Dot(draw.Bold, p(42, 12), 5)
	d.Dot(draw.Outline, p(42, 12), 2)
	area(d, draw.Bold, 40.8, 17, 43.2, 17, 43.2, 31, 40.8, 31)
	area(d, draw.Bold, 43.2, 25, 46.4, 25, 46.4, 27, 43.2, 27)
	area(d, draw.Bold, 43.2, 28.6, 47.4, 28.6, 47.4, 30.8, 43.2, 30.8)
	curve(d, draw.Outline, 44, 8, 47, 4, 50, 4.6, 52, 8)
	d.Area(draw.Outline, draw.Arc(p(53, 14), 4.4, 6, 0, 360)...)
	d.Area(draw.Tint, draw.Arc(p(53, 14), 4.4, 6, 0, 360)...)
}
