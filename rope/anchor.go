package rope

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// The most of each that a case may hold.
const (
	maxBolts = 64
	maxLoads = 1000
)

// The usual factors. Sources: gamma M2, EN 1993-1-8; bearing, punching and core
// are judgement, and so are those on an eye and a line.
const (
	usualEye     = 1
	usualBolt    = 1.25
	usualBearing = 3
	usualPunch   = 4
	usualCore    = 2
	usualLine    = 2
)

// anchor is a case being reckoned.
type anchor struct {
	c                       *AnchorCase
	f                       AnchorFactors
	group                   *group
	along, across, out      r3.Vec // axes of the foot
	middle                  r3.Vec // from the middle of the bolts to the pulled point, in the axes of the foot
	result                  AnchorResult
	resistance              Resistance
	boltErr                 error
	noTilt, noTwist, noFoot bool // what kept the bolts from being reckoned
}

// CheckAnchor reckons an anchor: the load on each bolt, the chain of its parts with
// the weakest named, and what a cored deck must have under it. It returns an
// *AnchorError that names all that is wrong with a case; a figure that is only
// missing is no error: what rests on it reads "unknown", without a margin.
func CheckAnchor(c AnchorCase) (AnchorResult, error) {
	a, err := newAnchor(c)
	if err != nil {
		return AnchorResult{}, err
	}
	return a.result, nil
}

// newAnchor reckons a case.
func newAnchor(c AnchorCase) (*anchor, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	a := &anchor{c: &c, group: newGroup(&c)}
	a.result = AnchorResult{Name: c.Name, Cautions: []Caution{CautionEstimate, CautionAssumed, CautionProof, CautionMargin}}
	a.factors()
	a.axes()
	a.resistance, a.boltErr = c.Bolts.Resistance(a.f.Bolt)
	for _, l := range c.Loads {
		a.result.Loads = append(a.result.Loads, a.load(l))
	}
	a.result.Parts = a.parts()
	a.result.Demand = a.demand()
	a.judge()
	return a, nil
}

// factors fills in the usual factors and notes each one it fills in.
func (a *anchor) factors() {
	a.f = a.c.Factors
	for _, x := range []struct {
		at    *float64
		usual float64
		says  string
	}{
		{&a.f.Eye, usualEye, "factor on the eye's rated load: 1"},
		{&a.f.Bolt, usualBolt, "partial factor of bolts: 1.25"},
		{&a.f.Bearing, usualBearing, "factor on bearing: 3"},
		{&a.f.Punch, usualPunch, "factor on punching: 4"},
		{&a.f.Core, usualCore, "factor on the core: 2"},
		{&a.f.Line, usualLine, "factor on what the line holds: 2"},
	} {
		if *x.at == 0 {
			*x.at = x.usual
			a.result.Assumed = append(a.result.Assumed, x.says)
		}
	}
	for _, what := range a.c.Assumed {
		a.result.Assumed = append(a.result.Assumed, "entered as a guess: "+string(what))
	}
}

// axes lays the axes of the foot: out of the deck, along the foot where its
// heading meets the deck, and across to the left of that.
func (a *anchor) axes() {
	n := r3.Vec(a.c.Normal)
	if n == (r3.Vec{}) {
		n = r3.Vec{Z: 1}
	}
	a.out = r3.Unit(n)
	sin, cos := math.Sincos(a.c.Heading)
	way := r3.Vec{X: cos, Y: sin}
	way = r3.Sub(way, r3.Scale(r3.Dot(way, a.out), a.out))
	if r3.Norm(way) < 1e-6 { // a foot on a bulkhead that heads straight into it: its length is taken upright
		way = r3.Sub(r3.Vec{Z: 1}, r3.Scale(a.out.Z, a.out))
	}
	a.along = r3.Unit(way)
	a.across = r3.Cross(a.out, a.along)
	a.middle = r3.Vec{X: a.c.Offset.Along - a.group.mid.Along, Y: a.c.Offset.Across - a.group.mid.Across, Z: a.c.Stands}
}

// local returns a force in the axes of the foot.
func (a *anchor) local(force Vector) r3.Vec {
	f := r3.Vec(force)
	return r3.Vec{X: r3.Dot(f, a.along), Y: r3.Dot(f, a.across), Z: r3.Dot(f, a.out)}
}

// load takes one load apart, down to the bolts.
func (a *anchor) load(l AnchorLoad) EyeLoad {
	f := a.local(l.Force)
	m := r3.Cross(a.middle, f)
	tilt := Plan{m.Y, -m.X} // towards where the foot goes down
	e := EyeLoad{
		Name: l.Name, Along: f.X, Across: f.Y, Out: f.Z, Shear: math.Hypot(f.X, f.Y),
		Tilt: math.Hypot(m.X, m.Y), Twist: m.Z,
	}
	if len(a.group.at) == 0 {
		return e
	}
	shear, ok := a.group.shear(f.X, f.Y, m.Z)
	if !ok {
		a.noTwist = true
		shear, _ = a.group.shear(f.X, f.Y, 0)
	}
	elastic, pivot := a.group.elastic(f.Z, tilt), a.group.pivot(f.Z, tilt)
	a.noTilt = a.noTilt || elastic == nil && pivot == nil
	a.noFoot = a.noFoot || a.group.corner == nil && e.Tilt > 0
	greatest := 0.0
	for i := range a.group.at {
		b := BoltLoad{At: a.c.Bolts.At[i], Shear: shear[i]}
		if elastic != nil {
			b.Elastic = elastic[i]
		}
		if pivot != nil {
			b.Pivot = pivot[i]
		}
		b.Pull = max(b.Elastic, b.Pivot, 0)
		if b.Pull > greatest {
			greatest, e.Model = b.Pull, "about the middle of the bolts"
			if b.Pivot > b.Elastic {
				e.Model = "about the edge of the foot"
			}
		}
		if a.boltErr == nil {
			b.Used = a.resistance.used(b.Pull, b.Shear)
		}
		e.Bolts = append(e.Bolts, b)
	}
	return e
}

// judge reads the verdict of the chain off its parts.
func (a *anchor) judge() {
	r := &a.result
	r.Verdict = Meets
	least := math.Inf(1)
	for _, p := range r.Parts {
		switch {
		case p.Verdict == NotKnown:
			if r.Verdict == Meets {
				r.Verdict = NotKnown
			}
			r.Missing = append(r.Missing, p.Missing...)
		case p.Margin < least:
			least, r.Weakest = p.Margin, p.Says
		}
		if p.Verdict == MeetsNot {
			r.Verdict = MeetsNot
		}
	}
	r.Missing = once(r.Missing)
	switch {
	case r.Verdict == NotKnown:
		r.Weakest = ""
	case !math.IsInf(least, 1):
		r.Margin = least
	}
}

// once returns the texts in their order, each once.
func once(texts []string) []string {
	var out []string
	seen := make(map[string]bool, len(texts))
	for _, t := range texts {
		if !seen[t] {
			seen[t] = true
			out = append(out, t)
		}
	}
	return out
}
