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
	in   float64 // 1/rest
	ea   float64 // of a law that is one straight line; else 0
}

func newRun(law *rope.Law, rest, dead float64) run {
	ea, _ := law.Linear()
	return run{law: law, rest: rest, dead: dead, in: 1 / rest, ea: ea}
}

// pull returns the tension of a run whose last leg is r long, and what it
// grows by for a metre more.
func (n *run) pull(r float64) (tension, stiff float64) {
	e := (r+n.dead)*n.in - 1
	if n.ea > 0 && e > 0 {
		return n.ea * e, n.ea * n.in
	}
	return n.bent(e)
}

// bent is pull for what is slack, or has a law of several pieces.
func (n *run) bent(e float64) (tension, stiff float64) {
	t, k := n.law.At(e)
	return t, k * n.in
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
	off    float64 // what is left of the balance, N
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
	if p, kinked := jamKink(chord, a, b, fx, fy, f); kinked {
		return p
	}
	if near && from.at == bothLegs {
		if p, ok := jamNewton(chord, a, b, fx, fy, f, tol, from.x, from.y); ok {
			return p
		}
	}
	from, ok := jamSlack(chord, a, b, fx, fy)
	if !ok {
		from = jamStart(chord, a, b, fx, fy)
		from = jamShort(chord, a, b, fx, fy, f, from)
	}
	p, ok := jamNewton(chord, a, b, fx, fy, f, tol, from.x, from.y)
	if !ok {
		from = jamHalving(chord, a, b, fx, fy, f)
		if q, _ := jamNewton(chord, a, b, fx, fy, f, tol, from.x, from.y); q.off < p.off {
			q.steps += p.steps
			return q
		}
	}
	return p
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

func jamNewton(chord float64, a, b *run, fx, fy, f, tol, x, y float64) (p place, ok bool) {
	g := gradient(chord, a, b, fx, fy, x, y)
	best, worse, overshoot := math.Inf(1), 0, 0.9
	for p.steps = 1; p.steps < steepest && worse < 30; p.steps++ {
		size := math.Abs(g.x) + math.Abs(g.y)
		scale := f + g.ta + g.tb
		round := 4e-16 * chord * (g.hxx + g.hyy) // what a place in metres leaves open
		p.off, ok = size, size <= 1e-6*scale+4*round
		if size <= tol*scale+round || size >= best && size <= rough*scale+4*round {
			break
		}
		if size >= best {
			worse, overshoot = worse+1, 0.2 // where the law bends, nearer to the lowest along a step
		}
		best = min(best, size)
		dx, dy := g.step()
		if g.ta == 0 && g.tb == 0 { // slack: out of it, the way of the load
			dx, dy = 0.1*chord*fx/f, 0.1*chord*fy/f
		}
		x1, y1, g1 := x+dx, y+dy, grad{}
		slope := g.x*dx + g.y*dy
		for range 40 {
			g1 = gradient(chord, a, b, fx, fy, x1, y1)
			s1 := g1.x*dx + g1.y*dy
			if s1 <= -overshoot*slope {
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
	return p, ok
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
	f := math.Sqrt(fx*fx + fy*fy)
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
	sinM, steps := slideRoot(chord, n, f, sinD, cosD, t0)
	cosM := math.Sqrt((1 - sinM) * (1 + sinM))
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

// slideRoot returns the sine of m: of small angles it keeps all digits.
func slideRoot(chord float64, n *run, f, sinD, cosD, t0 float64) (sinM float64, steps int) {
	reach := chord * cosD
	// With tension t the line is so long, and its angle no less or more.
	sinOf := func(t float64) float64 {
		c := reach / (n.rest*(1+n.law.Strain(t)) - n.dead)
		if !(c > 0 && c < cosD) {
			return sinD
		}
		return math.Sqrt((1 - c) * (1 + c))
	}
	lo, hi := sinOf(f/2), 1.0 // T >= F/2
	if lo > 0 {
		hi = min(hi, sinOf(f/(2*lo))) // T <= F/(2 lo)
	}
	if t0 > 0 {
		hi = min(hi, f/(2*t0))
	}
	if hi <= lo {
		hi = 1
	}
	s := min(hi, 0.999)
	for steps = 1; steps < steepest; steps++ {
		c := math.Sqrt((1 - s) * (1 + s))
		t, k := n.pull(reach / c)
		g := 2*t*s - f
		switch {
		case g > 0:
			hi = s
		case g < 0:
			lo = s
		default:
			return s, steps
		}
		next := s - g/(2*t+2*s*s*k*reach/(c*c*c))
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-s) <= 1e-16*s || next == lo || next == hi {
			return next, steps
		}
		s = next
	}
	return s, steps
}
