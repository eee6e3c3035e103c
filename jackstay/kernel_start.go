package jackstay

import (
	"math"
)

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

// jamStart is where the small-angle formula has the hook: with a and b its
// shares of the chord, y aside and x along,
//
//	F_y = y (chord/ab) (T0 + EA y^2/(2ab)),  x = y^2 (a-b)/(2ab) + F_x ab/(EA chord)
func jamStart(chord float64, a, b *run, fx, fy float64) place {
	la, lb := max(a.rest-a.dead, 1e-3*chord), max(b.rest-b.dead, 1e-3*chord)
	l1 := chord * la / (la + lb)
	l2 := chord - l1
	ab := l1 * l2
	ea := (a.law.Slope() + b.law.Slope()) / 2
	y := math.Cbrt(2 * fy * ab * ab / (ea * chord))
	if e := (chord+a.dead+b.dead)/(a.rest+b.rest) - 1; e > 0 {
		k, t := chord/ab, ea*e+ea*y*y/(2*ab)
		y -= (y*k*t - fy) / (k * (t + ea*y*y/ab))
	}
	x := l1 + y*y*(l1-l2)/(2*ab) + fx*ab/(ea*chord)
	return place{x: min(max(x, 0.01*chord), 0.99*chord), y: max(y, 1e-3*chord)}
}

// short is the part of the chord below which a leg may swing about its support.
const short = 0.15

// jamShort is a better place to begin from near a support: where the short leg
// alone would hold the load, if the potential is less there.
func jamShort(chord float64, a, b *run, fx, fy, f float64, from place) place {
	potential := func(p place) float64 {
		return a.energy(third(p.x, p.y)) + b.energy(third(p.x-chord, p.y)) - fx*p.x - fy*p.y
	}
	near, off := a, 0.0
	if b.rest-b.dead < a.rest-a.dead {
		near, off = b, chord
	}
	if near.rest-near.dead > short*chord {
		return from
	}
	r := max(near.rest*(1+near.law.Strain(f))-near.dead, 0)
	if p := (place{x: off + r*fx/f, y: r * fy / f}); potential(p) < potential(from) {
		return p
	}
	return from
}

// jamSlack is a place to begin from on a slack line: the corner of the triangle
// that both pieces make at their lengths, those stretched by what the load puts
// on them there. On a stiff line the true place lies that near to it; anywhere
// else Newton's steps would cross from one leg taut to the other and back.
func jamSlack(chord float64, a, b *run, fx, fy float64) (p place, ok bool) {
	ra, rb := a.rest-a.dead, b.rest-b.dead
	for range 4 {
		if ra <= 0 || rb <= 0 || ra+rb <= chord || math.Abs(ra-rb) >= chord {
			return p, ok
		}
		x := (chord + (ra-rb)*(ra+rb)/chord) / 2
		y := math.Sqrt(max(0, (ra-x)*(ra+x)))
		if y <= 1e-6*chord {
			return p, ok
		}
		p, ok = place{x: x, y: y}, true
		// the load split into the directions of the legs
		ta := (fx*y/rb - fy*(x-chord)/rb) * ra * rb / (y * chord)
		tb := (fy*x/ra - fx*y/ra) * ra * rb / (y * chord)
		ra, rb = a.rest*(1+a.law.Strain(ta))-a.dead, b.rest*(1+b.law.Strain(tb))-b.dead
	}
	return p, ok
}

// jamHalving comes near the place by halving alone, for the few cases in which
// Newton's steps go to and fro over a bend of the law: the potential is convex,
// so its slope along x rises, and so does its slope along y at the lowest x.
func jamHalving(chord float64, a, b *run, fx, fy, f float64) place {
	far := chord + a.rest*(1+a.law.Strain(f)) + b.rest*(1+b.law.Strain(f))
	lowest := func(y float64) (x, slopeY float64) {
		lo, hi := -far, far
		for range halvings {
			x = (lo + hi) / 2
			g := gradient(chord, a, b, fx, fy, x, y)
			if slopeY = g.y; g.x > 0 {
				hi = x
			} else {
				lo = x
			}
		}
		return x, slopeY
	}
	lo, hi := 0.0, far
	var p place
	for range halvings {
		p.y = (lo + hi) / 2
		var slope float64
		if p.x, slope = lowest(p.y); slope > 0 {
			hi = p.y
		} else {
			lo = p.y
		}
	}
	return p
}

// halvings leave a billionth of the way.
const halvings = 36
