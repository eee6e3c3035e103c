package template

import (
	"slices"

	"dogshore/internal/draw"
	"dogshore/record"
)

// shape is a rough outline as fractions of the hull's length: proportions of a
// cruising boat of that type, from memory, to draw by and for nothing else.
type shape struct{ plan, profile record.Outline }

// outlines returns the outlines of parts in metres, none without a length.
func outlines(b record.Build) map[string]shape {
	from := monohullShapes
	if b.Boat == "catamaran" {
		from = catamaranShapes
	}
	out := map[string]shape{}
	for key, s := range from {
		out[key] = s.of(b)
	}
	return out
}

// of scales a shape to a build; its breadth to the beam, if that is known.
func (s shape) of(b record.Build) shape {
	if !b.Length.Known || b.Length.SI <= 0 {
		return shape{}
	}
	usual := 0.34
	if b.Boat == "catamaran" {
		usual = 0.54
	}
	wide := 1.0
	if b.Beam.Known && b.Beam.SI > 0 {
		wide = b.Beam.SI / (usual * b.Length.SI)
	}
	return shape{scaled(s.plan, b.Length.SI, wide), scaled(s.profile, b.Length.SI, 1)}
}

func scaled(o record.Outline, length, second float64) record.Outline {
	var out record.Outline
	for _, p := range o {
		out = append(out, [2]float64{round(p[0] * length), round(p[1] * length * second)})
	}
	return out
}

// round keeps centimetres: the shapes are no finer.
func round(v float64) float64 {
	if v < 0 {
		return -round(-v)
	}
	return float64(int(v*100+0.5)) / 100
}

// rect is an upright rectangle between two corners.
func rect(x0, y0, x1, y1 float64) record.Outline {
	return record.Outline{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

// mirror returns the outline on the other side of the centreline.
func mirror(o record.Outline) record.Outline {
	var out record.Outline
	for i := len(o) - 1; i >= 0; i-- {
		out = append(out, [2]float64{o[i][0], -o[i][1]})
	}
	return out
}

// both closes a half outline, given from aft to forward, over the centreline.
func both(half record.Outline) record.Outline {
	return append(append(record.Outline{}, half...), mirror(half)...)
}

// smooth is a smooth line through the points.
func smooth(o [][2]float64) record.Outline {
	pts := make([]draw.Point, len(o))
	for i, c := range o {
		pts[i] = draw.Point{X: c[0], Y: c[1]}
	}
	var out record.Outline
	for _, q := range draw.Curve(pts...) {
		out = append(out, [2]float64{q.X, q.Y})
	}
	return out
}

var catHull = slices.Concat(
	smooth([][2]float64{{-0.03, 0.17}, {0.3, 0.156}, {0.6, 0.16}, {0.82, 0.182}, {0.965, 0.212}}),
	smooth([][2]float64{{0.965, 0.216}, {0.82, 0.242}, {0.6, 0.262}, {0.3, 0.27}, {-0.03, 0.256}}))

var catHullSide = slices.Concat(
	smooth([][2]float64{{-0.03, 0.03}, {0, -0.01}, {0.15, -0.036}, {0.45, -0.047}, {0.75, -0.038}, {0.9, -0.014}, {0.955, 0.02}}),
	smooth([][2]float64{{0.965, 0.135}, {0.6, 0.126}, {0.12, 0.112}}),
	record.Outline{{0.03, 0.06}})

var catamaranShapes = map[string]shape{
	"hull-port":        {catHull, catHullSide},
	"hull-starboard":   {mirror(catHull), catHullSide},
	"bridgedeck":       {rect(0.06, -0.155, 0.66, 0.155), rect(0.06, 0.066, 0.66, 0.098)},
	"beam-forward":     {rect(0.86, -0.19, 0.882, 0.19), rect(0.86, 0.095, 0.882, 0.132)},
	"deck":             {both(record.Outline{{0.05, 0.25}, {0.3, 0.26}, {0.6, 0.253}, {0.82, 0.234}, {0.95, 0.215}, {0.95, 0.212}, {0.82, 0.19}, {0.7, 0.172}, {0.7, 0.1}}), record.Outline{{0.1, 0.115}, {0.96, 0.137}, {0.72, 0.142}, {0.6, 0.205}, {0.24, 0.215}, {0.2, 0.15}, {0.1, 0.14}}},
	"windows":          {rect(0.56, -0.13, 0.6, 0.13), record.Outline{{0.3, 0.165}, {0.6, 0.158}, {0.56, 0.188}, {0.3, 0.193}}},
	"bulkhead-forward": {rect(0.69, -0.24, 0.7, 0.24), rect(0.69, -0.038, 0.7, 0.128)},
	"bulkhead-main":    {rect(0.44, -0.262, 0.45, 0.262), rect(0.44, -0.045, 0.45, 0.122)},
	"bulkhead-aft":     {rect(0.18, -0.262, 0.19, 0.262), rect(0.18, -0.036, 0.19, 0.112)},
	"tank-water":       {rect(0.47, 0.17, 0.57, 0.25), rect(0.47, -0.04, 0.57, 0.005)},
	"tank-fuel":        {rect(0.2, -0.25, 0.29, -0.17), rect(0.2, -0.03, 0.29, 0.02)},
	"engine-port":      {rect(0.06, 0.188, 0.145, 0.238), rect(0.06, -0.005, 0.145, 0.055)},
	"engine-starboard": {rect(0.06, -0.238, 0.145, -0.188), rect(0.06, -0.005, 0.145, 0.055)},
	"rudder-port":      {rect(-0.005, 0.21, 0.035, 0.218), record.Outline{{-0.005, -0.018}, {0.035, -0.024}, {0.03, -0.09}, {0, -0.09}}},
	"rudder-starboard": {rect(-0.005, -0.218, 0.035, -0.21), record.Outline{{-0.005, -0.018}, {0.035, -0.024}, {0.03, -0.09}, {0, -0.09}}},
	"joinery":          {rect(0.24, -0.1, 0.42, 0.1), rect(0.24, 0.07, 0.42, 0.115)},
	"windlass":         {rect(0.8, -0.012, 0.83, 0.012), rect(0.8, 0.138, 0.83, 0.152)},
	"winches":          {rect(0.14, -0.21, 0.17, -0.18), rect(0.14, 0.142, 0.17, 0.168)},
	"mast":             {rect(0.455, -0.01, 0.475, 0.01), record.Outline{{0.455, 0.21}, {0.475, 0.21}, {0.475, 0.48}, {0.455, 0.48}, {0.455, 0.275}, {0.05, 0.255}, {0.05, 0.24}, {0.455, 0.26}}},
}

var monoHalf = smooth([][2]float64{{-0.03, 0.115}, {0.15, 0.15}, {0.4, 0.17}, {0.6, 0.16}, {0.78, 0.115}, {0.9, 0.06}, {0.97, 0.004}})

var monoSide = slices.Concat(
	smooth([][2]float64{{-0.03, 0.03}, {0.03, -0.01}, {0.25, -0.042}, {0.45, -0.05}, {0.7, -0.036}, {0.88, -0.008}, {0.94, 0.02}}),
	smooth([][2]float64{{0.97, 0.125}, {0.6, 0.108}, {0.3, 0.102}, {-0.02, 0.105}}))

var monohullShapes = map[string]shape{
	"hull":             {both(monoHalf), monoSide},
	"keel":             {record.Outline{{0.38, 0}, {0.42, 0.012}, {0.52, 0.01}, {0.57, 0}, {0.52, -0.01}, {0.42, -0.012}}, record.Outline{{0.38, -0.048}, {0.57, -0.046}, {0.54, -0.185}, {0.41, -0.185}}},
	"deck":             {both(smooth([][2]float64{{-0.02, 0.105}, {0.15, 0.138}, {0.4, 0.158}, {0.6, 0.148}, {0.78, 0.103}, {0.9, 0.05}, {0.955, 0.004}})), record.Outline{{-0.02, 0.107}, {0.3, 0.104}, {0.6, 0.11}, {0.965, 0.127}, {0.72, 0.135}, {0.62, 0.165}, {0.3, 0.172}, {0.26, 0.135}, {-0.02, 0.128}}},
	"windows":          {rect(0.42, -0.1, 0.56, 0.1), record.Outline{{0.34, 0.14}, {0.6, 0.14}, {0.58, 0.156}, {0.34, 0.16}}},
	"bulkhead-forward": {rect(0.72, -0.128, 0.73, 0.128), rect(0.72, -0.032, 0.73, 0.112)},
	"bulkhead-main":    {rect(0.52, -0.162, 0.53, 0.162), rect(0.52, -0.047, 0.53, 0.106)},
	"bulkhead-aft":     {rect(0.28, -0.156, 0.29, 0.156), rect(0.28, -0.042, 0.29, 0.102)},
	"tank-water":       {rect(0.58, 0.02, 0.69, 0.12), rect(0.58, -0.03, 0.69, 0.01)},
	"tank-fuel":        {rect(0.16, -0.12, 0.25, -0.05), rect(0.16, -0.02, 0.25, 0.02)},
	"engine-one":       {rect(0.31, -0.03, 0.4, 0.03), rect(0.31, -0.025, 0.4, 0.035)},
	"rudder-one":       {rect(0.015, -0.004, 0.075, 0.004), record.Outline{{0.015, -0.012}, {0.075, -0.018}, {0.065, -0.14}, {0.025, -0.14}}},
	"joinery":          {rect(0.42, -0.14, 0.51, -0.06), rect(0.42, 0.01, 0.51, 0.05)},
	"windlass":         {rect(0.87, -0.012, 0.9, 0.012), rect(0.87, 0.133, 0.9, 0.147)},
	"winches":          {rect(0.18, -0.12, 0.21, -0.09), rect(0.18, 0.132, 0.21, 0.156)},
	"mast":             {rect(0.535, -0.009, 0.555, 0.009), record.Outline{{0.535, 0.17}, {0.555, 0.17}, {0.555, 0.48}, {0.535, 0.48}, {0.535, 0.24}, {0.17, 0.225}, {0.17, 0.21}, {0.535, 0.225}}},
}
