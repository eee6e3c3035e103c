// Package draw is for drawings made of shapes in millimetres, written by two
// pens: SVG for pages and PDF for paper. It knows nothing of boats.
//
// On the sheet x runs to the right and y downwards, from the upper left
// corner. What is drawn in metres goes through a View, the only place where
// the y axis turns over. Shapes carry the name of a line or surface, never a
// colour: pages give it one by Style, so that light, dark and print differ.
package draw

import "strings"

// Line and surface names. Each has its width and colour in Style and on paper.
const (
	Outline = "outline" // visible edge
	Thin    = "thin"    // less important edge
	Hidden  = "hidden"  // edge behind something: dashed
	Unknown = "unknown" // edge of something not seen: long dashes
	Centre  = "centre"  // centre line: dash and dot
	Bold    = "bold"    // what the picture is about
	Hatched = "hatch"   // hatching
	Paper   = "paper"   // surface that hides what is behind it, without an edge
	Ink     = "ink"     // filled surface
	Tint    = "tint"    // lightly filled surface: resin, paint, water
	Deep    = "deep"    // more strongly filled surface
	Rule    = "rule"    // ruling behind a drawing: months, weeks
	Shut    = "shut"    // faintly filled surface: days that are not worked
	Lead    = "lead"    // what can't be undone if missed
)

// Text names.
const (
	Plain  = "plain"  // running text
	Strong = "strong" // heading
	Label  = "label"  // text over a drawing: hides what is behind it
	Faint  = "faint"  // second thing to read
)

// Point is a point on the sheet, in millimetres.
type Point struct{ X, Y float64 }

// Anchor says which end of a text stands at its point.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Drawing is a sheet of shapes. Later shapes lie over earlier ones.
type Drawing struct {
	W, H  float64 // size of the sheet
	Title string  // its name, read out first
	Desc  string  // what it shows, in a sentence or two
	marks []mark
}

// New returns an empty sheet.
func New(w, h float64, title, desc string) *Drawing {
	return &Drawing{W: w, H: h, Title: title, Desc: desc}
}

type markKind int

const (
	markLine markKind = iota // open lines, several runs
	markArea                 // closed polygon
	markDot                  // circle
	markText
	markLink // opens a link
	markEnd  // closes it
	markLayer
	markLayerEnd
	markPicture
)

type mark struct {
	kind   markKind
	name   string // line, surface or text name; of a link its address
	runs   [][]Point
	r      float64
	size   float64
	anchor Anchor
	text   string // of a text; of a link what it is called; of a picture what it shows
	data   []byte // of a picture
	apart  bool   // of a layer
}

// Line draws an open line through the points.
func (d *Drawing) Line(name string, pts ...Point) {
	if len(pts) > 1 {
		d.marks = append(d.marks, mark{kind: markLine, name: name, runs: [][]Point{pts}})
	}
}

// Lines draws several open lines as one shape.
func (d *Drawing) Lines(name string, runs [][]Point) {
	if len(runs) > 0 {
		d.marks = append(d.marks, mark{kind: markLine, name: name, runs: runs})
	}
}

// Area draws a closed polygon: an edge of that name over paper, or a surface.
func (d *Drawing) Area(name string, pts ...Point) {
	if len(pts) > 2 {
		d.marks = append(d.marks, mark{kind: markArea, name: name, runs: [][]Point{pts}})
	}
}

// Dot draws a circle.
func (d *Drawing) Dot(name string, at Point, r float64) {
	d.marks = append(d.marks, mark{kind: markDot, name: name, runs: [][]Point{{at}}, r: r})
}

// Text writes one line; at is on its base line, size the height of the type.
func (d *Drawing) Text(name string, at Point, size float64, anchor Anchor, text string) {
	if text != "" {
		d.marks = append(d.marks, mark{kind: markText, name: name, runs: [][]Point{{at}}, size: size, anchor: anchor, text: text})
	}
}

// Link makes everything that body draws a target that leads to href; called
// is what it says when read out.
func (d *Drawing) Link(href, called string, body func()) {
	d.marks = append(d.marks, mark{kind: markLink, name: href, text: called})
	body()
	d.marks = append(d.marks, mark{kind: markEnd})
}

// Layer is a part of a drawing that a page can switch off.
type Layer struct {
	Name  string   // of the layer: "reach"
	Of    []string // what it belongs to, so that a page can show one thing alone
	Apart bool     // it is out of sight for now
}

// Layer makes everything that body draws part of a layer. On paper there is
// nothing to switch: it is drawn unless it is apart.
func (d *Drawing) Layer(l Layer, body func()) {
	d.marks = append(d.marks, mark{kind: markLayer, name: l.Name, text: strings.Join(l.Of, " "), apart: l.Apart})
	body()
	d.marks = append(d.marks, mark{kind: markLayerEnd, apart: l.Apart})
}

// Reach returns the corners of the smallest upright box around everything
// drawn; texts count with their width.
func (d *Drawing) Reach() (low, high Point) {
	first := true
	add := func(p Point) {
		if first {
			low, high, first = p, p, false
			return
		}
		low = Point{min(low.X, p.X), min(low.Y, p.Y)}
		high = Point{max(high.X, p.X), max(high.Y, p.Y)}
	}
	for _, m := range d.marks {
		switch m.kind {
		case markDot:
			c := m.runs[0][0]
			add(Point{c.X - m.r, c.Y - m.r})
			add(Point{c.X + m.r, c.Y + m.r})
		case markText:
			at := m.runs[0][0]
			x := at.X - shift(m.anchor)*Width(m.text, m.size, m.name == Strong)
			add(Point{x, at.Y - 0.75*m.size})
			add(Point{x + Width(m.text, m.size, m.name == Strong), at.Y + 0.25*m.size})
		default:
			for _, run := range m.runs {
				for _, p := range run {
					add(p)
				}
			}
		}
	}
	return low, high
}

// shift is the part of a text's width that stands before its anchor.
func shift(a Anchor) float64 {
	switch a {
	case Middle:
		return 0.5
	case End:
		return 1
	}
	return 0
}

// Put draws another sheet onto this one, its upper left corner at (x, y).
// Shapes and letters are scaled, widths of lines are not.
func (d *Drawing) Put(o *Drawing, x, y, scale float64) {
	for _, m := range o.marks {
		runs := make([][]Point, len(m.runs))
		for i, run := range m.runs {
			runs[i] = make([]Point, len(run))
			for k, p := range run {
				runs[i][k] = Point{x + scale*p.X, y + scale*p.Y}
			}
		}
		m.runs, m.r, m.size = runs, m.r*scale, m.size*scale
		d.marks = append(d.marks, m)
	}
}
