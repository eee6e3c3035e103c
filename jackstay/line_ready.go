package jackstay

import (
	"math"

	"dogshore/plane"
	"dogshore/rope"
)

// Steps of the sweep: the reference for its accuracy is a test that halves
// them.
const (
	jamStep    = 0.1 // m, between places where a hook may jam
	endStep    = 0.02
	endPart    = 0.21 // m, from each support, stepped more closely
	directions = 64   // around the compass; the load's mirror image in the chord needs no solve of its own
	half       = directions/2 + 1
)

// spanReady is one span with what the sweep needs of it.
type spanReady struct {
	a, b          vec
	chord         float64
	flat          vec     // level direction of the chord
	side          vec     // level, to its left
	before, after float64 // length of line, of free guides, between the span's ends and where the line is held fast
	prev, next    vec     // directions from a, b to the supports before and behind, if any
	runsA, runsB  bool    // whether the line runs through at a, b
	springA       float64 // of the anchorage at which the run before ends
	springB       float64
	dirs          [half]dirReady
}

// dirReady is one level direction of the load.
type dirReady struct {
	cos, sin float64 // to the flat chord
	fx, fy   float64 // of a unit load, in the plane of chord and load
	across   vec     // of that plane
	mirrored vec
}

// lineReady is a line at one stiffness.
type lineReady struct {
	l     *Line
	spans []spanReady
	law   rope.Law
	ratio float64 // unstretched over length
	t0    float64
	chain Chain
}

func (l *Line) length() float64 {
	var sum float64
	for i := 1; i < len(l.Supports); i++ {
		sum += l.Supports[i].At.vec().dist(l.Supports[i-1].At.vec())
	}
	return sum
}

// fast says whether no line passes support i.
func (l *Line) fast(i int) bool {
	return i == 0 || i == len(l.Supports)-1 || l.Supports[i].Kind != GuideSupport
}

// guides says whether the line runs through any support.
func (l *Line) guides() bool {
	for i := range l.Supports {
		if !l.fast(i) {
			return true
		}
	}
	return false
}

// ready makes a line ready at one stiffness.
func (l *Line) ready(scale float64) *lineReady {
	law, _ := l.Stuff.law()
	r := &lineReady{l: l, law: law.Scaled(scale), ratio: 1}
	length, give := l.length(), 0.0
	for _, s := range []Support{l.Supports[0], l.Supports[len(l.Supports)-1]} {
		if s.Spring > 0 {
			give += 1 / s.Spring
		}
	}
	switch {
	case l.Slack != nil:
		r.ratio = 1 + *l.Slack
	case l.Pretense != nil:
		// the anchorages have come so much nearer to each other
		r.ratio = (1 - *l.Pretense*give/length) / (1 + r.law.Strain(*l.Pretense))
	}
	whole := springed(r.law, length*r.ratio, l.Supports[0].Spring, l.Supports[len(l.Supports)-1].Spring)
	r.t0, _ = whole.At(1/r.ratio - 1)
	r.chain = Chain{Law: whole, Rest: length * r.ratio}
	for i, s := range l.Supports {
		mu := 0.15
		if s.Friction != nil {
			mu = *s.Friction
		}
		r.chain.Supports = append(r.chain.Supports, Held{At: s.At, Fixed: l.fast(i), Friction: mu})
	}
	for i := 1; i < len(l.Supports); i++ {
		r.spans = append(r.spans, l.spanReady(i))
	}
	return r
}

func (l *Line) spanReady(i int) spanReady {
	s := spanReady{a: l.Supports[i-1].At.vec(), b: l.Supports[i].At.vec(), runsA: !l.fast(i - 1), runsB: !l.fast(i)}
	s.chord = s.a.dist(s.b)
	along := s.a.toward(s.b)
	s.flat = vec{along[0], along[1], 0}.unit()
	if s.flat == (vec{}) {
		s.flat = vec{1, 0, 0} // a line up a mast: any level direction is square to it
	}
	s.side = vec{-s.flat[1], s.flat[0], 0}
	j := i - 1
	for ; !l.fast(j); j-- {
		s.before += l.Supports[j].At.vec().dist(l.Supports[j-1].At.vec())
	}
	s.springA = l.springAt(j)
	for j = i; !l.fast(j); j++ {
		s.after += l.Supports[j].At.vec().dist(l.Supports[j+1].At.vec())
	}
	s.springB = l.springAt(j)
	if i > 1 {
		s.prev = s.a.toward(l.Supports[i-2].At.vec())
	}
	if i < len(l.Supports)-1 {
		s.next = s.b.toward(l.Supports[i+1].At.vec())
	}
	for k := range s.dirs {
		sin, cos := math.Sincos(math.Pi * float64(k) / (half - 1))
		if k == half-1 {
			sin, cos = 0, -1
		}
		s.dirs[k] = s.dir(along, cos, sin)
	}
	return s
}

// springAt is the spring of the line's end i; a support in between is rigid.
func (l *Line) springAt(i int) float64 {
	if i == 0 || i == len(l.Supports)-1 {
		return l.Supports[i].Spring
	}
	return 0
}

// dir makes a level direction ready.
func (s *spanReady) dir(along vec, cos, sin float64) dirReady {
	u := s.flat.mul(cos).add(s.side.mul(sin))
	p := newPlaneOf(vec{}, along, u)
	d := dirReady{cos: cos, sin: sin, fx: p.fx, fy: p.fy, across: p.across}
	d.mirrored = d.across.sub(s.side.mul(2 * d.across.dot(s.side)))
	return d
}

// toward makes the level direction from p to q ready; the span's own side is
// turned to it, so that the direction lies at 0 to 180 degrees.
func (s *spanReady) toward(u plane.Point) dirReady {
	cos, sin := u.X*s.flat[0]+u.Y*s.flat[1], u.X*s.side[0]+u.Y*s.side[1]
	return s.dir(s.a.toward(s.b), cos, sin)
}

// laid is a span with a hook that grips at a place, or runs.
type laid struct {
	chord      float64
	at         float64 // of the hook along the chord before it is loaded, m
	a, b       run     // jammed: what lies to either side
	whole      run     // running
	runs       bool
	lawA, lawB rope.Law
}

// jamAt lays a hook that grips at x along the chord; stuck tells whether the
// line is also stuck in its guides.
func (r *lineReady) jamAt(s *spanReady, x float64, stuck bool, out *laid) {
	before, after := s.before, s.after
	ka, kb := s.springA, s.springB
	if stuck {
		before, after = 0, 0
		if s.runsA {
			ka = 0
		}
		if s.runsB {
			kb = 0
		}
	}
	out.chord, out.at, out.runs = s.chord, x, false
	out.a = newRun(&r.law, (before+x)*r.ratio, before)
	out.b = newRun(&r.law, (after+s.chord-x)*r.ratio, after)
	if ka > 0 {
		out.lawA = springed(r.law, out.a.rest, ka, 0)
		out.a = newRun(&out.lawA, out.a.rest, out.a.dead)
	}
	if kb > 0 {
		out.lawB = springed(r.law, out.b.rest, kb, 0)
		out.b = newRun(&out.lawB, out.b.rest, out.b.dead)
	}
}

// runIn lays a hook that runs along span s.
func (r *lineReady) runIn(s *spanReady, stuck bool, out *laid) {
	r.jamAt(s, s.chord/2, stuck, out)
	out.runs = true
	out.whole = newRun(&r.law, out.a.rest+out.b.rest, out.a.dead+out.b.dead)
	if out.a.law != &r.law || out.b.law != &r.law {
		ka, kb := 0.0, 0.0
		if out.a.law != &r.law {
			ka = s.springA
		}
		if out.b.law != &r.law {
			kb = s.springB
		}
		out.lawA = springed(r.law, out.whole.rest, ka, kb)
		out.whole = newRun(&out.lawA, out.whole.rest, out.whole.dead)
	}
}

// pulled solves for a load in the plane of chord and load.
func (l *laid) pulled(fx, fy float64, from place, near bool) place {
	if l.runs {
		return slide(l.chord, &l.whole, fx, fy, Stop)
	}
	return jam(l.chord, &l.a, &l.b, fx, fy, rough, from, near)
}

// energy is what the line holds with the hook at a place of the plane.
func (l *laid) energy(x, y float64) float64 {
	ra, rb := math.Sqrt(x*x+y*y), math.Sqrt((x-l.chord)*(x-l.chord)+y*y)
	if l.runs {
		return l.whole.energy(ra + rb)
	}
	return l.a.energy(ra) + l.b.energy(rb)
}

// caught works out an arrest with the load in the direction d, the first force
// tried being guess.
func (l *laid) caught(d *dirReady, t *Strap, drop *Drop, guess float64, solves *int) (Arrest, place) {
	var last place
	near := false
	began := l.energy(l.at, 0)
	out := arrestFrom(func(f float64) (travel, give, energy float64) {
		last = l.pulled(f*d.fx, f*d.fy, last, near)
		near = true
		return (last.x-l.at)*d.fx + last.y*d.fy, last.give, l.energy(last.x, last.y) - began
	}, t, drop, guess)
	*solves += out.Solves
	return out, last
}
