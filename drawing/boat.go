// Package drawing makes the drawings that pages and papers show: the boat
// toned by stage, the picture key, the start sheet and the walking sheet.
package drawing

import (
	"math"
	"sort"
	"strconv"

	"dogshore/internal/draw"
	"dogshore/record"
)

// BoatSheet is the boat as drawn, and the list that says the same in words.
type BoatSheet struct {
	*draw.Drawing
	Rows []Row // every part, in the order in which they were given

	views              []boatView
	west, scale, sheer float64
}

// Row is one part of the list beside the drawing.
type Row struct {
	Part   record.Ref
	Number int // as in the drawing; 0 if it is not drawn
	Name   string
	Says   string // where it stands
}

// shown is a part with its outlines on their way to the sheet.
type shown struct {
	record.Part
	number   int
	standing Standing
	turned   bool // hatched the other way than its neighbour
}

// Sizes of the boat's sheet, in millimetres.
const (
	boatW   = 140
	margin  = 6
	caption = 3.6
	between = 9
)

// Boat draws a boat from its parts' outlines: from the side, from above with
// the deck lifted off, and the deck from above. Each part is hatched by its
// stage and leads to its page. A part that nobody has said anything of takes
// the stage of the part that it belongs to. Parts without outlines stand in
// the list only. schematic says that the outlines are a template's.
func Boat(parts []record.Part, standing map[record.Ref]Standing, schematic bool) BoatSheet {
	list, rows := prepare(parts, standing)
	views, sheer := viewsOf(list)
	low, high := reach(list)
	height := float64(margin)
	scale := (boatW - 2*margin) / math.Max(high[0]-low[0], 1e-9)
	for i := range views {
		views[i].top = height + caption + 2
		height = views[i].top + scale*(views[i].high-views[i].low) + between
	}
	const foot = 32
	d := draw.New(boatW, height+foot, "The boat, by stage",
		"Side view, plan with the deck lifted off, and deck plan; the denser the hatching, the further the part. The list beside says the same in words.")
	sheet := BoatSheet{Drawing: d, Rows: rows, views: views, west: low[0], scale: scale, sheer: sheer}
	for _, v := range views {
		v.draw(d, low[0], scale)
	}
	if len(views) == 0 {
		d.Text(draw.Plain, p(margin, height), 4, draw.Start, "No part has an outline yet: nothing can be drawn.")
	} else {
		scaleBar(d, p(margin, height+4), scale)
	}
	legend(d, height+11, schematic)
	return sheet
}

// prepare numbers the parts that can be drawn and writes the list.
func prepare(parts []record.Part, standing map[record.Ref]Standing) ([]shown, []Row) {
	within := map[record.Ref]record.Ref{}
	for _, x := range parts {
		within[x.Self] = x.Within
	}
	var list []shown
	var rows []Row
	for _, x := range parts {
		s := standingOf(x.Self, within, standing)
		row := Row{Part: x.Self, Name: called(x), Says: s.String()}
		if len(x.Plan) > 2 || len(x.Profile) > 2 {
			row.Number = len(list) + 1
			list = append(list, shown{Part: x, number: row.Number, standing: s, turned: len(list)%2 == 1})
		}
		rows = append(rows, row)
	}
	return list, rows
}

func called(x record.Part) string {
	if x.Name == "" {
		return x.Key()
	}
	return x.Name
}

// standingOf looks a part's standing up, and where it has none that of the
// part it belongs to.
func standingOf(self record.Ref, within map[record.Ref]record.Ref, standing map[record.Ref]Standing) Standing {
	for i := 0; self != "" && i <= len(within); i++ {
		if s, ok := standing[self]; ok {
			return s
		}
		self = within[self]
	}
	return Standing{}
}

// boatView is one view: which parts, and where on the sheet.
type boatView struct {
	name      string
	parts     []shown
	profile   bool
	deck      bool    // from above, of what lies at the height of the deck
	low, high float64 // reach across
	whole     float64 // how high it would reach, were nothing broken off; 0 if nothing is
	top       float64
}

// viewsOf sorts the parts into views, each from the largest outline to the
// smallest, so that no part hides a smaller one. sheer is the top of what
// reaches below the water.
func viewsOf(list []shown) (out []boatView, sheer float64) {
	for _, x := range list {
		if low, high := span(x.Profile, 1); len(x.Profile) > 2 && low < 0 {
			sheer = math.Max(sheer, high)
		}
	}
	views := []boatView{
		{name: "Side, from starboard", profile: true},
		{name: "From above, deck lifted off"},
		{name: "Deck, from above", deck: true},
	}
	for _, x := range list {
		if len(x.Profile) > 2 {
			views[0].parts = append(views[0].parts, x)
		}
		if len(x.Plan) > 2 {
			low, high := span(x.Profile, 1)
			at := 1
			if len(x.Profile) > 2 && (low+high)/2 > deckHeight*sheer {
				at = 2
			}
			views[at].parts = append(views[at].parts, x)
		}
	}
	for _, v := range views {
		if len(v.parts) == 0 {
			continue
		}
		v.low, v.high = math.Inf(1), math.Inf(-1)
		for _, x := range v.parts {
			low, high := span(v.outline(x), 1)
			v.low, v.high = math.Min(v.low, low), math.Max(v.high, high)
		}
		sort.SliceStable(v.parts, func(i, k int) bool { return area2(v.outline(v.parts[i])) > area2(v.outline(v.parts[k])) })
		v.breakOff()
		out = append(out, v)
	}
	return out, sheer
}

// deckHeight is from where on, as a part of the height of the sheer, something
// is drawn on the deck.
const deckHeight = 0.75

// tall is how high a side view may be, as a part of its length, before what
// stands out of it is broken off, as drafters break off a mast: drawn whole it
// would make everything else too small to read.
const tall = 0.42

// breakOff lowers the top of a side view, never below the foot of any part.
func (v *boatView) breakOff() {
	if !v.profile {
		return
	}
	west, east, foot := math.Inf(1), math.Inf(-1), 0.0
	for _, x := range v.parts {
		a, b := span(x.Profile, 0)
		west, east = math.Min(west, a), math.Max(east, b)
		low, _ := span(x.Profile, 1)
		foot = math.Max(foot, low)
	}
	if top := math.Max(v.low+tall*(east-west), foot+0.05*(east-west)); top < v.high {
		v.whole, v.high = v.high, top
	}
}

func (v boatView) outline(x shown) record.Outline {
	if !v.profile {
		return x.Plan
	}
	if v.whole == 0 {
		return x.Profile
	}
	out := make(record.Outline, len(x.Profile))
	for i, c := range x.Profile {
		out[i] = [2]float64{c[0], math.Min(c[1], v.high)}
	}
	return out
}

// broken draws the break through what goes on above the view.
func (v boatView) broken(d *draw.Drawing, view draw.View) {
	for _, x := range v.parts {
		if _, high := span(x.Profile, 1); high <= v.high {
			continue
		}
		var at record.Outline
		for _, c := range v.outline(x) {
			if c[1] == v.high {
				at = append(at, c)
			}
		}
		low, high := span(at, 0)
		a, b := view.At(low, v.high), view.At(high, v.high)
		d.Line(draw.Thin, p(a.X-2, a.Y+0.8), p((a.X+b.X)/2-0.5, a.Y+0.8), p((a.X+b.X)/2, a.Y-1), p((a.X+b.X)/2+0.5, a.Y+2.2), p(b.X+0.6, a.Y+0.8), p(b.X+2, a.Y+0.8))
	}
	d.Text(draw.Plain, p(boatW-margin, v.top-2), caption, draw.End, "broken off; goes on to "+strconv.FormatFloat(v.whole, 'f', 1, 64)+" m")
}

// on is where the view lies on its sheet.
func (v boatView) on(west, scale float64) draw.View {
	return draw.View{Scale: scale, Origin: p(margin-scale*west, v.top+scale*v.high)}
}

// draw draws one view; west is the x of the sheet's left margin.
func (v boatView) draw(d *draw.Drawing, west, scale float64) {
	view := v.on(west, scale)
	d.Text(draw.Strong, p(margin, v.top-2), caption, draw.Start, v.name)
	for _, x := range v.parts {
		x.draw(d, view, v.outline(x))
	}
	if zero := view.At(0, 0); v.low <= 0 && v.high >= 0 { // waterline, or centreline
		d.Line(draw.Centre, p(margin/2, zero.Y), p(boatW-margin/2, zero.Y))
	}
	if v.whole > 0 {
		v.broken(d, view)
	}
	v.labels(d, view)
}

func (x shown) draw(d *draw.Drawing, view draw.View, o record.Outline) {
	corners := onSheet(view, o)
	d.Link("/part/"+x.Key(), called(x.Part)+": "+x.standing.String(), func() {
		d.Area(x.standing.edge(), corners...)
		angle := 45.0
		if x.turned {
			angle = -45
		}
		d.Hatch(x.standing.tone(), angle, corners...)
	})
}

// span returns the least and greatest coordinate: axis 0 or 1.
func span(o record.Outline, axis int) (low, high float64) {
	for i, c := range o {
		if i == 0 {
			low, high = c[axis], c[axis]
		}
		low, high = math.Min(low, c[axis]), math.Max(high, c[axis])
	}
	return low, high
}

// reach returns the corners of the box around all outlines' lengths.
func reach(list []shown) (low, high [2]float64) {
	low[0], high[0] = math.Inf(1), math.Inf(-1)
	for _, x := range list {
		for _, o := range []record.Outline{x.Plan, x.Profile} {
			if len(o) > 2 {
				a, b := span(o, 0)
				low[0], high[0] = math.Min(low[0], a), math.Max(high[0], b)
			}
		}
	}
	return low, high
}

// area2 is twice the area of an outline.
func area2(o record.Outline) float64 {
	a := 0.0
	for i, c := range o {
		n := o[(i+1)%len(o)]
		a += c[0]*n[1] - n[0]*c[1]
	}
	return math.Abs(a)
}

// middle is the centroid of an outline; of one without area its first corner.
func middle(o record.Outline) (x, y float64) {
	a := 0.0
	for i, c := range o {
		n := o[(i+1)%len(o)]
		k := c[0]*n[1] - n[0]*c[1]
		a += k
		x += (c[0] + n[0]) * k
		y += (c[1] + n[1]) * k
	}
	if math.Abs(a) < 1e-12 {
		return o[0][0], o[0][1]
	}
	return x / (3 * a), y / (3 * a)
}
