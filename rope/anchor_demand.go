package rope

import (
	"math"
)

// The low ends of what is usual, for a demand where no strength is entered.
// From memory: laminate and bearing, general composite handbooks (bearing: of
// 200 MPa, 60 % as it is not clamped); cores, makers' data sheets.
const (
	lowShear   = 20e6
	lowBearing = 120e6
)

var lowCore = map[string]struct{ shear, crush float64 }{
	UnderFoam:  {1.0e6, 1.2e6},
	UnderBalsa: {2.5e6, 12e6},
}

// taper is how many times its thickness a core runs down to solid laminate.
const taper = 3

// demand reckons what must be under the foot for the loads given.
func (a *anchor) demand() Demand {
	d := Demand{}
	u := a.c.Under
	a.demandThick(&d)
	if u.AllSolid {
		return d
	}
	switch {
	case u.cored():
		d.Replace = u.Sort
	case u.Sort == "":
		d.Replace = "the core, if there is one: nobody knows what is under it"
	default:
		d.Replace = "the core, out to the size given"
	}
	low := lowCore[UnderFoam]
	if u.Sort == UnderBalsa {
		low = lowCore[UnderBalsa]
	}
	shear := d.rest("shear strength of the core", u.CoreShear, low.shear)
	crush := d.rest("compressive strength of the core", u.CoreCrush, low.crush)
	if force := a.c.Bolts.clamp() * float64(len(a.c.Bolts.At)); force > 0 {
		d.Plate = force * a.f.Core / crush
	} else {
		d.Missing = append(d.Missing, "clamping of the bolts: their size, grade and number")
	}
	deep, ok := u.deep()
	if !ok {
		d.Missing = append(d.Missing, "size of the solid laminate: the thickness of core and skins")
		return d
	}
	d.Taper = taper * u.Core
	a.demandSize(&d, shear/a.f.Core*deep)
	return d
}

// rest notes the strength that a demand rests on, the low end of what is usual
// if none is known, and returns it.
func (d *Demand) rest(what string, known, low float64) float64 {
	r := Rest{What: what, Value: known, Unit: "Pa"}
	if known <= 0 {
		r.Value, r.Assumed = low, true
	}
	d.Rests = append(d.Rests, r)
	return r.Value
}

// demandThick is the least solid laminate for bearing and for punching.
func (a *anchor) demandThick(d *Demand) {
	if len(a.placeMissing()) > 0 || a.c.Bolts.Size <= 0 {
		d.Missing = append(d.Missing, "thickness of the laminate: size, number and places of the bolts, and the size of the foot")
		return
	}
	bearing := d.rest("bearing strength of the laminate", a.c.Under.Bearing, lowBearing)
	shear := d.rest("strength of the laminate in shear through its thickness", a.c.Under.Shear, lowShear)
	v, _ := a.worst(mostBolt(shearOf))
	d.Thick = v * a.f.Bearing / (a.c.Bolts.Size * bearing)
	round, of := a.rim()
	if round <= 0 {
		d.Missing = append(d.Missing, "thickness of the laminate against punching: what backs the bolts")
		return
	}
	pull, _ := a.worst(of)
	d.Thick = max(d.Thick, pull*a.f.Punch/(round*shear))
}

// demandSize is the least solid laminate seen from above, for a shear flow
// (N/m) that the core round it may take: the least radius of a round one, and
// the least rectangle that the foot, its backing and the bolts' edges grow to
// evenly.
func (a *anchor) demandSize(d *Demand, flow float64) {
	long, wide := max(a.c.Long, a.c.Backing.Long), max(a.c.Wide, a.c.Backing.Wide)
	for _, b := range a.c.Bolts.At {
		long = max(long, 2*math.Abs(b.Along)+2*leastEdge*a.c.Bolts.Size)
		wide = max(wide, 2*math.Abs(b.Across)+2*leastEdge*a.c.Bolts.Size)
	}
	d.Radius = math.Hypot(long, wide) / 2
	grow := 0.0
	for _, e := range a.result.Loads {
		p := a.about(e)
		// flow = N/(2 pi R) + M/(pi R^2), the root of a square equation
		b := p.out / (2 * math.Pi)
		m := math.Hypot(p.along, p.across) / math.Pi
		d.Radius = max(d.Radius, (b+math.Sqrt(b*b+4*flow*m))/(2*flow))
		grow = max(grow, growTo(p, long, wide, flow))
	}
	d.Long, d.Wide = long+2*grow, wide+2*grow
}

// growTo returns by how much all sides of a rectangle must move out until the
// shear flow round it is no more than flow, by bisection: the flow falls with
// every step outwards.
func growTo(p push, long, wide, flow float64) float64 {
	at := func(c float64) float64 {
		l, w := max(long, 1e-3)+2*c, max(wide, 1e-3)+2*c
		return shearFlow(p, l, w)
	}
	if at(0) <= flow {
		return 0
	}
	low, high := 0.0, 1.0
	for at(high) > flow && high < 1e6 {
		low, high = high, 2*high
	}
	for high-low > 1e-12*high {
		mid := (low + high) / 2
		if at(mid) > flow {
			low = mid
		} else {
			high = mid
		}
		if mid == low && mid == high {
			break
		}
	}
	return high
}
