package jackstay

import (
	"math"

	"dogshore/rope"
)

// Gravity is the standard acceleration of free fall, m/s2.
const Gravity = 9.80665

// Strap is a leg of a tether: its law and its length.
type Strap struct {
	Law    rope.Law
	Length float64
}

// Drop is how a person comes to load the tether.
type Drop struct {
	Mass      float64
	Fall      float64 // free fall before the tether comes tight, m
	Speed     float64 // when it does, besides the fall, m/s
	Level     bool    // across a level deck: the weight does no work
	EdgeMu    float64 // friction of the tether over an edge
	EdgeAngle float64 // by which it bends there, rad
}

// Arrest is the moment of the greatest force.
type Arrest struct {
	Body    float64 // on the person, N
	Line    float64 // on the line or eye, N: less by the friction of the edge
	Travel  float64 // of the hook along the load, from where it lay, m
	Stretch float64 // of the tether, m
	Hold    Hold    // of the line at that moment; zero for a fixed eye
	Solves  int
}

// hanger is what a tether hangs on: pulled with f, the hook goes along the load
// by travel, for a newton more by give, and what it hangs on holds energy, in J
// above what it held before.
type hanger func(f float64) (travel, give, energy float64)

func fixedEye(float64) (travel, give, energy float64) { return 0, 0, 0 }

// Caught works out the arrest of a person by a strap on a span, pulled in the
// direction of h.Load, whatever its size. Energy is conserved: nothing is
// damped, the strap has no shock absorber, the body is rigid, the line has no
// mass; each of these makes the true peak less.
func Caught(s Span, h Hook, t Strap, d Drop) (Arrest, error) {
	u := h.Load.vec().unit()
	if err := d.check(t); err != nil {
		return Arrest{}, err
	}
	if u == (vec{}) {
		return Arrest{}, bad(BadValue, "", "the direction of the load is missing")
	}
	probe := func(f float64) (Hold, error) {
		h.Load = u.mul(f).force()
		return Hang(s, h)
	}
	rest, err := probe(1e-9)
	if err != nil {
		return Arrest{}, err
	}
	from, began := s.From.vec().mix(s.To.vec(), h.startOn()), restEnergy(s, h)
	on := func(f float64) (travel, give, energy float64) {
		rest, _ = probe(f)
		return rest.At.vec().sub(from).dot(u), rest.Give, rest.Energy - began
	}
	out := arrest(on, &t, &d)
	out.Hold = rest
	return out, nil
}

// startOn is where on the chord a hook lies before it is loaded: where it
// grips, or, running, in the middle.
func (h *Hook) startOn() float64 {
	if h.Jammed {
		return h.At
	}
	return 0.5
}

// restEnergy is what the line holds before it is loaded.
func restEnergy(s Span, h Hook) float64 {
	l := s.From.vec().dist(s.To.vec())
	law := springed(s.Law, s.Rest, s.SpringFrom, s.SpringTo)
	if h.Jammed { // two pieces, each sprung at its end
		t := h.At
		la, lb := springed(s.Law, t*s.Rest, s.SpringFrom, 0), springed(s.Law, (1-t)*s.Rest, 0, s.SpringTo)
		return t*s.Rest*la.Energy(l/s.Rest-1) + (1-t)*s.Rest*lb.Energy(l/s.Rest-1)
	}
	return s.Rest * law.Energy(l/s.Rest-1)
}

// CaughtByEye works out the arrest of a person by a strap on a fixed eye.
func CaughtByEye(t Strap, d Drop) (Arrest, error) {
	if err := d.check(t); err != nil {
		return Arrest{}, err
	}
	return arrest(fixedEye, &t, &d), nil
}

func (d *Drop) check(t Strap) error {
	e := &Invalid{}
	if t.Law.Zero() || !(t.Length > 0) || math.IsInf(t.Length, 0) {
		e.add(BadStuff, "", "a tether needs a stretch law and a length above 0, not %g m", t.Length)
	}
	if !(d.Mass > 0) || !(d.Fall >= 0) || !(d.Speed >= 0) || !(d.EdgeMu >= 0) || !(d.EdgeAngle >= 0) ||
		!finite(d.Mass, d.Fall, d.Speed, d.EdgeMu*d.EdgeAngle) {
		e.add(BadValue, "", "mass %g kg, fall %g m, speed %g m/s, edge %g over %g rad: numbers from 0 up, the mass above 0", d.Mass, d.Fall, d.Speed, d.EdgeMu, d.EdgeAngle)
	}
	return e.orNil()
}

// arrest finds the force F on the body at which all energy has gone into line
// and strap. With k = exp(-mu alpha) the line feels k F, and the edge takes
// (1-k)/k of what the line takes up:
//
//	m g (h + s(kF) + dt(F)) + m v^2/2 = U_line(kF)/k + U_strap(F)
//
// The difference rises with F above the weight, and its slope is
// (F - mg)(ds/dF + ddt/dF), so Newton's steps from above come down to the root.
func arrest(on hanger, t *Strap, d *Drop) Arrest { return arrestFrom(on, t, d, 0) }

// arrestFrom is arrest with a first guess of the force; 0 for none.
func arrestFrom(on hanger, t *Strap, d *Drop, guess float64) Arrest {
	k := math.Exp(-d.EdgeMu * d.EdgeAngle)
	weight := d.Mass * Gravity
	if d.Level {
		weight = 0
	}
	out := Arrest{}
	lack := func(f float64) (lack, slope float64) {
		travel, give, u := on(k * f)
		e := t.Law.Strain(f)
		_, stiff := t.Law.At(e + 1e-300)
		out.Body, out.Line, out.Travel, out.Stretch = f, k*f, travel, t.Length*e
		out.Solves++
		lack = u/k + t.Length*t.Law.Energy(e) - weight*(d.Fall+travel+out.Stretch) - d.Mass*d.Speed*d.Speed/2
		return lack, (f - weight) * (k*give + t.Length/stiff)
	}
	if weight == 0 && d.Speed == 0 {
		lack(0)
		return out
	}
	f := guess
	if f <= weight {
		f = 3*weight + d.Speed*math.Sqrt(d.Mass*t.Law.Slope()/t.Length)/4 + 1
	}
	lo, hi := weight, math.Inf(1)
	for out.Solves < 120 {
		g, slope := lack(f)
		if g > 0 {
			hi = f
		} else {
			lo = f
		}
		next := min(f-g/slope, 4*f)
		if !(next > lo && next < hi) {
			next = (lo + min(hi, 4*f)) / 2
		}
		if math.Abs(next-f) <= 1e-10*f {
			break
		}
		f = next
	}
	return out
}
