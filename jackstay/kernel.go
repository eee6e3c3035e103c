package jackstay

import (
	"math"

	"dogshore/rope"
)

// The kernel works in the plane that holds the chord of a span and the load:
// the hook stays in it. x runs along the chord from a (0, 0) to b (chord, 0), y
// to the load's side; the load is (fx, fy), fy >= 0.

// run is a piece of line that has one tension and ends at a hook.
type run struct {
	law  *rope.Law
	rest float64 // unstretched length, m
	dead float64 // length of it that lies beyond the support next to the hook
}

// pull returns the tension of a run whose last leg is r long, and what it
// grows by for a metre more.
func (n *run) pull(r float64) (tension, stiff float64) {
	t, k := n.law.At((r+n.dead)/n.rest - 1)
	return t, k / n.rest
}

func (n *run) energy(r float64) float64 {
	return n.rest * n.law.Energy((r+n.dead)/n.rest-1)
}

// kink names the branch on which a hook balances.
type kink uint8

const (
	bothLegs kink = iota // both legs taut: the smooth case
	onlyA                // leg b is slack, a holds all
	onlyB
	heldA // the hook lies against the support at a
	heldB
	loose // no load and no tension: any place within the slack
)

// place is where a hook balances.
type place struct {
	x, y   float64
	ta, tb float64
	give   float64 // how much farther the hook goes along the load for a newton more, m/N
	at     kink
	steps  int
}

// jam finds where a hook balances that grips the line, with run a to one side
// and b to the other. from is where to begin, if near is true.
//
// The potential is convex because the law rises, so where it is smooth Newton's
// steps, shortened whenever they overshoot, come to the one minimum from any
// start; the kinks are asked for by name before.
func jam(chord float64, a, b *run, fx, fy, tol float64, from place, near bool) place {
	f := math.Sqrt(fx*fx + fy*fy)
	if p, ok := jamKink(chord, a, b, fx, fy, f); ok {
		return p
	}
	if !near || from.at != bothLegs {
		from = jamStart(chord, a, b, fx, fy)
	}
	return jamNewton(chord, a, b, fx, fy, f, tol, from.x, from.y)
}

// jamKink returns the place if it is one of the kinks.
func jamKink(chord float64, a, b *run, fx, fy, f float64) (place, bool) {
	if f == 0 || a.dead > 0 || b.dead > 0 { // otherwise a leg of no length pulls at nothing
		if p, ok := jamHeld(chord, a, b, fx, fy, f); ok {
			return p, true
		}
	}
	if f == 0 {
		return place{}, false
	}
	if r := a.rest*(1+a.law.Strain(f)) - a.dead; r > 0 {
		x, y := r*fx/f, r*fy/f
		if far := b.rest - b.dead; far >= 0 && (x-chord)*(x-chord)+y*y <= far*far {
			_, k := a.pull(r)
			return place{x: x, y: y, ta: f, give: 1 / k, at: onlyA}, true
		}
	}
	if r := b.rest*(1+b.law.Strain(f)) - b.dead; r > 0 {
		x, y := chord+r*fx/f, r*fy/f
		if far := a.rest - a.dead; far >= 0 && x*x+y*y <= far*far {
			_, k := b.pull(r)
			return place{x: x, y: y, tb: f, give: 1 / k, at: onlyB}, true
		}
	}
	return place{}, false
}

// jamHeld returns the place if the hook lies against a support, drawn there by
// line that runs on through it, or if there is no load.
func jamHeld(chord float64, a, b *run, fx, fy, f float64) (place, bool) {
	ta, _ := a.pull(chord)
	tb, _ := b.pull(chord)
	ta0, _ := a.pull(0)
	tb0, _ := b.pull(0)
	switch {
	case f == 0 && ta0 == 0 && tb0 == 0 && a.rest+b.rest >= chord+a.dead+b.dead:
		return place{x: chord * (a.rest - a.dead) / (a.rest + b.rest - a.dead - b.dead), at: loose}, true
	case ta0 > 0 && math.Hypot(fx+tb, fy) <= ta0:
		return place{ta: ta0, tb: tb, at: heldA}, true
	case tb0 > 0 && math.Hypot(fx-ta, fy) <= tb0:
		return place{x: chord, ta: ta, tb: tb0, at: heldB}, true
	}
	return place{}, false
}

// jamStart is a rough place outside the slack: the hook's share of the chord,
// moved aside by what the small-angle formula gives.
func jamStart(chord float64, a, b *run, fx, fy float64) place {
	la, lb := max(a.rest-a.dead, 1e-3*chord), max(b.rest-b.dead, 1e-3*chord)
	xi := la / (la + lb)
	l := max(la+lb, chord)
	slack := max(0, l*l-chord*chord)
	ea := (a.law.Slope() + b.law.Slope()) / 2
	s := math.Cbrt(math.Hypot(fx, fy) / ea)
	y := math.Sqrt((slack + s*s*chord*chord) * xi * (1 - xi))
	f := math.Hypot(fx, fy)
	if f == 0 {
		return place{x: chord * xi, y: y}
	}
	return place{x: chord*xi + y*fx/f*0.5, y: y*fy/f + 1e-3*chord}
}

// steepest bounds Newton's steps; a dozen have been the most.
const steepest = 100

// How well the hook must balance, as a part of the forces there: rounding of
// lengths allows no better than exact; a sweep needs no more than rough, a
// hundred-thousandth of a newton.
const (
	exact = 1e-13
	rough = 1e-9
)

func jamNewton(chord float64, a, b *run, fx, fy, f, tol, x, y float64) place {
	var p place
	g := gradient(chord, a, b, fx, fy, x, y)
	best := math.Inf(1)
	for p.steps = 1; p.steps < steepest; p.steps++ {
		size := math.Abs(g.x) + math.Abs(g.y)
		small := tol * (f + g.ta + g.tb)
		if size <= small || size >= best && size <= 1e-9*(f+g.ta+g.tb) {
			break
		}
		best = size
		dx, dy := g.step()
		if g.ta == 0 && g.tb == 0 { // slack: out of it, the way of the load
			dx, dy = 0.1*chord*fx/f, 0.1*chord*fy/f
		}
		x1, y1, g1 := x+dx, y+dy, grad{}
		slope := g.x*dx + g.y*dy
		for range 40 {
			g1 = gradient(chord, a, b, fx, fy, x1, y1)
			s1 := g1.x*dx + g1.y*dy
			if s1 <= -0.9*slope {
				break
			}
			t := max(slope/(slope-s1), 0.1) // where a parabola through both slopes is level
			dx, dy = t*dx, t*dy
			slope *= t
			x1, y1 = x+dx, y+dy
		}
		x, y, g = x1, y1, g1
	}
	p.x, p.y, p.ta, p.tb, p.at = x, y, g.ta, g.tb, bothLegs
	if f > 0 {
		ux, uy := fx/f, fy/f
		g.x, g.y = -ux, -uy
		dx, dy := g.step()
		p.give = dx*ux + dy*uy
	}
	return p
}

// grad is the gradient of the potential at a place, and its curvature.
type grad struct {
	x, y, ta, tb  float64
	hxx, hxy, hyy float64
}

func gradient(chord float64, a, b *run, fx, fy, x, y float64) grad {
	g := grad{x: -fx, y: -fy}
	ra := math.Sqrt(x*x + y*y)
	ta, ka := a.pull(ra)
	if ta > 0 {
		g.add(x, y, ra, ta, ka)
	}
	xb := x - chord
	rb := math.Sqrt(xb*xb + y*y)
	tb, kb := b.pull(rb)
	if tb > 0 {
		g.add(xb, y, rb, tb, kb)
	}
	g.ta, g.tb = ta, tb
	return g
}

// add takes in one leg.
func (g *grad) add(x, y, r, t, k float64) {
	in := 1 / r
	nx, ny, across := x*in, y*in, t*in
	g.x += t * nx
	g.y += t * ny
	g.hxx += across + (k-across)*nx*nx
	g.hyy += across + (k-across)*ny*ny
	g.hxy += (k - across) * nx * ny
}

// step returns Newton's step, a little stiffer where the curvature is none.
func (g *grad) step() (dx, dy float64) {
	xx, yy := g.hxx, g.hyy
	det := xx*yy - g.hxy*g.hxy
	if det <= 1e-14*(xx+yy)*(xx+yy) {
		soft := 1e-7*(xx+yy) + 1
		xx, yy = xx+soft, yy+soft
		det = xx*yy - g.hxy*g.hxy
	}
	return (g.hxy*g.y - yy*g.x) / det, (g.hxy*g.x - xx*g.y) / det
}

// slide finds where a hook balances that runs along the line without friction:
// run n is the whole line of one tension, of which dead lies outside this span.
// A hook that comes nearer than stop to an end lies against it.
//
// The load halves the angle between the legs, so with d its angle off square to
// the chord, m the mean of the legs' angles to the chord:
//
//	2 T sin m = F,  r_a + r_b = chord cos d / cos m,  r_b = chord sin(m-d)/sin 2m
//
// one equation in m, rising, with its root in [|d|, 90 deg). At m = |d| the
// hook is at the end: it stays there if 2 T0 sin|d| >= F.
func slide(chord float64, n *run, fx, fy, stop float64) place {
	f := math.Hypot(fx, fy)
	t0, _ := n.pull(chord)
	end := place{x: 0, ta: t0, tb: t0, at: heldA}
	if fx > 0 {
		end.x, end.at = chord, heldB
	}
	if f == 0 {
		if t0 == 0 {
			return place{x: chord / 2, at: loose}
		}
		return place{x: chord / 2, ta: t0, tb: t0, at: bothLegs}
	}
	sinD, cosD := math.Abs(fx)/f, fy/f
	if 2*t0*sinD >= f || cosD <= 0 {
		return end
	}
	cosM, steps := slideRoot(chord, n, f, cosD)
	sinM := math.Sqrt((1 - cosM) * (1 + cosM))
	t := f / (2 * sinM)
	// the legs' angles are m-d and m+d; the load points to the far side
	near := chord * (sinM*cosD - cosM*sinD) / (2 * sinM * cosM)
	far := chord * (sinM*cosD + cosM*sinD) / (2 * sinM * cosM)
	if near < stop {
		return end
	}
	p := place{y: near * (sinM*cosD + cosM*sinD), ta: t, tb: t, at: bothLegs, steps: steps}
	p.x = far * (cosM*cosD + sinM*sinD) // from the far end, at the angle m-d
	if fx < 0 {
		p.x = chord - p.x
	}
	_, k := n.pull((near + far))
	p.give = slideGive(k, sinM, cosM, near, far, t)
	return p
}

// slideGive is the compliance along the load: the stretch of the line, and the
// turning of both legs (the Hessian of U(r_a + r_b) along the halving direction).
func slideGive(k, sinM, cosM, near, far, t float64) float64 {
	turn := t * (1/near + 1/far)
	along, square := 4*k*sinM*sinM+turn*cosM*cosM, turn*sinM*sinM
	cross := t * (1/near - 1/far) * sinM * cosM
	return square / (along*square - cross*cross)
}

// slideRoot returns the cosine of m.
func slideRoot(chord float64, n *run, f, cosD float64) (cosM float64, steps int) {
	reach := chord * cosD
	// T >= F/2, so the line is at least so long; from there T <= F/(2 sin m),
	// so it is at most so long: two bounds on m.
	cosOf := func(t float64) float64 { return reach / (n.rest*(1+n.law.Strain(t)) - n.dead) }
	hi := cosOf(f / 2) // the largest cosine that can be
	if !(hi > 0 && hi < cosD) {
		hi = cosD
	}
	lo := 0.0
	if s := math.Sqrt((1 - hi) * (1 + hi)); s > 0 {
		if c := cosOf(f / (2 * s)); c > 0 && c < hi {
			lo = c
		}
	}
	q := lo
	if lo == 0 {
		q = hi / 2
	}
	for steps = 1; steps < steepest; steps++ {
		s := math.Sqrt((1 - q) * (1 + q))
		t, k := n.pull(reach / q)
		g := 2*t*s - f
		switch {
		case g > 0:
			lo = q
		case g < 0:
			hi = q
		default:
			return q, steps
		}
		next := q - g/(-2*k*reach/(q*q)*s-2*t*q/s)
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-q) <= 1e-16*q || next == lo || next == hi {
			return next, steps
		}
		q = next
	}
	return q, steps
}
