package drawing

import (
	"slices"

	"dogshore/internal/draw"
)

// These pictures show her from outside, from starboard.

// side is the outline of a hull, bow to the right, moved and scaled.
func side(x, y, s float64) []draw.Point {
	sheer := draw.Curve(pts(0, 0.4, 12, 1, 26, 0.4, 41, -1.6)...)
	stem := pts(41, -1.6, 38.6, 5)
	bottom := draw.Curve(pts(38.6, 5, 31, 7.6, 18, 8.6, 7, 7.2, -1.4, 3.6)...)
	var out []draw.Point
	for _, q := range slices.Concat(sheer, stem, bottom) {
		out = append(out, p(x+s*q.X, y+s*q.Y))
	}
	return out
}

// cradle draws props under a hull that stands ashore.
func cradle(d *draw.Drawing) {
	line(d, draw.Thin, 2, 38, 58, 38)
	for _, x := range []float64{18, 42} {
		line(d, draw.Outline, x, 38, x, 26)
		line(d, draw.Outline, x-4, 38, x, 28)
		line(d, draw.Outline, x+4, 38, x, 28)
	}
}

const (
	hullX, hullY, hullS = 6.5, 15.0, 1.2
)

func faired(d *draw.Drawing) {
	cradle(d)
	h := side(hullX, hullY, hullS)
	d.Area(draw.Outline, h...)
	for i, c := range [][4]float64{{13, 18.6, 4.4, 1.6}, {27, 21.4, 5.6, 1.9}, {43, 17.6, 4.6, 2}, {22, 17.8, 2.6, 0.8}, {37, 22.6, 3, 0.8}} {
		name := draw.Deep
		if i%2 == 1 {
			name = draw.Tint
		}
		blob := draw.Arc(p(c[0], c[1]), c[2], c[3], 0, 354)
		d.Area(name, blob...)
		d.Line(draw.Bold, append(blob, blob[0])...)
	}
	// long board
	area(d, draw.Bold, 20, 9, 40, 6, 40.4, 8, 20.4, 11)
	area(d, draw.Outline, 24, 6.6, 27, 6.2, 27.3, 8, 24.3, 8.4)
	area(d, draw.Outline, 33, 5.2, 36, 4.8, 36.3, 6.6, 33.3, 7)
}

func primed(d *draw.Drawing) {
	cradle(d)
	h := side(hullX, hullY, hullS)
	d.Area(draw.Bold, h...)
	d.Area(draw.Tint, h...)
	// roller, having just passed
	area(d, draw.Bold, 22, 3, 33, 3, 33, 7, 22, 7)
	line(d, draw.Bold, 33, 5, 36.5, 5, 36.5, 9.4, 29, 9.4, 29, 12)
	area(d, draw.Outline, 48, 30, 56, 30, 55.4, 38, 48.6, 38)
	area(d, draw.Tint, 48, 32, 56, 32, 55.4, 38, 48.6, 38)
}

func painted(d *draw.Drawing) {
	cradle(d)
	h := side(hullX, hullY, hullS)
	d.Area(draw.Bold, h...)
	d.Area(draw.Tint, h...)
	// below the boot line
	below := draw.Curve(pts(5.6, 20.2, 20, 21.4, 36, 21.2, 52.8, 19.6)...)
	bottom := draw.Curve(pts(52.8, 21, 43.7, 24.1, 28.1, 25.3, 14.9, 23.6, 5.6, 20.2)...)
	d.Area(draw.Deep, append(append([]draw.Point{}, below...), bottom...)...)
	d.Line(draw.Bold, below...)
	for _, x := range []float64{14, 17, 39, 42} { // gleams
		line(d, draw.Outline, x, 19.8, x+2, 17)
	}
	for _, q := range [][2]float64{{30, 6}, {50, 7}} { // it shines
		line(d, draw.Outline, q[0]-3, q[1], q[0]+3, q[1])
		line(d, draw.Outline, q[0], q[1]-3, q[0], q[1]+3)
		line(d, draw.Thin, q[0]-1.6, q[1]-1.6, q[0]+1.6, q[1]+1.6)
		line(d, draw.Thin, q[0]-1.6, q[1]+1.6, q[0]+1.6, q[1]-1.6)
	}
}

// water draws a surface with waves at y.
func water(d *draw.Drawing, y float64) {
	var w []float64
	for i := range 16 {
		w = append(w, float64(i)*4, y+[]float64{0, 0.9}[i%2])
	}
	top := draw.Curve(pts(w...)...)
	d.Area(draw.Tint, append(append([]draw.Point{}, top...), p(60, 39.5), p(0, 39.5))...)
	d.Line(draw.Bold, top...)
	for _, x := range []float64{8, 26, 46} {
		curve(d, draw.Thin, x, y+5, x+2, y+5.7, x+4, y+5, x+6, y+5.7)
	}
}

// yacht draws her with coachroof and windows, her sheer near y.
func yacht(d *draw.Drawing, y float64) {
	area(d, draw.Outline, 18, y+0.9, 20.5, y-2.6, 34, y-2.6, 39, y)
	area(d, draw.Ink, 23, y-1.8, 27, y-1.8, 27, y-0.8, 23, y-0.8)
	area(d, draw.Ink, 29, y-1.8, 33.5, y-1.8, 34.5, y-0.8, 29, y-0.8)
	d.Area(draw.Outline, side(9, y, 1)...)
}

func rigged(d *draw.Drawing) {
	yacht(d, 28.6)
	area(d, draw.Bold, 29.5, 26, 29.5, 1.5, 30.5, 1.5, 30.5, 26)
	line(d, draw.Bold, 30, 2, 49.4, 27)
	line(d, draw.Bold, 30, 2, 9.4, 29)
	line(d, draw.Outline, 30, 2, 26.4, 12, 27.4, 29)
	line(d, draw.Outline, 26.4, 12, 30, 12.6)
	area(d, draw.Bold, 13, 23, 29.4, 22, 29.4, 23.2, 13, 24.2)
	curve(d, draw.Outline, 14, 23, 20, 21.4, 29, 20.6)
	line(d, draw.Thin, 2, 38.6, 58, 38.6)
	line(d, draw.Thin, 24, 37.2, 22, 38.6)
	line(d, draw.Thin, 36, 37, 38, 38.6)
}

func weighed(d *draw.Drawing) {
	yacht(d, 26.4)
	for _, x := range []float64{17, 41} { // slings round her
		curve(d, draw.Bold, x, 26.6, x-0.6, 31, x+(29-x)*0.1, 34.6)
		line(d, draw.Bold, x, 26.6, 30, 15)
	}
	line(d, draw.Bold, 30, 15, 30, 13.4)
	// load cell with its figure, hook above
	area(d, draw.Bold, 22, 6, 38, 6, 38, 13.4, 22, 13.4)
	d.Text(draw.Strong, p(30, 11.6), 5, draw.Middle, "8.4 t")
	line(d, draw.Bold, 30, 6, 30, 1)
	line(d, draw.Thin, 2, 39, 58, 39)
}

func launched(d *draw.Drawing) {
	yacht(d, 19)
	water(d, 23.6)
	// marks at the water; the slings hang empty
	for _, x := range []float64{14, 28, 43} {
		line(d, draw.Bold, x, 20.8, x, 24.2)
		line(d, draw.Bold, x-1.4, 20.8, x+1.4, 20.8)
	}
	for _, x := range []float64{17, 41} {
		curve(d, draw.Outline, x-2, 0.5, x-2.6, 6, x, 9.5, x+2.6, 6, x+2, 0.5)
	}
	line(d, draw.Outline, 13, 0.8, 45, 0.8)
}

func trialled(d *draw.Drawing) {
	main := draw.Curve(pts(11, 23, 14, 14, 22, 6, 29, 2)...)
	jib := draw.Curve(pts(31, 4, 40, 11, 45.4, 17, 48.6, 22.4)...)
	foot := draw.Curve(pts(48.6, 22.4, 40, 22.4, 32.4, 20.6)...)
	d.Area(draw.Bold, append(main, pts(29, 2, 29, 21.6)...)...)
	d.Area(draw.Bold, slices.Concat(jib, foot)...)
	line(d, draw.Bold, 30, 1, 30, 24)
	yacht(d, 25)
	water(d, 30)
	// she is making way
	curve(d, draw.Bold, 46.6, 29.8, 49.4, 26.6, 52.4, 27.4, 54.4, 30)
	curve(d, draw.Outline, 1, 28, 3.6, 27, 7, 29)
	for _, y := range []float64{6, 9} {
		curve(d, draw.Outline, 3, y, 6, y-0.8, 9, y+0.6, 12, y)
	}
}
