package draw

import (
	"math"
	"sort"
)

// Spacing returns the distance between hatching lines, in millimetres, for a
// density from 0 to 1: 7 mm at 0, 0.7 mm at 1, growing by equal ratios, so that
// equal steps of density look equal. Sections are hatched so in drawings (ISO
// 128 names equal spacing and 45 degrees; the figures here are our own).
func Spacing(density float64) float64 {
	return 7 * math.Pow(0.1, math.Min(math.Max(density, 0), 1))
}

// Hatch hatches a polygon. Angle is in degrees; neighbours are told apart by
// 45 and -45. A polygon too small for its spacing still gets one line.
func (d *Drawing) Hatch(density, angle float64, pts ...Point) {
	if density <= 0 || len(pts) < 3 {
		return
	}
	d.Lines(Hatched, hatch(pts, Spacing(density), angle))
}

func hatch(pts []Point, gap, angle float64) [][]Point {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	along := func(p Point) float64 { return p.X*cos + p.Y*sin }
	across := func(p Point) float64 { return -p.X*sin + p.Y*cos }
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range pts {
		low, high = math.Min(low, across(p)), math.Max(high, across(p))
	}
	var levels []float64
	for k := math.Ceil(low / gap); k*gap < high; k++ {
		levels = append(levels, k*gap)
	}
	if len(levels) == 0 {
		levels = []float64{(low + high) / 2}
	}
	var out [][]Point
	for _, level := range levels {
		var cuts []float64
		for i, a := range pts {
			b := pts[(i+1)%len(pts)]
			ca, cb := across(a), across(b)
			if (ca <= level) == (cb <= level) {
				continue
			}
			t := (level - ca) / (cb - ca)
			cuts = append(cuts, along(a)+t*(along(b)-along(a)))
		}
		sort.Float64s(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			if cuts[i+1]-cuts[i] < 0.05 {
				continue
			}
			at := func(s float64) Point { return Point{s*cos - level*sin, s*sin + level*cos} }
			out = append(out, []Point{at(cuts[i]), at(cuts[i+1])})
		}
	}
	return out
}
