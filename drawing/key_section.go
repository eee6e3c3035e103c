package drawing

import (
	"math"

	"dogshore/internal/draw"
)

// These pictures are one section through mould and laminate, growing layer by
// layer. The layers are drawn far thicker than they are.

// floor is the line of the mould's face.
func floor() []draw.Point {
	return draw.Curve(pts(4, 25, 12, 28.5, 24, 31, 36, 31, 48, 28.5, 56, 25)...)
}

// Thicknesses of the layers, in millimetres on the sheet.
const (
	gelT   = 1.1
	skinT  = 1.5
	clothT = 1.9
	coreT  = 5
)

// Heights of the layers above the mould's face.
const (
	onGel   = gelT
	onSkin  = onGel + skinT
	onOuter = onSkin + clothT
	onCore  = onOuter + coreT
	onInner = onCore + clothT
)

// mould draws the mould: face, body in section, flanges and legs.
func mould(d *draw.Drawing) {
	f := floor()
	body := draw.Band(f, -3.2)
	d.Area(draw.Paper, body...)
	d.Hatch(0.62, 60, body...)
	d.Line(draw.Outline, f...)
	d.Line(draw.Thin, draw.Beside(f, -3.2)...)
	line(d, draw.Outline, 4, 25, 1, 25)
	line(d, draw.Outline, 56, 25, 59, 25)
	for _, x := range []float64{14, 46} {
		line(d, draw.Thin, x, 32.2, x, 38.5)
		line(d, draw.Thin, x-3, 38.5, x+3, 38.5)
	}
}

// layer is the closed band between two heights above the mould.
func layer(from, to float64) []draw.Point { return draw.Band(draw.Beside(floor(), from), to-from) }

func gel(d *draw.Drawing) { d.Area(draw.Ink, layer(0, gelT)...) }

// mat draws a layer of chopped strands: short strokes in all directions.
func mat(d *draw.Drawing, from, to float64) {
	d.Area(draw.Thin, layer(from, to)...)
	mid := draw.Beside(floor(), (from+to)/2)
	var runs [][]draw.Point
	for i := 1; i+1 < len(mid); i++ {
		a := float64(i*67%180) * math.Pi / 180
		dx, dy := 0.55*math.Cos(a), 0.45*math.Sin(a)
		runs = append(runs, []draw.Point{p(mid[i].X-dx, mid[i].Y-dy), p(mid[i].X+dx, mid[i].Y+dy)})
	}
	d.Lines(draw.Thin, runs)
}

// cloth draws a layer of fabric: a thread that runs over and under.
func cloth(d *draw.Drawing, from, to float64, edge string) {
	d.Area(edge, layer(from, to)...)
	d.Line(draw.Thin, weave(draw.Beside(floor(), (from+to)/2), 0.5)...)
}

// weave is a zigzag along a line.
func weave(mid []draw.Point, by float64) []draw.Point {
	up, down := draw.Beside(mid, by), draw.Beside(mid, -by)
	out := make([]draw.Point, len(mid))
	for i := range mid {
		out[i] = up[i]
		if i%2 == 1 {
			out[i] = down[i]
		}
	}
	return out
}

// foam draws the core: sheets with joints and bubbles, and one solid insert.
func foam(d *draw.Drawing, edge string) {
	low, high := draw.Beside(floor(), onOuter), draw.Beside(floor(), onCore)
	d.Area(edge, layer(onOuter, onCore)...)
	for i := 5; i+1 < len(low); i += 6 {
		d.Line(draw.Thin, low[i], high[i])
	}
	mid := draw.Beside(floor(), (onOuter+onCore)/2)
	for i := 1; i+1 < len(mid); i++ {
		d.Dot(draw.Thin, p(mid[i].X+0.3, mid[i].Y+[]float64{-1.3, 0.4, 1.3}[i%3]), 0.35)
	}
	insert := append(append([]draw.Point{}, low[23:30]...), reversed(high[23:30])...)
	d.Area(draw.Paper, insert...)
	d.Hatch(0.9, 45, insert...)
	d.Hatch(0.9, -45, insert...)
	d.Area(edge, insert...)
	d.Area(draw.Deep, insert...)
}

func reversed(in []draw.Point) []draw.Point {
	out := make([]draw.Point, len(in))
	for i, q := range in {
		out[len(in)-1-i] = q
	}
	return out
}

func mouldReady(d *draw.Drawing) {
	mould(d)
	d.Line(draw.Bold, floor()...)
	for _, x := range []float64{2, 58} { // marks on the flange
		line(d, draw.Bold, x, 25, x, 21.5)
	}
	line(d, draw.Centre, 30, 12, 30, 36)
	// a cloth polishing, and gleams on the face
	area(d, draw.Outline, 15, 22.2, 24, 24.6, 23, 27, 14.4, 24.8)
	for _, x := range []float64{34, 37, 40} {
		line(d, draw.Thin, x, 28, x+2, 23)
	}
}

func gelcoat(d *draw.Drawing) {
	mould(d)
	gel(d)
	// spray gun and its fan
	area(d, draw.Outline, 22, 6, 34, 6, 34, 10, 30, 10, 32, 17, 28, 17, 26, 10, 22, 10)
	area(d, draw.Outline, 26, 2, 31, 2, 31, 6, 26, 6)
	var spray [][]draw.Point
	for i := range 6 {
		y := 8 + float64(i)*2.6
		spray = append(spray, pts(20.5, 8+float64(i)*0.15, 8+float64(i)*1.9, y+4.5))
	}
	for _, s := range spray {
		d.Line(draw.Unknown, s...)
	}
}

func skinCoat(d *draw.Drawing) {
	mould(d)
	gel(d)
	mat(d, onGel, onSkin)
	d.Line(draw.Bold, draw.Beside(floor(), onSkin)...)
	brush(d, 33, 26)
}

// brush draws a brush with its tip at a point.
func brush(d *draw.Drawing, x, y float64) {
	area(d, draw.Deep, x, y, x+5, y-1, x+6, y-6, x+2, y-6.4)
	area(d, draw.Outline, x+2, y-6.4, x+6, y-6, x+6.4, y-8, x+2.4, y-8.4)
	area(d, draw.Outline, x+3.4, y-8.4, x+5.4, y-8.1, x+10, y-19, x+8, y-19.6)
}

// roll draws a roll of cloth from which the last layer is being laid.
func roll(d *draw.Drawing, height float64) {
	top := draw.Beside(floor(), height)
	end := top[len(top)-1]
	c := p(end.X-5, end.Y-4.5)
	d.Dot(draw.Bold, c, 4.2)
	d.Dot(draw.Thin, c, 2.9)
	d.Dot(draw.Thin, c, 1.6)
}

func outerSkin(d *draw.Drawing) {
	mould(d)
	gel(d)
	mat(d, onGel, onSkin)
	cloth(d, onSkin, onOuter, draw.Bold)
	roll(d, onOuter)
	scissors(d, 14, 9)
}

// scissors draws a pair of scissors.
func scissors(d *draw.Drawing, x, y float64) {
	d.Dot(draw.Outline, p(x, y), 2)
	d.Dot(draw.Outline, p(x, y+6), 2)
	line(d, draw.Bold, x+1.8, y+1, x+15, y+6)
	line(d, draw.Bold, x+1.8, y+5, x+15, y)
}

func core(d *draw.Drawing) {
	mould(d)
	gel(d)
	mat(d, onGel, onSkin)
	cloth(d, onSkin, onOuter, draw.Thin)
	foam(d, draw.Bold)
	// a sheet still to be laid
	sheet := pts(6, 9, 24, 6, 24.6, 10.5, 6.6, 13.5)
	d.Area(draw.Bold, sheet...)
	for i := range 8 {
		d.Dot(draw.Thin, p(8.5+float64(i)*2, 11-float64(i)*0.33), 0.4)
	}
	line(d, draw.Outline, 14, 15.5, 14, 18.5)
	line(d, draw.Outline, 12.8, 17, 14, 18.8, 15.2, 17)
}

// stack draws all layers, dry.
func stack(d *draw.Drawing) {
	gel(d)
	mat(d, onGel, onSkin)
	cloth(d, onSkin, onOuter, draw.Thin)
	foam(d, draw.Thin)
	cloth(d, onCore, onInner, draw.Thin)
}

func innerSkin(d *draw.Drawing) {
	mould(d)
	stack(d)
	cloth(d, onCore, onInner, draw.Bold)
	roll(d, onInner)
	// loose end of the cloth
	top := draw.Beside(floor(), onInner)
	curve(d, draw.Bold, top[0].X, top[0].Y, top[0].X+2, top[0].Y-4, top[0].X+6, top[0].Y-6.5, top[0].X+9, top[0].Y-5)
}

// film draws the vacuum film over the stack, sealed to the flanges.
func film(d *draw.Drawing) {
	top := draw.Beside(floor(), onInner+0.9)
	d.Line(draw.Bold, append(append(pts(2, 24.6), top...), p(58, 24.6))...)
	for _, x := range []float64{2, 58} {
		area(d, draw.Ink, x-1.4, 23.6, x+1.4, 23.6, x+1.4, 25.2, x-1.4, 25.2)
	}
	for _, i := range []int{7, 12, 29, 34} { // folds pulled tight
		d.Line(draw.Thin, top[i], p(top[i].X+1.2, top[i].Y-2.4))
		d.Line(draw.Thin, p(top[i].X+2.4, top[i].Y+0.1), p(top[i].X+1.2, top[i].Y-2.4))
	}
}

// gauge draws a dial whose needle points at an angle from straight up.
func gauge(d *draw.Drawing, x, y, r, angle float64) {
	d.Dot(draw.Outline, p(x, y), r)
	for a := -120.0; a <= 120; a += 40 {
		s, c := math.Sincos(a * math.Pi / 180)
		d.Line(draw.Thin, p(x+s*r*0.75, y-c*r*0.75), p(x+s*r*0.95, y-c*r*0.95))
	}
	s, c := math.Sincos(angle * math.Pi / 180)
	d.Line(draw.Bold, p(x, y), p(x+s*r*0.7, y-c*r*0.7))
	d.Dot(draw.Ink, p(x, y), 0.5)
}

func bagged(d *draw.Drawing) {
	mould(d)
	stack(d)
	film(d)
	// hose to the gauge
	curve(d, draw.Bold, 30, 18.3, 30, 14, 33, 11, 39, 9)
	gauge(d, 46, 8, 6.2, -105)
}

func infused(d *draw.Drawing) {
	mould(d)
	stack(d)
	d.Area(draw.Deep, layer(onGel, onInner)...)
	film(d)
	// pail of resin, feeding from the left; a line to the pump on the right
	area(d, draw.Outline, 4, 5, 14, 5, 13, 14, 5, 14)
	area(d, draw.Deep, 4.4, 8, 13.6, 8, 13, 14, 5, 14)
	curve(d, draw.Bold, 9, 11, 10, 2.5, 20, 3, 22, 10, 23, 18)
	curve(d, draw.Outline, 46, 16.5, 47, 9, 52, 6, 58, 5)
	line(d, draw.Outline, 27, 12, 37, 12)
	line(d, draw.Outline, 35, 10.6, 37.4, 12, 35, 13.4)
}

func cured(d *draw.Drawing) {
	mould(d)
	stack(d)
	d.Area(draw.Deep, layer(onGel, onInner)...)
	d.Line(draw.Bold, draw.Beside(floor(), onInner)...)
	// the film and peel ply come off from the right
	top := draw.Beside(floor(), onInner)
	n := len(top) / 2
	a := top[n]
	curl := draw.Curve(a, p(a.X+9, a.Y-2), p(a.X+16, a.Y-7), p(a.X+13, a.Y-13), p(a.X+6, a.Y-11))
	d.Line(draw.Bold, curl...)
	d.Line(draw.Hidden, draw.Beside(curl, 1)...)
	// a knuckle's worth of hardness: the hammer rings
	area(d, draw.Outline, 9, 11, 16, 9.4, 16.6, 12, 9.6, 13.6)
	line(d, draw.Bold, 12.8, 10, 10, 2)
	for _, x := range []float64{7, 19} {
		line(d, draw.Thin, x, 15, x+(x-13)/4, 12.5)
	}
}

func laminated(d *draw.Drawing) {
	mould(d)
	gel(d)
	for i := range 4 {
		low := onGel + float64(i)*2
		d.Area(draw.Tint, layer(low, low+2)...)
		edge := draw.Thin
		if i == 3 {
			edge = draw.Bold
		}
		d.Line(edge, draw.Beside(floor(), low+2)...)
		d.Line(draw.Thin, weave(draw.Beside(floor(), low+1), 0.5)...)
	}
	// roller
	d.Dot(draw.Outline, p(24, 18.5), 3.4)
	d.Dot(draw.Ink, p(24, 18.5), 0.7)
	line(d, draw.Bold, 24, 18.5, 30, 13, 34, 14, 44, 5)
	// pot of resin
	area(d, draw.Outline, 5, 8, 14, 8, 13, 16, 6, 16)
	area(d, draw.Deep, 5.4, 10.5, 13.6, 10.5, 13, 16, 6, 16)
}

// shell draws the finished laminate lifted by dy off the mould's face.
func shell(d *draw.Drawing, dy float64) {
	var bands = [][2]float64{{0, onOuter}, {onOuter, onCore}, {onCore, onInner}}
	for i, b := range bands {
		s := moved(layer(b[0], b[1]), 0, dy)
		d.Area(draw.Outline, s...)
		if i != 1 {
			d.Area(draw.Deep, s...)
		}
	}
}

func demoulded(d *draw.Drawing) {
	mould(d)
	shell(d, -9.5)
	for _, x := range []float64{7.4, 52.6} { // lifted by its two edges
		line(d, draw.Bold, x, 5.4, x+(30-x)*0.25, 0.5)
		d.Dot(draw.Ink, p(x, 5.4), 1.1)
	}
	for _, x := range []float64{20, 30, 40} {
		line(d, draw.Outline, x, 29, x, 24)
		line(d, draw.Outline, x-1.2, 25.4, x, 23.8, x+1.2, 25.4)
	}
}

func postCured(d *draw.Drawing) {
	shell(d, -2)
	for _, x := range []float64{16, 44} { // trestles
		line(d, draw.Outline, x-4, 38, x, 29.5, x+4, 38)
	}
	// tent
	d.Line(draw.Bold, append(append(pts(2, 38.5), draw.Arc(p(30, 16), 28, 13, 180, 360)...), p(58, 38.5))...)
	for _, x := range []float64{10, 20, 30} { // heat
		curve(d, draw.Outline, x, 18, x+1.5, 15.5, x-0.5, 12.5, x+1, 10)
	}
	// thermometer
	d.Dot(draw.Ink, p(45, 17), 2.2)
	area(d, draw.Outline, 44, 15.5, 44, 6.5, 46, 6.5, 46, 15.5)
	line(d, draw.Bold, 45, 16, 45, 9)
}
