package gybe

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"dogshore/plane"
	"dogshore/rope"
)

// The defaults of a sweep, both judgement.
const (
	usualHead = 0.1
	usualCar  = 0.15
)

// Sweep returns the zones that boom, sheet, traveller and preventers sweep, and
// which stations lie inside them. It returns an *Invalid that names all that is
// wrong with a case.
//
// The boom's arc is exact to a chord of 5 degrees laid outside it. The bight of
// the sheet is every place that a sheet let out for the boom right out can
// reach with the boom anywhere on its arc and the car anywhere on its track: the
// ellipsoids |p - boom| + |p - car| <= sheet seen from above. How far a way runs
// inside a zone is told to 5 cm, or a four-hundredth of the way.
func Sweep(c SweepCase) (SweepResult, error) {
	if err := c.check(); err != nil {
		return SweepResult{}, err
	}
	out := SweepResult{Cautions: []rope.Caution{rope.CautionZones, rope.CautionEstimate, rope.CautionAssumed}}
	if c.Head == 0 {
		c.Head = usualHead
		out.Assumed = append(out.Assumed, "room above a head: 0.1 m")
	}
	out.Assumed = append(out.Assumed, "heel, the stretch of the boom's gear and whatever hangs below the boom are left out")
	out.Zones = append(out.Zones, c.Boom.zone())
	if s := c.Sheet; s != nil {
		bight, err := c.bight()
		if err != nil {
			return SweepResult{}, err
		}
		out.Zones = append(out.Zones, bight)
		if s.To != nil {
			if s.Car == 0 {
				out.Assumed = append(out.Assumed, "the traveller's car takes up 0.15 m to each side")
			}
			out.Zones = append(out.Zones, s.track())
		}
	}
	for i := range c.Preventers {
		zones, err := c.preventer(&c.Preventers[i])
		if err != nil {
			return SweepResult{}, err
		}
		out.Zones = append(out.Zones, zones...)
	}
	if len(c.Preventers) > 0 {
		out.Assumed = append(out.Assumed, "a block that breaks loose flies within 15° of its pull, as far as the longer of its legs")
	}
	out.Zones = append(out.Zones, c.Zones...)
	for i := range out.Zones {
		for k := range c.Stations {
			if in, ok := c.inside(&out.Zones[i], &c.Stations[k]); ok {
				out.Inside = append(out.Inside, in)
			}
		}
	}
	return out, nil
}

func (c *SweepCase) check() error {
	e := &Invalid{}
	c.Boom.check(e)
	e.number("head_m", c.Head, 0, 5)
	if s := c.Sheet; s != nil {
		e.number("mainsheet.at_m", s.At, 0.05, c.Boom.Length)
		e.spot("mainsheet.from", s.From)
		if s.To != nil {
			e.spot("mainsheet.to", *s.To)
		}
		e.number("mainsheet.extra_m", s.Extra, 0, farthest)
		e.number("mainsheet.car_m", s.Car, 0, 5)
	}
	if len(c.Preventers) > maxLeads || len(c.Stations) > maxSeats || len(c.Zones) > maxZones {
		e.add("at most %d preventers, %d stations and %d zones are looked at", maxLeads, maxSeats, maxZones)
		return e
	}
	for i := range c.Preventers {
		p := c.Preventers[i]
		if p.Line.Stiffness == 0 && len(p.Line.Curve) == 0 {
			p.Line.Stiffness = 1e5 // where it goes does not hang on its stretch
		}
		p.check(e, fmt.Sprintf("preventers %d (%s)", i+1, p.Name), &c.Boom)
	}
	for i, s := range c.Stations {
		at := fmt.Sprintf("stations %d (%s)", i+1, s.Name)
		e.run(at+".run", s.Run)
		e.number(at+".height_m", s.Height, 0, 5)
	}
	corners := 0
	for i, z := range c.Zones {
		for _, ring := range z.Outlines {
			corners += len(ring)
		}
		if z.Sort == "boom" {
			e.add("zones %d (%s) is a boom's: that one is reckoned from the boom; enter others", i+1, z.Name)
		}
		z.check(e, fmt.Sprintf("zones %d (%s)", i+1, z.Name))
	}
	if corners > maxCorners {
		e.add("zones have %d corners together: at most %d are looked at", corners, maxCorners)
	}
	return e.orNil()
}

func (z *Zone) check(e *Invalid, at string) {
	e.number(at+".low_m", z.Low, -farthest, farthest)
	e.number(at+".high_m", z.High, z.Low, farthest)
	if len(z.Outlines) == 0 || len(z.Outlines) > maxTurns {
		e.add("%s.outlines has %d rings: 1 to %d belong there", at, len(z.Outlines), maxTurns)
		return
	}
	for _, ring := range z.Outlines {
		if len(ring) < 3 || len(ring) > maxRun {
			e.add("%s.outlines has a ring of %d corners: 3 to %d belong there", at, len(ring), maxRun)
			return
		}
		for _, p := range ring {
			e.spot(at+".outlines", Spot{X: p.X, Y: p.Y})
		}
	}
}

// arc is the step of the zones' outlines round the mast: 5 degrees.
const arc = math.Pi / 36

// angles returns boom angles from one to another, both in it, in steps of arc
// or less.
func angles(from, to float64) []float64 {
	n := 1 + int(math.Ceil(math.Abs(to-from)/arc))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = from + (to-from)*float64(i)/float64(n)
	}
	return out
}

// spotAt returns the place of a point of the boom, a from the mast, with the
// boom at angle b: to port above 0, to starboard below.
func (b *Boom) spotAt(a, angle float64) r3.Vec {
	steep := b.Rise / b.Length
	flat := math.Sqrt(1 - steep*steep)
	sin, cos := math.Sincos(angle)
	return r3.Add(r3.Vec(b.Gooseneck), r3.Vec{X: -a * flat * cos, Y: a * flat * sin, Z: a * steep})
}

// zone is the boom's fan, from as far out on one side to the other.
func (b *Boom) zone() Zone {
	way := angles(-b.Out, b.Out)
	// Chords lie inside their arc: the corners go out by as much.
	more := 1 / math.Cos((way[1]-way[0])/2)
	ring := []plane.Point{{X: b.Gooseneck.X, Y: b.Gooseneck.Y}}
	for _, a := range way {
		p := b.spotAt(b.Length*more, a)
		ring = append(ring, plane.Point{X: p.X, Y: p.Y})
	}
	if plane.Area(ring) < 0 {
		for i, j := 1, len(ring)-1; i < j; i, j = i+1, j-1 {
			ring[i], ring[j] = ring[j], ring[i]
		}
	}
	name := b.Name
	if name == "" {
		name = "boom"
	}
	return Zone{
		Name: name, Sort: "boom", Outlines: plane.Region{ring},
		Low:  b.Gooseneck.Z + min(b.Rise, 0) - b.Depth/2,
		High: b.Gooseneck.Z + max(b.Rise, 0) + b.Depth/2,
	}
}

// under returns the height of the boom's underside at a place seen from above.
func (b *Boom) under(p plane.Point) float64 {
	flat := math.Sqrt(b.Length*b.Length - b.Rise*b.Rise)
	r := min(p.Sub(plane.Point{X: b.Gooseneck.X, Y: b.Gooseneck.Y}).Norm(), flat)
	return b.Gooseneck.Z + b.Rise*r/flat - b.Depth/2
}

// track is the strip that the traveller's car sweeps.
func (s *SheetRun) track() Zone {
	half := s.Car
	if half == 0 {
		half = usualCar
	}
	ring := strip(plane.Point{X: s.From.X, Y: s.From.Y}, plane.Point{X: s.To.X, Y: s.To.Y}, half)
	return Zone{
		Name: "traveller", Sort: "traveller", Outlines: plane.Region{ring},
		Low: min(s.From.Z, s.To.Z) - half, High: max(s.From.Z, s.To.Z) + half,
	}
}

// strip returns the rectangle round a piece, half wide to all sides.
func strip(a, b plane.Point, half float64) []plane.Point {
	d := b.Sub(a)
	if n := d.Norm(); n > 0 {
		d = d.Scale(half / n)
	} else {
		d = plane.Point{X: half}
	}
	left := plane.Point{X: -d.Y, Y: d.X}
	return []plane.Point{a.Sub(d).Sub(left), b.Add(d).Sub(left), b.Add(d).Add(left), a.Sub(d).Add(left)}
}
