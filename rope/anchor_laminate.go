package rope

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

func (u Under) cored() bool { return u.Sort == UnderFoam || u.Sort == UnderBalsa }

// skins returns the laminate that bears on the bolts' shanks and that which
// their backing pulls on: the whole thickness of what is solid, of a sandwich
// the outer and the inner skin.
func (u Under) skins() (bears, pulled float64) {
	if u.cored() {
		return u.Outer, u.Inner
	}
	return u.Solid, u.Solid
}

func (a *anchor) laminateMissing(thick float64, strength float64, says string) []string {
	if a.c.Under.Sort == "" {
		return []string{UnderFoot}
	}
	missing := append(need(thick, "thickness of the laminate under the foot"), need(strength, says)...)
	return append(missing, a.guessed(AssumedLaminate, "the laminate under the foot")...)
}

// bearing is V_bolt / (d t) against the bearing strength, where the bolts lie
// so that the laminate fails by bearing: 3 d from an edge, 4 d apart.
func (a *anchor) bearing() ChainPart {
	d := a.c.Bolts.Size
	thick, _ := a.c.Under.skins()
	most, under := a.worst(mostBolt(shearOf))
	if most == 0 && len(a.c.Bolts.At) > 0 {
		return ChainPart{}
	}
	p := ChainPart{Key: PartBearing, Says: "the laminate, bearing on the bolts", Under: under, Unit: "Pa", Factor: a.f.Bearing, Holds: a.c.Under.Bearing}
	p.Missing = append(a.placeMissing(), need(d, "size of the bolts")...)
	p.Missing = append(p.Missing, a.laminateMissing(thick, p.Holds, "bearing strength of the laminate")...)
	p.Missing = append(p.Missing, a.guessed(AssumedBolts, "size, grade, number and places of the bolts")...)
	edge, known := a.edge()
	if !known {
		p.Missing = append(p.Missing, "size of the solid laminate, or how far the bolts are from its edge")
	}
	if d*thick > 0 {
		p.Load = most / (d * thick)
	}
	p = p.close()
	if p.Verdict == NotKnown {
		return p
	}
	// Nearer than that the laminate tears out before it bears: the strength is
	// taken down in proportion, so that the margin says how much is missing.
	if near := min(edge/(leastEdge*d), a.pitch()/(leastPitch*d)); near < 1 {
		p.Says += ", too near to an edge or to each other"
		p.Holds *= max(near, 0)
		p = p.close()
	}
	return p
}

// leastEdge and leastPitch are bolt diameters to an edge and from bolt to bolt.
const (
	leastEdge  = 3
	leastPitch = 4
)

// edge returns the least distance from a bolt to the edge of the laminate that
// it bears on; of a skin that runs on, none is near.
func (a *anchor) edge() (float64, bool) {
	u := a.c.Under
	switch {
	case u.Edge > 0:
		return u.Edge, true
	case u.cored() || u.AllSolid:
		return math.Inf(1), true
	case u.Long <= 0 || u.Wide <= 0:
		return 0, false
	}
	least := math.Inf(1)
	for _, b := range a.c.Bolts.At {
		least = min(least, u.Long/2-math.Abs(b.Along), u.Wide/2-math.Abs(b.Across))
	}
	return least, true
}

// pitch returns the least distance between two bolts.
func (a *anchor) pitch() float64 {
	least := math.Inf(1)
	for i, p := range a.c.Bolts.At {
		for _, q := range a.c.Bolts.At[:i] {
			least = min(least, math.Hypot(p.Along-q.Along, p.Across-q.Across))
		}
	}
	return least
}

// punch is the pull against u t tau: round the plate with all pulls together if
// the plate is thick enough to be stiff, else round each washer or nut.
func (a *anchor) punch() ChainPart {
	_, thick := a.c.Under.skins()
	round, of := a.rim()
	most, under := a.worst(of)
	if most == 0 && len(a.c.Bolts.At) > 0 {
		return ChainPart{}
	}
	p := ChainPart{Key: PartPunch, Says: "the laminate, the backing being pulled through it", Under: under, Load: most, Unit: "N", Factor: a.f.Punch}
	p.Holds = round * thick * a.c.Under.Shear
	p.Missing = append(a.placeMissing(), a.laminateMissing(thick, a.c.Under.Shear, "strength of the laminate in shear through its thickness")...)
	if round == 0 {
		p.Missing = append(p.Missing, "size of what backs the bolts")
	}
	p.Missing = append(p.Missing, a.guessed(AssumedBolts, "size, grade, number and places of the bolts")...)
	p.Missing = append(p.Missing, a.guessed(AssumedPlate, "what backs the bolts")...)
	return p.close()
}

// rim returns the length round what is pulled through, and the pull that goes
// with it. The length is 0 where that is not known.
func (a *anchor) rim() (float64, func(EyeLoad) float64) {
	b, d := a.c.Backing, a.c.Bolts.Size
	thick, _ := plateSize(b.Sort)
	one := mostBolt(pullOf)
	nut := math.Pi * nutWidth * d
	switch b.Sort {
	case "":
		return 0, one
	case BackingNone:
		return nut, one
	case BackingWashers:
		if b.Thick < thick*d {
			return nut, one // a thin washer cones
		}
		return math.Pi * b.Long, one
	}
	if b.Thick < thick*d {
		return nut, one
	}
	if b.Long <= 0 || b.Wide <= 0 {
		return 0, pulls
	}
	return 2 * (b.Long + b.Wide), pulls
}

// clampPart is the bolts' clamping on a core against its crushing. Where the
// bolts stand in solid laminate there is no such part.
func (a *anchor) clampPart() ChainPart {
	u := a.c.Under
	if u.Sort == UnderSolid || u.Sort == UnderInsert || u.AllSolid {
		return ChainPart{}
	}
	p := ChainPart{Key: PartClamp, Says: "the core, under the clamping of the bolts", Unit: "Pa", Factor: a.f.Core, Holds: u.CoreCrush}
	force, area := a.c.Bolts.clamp()*float64(len(a.c.Bolts.At)), a.clampArea()
	p.Missing = append(need(force, "size, grade and number of the bolts"), need(area, "size of the foot or of what backs the bolts")...)
	if u.Sort == "" {
		p.Missing = append(p.Missing, UnderFoot)
	}
	p.Missing = append(p.Missing, need(u.CoreCrush, "compressive strength of the core")...)
	p.Missing = append(p.Missing, a.guessed(AssumedCore, "the core")...)
	p.Missing = append(p.Missing, a.guessed(AssumedBolts, "size, grade, number and places of the bolts")...)
	if area > 0 {
		p.Load = force / area
	}
	return p.close()
}

// clampArea returns the area through which the bolts clamp the core: the lesser
// of the foot and what backs them.
func (a *anchor) clampArea() float64 {
	b, n := a.c.Backing, float64(len(a.c.Bolts.At))
	foot, back := a.c.Long*a.c.Wide, b.Long*b.Wide
	switch b.Sort {
	case "":
		return 0
	case BackingNone:
		back = n * math.Pi / 4 * nutWidth * nutWidth * a.c.Bolts.Size * a.c.Bolts.Size
	case BackingWashers:
		back = n * math.Pi / 4 * b.Long * b.Long
	}
	return min(foot, back)
}

// corePart is the shear of the core round the solid laminate or, in a bare
// sandwich, round the backing: (N/u + M/W)/dd.
func (a *anchor) corePart() ChainPart {
	u := a.c.Under
	if u.AllSolid {
		return ChainPart{}
	}
	p := ChainPart{Key: PartCore, Says: "the core round the solid laminate, in shear", Unit: "Pa", Factor: a.f.Core, Holds: u.CoreShear}
	if u.cored() {
		p.Says = "the core round the backing, in shear"
	}
	deep, sizes := u.deep()
	p.Missing = need(deep, "thickness of core and skins")
	long, wide := u.Long, u.Wide
	if u.cored() {
		long, wide = a.c.Backing.Long, a.c.Backing.Wide
		p.Missing = append(p.Missing, a.guessed(AssumedPlate, "what backs the bolts")...)
	}
	flow := func(e EyeLoad) float64 { return shearFlow(a.about(e), long, wide) }
	if u.cored() && (a.c.Backing.Sort == BackingWashers || a.c.Backing.Sort == BackingNone) {
		round, one := a.rim()
		flow = func(e EyeLoad) float64 { return one(e) / round }
		long, wide = round, round
		p.Missing = append(p.Missing, a.placeMissing()...)
	}
	if u.Sort == "" {
		p.Missing = append(p.Missing, UnderFoot)
	} else {
		p.Missing = append(p.Missing, need(long*wide, "size of the solid laminate or of what backs the bolts")...)
	}
	p.Missing = append(p.Missing, need(u.CoreShear, "shear strength of the core")...)
	p.Missing = append(p.Missing, a.guessed(AssumedCore, "the core")...)
	p.Missing = append(p.Missing, a.guessed(AssumedLaminate, "the laminate under the foot")...)
	if deep > 0 && sizes && long*wide > 0 {
		most, under := a.worst(flow)
		if most == 0 {
			return ChainPart{}
		}
		p.Load, p.Under = most/deep, under
	}
	return p.close()
}

// deep returns the distance between the middles of the skins.
func (u Under) deep() (float64, bool) {
	if u.Core <= 0 || u.Outer <= 0 || u.Inner <= 0 {
		return 0, false
	}
	return u.Core + (u.Outer+u.Inner)/2, true
}

// push is what a hard point carries across the deck: a force out of it, and
// moments that turn it over along and across.
type push struct{ out, along, across float64 }

// about returns the load of e on the hard point, at the middle of the bolts.
func (a *anchor) about(e EyeLoad) push {
	m := r3.Cross(a.middle, eyeForce(e))
	return push{math.Abs(e.Out), math.Abs(m.Y), math.Abs(m.X)}
}

// shearFlow returns the greatest shear per length (N/m) round a rectangular
// hard point that shears off along its rim: N/u + M/W, W = a b + a^2/3 for each
// direction, a being the length in the direction of the tilt.
func shearFlow(p push, long, wide float64) float64 {
	return p.out/(2*(long+wide)) + p.along/(long*wide+long*long/3) + p.across/(long*wide+wide*wide/3)
}
