package gybe

import (
	"math"

	"dogshore/rope"
)

// The defaults of a case. Sources: density of the standard atmosphere; force on
// a plate square to the wind, from memory; the centre of a triangle.
const (
	usualAir    = 1.225
	usualForce  = 1.2
	usualAft    = 1.0 / 3
	usualFactor = 2
	usualDrag   = 1.2
	usualWater  = 1025
)

// stretches are the factors on a line's stiffness that every case is reckoned
// with: textile line has no single one.
var stretches = [3]float64{0.5, 1, 2}

// reckoning is a case with its defaults filled in.
type reckoning struct {
	c       Case
	out     Result
	inertia float64
	end     float64 // lever of the boom's end about the mast
}

// Reckon returns what each preventer of a case sees on each side it is used on.
// It returns an *Invalid that names all that is wrong with a case. A boom that
// no line holds is no error: its outcome says so, in words.
func Reckon(c Case) (Result, error) {
	if err := c.check(); err != nil {
		return Result{}, err
	}
	r := &reckoning{c: c}
	r.out.Leads = []Lead{}
	r.out.Cautions = []rope.Caution{rope.CautionEstimate, rope.CautionAssumed, rope.CautionProof, rope.CautionZones, rope.CautionAback, rope.CautionMargin}
	r.defaults()
	r.sail()
	r.swing()
	r.sheet()
	r.dip()
	for i := range r.c.Preventers {
		p := &r.c.Preventers[i]
		for _, side := range p.sides() {
			r.out.Leads = append(r.out.Leads, r.lead(p, side))
		}
	}
	return r.out, nil
}

// assume fills in a default and notes it.
func (r *reckoning) assume(at *float64, usual float64, says string) {
	if *at == 0 {
		*at = usual
		r.out.Assumed = append(r.out.Assumed, says)
	}
}

func (r *reckoning) defaults() {
	c := &r.c
	r.assume(&c.Air, usualAir, "density of air: 1.225 kg/m³")
	r.assume(&c.Sail.Force, usualForce, "force coefficient of the sail square to the wind: 1.2")
	r.assume(&c.Sail.Aft, usualAft*c.Sail.Foot, "the sail's force acts a third of its foot aft of the mast, as of a triangle; a full leech brings it farther aft")
	r.assume(&c.Factor, usualFactor, "a part must be rated for twice its greatest load")
	if c.Dip != nil {
		d := *c.Dip
		c.Dip = &d
		r.assume(&d.Drag, usualDrag, "drag coefficient of the boom in the water: 1.2")
		r.assume(&d.Water, usualWater, "density of sea water: 1025 kg/m³")
	}
	r.end = math.Sqrt(c.Boom.Length*c.Boom.Length - c.Boom.Rise*c.Boom.Rise)
	r.out.Assumed = append(r.out.Assumed, "stiffness of the line: reckoned with half and twice what was entered")
}

// press returns the dynamic pressure of a wind.
func (r *reckoning) press(wind float64) float64 { return r.c.Air * wind * wind / 2 }

// moment returns the moment of the sail about the mast in a wind.
func (r *reckoning) moment(wind float64) float64 {
	return r.press(wind) * r.c.Sail.Area * r.c.Sail.Force * r.c.Sail.Aft
}

func (r *reckoning) sail() {
	low, high := r.c.Wind.Low, r.c.Wind.top()
	at := Setting{Wind: high}
	s := &r.c.Sail
	r.out.Press = Range{r.press(low), r.press(high), at}
	r.out.Force = Range{r.press(low) * s.Area * s.Force, r.press(high) * s.Area * s.Force, at}
	r.out.Moment = Range{r.moment(low), r.moment(high), at}
	r.inertia = inertia(&r.c)
	r.out.Inertia = r.inertia
	if s.Luff == 0 {
		r.out.Assumed = append(r.out.Assumed, "the air that the sail carries along is left out of its inertia: its hoist is not known")
	}
}

// inertia returns the moment of inertia about the mast of a uniform boom,
// m L^2/3, a triangular sail, m E^2/6, and the air a triangle carries along, a
// fifth of a rectangle's 9/128 pi rho E^4 P (a plate hinged at its edge, by
// strips).
func inertia(c *Case) float64 {
	s := &c.Sail
	air := 9.0 / 128 * math.Pi * c.Air * math.Pow(s.Foot, 4) * s.Luff / 5
	return c.Boom.Mass*c.Boom.Length*c.Boom.Length/3 + s.Mass*s.Foot*s.Foot/6 + air
}

// swing is the boom let go in the greatest wind, square to the sail all the
// way: I w' = k (V - x w)^2.
func (r *reckoning) swing() {
	if r.c.Boom.Mass == 0 && r.c.Sail.Mass == 0 {
		return
	}
	wind, x := r.c.Wind.top(), r.c.Sail.Aft
	k := r.press(1) * r.c.Sail.Area * r.c.Sail.Force * x
	a := k * x * wind / r.inertia
	// The angle grows with time for ever, so a doubling finds a time too long.
	angle := func(t float64) float64 { return wind / x * (t - math.Log1p(a*t)/a) }
	long := 1.0
	for angle(long) < r.c.Boom.Out {
		long *= 2
	}
	t := bisect(0, long, func(t float64) bool { return angle(t) < r.c.Boom.Out })
	rate := wind / x * a * t / (1 + a*t)
	r.out.Swing = Swing{Angle: r.c.Boom.Out, Time: t, Rate: rate, End: rate * r.end}
}

const (
	knot       = 1852.0 / 3600 // m/s
	gravity    = 9.80665       // N per kgf
	sheetConst = 0.02104       // kgf, m, knots
)

// sheet is the trade's formula for the mainsheet's load:
// E^2 P^2 0.02104 V^2 / (sqrt(P^2 + E^2) (E - X)), in kgf, m and knots.
func (r *reckoning) sheet() {
	m := r.c.Sheet
	if m == nil {
		return
	}
	e, p, v := r.c.Sail.Foot, r.c.Sail.Luff, m.Wind/knot
	r.out.Sheet = &SheetLoad{Load: gravity * e * e * p * p * sheetConst * v * v / (math.Hypot(p, e) * (e - m.Forward))}
}

// drag returns the water's drag on the end of the boom at a speed.
func (r *reckoning) drag(speed float64) float64 {
	d := r.c.Dip
	return d.Water / 2 * d.Drag * d.Immersed * r.c.Boom.Depth * speed * speed
}

func (r *reckoning) dip() {
	d := r.c.Dip
	if d == nil {
		return
	}
	b := &r.c.Boom
	out := math.Abs(b.Gooseneck.Y) + r.end*math.Sin(b.Out)
	r.out.Dip = &DipLoad{
		Force: Range{r.drag(d.Speed.Low), r.drag(d.Speed.top()), Setting{}},
		Roll:  math.Atan2(b.Gooseneck.Z+b.Rise, out),
	}
}
