package jackstay

import (
	"math"

	"dogshore/plane"
)

// flatPoint is a point seen from above, along and to the side of a span's flat
// chord, y >= 0.
type flatPoint struct{ x, y float64 }

// pathBuffer holds, for each leg, the contour of each place of the hook, as far
// as it lies to one side of the chord; the other side is its mirror image.
type pathBuffer struct {
	points [][]flatPoint // per leg, half points for each place
	forces []float64
	top    []float64
}

func (b *pathBuffer) begin(legs, places int) {
	if b.points == nil {
		b.points, b.forces = make([][]flatPoint, legs), make([]float64, legs)
	}
	for g := range b.points {
		if cap(b.points[g]) < places*half {
			b.points[g] = make([]flatPoint, 0, places*half)
		}
		b.points[g] = b.points[g][:0]
	}
}

// trace adds where the ring comes to with the hook of w.scrap, the slide's load
// f going around the compass and the leg so long: the hook's place and the leg
// on from there in the direction of the load.
func (w *sweep) trace(s *spanReady, g int, f, reach float64) {
	l := &w.scrap
	along := s.b.sub(s.a).mul(1 / s.chord)
	flat := along.dot(s.flat)
	var p place
	for k := range s.dirs {
		d := &s.dirs[k]
		p = l.pulled(f*d.fx, f*d.fy, p, k > 0)
		w.paths.points[g] = append(w.paths.points[g], flatPoint{
			x: p.x*flat + p.y*d.across.dot(s.flat) + reach*d.cos,
			y: max(0, p.y*d.across.dot(s.side)+reach*d.sin),
		})
	}
	w.solves += half
}

// ends adds the rings around both ends: a hook that lies against its support.
func (b *pathBuffer) ends(g int, s *spanReady, reach float64) {
	flat := s.b.sub(s.a).dot(s.flat)
	for _, x := range [2]float64{0, flat} {
		for k := range s.dirs {
			d := &s.dirs[k]
			b.points[g] = append(b.points[g], flatPoint{x + reach*d.cos, reach * d.sin})
		}
	}
}

// station is the step along the chord on which contours are joined, m.
const station = 0.02

// contour joins the contours of all places of a span. Each is the same to both
// sides of the chord and meets each line square to it in one piece around the
// chord, so their union reaches to the farthest of them at each station.
func (b *pathBuffer) contour(g int, s *spanReady) []plane.Point {
	pts := b.points[g]
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range pts {
		lo, hi = min(lo, p.x), max(hi, p.x)
	}
	n := int((hi-lo)/station) + 2
	step := (hi - lo) / float64(n-1)
	b.top = resize(b.top, n)
	for from := 0; from < len(pts); from += half {
		for k := from + 1; k < from+half; k++ {
			p, q := pts[k-1], pts[k]
			if p.x > q.x {
				p, q = q, p
			}
			b.raise(p, q, lo, step)
		}
	}
	out := make([]flatPoint, 0, n)
	for i, y := range b.top {
		out = append(out, flatPoint{lo + float64(i)*step, y})
	}
	return s.outline(thin(out, 1e-3))
}

// raise lifts the stations between two points onto the line between them.
func (b *pathBuffer) raise(p, q flatPoint, lo, step float64) {
	i, j := int(math.Ceil((p.x-lo)/step-1e-9)), int((q.x-lo)/step+1e-9)
	slope := 0.0
	if q.x > p.x {
		slope = (q.y - p.y) / (q.x - p.x)
	}
	for i = max(i, 0); i <= j && i < len(b.top); i++ {
		if y := p.y + slope*(lo+float64(i)*step-p.x); y > b.top[i] {
			b.top[i] = y
		}
	}
}

// thin leaves out points that lie within tol of the line between those kept.
func thin(p []flatPoint, tol float64) []flatPoint {
	if len(p) < 3 {
		return p
	}
	out := []flatPoint{p[0]}
	from := 0
	for to := 2; to < len(p); to++ {
		slope := (p[to].y - p[from].y) / (p[to].x - p[from].x)
		for k := from + 1; k < to; k++ {
			if math.Abs(p[k].y-p[from].y-slope*(p[k].x-p[from].x)) > tol {
				from = to - 1
				out = append(out, p[from])
				break
			}
		}
	}
	return append(out, p[len(p)-1])
}

// outline lays one side and its mirror image onto the plan, counter-clockwise.
func (s *spanReady) outline(p []flatPoint) []plane.Point {
	a := s.a.plan()
	u, v := s.flat.plan(), s.side.plan()
	var out []plane.Point
	for i := 0; i < len(p); i++ {
		out = append(out, a.Add(u.Scale(p[i].x)).Add(v.Scale(-p[i].y)))
	}
	for i := len(p) - 1; i >= 0; i-- {
		if p[i].y > 0 {
			out = append(out, a.Add(u.Scale(p[i].x)).Add(v.Scale(p[i].y)))
		}
	}
	return out
}

// slackOf returns the half axes of all places that the unloaded line of a span
// can be pulled to with a tension, seen from above; the second is 0 if it is
// taut. All the slack of what runs through free guides can come here.
func (r *lineReady) slackOf(s *spanReady, tension float64) (along, across, length float64) {
	rest := (s.before+s.chord+s.after)*r.ratio*(1+r.law.Strain(tension)) - s.before - s.after
	flat := s.b.sub(s.a).dot(s.flat)
	if rest <= s.chord {
		return flat / 2, 0, s.chord
	}
	return math.Sqrt(max(0, rest*rest-s.chord*s.chord+flat*flat)) / 2, math.Sqrt(rest*rest-s.chord*s.chord) / 2, rest
}

// ellipse lays an ellipse about a span, grown by so much, onto the plan.
func (s *spanReady) ellipse(along, across, grow float64) []plane.Point {
	flat := s.b.sub(s.a).dot(s.flat)
	if across == 0 { // taut: a capsule
		along = flat / 2
	}
	p := make([]flatPoint, 0, half+1)
	for k := half - 1; k >= 0; k-- {
		sin, cos := math.Sincos(math.Pi * float64(k) / (half - 1))
		x, y := along*cos, across*sin
		nx, ny := cos*across, sin*along // normal of the ellipse
		if across == 0 {
			nx, ny = cos, sin
			x = math.Copysign(along, cos)
			if 2*k == half-1 {
				p = append(p, flatPoint{flat/2 - along, grow})
				x = along
			}
		}
		n := math.Hypot(nx, ny)
		if n == 0 {
			n = 1
		}
		p = append(p, flatPoint{flat/2 + x + grow*nx/n, max(0, y+grow*ny/n)})
	}
	if grow == 0 && across == 0 {
		return nil
	}
	return s.outline(p)
}
