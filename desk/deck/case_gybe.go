package deck

import (
	"math"

	"dogshore/gybe"
	"dogshore/plane"
	"dogshore/record"
	"dogshore/rope"
	"dogshore/unit"
)

// preventers returns the preventers of an arrangement on one boom.
func (d *reading) preventersOf(boom, arrangement record.Ref) []record.Preventer {
	var out []record.Preventer
	for _, p := range d.preventers {
		if p.Boom == boom && d.counts(p.Option, arrangement) {
			out = append(out, p)
		}
	}
	return out
}

// gybeCase makes the engine's case of a boom and the preventers of an
// arrangement; missing says what it lacks, and then there is no case.
func (d *reading) gybeCase(b record.Boom, arrangement record.Ref) (c gybe.Case, missing []string) {
	missing = lacks(
		lack{b.Gooseneck.Known, "where the boom is hinged"}, lack{b.Length.Known, "the length of the boom"},
		lack{b.Foot.Known, "the foot of the sail"}, lack{b.SailArea.Known, "the area of the sail"},
		lack{b.Wind.Known, "the wind that the preventer must hold"}, lack{b.Out.Known, "how far out the boom goes"},
	)
	if missing != nil {
		return c, missing
	}
	c = gybe.Case{
		Boom: gybe.Boom{
			Name: b.Name, Gooseneck: vector(b.Gooseneck), Length: b.Length.SI, Rise: b.Rise.SI, Depth: b.Depth.SI,
			Mass: b.Mass.SI, Bending: b.Bending.SI, Squeeze: b.Squeeze.SI, Out: b.Out.SI, // the bending is a force at 1 m: N m
		},
		Sail: gybe.Sail{Area: b.SailArea.SI, Luff: b.Luff.SI, Foot: b.Foot.SI, Mass: b.SailMass.SI},
		Wind: band(b.Wind),
	}
	for _, p := range d.preventersOf(b.Self, arrangement) {
		if x, ok := d.preventer(p); ok {
			c.Preventers = append(c.Preventers, x)
		}
	}
	c.Obstacles = d.fouls()
	if b.Speed.Known && b.Dips.Known {
		c.Dip = &gybe.Dip{Speed: band(b.Speed), Immersed: b.Dips.SI}
	}
	if b.SheetAt.Known && b.Luff.Known {
		c.Sheet = &gybe.Mainsheet{Forward: b.Foot.SI - b.SheetAt.SI, Wind: band(b.Wind).High}
	}
	return c, nil
}

type lack struct {
	there bool
	what  string
}

func lacks(of ...lack) []string {
	var out []string
	for _, x := range of {
		if !x.there {
			out = append(out, x.what)
		}
	}
	return out
}

// preventer makes the engine's preventer; ok is false while no turn of it has
// a place.
func (d *reading) preventer(p record.Preventer) (gybe.Preventer, bool) {
	out := gybe.Preventer{Name: string(p.Self), Side: gybe.Side(p.Side), At: p.At.SI, Line: d.preventerLine(p.Rope)}
	if out.Side == "" {
		out.Side = gybe.Both
	}
	if p.Slack.Known {
		out.Slack = band(p.Slack)
	}
	for _, t := range d.turns[p.Self] {
		x := gybe.Turn{Name: string(t.Self), Sort: "block", Rated: t.Rated.SI, Friction: blockFriction}
		at := t.Spot
		if f, ok := d.fitting(t.Fitting); ok {
			x.Name, x.Sort, at = string(f.Self), turnSort(f.Sort), f.Spot
			if f.Rated.Known {
				x.Rated = f.Rated.SI
			}
			at.Z += f.Stands.SI
		}
		if at.Known {
			x.Spot = vector(at)
			out.Turns = append(out.Turns, x)
		}
	}
	if n := len(out.Turns); n > 0 && out.Turns[n-1].Sort == "block" {
		out.Turns[n-1].Sort = "cleat"
	}
	return out, len(out.Turns) > 0
}

// blockFriction is that of line on a sheave with plain bearings: from memory of
// makers' tables, 0.05 to 0.15; none would load the line least.
const blockFriction = 0.1

// turnSort is the engine's word for a fitting that a preventer turns in: the
// line passes an eye or a foot through a block made fast there.
func turnSort(sort string) string {
	switch sort {
	case "clutch", "cleat", "winch":
		return sort
	case "pad eye", "U-bolt", "stanchion foot":
		return "eye"
	}
	return "block"
}

// preventerLine is what a preventer is made of; what nobody entered comes from
// the engine's table, and counts as assumed.
func (d *reading) preventerLine(ref record.Ref) gybe.Line {
	s := d.stuff(ref, "polyester braid 12 mm")
	out := gybe.Line{Name: d.r.Name(ref), Stiffness: s.Stiffness}
	for _, p := range s.Curve {
		out.Curve = append(out.Curve, gybe.Stretch(p))
	}
	table, ok := rope.StuffOf(s.Material)
	breaking := s.MBL
	if breaking == 0 && ok {
		breaking, out.Assumed = table.MBLLow, true
	}
	if out.Stiffness == 0 && len(out.Curve) == 0 && ok {
		out.Stiffness = table.EA
	}
	low, _, err := rope.Derate(breaking, breaking, s.Factors)
	if err != nil {
		return out
	}
	if s.Years != nil && ok {
		if left, _, known := rope.Sun(table.Fibre, *s.Years); known {
			low *= left
		}
	}
	out.Holds = low
	return out
}

// fouls is what a preventer's lead must not touch: shrouds and guard-rails.
func (d *reading) fouls() []gybe.Obstacle {
	var out []gybe.Obstacle
	for _, o := range d.a.Plan.Obstacles {
		if (o.Sort == "shroud" || o.Sort == "stanchion" || o.Sort == "mast") && len(o.Plan) > 0 && o.Height.Known {
			x, y := o.Plan[0][0], o.Plan[0][1]
			out = append(out, gybe.Obstacle{Name: string(o.Self), Radius: 0.015,
				Run: []gybe.Spot{{X: x, Y: y, Z: o.Base.SI}, {X: x, Y: y, Z: o.Base.SI + o.Height.SI}}})
		}
	}
	for _, e := range d.a.Plan.Edges {
		if !e.Rail.Known || e.Rail.SI <= 0 || len(e.Path) < 2 {
			continue
		}
		wire := gybe.Obstacle{Name: string(e.Self), Radius: 0.005}
		for _, p := range e.Path {
			wire.Run = append(wire.Run, gybe.Spot{X: p[0], Y: p[1], Z: e.Height.SI + e.Rail.SI})
		}
		out = append(out, wire)
	}
	return out
}

// sweepCase asks what the gear of a boom sweeps, and who is there.
func (d *reading) sweepCase(a *Arrangement, b record.Boom, c gybe.Case) gybe.SweepCase {
	out := gybe.SweepCase{Boom: c.Boom, Preventers: c.Preventers}
	if b.Sheet.Known && b.SheetAt.Known {
		out.Sheet = &gybe.SheetRun{At: b.SheetAt.SI, From: vector(b.Sheet)}
	}
	for _, s := range d.a.Plan.Sweeps {
		zone := gybe.Zone{Name: string(s.Self), Sort: s.Sort, Low: s.Low.SI, High: s.High.SI}
		zone.Outlines = plane.Region{points(s.Plan)}
		out.Zones = append(out.Zones, zone)
	}
	for _, f := range a.Fittings {
		if f.Clip == record.Yes && f.Spot.Known {
			at := vector(f.Spot)
			at.Z = d.standing(at.X, at.Y, at.Z)
			out.Stations = append(out.Stations, gybe.Station{Name: string(f.Self), Sort: "clip point", Run: []gybe.Spot{at}, Height: stature})
		}
	}
	for _, o := range d.a.Plan.Obstacles {
		if o.Sort == "winch" && len(o.Plan) > 0 {
			at := gybe.Spot{X: o.Plan[0][0], Y: o.Plan[0][1]}
			at.Z = d.standing(at.X, at.Y, o.Base.SI)
			out.Stations = append(out.Stations, gybe.Station{Name: string(o.Self), Sort: "winch", Run: []gybe.Spot{at}, Height: stature})
		}
	}
	for _, t := range d.tasks {
		out.Stations = append(out.Stations, gybe.Station{Name: string(t.Self), Sort: "way", Run: d.onDeck(t.Way), Height: stature})
	}
	return out
}

// stature is a tall person's height with boots, m: the 95th percentile of men
// in anthropometric tables is about 1.87 m, from memory.
const stature = 1.9

// standing is the height of what one stands on at a place: the smallest level
// there; else as said.
func (d *reading) standing(x, y, otherwise float64) float64 {
	z := otherwise
	for _, l := range d.a.Plan.Levels { // larger ones first
		if l.Height.Known && within(l.Plan, x, y) {
			z = l.Height.SI
		}
	}
	return z
}

func (d *reading) onDeck(way record.Outline) []gybe.Spot {
	out := make([]gybe.Spot, len(way))
	for i, p := range way {
		out[i] = gybe.Spot{X: p[0], Y: p[1], Z: d.standing(p[0], p[1], 0)}
	}
	return out
}

// within reports whether a place lies inside an outline (even-odd rule).
func within(o record.Outline, x, y float64) bool {
	in := false
	for i, c := range o {
		n := o[(i+1)%len(o)]
		if (c[1] > y) != (n[1] > y) && x < c[0]+(y-c[1])/(n[1]-c[1])*(n[0]-c[0]) {
			in = !in
		}
	}
	return in
}

func vector(s record.Spot) rope.Vector { return rope.Vector{X: s.X, Y: s.Y, Z: s.Z} }

func band(q unit.Quantity) gybe.Band {
	return gybe.Band{Low: math.Min(q.Low, q.High), High: math.Max(q.Low, q.High)}
}
