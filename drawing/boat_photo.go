package drawing

import (
	"fmt"
	"math"

	"dogshore/internal/draw"
)

// PhotoMark is where on the boat a picture was taken, and which way it looked.
type PhotoMark struct {
	X, Y, Z float64    // metres, in the boat's axes
	Towards [3]float64 // of length 1; zero where it is not known
	Href    string
	Says    string
}

// ViewOfBoat says where a view of a BoatSheet lies on it, so that a place that
// somebody taps there can be read: a point (a, b) of the view, in metres, lies
// at (Left + Scale a, Zero - Scale b), in millimetres.
type ViewOfBoat struct {
	Profile     bool    `json:"profile"` // b is the height, else what is to port
	Left        float64 `json:"left"`
	Zero        float64 `json:"zero"`
	Scale       float64 `json:"scale"`
	Top, Bottom float64 // of the view on the sheet
}

// Views lists the views of the sheet, as drawn.
func (b BoatSheet) Views() []ViewOfBoat {
	var out []ViewOfBoat
	for _, v := range b.views {
		view := v.on(b.west, b.scale)
		out = append(out, ViewOfBoat{Profile: v.profile, Left: view.Origin.X, Zero: view.Origin.Y, Scale: view.Scale, Top: v.top, Bottom: v.top + b.scale*(v.high-v.low)})
	}
	return out
}

// Sizes of a picture's mark, in millimetres, and of its wedge, in radians.
const (
	photoR     = 1.0
	photoWedge = 4.5
	photoHalf  = 0.42
)

// Photos marks on the sheet where pictures were taken: a ring with a wedge that
// opens the way the picture looks, a ring alone where that is not known or
// leads out of the view. Those that would lie on one another share one mark
// with their number, which leads where together says.
func (b BoatSheet) Photos(marks []PhotoMark, together func(m PhotoMark) string) {
	for i, v := range b.views {
		view := v.on(b.west, b.scale)
		type group struct {
			at draw.Point
			of []PhotoMark
		}
		var groups []group
	next:
		for _, m := range marks {
			if !b.inView(i, m) {
				continue
			}
			at := view.At(m.X, m.Y)
			if v.profile {
				at = view.At(m.X, m.Z)
			}
			for k := range groups {
				if math.Hypot(groups[k].at.X-at.X, groups[k].at.Y-at.Y) < 2.6*photoR {
					groups[k].of = append(groups[k].of, m)
					continue next
				}
			}
			groups = append(groups, group{at, []PhotoMark{m}})
		}
		for _, g := range groups {
			if m := g.of[0]; len(g.of) == 1 {
				b.Link(m.Href, m.Says, func() { m.draw(b.Drawing, g.at, v.profile) })
				continue
			}
			b.Link(together(g.of[0]), fmt.Sprintf("%d pictures", len(g.of)), func() {
				b.Dot(draw.Outline, g.at, 1.9*photoR)
				b.Text(draw.Label, p(g.at.X, g.at.Y+1), 2.8, draw.Middle, fmt.Sprint(len(g.of)))
			})
		}
	}
}

// inView reports whether a mark belongs on a view: all on the side view, those
// up at deck height on the deck from above, the others on the view below it,
// or on whatever view from above there is.
func (b BoatSheet) inView(i int, m PhotoMark) bool {
	v := b.views[i]
	if v.profile {
		return m.Z <= v.high
	}
	deck, below := -1, -1
	for k, x := range b.views {
		switch {
		case x.profile:
		case x.deck:
			deck = k
		default:
			below = k
		}
	}
	if deck >= 0 && (below < 0 || m.Z > deckHeight*b.sheer) {
		return i == deck
	}
	return i == below
}

func (m PhotoMark) draw(d *draw.Drawing, at draw.Point, profile bool) {
	across := m.Towards[1]
	if profile {
		across = m.Towards[2]
	}
	if l := math.Hypot(m.Towards[0], across); l > 0.5 {
		way := math.Atan2(-across, m.Towards[0]) // down the sheet is positive
		side := func(off float64) draw.Point {
			return p(at.X+photoWedge*math.Cos(way+off), at.Y+photoWedge*math.Sin(way+off))
		}
		d.Area(draw.Tint, at, side(-photoHalf), side(photoHalf))
		d.Line(draw.Outline, side(-photoHalf), at, side(photoHalf))
	}
	d.Dot(draw.Outline, at, photoR)
}
