package jackstay

import (
	"math"

	"dogshore/plane"
)

// sweep is one line at one stiffness, swept: a hook jammed at each step, and
// running, pulled in all level directions.
type sweep struct {
	s     *setup
	r     *lineReady
	q     int
	scrap laid

	slide    []float64 // per leg: greatest load of a slide
	arrest   float64   // greatest load of a fall, on the line
	body     float64   // and on the person
	fixedTo  float64   // on a hook that lies against its support
	tension  [2]float64
	sag      [2]float64
	spanSag  []float64
	loaded   []float64 // greatest length of each span with a slide's load on it, m
	jam, run []heavy   // per support
	reach    [][][]plane.Point
	sides    []sideSweep
	group    float64
	solves   int
	paths    pathBuffer
}

// heavy is the greatest load on a support.
type heavy struct {
	size float64
	load vec
}

func (h *heavy) take(v vec) {
	if n := v.norm(); n > h.size {
		h.size, h.load = n, v
	}
}

// pulled takes in the pull t of a leg that goes (x, y) to the hook, to either
// side of the chord, with the pull on of what lies behind.
func (h *heavy) pulled(t, on, x, y float64, along, behind vec, d *dirReady) {
	if t+on <= h.size { // cannot be more
		return
	}
	r := math.Sqrt(x*x + y*y)
	if r == 0 {
		return
	}
	x, y = t*x/r, t*y/r
	rest := along.mul(x).add(behind.mul(on))
	h.take(rest.add(d.across.mul(y)))
	h.take(rest.add(d.mirrored.mul(y)))
}

// free and stuck number the brackets of friction.
const (
	free = iota
	stuckFast
)

// part is one span in one bracket of friction, at one stiffness of one line:
// what is swept at a time.
type part struct {
	line, q, span, bracket int
}

// newSweep is an empty sweep of a line that is ready at stiffness q.
func (s *setup) newSweep(r *lineReady, q int) *sweep {
	n := len(r.l.Supports)
	return &sweep{
		s: s, r: r, q: q, slide: make([]float64, len(s.legs)), spanSag: make([]float64, n-1), loaded: make([]float64, n-1),
		jam: make([]heavy, n), run: make([]heavy, n), reach: make([][][]plane.Point, len(s.legs)), sides: make([]sideSweep, len(s.legs)*len(s.c.Edges)),
	}
}

// join takes in the sweep of a part.
func (w *sweep) join(p *sweep) {
	w.arrest, w.body, w.solves = max(w.arrest, p.arrest), max(w.body, p.body), w.solves+p.solves
	for k := range w.tension {
		w.tension[k], w.sag[k] = max(w.tension[k], p.tension[k]), max(w.sag[k], p.sag[k])
	}
	for g := range w.slide {
		w.slide[g] = max(w.slide[g], p.slide[g])
		w.reach[g] = append(w.reach[g], p.reach[g]...)
	}
	for i := range w.spanSag {
		w.spanSag[i], w.loaded[i] = max(w.spanSag[i], p.spanSag[i]), max(w.loaded[i], p.loaded[i])
	}
	for i := range w.jam {
		w.jam[i].take(p.jam[i].load)
		w.run[i].take(p.run[i].load)
	}
	for i := range w.sides {
		a, b := &w.sides[i], &p.sides[i]
		a.under.better(b.under)
		a.over.better(b.over)
	}
}

// finish adds what belongs to the line as a whole.
func (w *sweep) finish() {
	if !w.r.l.guides() {
		w.tension[stuckFast], w.sag[stuckFast] = w.tension[free], w.sag[free]
	}
	w.held()
	w.together()
}

// stiffest returns the leg that a fall loads most.
func (w *sweep) stiffest() *Strap {
	var out *Strap
	for i := range w.s.legs {
		t := &w.s.legs[i].strap[w.q]
		if out == nil || t.Law.Slope()/t.Length > out.Law.Slope()/out.Length {
			out = t
		}
	}
	return out
}

func (w *sweep) drops() (slide, fall Drop) {
	s := w.s
	return Drop{Mass: s.mass, Speed: s.slide, Level: true}, Drop{Mass: s.mass, Fall: s.fall, EdgeMu: s.edgeMu, EdgeAngle: s.edgeAngle}
}

// span sweeps one span in one bracket of friction.
func (w *sweep) span(i, bracket int) {
	s := &w.r.spans[i]
	even, near := jamPlaces(s.chord)
	w.paths.begin(len(w.s.legs), len(even)+len(near)+3)
	guess := make([]float64, len(w.s.legs)+1)
	for _, x := range even {
		w.r.jamAt(s, x, bracket == stuckFast, &w.scrap)
		w.fallAt(i, bracket, guess)
		w.slideAt(i, bracket, guess)
	}
	for _, x := range near {
		if bracket == free {
			w.r.jamAt(s, x, false, &w.scrap)
			w.slideAt(i, bracket, guess)
		}
	}
	w.r.runIn(s, bracket == stuckFast, &w.scrap)
	w.fallAt(i, bracket, guess)
	w.slideAt(i, bracket, guess)
	if bracket == stuckFast {
		return
	}
	slide, _ := w.drops()
	for g := range w.s.legs {
		t := &w.s.legs[g].strap[w.q]
		a := arrest(fixedEye, t, &slide)
		w.slide[g] = max(w.slide[g], a.Body)
		w.paths.ends(g, s, t.Length+a.Stretch)
		w.reach[g] = append(w.reach[g], w.paths.contour(g, s))
	}
	for _, x := range [2]float64{0, s.chord} {
		w.sidesAt(s, x, nil)
	}
}

// jamPlaces are where a hook may jam: at even steps; and close by the supports,
// beyond which a hook that jams near them is pulled, for the reach alone: of
// their loads the support itself has the greatest.
func jamPlaces(chord float64) (even, near []float64) {
	steps := max(1, int(math.Ceil(chord/jamStep-1e-9)))
	for k := range steps {
		even = append(even, chord*(float64(k)+0.5)/float64(steps))
	}
	for x := endStep; x < endPart && x < chord/2; x += endStep {
		near = append(near, x, chord-x)
	}
	return even, near
}

// fallAt works a fall at one place of a hook.
func (w *sweep) fallAt(i, bracket int, guess []float64) {
	_, fall := w.drops()
	n := len(w.s.legs)
	a, _ := w.scrap.caught(&w.r.spans[i].dirs[half/2], w.stiffest(), &fall, guess[n], &w.solves)
	guess[n] = a.Body
	w.arrest, w.body = max(w.arrest, a.Line), max(w.body, a.Body)
	w.forces(i, bracket, a.Line)
}

// slideAt works a slide on each leg at one place of a hook: where it takes the
// ring, and over which edge.
func (w *sweep) slideAt(i, bracket int, guess []float64) {
	s, l := &w.r.spans[i], &w.scrap
	slide, _ := w.drops()
	square := &s.dirs[half/2]
	forces := w.paths.forces[:len(w.s.legs)]
	for g := range w.s.legs {
		t := &w.s.legs[g].strap[w.q]
		a, p := l.caught(square, t, &slide, guess[g], &w.solves)
		guess[g], forces[g] = a.Body, a.Body
		w.slide[g] = max(w.slide[g], a.Body)
		w.sag[bracket] = max(w.sag[bracket], p.y)
		if bracket == free {
			w.spanSag[i] = max(w.spanSag[i], p.y)
			w.loaded[i] = max(w.loaded[i], math.Hypot(p.x, p.y)+math.Hypot(p.x-s.chord, p.y))
			w.trace(s, g, a.Body, t.Length*(1+t.Law.Strain(a.Body)))
		}
	}
	if bracket == free && !l.runs {
		w.sidesAt(s, l.at, forces)
	}
}

// forces pulls a fall's load around the compass, for tension and anchors.
func (w *sweep) forces(i, bracket int, f float64) {
	s, l := &w.r.spans[i], &w.scrap
	into := w.jam
	if l.runs {
		into = w.run
	}
	along := s.b.sub(s.a).mul(1 / s.chord)
	var p place
	for k := range s.dirs {
		d := &s.dirs[k]
		p = l.pulled(f*d.fx, f*d.fy, p, k > 0)
		w.solves++
		if p.at >= heldA {
			continue // worked apart, with the load of a fixed eye
		}
		w.tension[bracket] = max(w.tension[bracket], p.ta, p.tb)
		// what runs on behind a support pulls there too
		ta, tb := w.r.t0, w.r.t0
		if bracket == free && s.runsA {
			ta = p.ta
		}
		if bracket == free && s.runsB {
			tb = p.tb
		}
		into[i].pulled(p.ta, ta, p.x, p.y, along, s.prev, d)
		into[i+1].pulled(p.tb, tb, p.x-s.chord, p.y, along, s.next, d)
	}
	w.beyond(i, bracket, into)
}

// beyond carries the greatest tension of a span on to the supports behind the
// guides that it runs through.
func (w *sweep) beyond(i, bracket int, into []heavy) {
	if bracket == stuckFast {
		return
	}
	l, t := w.r.l, w.tension[free]
	carry := func(j, from, to int) {
		at := l.Supports[j].At.vec()
		v := at.toward(l.Supports[from].At.vec()).mul(t)
		switch {
		case to < 0 || to >= len(l.Supports):
		case l.fast(j):
			v = v.add(at.toward(l.Supports[to].At.vec()).mul(w.r.t0))
		default:
			v = v.add(at.toward(l.Supports[to].At.vec()).mul(t))
		}
		into[j].take(v)
	}
	for j := i; !l.fast(j); j-- {
		carry(j-1, j, j-2)
	}
	for j := i + 1; !l.fast(j); j++ {
		carry(j+1, j, j+2)
	}
}

// held is the hook that lies against its own support: nothing gives but the
// tether, so the load is that of a fixed eye.
func (w *sweep) held() {
	_, fall := w.drops()
	a := arrest(fixedEye, w.stiffest(), &fall)
	w.fixedTo = a.Line
	w.body = max(w.body, a.Body)
}

// together lets all persons that can be clipped at once fall together, evenly
// along the line, jammed and running.
func (w *sweep) together() {
	n := w.r.l.Together
	if n < 2 {
		return
	}
	length := w.r.l.length()
	for _, jammed := range [2]bool{false, true} {
		pulls := make([]Pull, n)
		for k := range pulls {
			x := length * (float64(k) + 0.5) / float64(n)
			for i := range w.r.spans {
				s := &w.r.spans[i]
				if x < s.chord || i == len(w.r.spans)-1 {
					pulls[k] = Pull{Span: i, At: min(max(x/s.chord, 0.01), 0.99), Load: s.side.mul(w.arrest).force(), Jammed: jammed}
					break
				}
				x -= s.chord
			}
		}
		for _, mu := range [2]float64{0, math.Inf(1)} {
			h := newChain(&w.r.chain, pulls, func(float64) float64 { return mu }).run(1)
			w.group = max(w.group, h.Tension)
			w.solves += n
		}
	}
}
