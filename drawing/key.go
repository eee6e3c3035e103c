package drawing

import (
	"dogshore/internal/draw"
	"dogshore/record"
)

// Size of a picture of the key, in millimetres.
const (
	keyW = 60
	keyH = 40
)

// Key returns the picture of one stage for the picture key: what one sees
// when it is reached. What is new at the stage is drawn bold or dark, what was
// there before in thin lines. A stage that the key does not have gets an empty
// frame with its name.
func Key(slug string) *draw.Drawing {
	s, ok := record.StageOf(slug)
	if !ok {
		d := draw.New(keyW, keyH, slug, "No picture: this stage is not in the picture key.")
		d.Area(draw.Unknown, draw.Box(2, 2, keyW-4, keyH-4)...)
		return d
	}
	d := draw.New(keyW, keyH, s.Name, "What one sees: "+s.Sees+".")
	pictures[slug](d)
	return d
}

var pictures = map[string]func(*draw.Drawing){
	"mould": mouldReady, "gelcoat": gelcoat, "skin-coat": skinCoat, "outer-skin": outerSkin,
	"core": core, "inner-skin": innerSkin, "bagged": bagged, "infused": infused,
	"cured": cured, "laminated": laminated, "demoulded": demoulded, "post-cured": postCured,
	"stiffened": stiffened, "prepared": prepared, "fitted": fitted, "bonded": bonded,
	"taped": taped, "joined": joined,
	"first-fix": firstFix, "second-fix": secondFix, "lined": lined, "installed": installed,
	"hardware": hardware, "tested": tested,
	"faired": faired, "primed": primed, "painted": painted, "rigged": rigged,
	"weighed": weighed, "launched": launched, "trialled": trialled,
	"put-right": putRight, "delivered": delivered,
}

// p makes a point.
func p(x, y float64) draw.Point { return draw.Point{X: x, Y: y} }

// pts makes points from pairs.
func pts(xy ...float64) []draw.Point {
	out := make([]draw.Point, 0, len(xy)/2)
	for i := 0; i+1 < len(xy); i += 2 {
		out = append(out, p(xy[i], xy[i+1]))
	}
	return out
}

// moved shifts points.
func moved(in []draw.Point, dx, dy float64) []draw.Point {
	out := make([]draw.Point, len(in))
	for i, q := range in {
		out[i] = p(q.X+dx, q.Y+dy)
	}
	return out
}

// line is an open line through pairs.
func line(d *draw.Drawing, name string, xy ...float64) { d.Line(name, pts(xy...)...) }

// area is a closed polygon from pairs.
func area(d *draw.Drawing, name string, xy ...float64) { d.Area(name, pts(xy...)...) }

// curve is a smooth open line through pairs.
func curve(d *draw.Drawing, name string, xy ...float64) { d.Line(name, draw.Curve(pts(xy...)...)...) }
