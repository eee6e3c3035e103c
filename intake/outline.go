package intake

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"dogshore/dxf"
	"dogshore/record"
	"dogshore/unit"
)

// This file takes outlines of the deck out of a drawing or a list of points:
// which unit, which axes, what each run is. A drawing says none of it for
// certain, so all of it is asked; names only guess.

// plan is one drawing or list of points being read.
type plan struct {
	at   Cell
	as   string // "drawing" or "list of points"
	runs []outlineRun
}

// outlineRun is a run of points, in metres by the plan's own axes.
type outlineRun struct {
	at     Cell
	group  string // its layer or name
	block  string
	insert int
	points []dxf.Point
	closed bool
	of     string
	hidden bool
}

// lengthUnits are the units that are asked about.
var lengthUnits = []string{"millimetres", "centimetres", "metres", "feet", "inches"}

// Extents of a deck beyond these are doubted, in metres.
const (
	smallestPlan = 0.3
	largestPlan  = 120
)

// unitOf asks for a plan's unit where it says none, or one by which no deck
// has its size. extent is its greater side in its own unit.
func (r *reader) unitOf(at Cell, says string, metre, extent float64) (float64, bool) {
	doubted := metre == 0 || extent*metre < smallestPlan || extent*metre > largestPlan
	if !doubted {
		return metre, true
	}
	id := at.String() + " unit"
	if a, ok := r.answer(id); ok {
		if q, err := unit.ParseQuantity("1 "+a, unit.Length, unit.Habit{}); err == nil && q.SI > 0 {
			return q.SI, true
		}
	}
	question := fmt.Sprintf("its lengths have no unit, and what it shows is %s of them long; which unit is it?", unit.Plain(round(extent, 3)))
	if says != "" {
		question = fmt.Sprintf("it says %s, by which what it shows is %s m long; which unit is it?", says, unit.Plain(round(extent*metre, 3)))
	}
	r.ask(Ask{ID: id, At: at, Question: question, Readings: lengthUnits, Free: true})
	return metre, false
}

// axes are the ways in which a plan can lie: where its x and its y axis point.
var axes = []struct {
	says           string
	x1, y1, x2, y2 float64 // boat's x and y of a plan's x and y
	seen           string
}{
	{"x forward, y to port", 1, 0, 0, 1, "the bow to the right"},
	{"x aft, y to starboard", -1, 0, 0, -1, "the bow to the left"},
	{"y forward, x to starboard", 0, 1, -1, 0, "the bow up"},
	{"y aft, x to port", 0, -1, 1, 0, "the bow down"},
	{"x forward, y to starboard", 1, 0, 0, -1, ""},
	{"x aft, y to port", -1, 0, 0, 1, ""},
	{"y forward, x to port", 0, 1, 1, 0, ""},
	{"y aft, x to starboard", 0, -1, -1, 0, ""},
}

// laid is how a plan lies on the boat.
type laid struct {
	x1, y1, x2, y2 float64
	zero           dxf.Point // the plan's place of the boat's zero
}

func (l laid) at(p dxf.Point) [2]float64 {
	d := [2]float64{p.X - l.zero.X, p.Y - l.zero.Y}
	return [2]float64{round(l.x1*d[0]+l.y1*d[1], 4), round(l.x2*d[0]+l.y2*d[1], 4)}
}

// Readings of where the boat's zero lies.
const (
	zeroIsZero = "at its zero"
	zeroIsAft  = "amidships at the after end of what it shows"
)

// lay asks how a plan lies on the boat: its axes, and where the boat's own
// begin.
func (r *reader) lay(p *plan) (laid, bool) {
	id := p.at.String() + " axes"
	a, _ := r.answer(id)
	var l laid
	found := false
	var readings []string
	for _, x := range axes {
		if record.Loose(strings.ReplaceAll(a, ",", "")) == record.Loose(strings.ReplaceAll(x.says, ",", "")) {
			l, found = laid{x1: x.x1, y1: x.y1, x2: x.x2, y2: x.y2}, true
		}
		if p.as != drawingPlan || x.seen != "" {
			readings = append(readings, x.says)
		}
	}
	question := "which way do its axes point on the boat?"
	if p.as == drawingPlan {
		question += " Seen from above with x to the right and y up: the bow is to the right, to the left, up or down"
	}
	if !found {
		r.ask(Ask{ID: id, At: p.at, Question: question, Readings: readings, Free: true})
	}
	zero, ok := r.zero(p, l)
	l.zero = zero
	return l, found && ok
}

var twoNumbers = regexp.MustCompile(`^\s*(-?[\d.,]+)\s*m?\s*[;\s]\s*(-?[\d.,]+)\s*m?\s*$`)

// zero asks where in the plan the after end of the design waterline lies.
func (r *reader) zero(p *plan, l laid) (dxf.Point, bool) {
	id := p.at.String() + " zero"
	a, _ := r.answer(id)
	low, high := p.extent()
	switch {
	case a == zeroIsZero:
		return dxf.Point{}, true
	case a == zeroIsAft && l != laid{}:
		mid := dxf.Point{X: (low.X + high.X) / 2, Y: (low.Y + high.Y) / 2}
		if l.x1 != 0 {
			mid.X = map[bool]float64{true: low.X, false: high.X}[l.x1 > 0]
		} else {
			mid.Y = map[bool]float64{true: low.Y, false: high.Y}[l.y1 > 0]
		}
		return mid, true
	}
	if m := twoNumbers.FindStringSubmatch(a); m != nil {
		x, errX := metresOf(m[1])
		y, errY := metresOf(m[2])
		if errX == nil && errY == nil {
			return dxf.Point{X: x, Y: y}, true
		}
	}
	if a == zeroIsAft { // waits for the axes
		return dxf.Point{}, false
	}
	r.ask(Ask{ID: id, At: p.at, Free: true, Readings: []string{zeroIsZero, zeroIsAft},
		Question: fmt.Sprintf("it shows x from %s to %s and y from %s to %s m. Where in it is the after end of the design waterline, on the centre line, from which the boat's x counts forward and y to port? Where it is measured from the bow, write that end's place in it, as 9.8; 0",
			metresText(low.X), metresText(high.X), metresText(low.Y), metresText(high.Y))})
	return dxf.Point{}, false
}

// metresOf reads a coordinate in metres, whose mark can only be the decimal
// one.
func metresOf(text string) (float64, error) {
	h := unit.Habit{Decimal: '.'}
	if strings.Contains(text, ",") {
		h.Decimal = ','
	}
	q, err := unit.ParseQuantity(text, unit.Number, h)
	return q.SI, err
}

func (p *plan) extent() (low, high dxf.Point) {
	shapes := make([]dxf.Shape, len(p.runs))
	for i, run := range p.runs {
		shapes[i].Points = run.points
	}
	return dxf.Extent(shapes)
}

func round(v, digits float64) float64 {
	k := math.Pow(10, digits)
	if v = math.Round(k*v) / k; v == 0 {
		return 0 // never -0
	}
	return v
}

func metresText(v float64) string { return unit.Plain(round(v, 3)) }

// take asks of a plan what its runs are, and takes those that were answered.
func (r *reader) take(p *plan) {
	lots := p.lots()
	if len(lots) > mostLots {
		r.out.refuse(p.at, "", "it has %d layers, blocks and names, and at most %d can be asked about: leave in it only what belongs to the deck's outlines", len(lots), mostLots)
		return
	}
	l, ok := r.lay(p)
	for _, lot := range lots {
		r.out.Sources = append(r.out.Sources, Source{At: lot.at, As: p.as, Rows: len(lot.things), Count: lot.count, Notes: lot.notes()})
		r.lot(p, lot, l, ok)
	}
}
