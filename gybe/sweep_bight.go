package gybe

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"dogshore/plane"
)

const (
	rays   = 144  // directions round a car in which the bight's reach is reckoned
	carGap = 0.25 // m between places of the car on its track
	mostly = 40   // places of the car at the most
	strand = 0.1  // m to each side of a leg that lies still
	recoil = math.Pi / 12
)

// bight is the zone that the mainsheet can reach when it falls slack.
func (c *SweepCase) bight() (Zone, error) {
	s := c.Sheet
	cars := s.cars()
	way := angles(-c.Boom.Out, c.Boom.Out)
	ends := make([]r3.Vec, len(way))
	long := 0.0
	for i, a := range way {
		ends[i] = c.Boom.spotAt(s.At, a)
		for _, car := range cars {
			long = max(long, r3.Norm(r3.Sub(ends[i], car)))
		}
	}
	long += s.Extra
	z := Zone{Name: "bight of the mainsheet", Sort: "mainsheet", Low: math.Inf(1), High: math.Inf(-1)}
	shapes := make([][]plane.Point, 0, len(cars))
	for _, car := range cars {
		ring := make([]plane.Point, rays)
		for k := range ring {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / rays)
			reach := 0.0
			for _, end := range ends {
				reach = max(reach, newBulge(end, car, long).reach(cos, sin))
			}
			ring[k] = plane.Point{X: car.X + reach*cos, Y: car.Y + reach*sin}
		}
		for _, end := range ends {
			low, high := newBulge(end, car, long).heights()
			z.Low, z.High = min(z.Low, low), max(z.High, high)
		}
		if plane.Area(ring) > 1e-9 { // a sheet with no slack anywhere makes no bight
			shapes = append(shapes, ring)
		}
	}
	var err error
	if z.Outlines, err = plane.Union(shapes...); err != nil {
		return Zone{}, fmt.Errorf("gybe: the bight of the mainsheet: %w", err)
	}
	return z, nil
}

// cars returns the places of the car along its track, both ends in it.
func (s *SheetRun) cars() []r3.Vec {
	from := r3.Vec(s.From)
	if s.To == nil || *s.To == s.From {
		return []r3.Vec{from}
	}
	along := r3.Sub(r3.Vec(*s.To), from)
	n := min(1+int(math.Ceil(r3.Norm(along)/carGap)), mostly)
	out := make([]r3.Vec, n+1)
	for i := range out {
		out[i] = r3.Add(from, r3.Scale(float64(i)/float64(n), along))
	}
	return out
}

// bulge is the ellipsoid of all places that a line of a length between a boom
// and a car can reach: {middle + v : v' A^-1 v <= 1}, A = b^2 I + (a^2 - b^2) e e'.
type bulge struct {
	middle, car r3.Vec
	e           r3.Vec
	bb, more    float64 // b^2, a^2 - b^2
}

func newBulge(end, car r3.Vec, long float64) bulge {
	d := r3.Sub(end, car)
	gap := r3.Norm(d)
	u := bulge{middle: r3.Scale(0.5, r3.Add(end, car)), car: car}
	if gap > 0 {
		u.e = r3.Scale(1/gap, d)
	}
	u.bb = max(long*long-gap*gap, 0) / 4
	u.more = long*long/4 - u.bb
	return u
}

// reach returns how far the ellipsoid, seen from above, reaches from the car in
// a level direction. Its shadow is the ellipse of the level part of A; the car,
// a focus, lies in it.
func (u bulge) reach(cos, sin float64) float64 {
	// Level part of A, and its inverse.
	xx, xy, yy := u.bb+u.more*u.e.X*u.e.X, u.more*u.e.X*u.e.Y, u.bb+u.more*u.e.Y*u.e.Y
	det := xx*yy - xy*xy
	if det <= 1e-12*(xx+yy)*(xx+yy) {
		return 0 // drawn tight: no width
	}
	product := func(ax, ay, bx, by float64) float64 { return (yy*ax*bx - xy*(ax*by+ay*bx) + xx*ay*by) / det }
	wx, wy := u.car.X-u.middle.X, u.car.Y-u.middle.Y
	a, b, c := product(cos, sin, cos, sin), product(wx, wy, cos, sin), product(wx, wy, wx, wy)-1
	return max((-b+math.Sqrt(max(b*b-a*c, 0)))/a, 0)
}

// heights returns between which heights it lies.
func (u bulge) heights() (low, high float64) {
	half := math.Sqrt(u.bb + u.more*u.e.Z*u.e.Z)
	return u.middle.Z - half, u.middle.Z + half
}

// preventer returns the zones of a preventer on each of its sides: what its
// first leg sweeps with the boom from where it is set up to amidships, with the
// legs that lie still, and where its blocks would fly.
func (c *SweepCase) preventer(p *Preventer) ([]Zone, error) {
	var out []Zone
	for _, side := range p.sides() {
		l := newLead(&c.Boom, p, side)
		set := p.set(&c.Boom)
		name := fmt.Sprintf("%s, %s", p.Name, side)
		z := Zone{Name: name, Sort: "preventer", Low: math.Inf(1), High: math.Inf(-1)}
		flat := func(v r3.Vec) plane.Point {
			z.Low, z.High = min(z.Low, v.Z), max(z.High, v.Z)
			return plane.Point{X: v.X, Y: l.mirror * v.Y}
		}
		var shapes [][]plane.Point
		first := flat(l.spots[0])
		way := angles(set, 0)
		for i := 1; i < len(way); i++ {
			a, b := l.pose(way[i-1]).made, l.pose(way[i]).made
			shapes = append(shapes, []plane.Point{first, flat(a), flat(b)})
		}
		for i := 1; i < len(l.spots); i++ {
			shapes = append(shapes, strip(flat(l.spots[i-1]), flat(l.spots[i]), strand))
		}
		shapes = append(shapes, strip(first, flat(l.pose(set).made), strand))
		var err error
		if z.Outlines, err = plane.Union(solid(shapes)...); err != nil {
			return nil, fmt.Errorf("gybe: the zone of %s: %w", name, err)
		}
		out = append(out, z)
		out = append(out, l.recoils(set, name)...)
	}
	return out, nil
}

// solid leaves out shapes without area.
func solid(shapes [][]plane.Point) [][]plane.Point {
	out := shapes[:0]
	for _, s := range shapes {
		if math.Abs(plane.Area(s)) > 1e-9 {
			out = append(out, s)
		}
	}
	return out
}

// recoils returns where each turn would fly if it broke loose: within 15
// degrees of its pull, as far as the longer of its legs.
func (l *lead) recoils(set float64, name string) []Zone {
	p := l.pose(set)
	legs := append([]float64{p.leg}, l.legs...)
	var out []Zone
	for i, point := range l.points(&p, 1) {
		long := legs[i]
		if i+1 < len(legs) {
			long = max(long, legs[i+1])
		}
		f := r3.Vec(point.Force)
		level := math.Hypot(f.X, f.Y)
		if level < 1e-6 {
			continue // it flies straight up or down
		}
		from := l.out(l.spots[i])
		at := math.Atan2(f.Y, f.X)
		ring := []plane.Point{{X: from.X, Y: from.Y}}
		for _, a := range angles(at-recoil, at+recoil) {
			sin, cos := math.Sincos(a)
			ring = append(ring, plane.Point{X: from.X + long*cos, Y: from.Y + long*sin})
		}
		far, wide := from.Z+long*f.Z/r3.Norm(f), long*math.Tan(recoil)
		out = append(out, Zone{
			Name: fmt.Sprintf("%s, %s breaking loose", name, orThe(l.turns[i].Name, l.turns[i].Sort)), Sort: "recoil", Outlines: plane.Region{ring},
			Low: min(from.Z, far-wide), High: max(from.Z, far+wide),
		})
	}
	return out
}
