package drawing

import "dogshore/internal/draw"

// These pictures show a panel that is set on a shell, close up: the same joint
// four times, and what comes of it.

// base draws the shell on which the panel will stand, in section.
func base(d *draw.Drawing) {
	b := pts(3, 29, 57, 29, 57, 35, 3, 35)
	d.Area(draw.Outline, b...)
	d.Hatch(0.45, 45, b...)
	line(d, draw.Thin, 3, 30.3, 57, 30.3)
	line(d, draw.Thin, 3, 33.7, 57, 33.7)
}

// panel draws the standing panel with its foot at y.
func panel(d *draw.Drawing, edge string, y float64) {
	q := pts(27, 3, 33, 3, 33, y, 27, y)
	d.Area(edge, q...)
	d.Hatch(0.5, -45, q...)
	d.Line(edge, q[3], q[0])
	d.Line(edge, q[1], q[2], q[3])
}

func prepared(d *draw.Drawing) {
	base(d)
	area(d, draw.Deep, 19, 28, 41, 28, 41, 30.3, 19, 30.3)
	for x := 19.5; x < 41; x += 1.5 { // ground dull
		line(d, draw.Outline, x, 29.6, x+0.9, 27.6)
	}
	line(d, draw.Unknown, 27, 5, 27, 28)
	line(d, draw.Unknown, 33, 5, 33, 28)
	// sander
	area(d, draw.Outline, 40, 25.2, 53, 25.2, 53, 27, 40, 27)
	area(d, draw.Outline, 43, 17, 50, 17, 51, 25.2, 42, 25.2)
	curve(d, draw.Bold, 46.5, 17, 47, 11, 53, 9, 57, 10)
}

// clamp draws a screw clamp that holds the panel from one side: dir 1 right.
func clamp(d *draw.Drawing, dir float64) {
	x := 30 + 3*dir
	line(d, draw.Bold, x, 10, x+11*dir, 10)
	line(d, draw.Outline, x+1.2*dir, 8, x+1.2*dir, 12)
	line(d, draw.Outline, x+11*dir, 7.5, x+11*dir, 12.5)
}

func fitted(d *draw.Drawing) {
	base(d)
	panel(d, draw.Bold, 27)
	clamp(d, 1)
	clamp(d, -1)
	// wedges in the gap, and the gap measured
	area(d, draw.Ink, 33.5, 29, 33.5, 26.6, 42, 29)
	area(d, draw.Ink, 26.5, 29, 26.5, 26.6, 18, 29)
	line(d, draw.Thin, 8, 27, 25, 27)
	line(d, draw.Thin, 10, 22, 10, 27)
	line(d, draw.Thin, 9.2, 25.4, 10, 27, 10.8, 25.4)
}

func bonded(d *draw.Drawing) {
	base(d)
	panel(d, draw.Outline, 28)
	area(d, draw.Ink, 26, 28, 34, 28, 34, 29, 26, 29)
	d.Area(draw.Ink, draw.Arc(p(34.2, 28.3), 2.6, 2.2, 0, 360)...)
	d.Area(draw.Ink, draw.Arc(p(25.8, 28.3), 2.6, 2.2, 0, 360)...)
	// cartridge of adhesive
	area(d, draw.Outline, 43, 13, 56, 6, 58, 9.6, 45, 16.6)
	area(d, draw.Outline, 43.6, 14.6, 38, 19, 37.6, 18.2, 43, 13.6)
	line(d, draw.Bold, 57, 7.8, 59.5, 6.4)
}

func taped(d *draw.Drawing) {
	base(d)
	panel(d, draw.Outline, 29)
	for _, s := range []float64{1, -1} {
		x := 30 + 3*s
		fillet := append(draw.Arc(p(x+5*s, 24), 5, 5, 180-90*(1-s), 90), p(x, 29))
		d.Area(draw.Deep, fillet...)
		for i, far := range []float64{9, 13, 17} { // layers, each wider than the last
			o := 0.9 + 1.3*float64(i)
			tape := []draw.Point{p(x+o*s, 24-far+5), p(x+o*s, 24)}
			tape = append(tape, draw.Arc(p(x+5*s, 24), 5-o, 5-o, 180-90*(1-s), 90)...)
			tape = append(tape, p(x+far*s+2*s, 29-o))
			d.Line(draw.Bold, tape...)
		}
	}
}

func stiffened(d *draw.Drawing) {
	f := draw.Curve(pts(4, 8, 8, 22, 18, 31, 30, 33.5, 42, 31, 52, 22, 56, 8)...)
	s := draw.Band(f, -2.4)
	d.Area(draw.Outline, s...)
	d.Hatch(0.6, 45, s...)
	// top hats on the shell, and a floor across the bottom
	for _, i := range []int{9, 17, len(f) - 18, len(f) - 10} {
		a, b := f[i-2], f[i+2]
		in := draw.Beside(f, 4.2)
		top := []draw.Point{a, in[i-1], in[i+1], b}
		d.Area(draw.Bold, top...)
		d.Hatch(0.8, -45, top...)
	}
	floor := pts(21, 31.6, 23, 24, 37, 24, 39, 31.6, 30, 33.2)
	d.Area(draw.Bold, floor...)
	d.Hatch(0.55, -45, floor...)
	for _, x := range []float64{24.5, 35.5} { // limber holes
		d.Dot(draw.Outline, p(x, 30.2), 1.2)
	}
}

func joined(d *draw.Drawing) {
	low := draw.Curve(pts(7, 21, 9, 30, 18, 36.5, 30, 38, 42, 36.5, 51, 30, 53, 21)...)
	high := draw.Curve(pts(7, 18.5, 13, 14, 18, 6.5, 30, 4.5, 42, 6.5, 47, 14, 53, 18.5)...)
	for _, half := range []struct {
		line []draw.Point
		by   float64
	}{{low, -1.8}, {high, -1.8}} {
		b := draw.Band(half.line, half.by)
		d.Area(draw.Outline, b...)
		d.Hatch(0.6, 45, b...)
	}
	for _, s := range []float64{1, -1} { // flanges, the bead between them, bolts
		x := 30 - 23*s
		area(d, draw.Outline, x-4*s, 21.8, x+3*s, 21.8, x+3*s, 20.2, x-4*s, 20.2)
		area(d, draw.Outline, x-4*s, 19.2, x+3*s, 19.2, x+3*s, 17.6, x-4*s, 17.6)
		area(d, draw.Ink, x-4.6*s, 20.4, x+3.6*s, 20.4, x+3.6*s, 19, x-4.6*s, 19)
		line(d, draw.Bold, x-1.6*s, 15.8, x-1.6*s, 23.6)
		line(d, draw.Bold, x-2.9*s, 15.8, x-0.3*s, 15.8)
		line(d, draw.Bold, x-2.9*s, 23.6, x-0.3*s, 23.6)
	}
	for _, x := range []float64{22, 38} {
		line(d, draw.Outline, x, 10.5, x, 16)
		line(d, draw.Outline, x-1.2, 14.4, x, 16.2, x+1.2, 14.4)
	}
}
