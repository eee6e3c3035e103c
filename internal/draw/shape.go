package draw

import "math"

// Box returns the corners of an upright rectangle.
func Box(x, y, w, h float64) []Point {
	return []Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
}

// Arc returns points along part of an ellipse around c, from angle a to b in
// degrees, counted from the right and clockwise as the sheet lies.
func Arc(c Point, rx, ry, a, b float64) []Point {
	n := max(2, int(math.Ceil(math.Abs(b-a)/6)))
	out := make([]Point, 0, n+1)
	for i := range n + 1 {
		t := (a + (b-a)*float64(i)/float64(n)) * math.Pi / 180
		out = append(out, Point{c.X + rx*math.Cos(t), c.Y + ry*math.Sin(t)})
	}
	return out
}

// Curve returns points of a smooth line through the given ones (a Catmull-Rom
// spline, common practice).
func Curve(pts ...Point) []Point {
	if len(pts) < 3 {
		return pts
	}
	const parts = 8
	at := func(i int) Point { return pts[min(max(i, 0), len(pts)-1)] }
	out := []Point{pts[0]}
	for i := range len(pts) - 1 {
		p0, p1, p2, p3 := at(i-1), at(i), at(i+1), at(i+2)
		for k := 1; k <= parts; k++ {
			t := float64(k) / parts
			f := func(a, b, c, d float64) float64 {
				return 0.5 * (2*b + (c-a)*t + (2*a-5*b+4*c-d)*t*t + (3*b-a-3*c+d)*t*t*t)
			}
			out = append(out, Point{f(p0.X, p1.X, p2.X, p3.X), f(p0.Y, p1.Y, p2.Y, p3.Y)})
		}
	}
	return out
}

// Beside returns a line at a distance to the left of the given one, seen along
// it, on the sheet. It is made for gentle lines: sharp corners are not trimmed.
func Beside(pts []Point, by float64) []Point {
	out := make([]Point, len(pts))
	for i, p := range pts {
		a, b := pts[max(i-1, 0)], pts[min(i+1, len(pts)-1)]
		dx, dy := b.X-a.X, b.Y-a.Y
		l := math.Hypot(dx, dy)
		if l == 0 {
			out[i] = p
			continue
		}
		out[i] = Point{p.X + dy/l*by, p.Y - dx/l*by}
	}
	return out
}

// Band returns the closed outline between a line and its neighbour at a
// distance to the left.
func Band(pts []Point, by float64) []Point {
	side := Beside(pts, by)
	out := append([]Point{}, pts...)
	for i := len(side) - 1; i >= 0; i-- {
		out = append(out, side[i])
	}
	return out
}

// View carries points of the world, in metres, onto the sheet: the only place
// where the y axis turns over.
//
//	x to the right:  ^ y      x up the sheet:    ^ x
//	                 |                           |
//	                 +--> x                y <---+
type View struct {
	Scale  float64 // millimetres on the sheet for one metre
	Origin Point   // where the world's origin lies on the sheet
	Up     bool    // the world's x runs up the sheet: a boat with her bow up, on a narrow sheet
}

// Fit returns the view that shows the world's box low to high in the sheet's
// box at (x, y) with size w, h, in the middle and not distorted.
func Fit(low, high [2]float64, x, y, w, h float64) View {
	dx, dy := math.Max(high[0]-low[0], 1e-9), math.Max(high[1]-low[1], 1e-9)
	s := math.Min(w/dx, h/dy)
	return View{Scale: s, Origin: Point{
		X: x + (w-s*dx)/2 - s*low[0],
		Y: y + (h-s*dy)/2 + s*high[1],
	}}
}

// FitUp is Fit with the world's x running up the sheet, and y to the left.
func FitUp(low, high [2]float64, x, y, w, h float64) View {
	dx, dy := math.Max(high[0]-low[0], 1e-9), math.Max(high[1]-low[1], 1e-9)
	s := math.Min(w/dy, h/dx)
	return View{Scale: s, Up: true, Origin: Point{
		X: x + (w-s*dy)/2 + s*high[1],
		Y: y + (h-s*dx)/2 + s*high[0],
	}}
}

// At returns the point of the sheet for a point of the world.
func (v View) At(x, y float64) Point {
	if v.Up {
		return Point{v.Origin.X - v.Scale*y, v.Origin.Y - v.Scale*x}
	}
	return Point{v.Origin.X + v.Scale*x, v.Origin.Y - v.Scale*y}
}
