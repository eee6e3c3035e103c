package plane

import (
	"fmt"

	"github.com/peterstace/simplefeatures/geom"
)

// Region is an area in pieces: rings, the outer ones counter-clockwise, holes
// clockwise.
type Region [][]Point

// Area returns the area of a region, holes taken off, m2.
func (r Region) Area() float64 {
	var sum float64
	for _, ring := range r {
		sum += Area(ring)
	}
	return sum
}

// Contains says whether p lies in the region.
func (r Region) Contains(p Point) bool {
	in := false
	for _, ring := range r {
		if Contains(ring, p) {
			in = !in
		}
	}
	return in
}

// Union returns what any of the polygons covers. Corners closer together than
// a nanometre are one. The error names the polygon that crosses itself.
func Union(polygons ...[]Point) (Region, error) {
	parts := make([]geom.Geometry, 0, len(polygons))
	for i, p := range polygons {
		g, err := toGeom(p)
		if err != nil {
			return nil, fmt.Errorf("polygon %d: %w", i+1, err)
		}
		parts = append(parts, g)
	}
	g, err := geom.UnionMany(parts)
	if err != nil {
		return nil, fmt.Errorf("union: %w", err)
	}
	return fromGeom(g), nil
}

// Intersection returns what both regions cover.
func Intersection(a, b Region) (Region, error) { return overlay(a, b, geom.Intersection) }

// Difference returns what a covers and b does not.
func Difference(a, b Region) (Region, error) { return overlay(a, b, geom.Difference) }

func overlay(a, b Region, op func(a, b geom.Geometry) (geom.Geometry, error)) (Region, error) {
	ga, err := regionGeom(a)
	if err != nil {
		return nil, err
	}
	gb, err := regionGeom(b)
	if err != nil {
		return nil, err
	}
	g, err := op(ga, gb)
	if err != nil {
		return nil, fmt.Errorf("overlay: %w", err)
	}
	return fromGeom(g), nil
}

func ringGeom(p []Point) geom.LineString {
	flat := make([]float64, 0, 2*len(p)+2)
	for _, c := range Closed(p) {
		flat = append(flat, c.X, c.Y)
	}
	return geom.NewLineString(geom.NewSequence(flat, geom.DimXY))
}

func toGeom(p []Point) (geom.Geometry, error) {
	g := geom.NewPolygon([]geom.LineString{ringGeom(p)})
	if err := g.Validate(); err != nil {
		return geom.Geometry{}, err
	}
	return g.AsGeometry(), nil
}

// regionGeom joins outer rings and takes the holes off.
func regionGeom(r Region) (geom.Geometry, error) {
	var outer, holes []geom.Geometry
	for _, ring := range r {
		g, err := toGeom(ring)
		if err != nil {
			return geom.Geometry{}, err
		}
		if Area(ring) < 0 {
			holes = append(holes, g)
		} else {
			outer = append(outer, g)
		}
	}
	all, err := geom.UnionMany(outer)
	if err != nil || len(holes) == 0 {
		return all, err
	}
	cut, err := geom.UnionMany(holes)
	if err != nil {
		return cut, err
	}
	return geom.Difference(all, cut)
}

func fromGeom(g geom.Geometry) Region {
	var out Region
	take := func(p geom.Polygon) {
		p = p.ForceCCW()
		out = append(out, fromRing(p.ExteriorRing()))
		for i := range p.NumInteriorRings() {
			out = append(out, fromRing(p.InteriorRingN(i)))
		}
	}
	switch g.Type() {
	case geom.TypePolygon:
		if !g.IsEmpty() {
			take(g.MustAsPolygon())
		}
	case geom.TypeMultiPolygon:
		m := g.MustAsMultiPolygon()
		for i := range m.NumPolygons() {
			take(m.PolygonN(i))
		}
	case geom.TypeGeometryCollection:
		c := g.MustAsGeometryCollection()
		for i := range c.NumGeometries() {
			out = append(out, fromGeom(c.GeometryN(i))...)
		}
	}
	return out
}

func fromRing(l geom.LineString) []Point {
	seq := l.Coordinates()
	out := make([]Point, 0, seq.Length())
	for i := range seq.Length() - 1 {
		xy := seq.GetXY(i)
		out = append(out, Point{xy.X, xy.Y})
	}
	return out
}
