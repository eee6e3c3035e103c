package deck

import (
	"slices"
	"strings"

	"dogshore/jackstay"
	"dogshore/record"
	"dogshore/rope"
)

// lines fills in the arrangement's lines, points to clip to, and the case of
// the whole deck.
func (d *reading) lines(a *Arrangement) {
	a.Supports = map[record.Ref][]record.Support{}
	for _, f := range d.fittings {
		if d.counts(f.Option, a.Option) {
			a.Fittings = append(a.Fittings, f)
		}
	}
	c := jackstay.Case{Tracing: d.a.Plan.Off}
	d.deckOf(&c)
	for _, j := range d.jackstays {
		if !d.counts(j.Option, a.Option) {
			continue
		}
		a.Lines = append(a.Lines, j)
		a.Supports[j.Self] = d.supports[j.Self]
		if line, ok := d.line(j); ok {
			c.Lines = append(c.Lines, line)
		}
	}
	for _, f := range a.Fittings {
		if f.Clip == record.Yes && f.Spot.Known {
			c.Points = append(c.Points, jackstay.ClipPoint{ID: string(f.Self), At: spot(f.Spot), Rated: f.Rated.SI, Stanchion: f.Sort == "stanchion foot"})
		}
	}
	d.people(&c)
	d.sea(&c)
	a.Case = c
}

// deckOf fills in what one stands on, falls over and catches on.
func (d *reading) deckOf(c *jackstay.Case) {
	for _, l := range d.a.Plan.Levels {
		if l.Height.Known && len(l.Plan) > 2 {
			c.Levels = append(c.Levels, jackstay.Level{ID: string(l.Self), Outline: points(l.Plan), Z: l.Height.SI})
		}
	}
	if len(c.Levels) > 0 { // the largest: what stands in none of the others is on it
		c.Outline, c.DeckZ = c.Levels[0].Outline, c.Levels[0].Z
	}
	for _, e := range d.a.Plan.Edges {
		if !e.Height.Known || len(e.Path) < 2 {
			continue
		}
		edge := jackstay.Edge{ID: string(e.Self), Path: points(e.Path), Z: e.Height.SI, Spread: (e.Height.High - e.Height.Low) / 2}
		if e.Rail.Known && e.Rail.SI > 0 {
			if e.Gap.Known && e.Gap.SI > 0 && e.Gap.SI < e.Rail.SI {
				edge.Rails = append(edge.Rails, e.Gap.SI)
			}
			edge.Rails = append(edge.Rails, e.Rail.SI)
		}
		c.Edges = append(c.Edges, edge)
	}
	for _, o := range d.a.Plan.Obstacles {
		top := o.Base.SI + o.Height.SI
		if walkedAround(o.Sort) && len(o.Plan) > 2 {
			c.Obstacles = append(c.Obstacles, jackstay.Obstacle{ID: string(o.Self), Outline: points(o.Plan), Z: top})
		}
		if len(o.Plan) > 0 {
			c.Catches = append(c.Catches, jackstay.Catch{
				ID: string(o.Self), Kind: o.Sort, Path: points(o.Plan), Area: len(o.Plan) > 2,
				Z: top, Overhang: hooks(o.Sort), Sharp: o.Sort == "sharp edge",
			})
		}
	}
}

func walkedAround(sort string) bool { return sort == "mast" || sort == "winch" || sort == "shroud" }

// hooks reports whether a hook can get under a horn or into a gap of it.
func hooks(sort string) bool {
	return slices.Contains([]string{"cleat", "track", "winch", "stanchion", "furler"}, sort)
}

// line makes the engine's line of a jackstay; ok is false while fewer than two
// of its points have a place.
func (d *reading) line(j record.Jackstay) (jackstay.Line, bool) {
	out := jackstay.Line{ID: string(j.Self), Stuff: d.stuff(j.Rope, "")}
	for _, s := range d.supports[j.Self] {
		x := jackstay.Support{ID: string(s.Self), Kind: jackstay.FixedSupport}
		at := s.Spot
		if f, ok := d.fitting(s.Fitting); ok {
			x.ID, x.Rated, at = string(f.Self), f.Rated.SI, f.Spot
		}
		if !at.Known {
			continue
		}
		x.At = spot(at)
		if s.How == "guide" {
			x.Kind = jackstay.GuideSupport
			x.Friction = known(s.Friction)
		}
		out.Supports = append(out.Supports, x)
	}
	out.Slack, out.Pretense = known(j.Slack), known(j.Tension)
	if j.Persons.SI >= 2 {
		out.Together = int(j.Persons.SI + 0.5)
	}
	return out, len(out.Supports) > 1
}

// stuff is what a line is made of, as far as the record says; usual names the
// table's material where nothing is said.
func (d *reading) stuff(ref record.Ref, usual string) jackstay.Stuff {
	x, ok := d.ropes[ref]
	if !ok {
		return jackstay.Stuff{Material: usual}
	}
	s := jackstay.Stuff{Material: material(x), Stiffness: x.Stiffness.SI, MBL: x.Breaking.SI}
	if s.Material == "" && !x.Stiffness.Known && x.Stretch == "" {
		s.Material = usual
	}
	if curve, err := record.ParseStretch(x.Stretch); err == nil {
		for _, p := range curve {
			s.Curve = append(s.Curve, jackstay.CurvePoint{Strain: p.Strain, Tension: p.Force})
		}
	}
	if f := ending(x); f != "" {
		s.Factors = append(s.Factors, f)
	}
	if strings.HasPrefix(x.Make, "nylon") { // at sea it is wet
		s.Factors = append(s.Factors, "wet nylon")
	}
	if x.Age.Known {
		years := x.Age.SI / (365.25 * 86400)
		s.Years = &years
	}
	return s
}

// material finds the engine's table line for a make and a size: the largest of
// that make that is no thicker.
func material(x record.Rope) string {
	names := map[string]string{
		"polyester webbing": "polyester webbing", "nylon webbing": "nylon webbing", "wire 1x19": "1x19 wire",
		"HMPE": "HMPE", "HMPE heat-set": "HMPE heat-set", "polyester braid": "polyester braid", "nylon 3-strand": "nylon three-strand",
	}
	name, best, size := names[x.Make], "", 0.0
	if name == "" {
		return ""
	}
	for _, s := range rope.Stuffs() {
		mm, ok := sized(s.Key, name)
		if ok && (best == "" || mm > size && (!x.Size.Known || mm <= 1000*x.Size.SI+0.01)) {
			best, size = s.Key, mm
		}
	}
	return best
}

// ending is the factor of how a rope's ends are made, as far as the table has
// one.
func ending(x record.Rope) string {
	hmpe := x.Make == "HMPE" || x.Make == "HMPE heat-set"
	switch {
	case x.Ending == "splice" && hmpe:
		return "splice in HMPE"
	case x.Ending == "splice":
		return "eye splice"
	case x.Ending == "knot" && hmpe:
		return "knot in HMPE"
	case x.Ending == "knot":
		return "bowline"
	case x.Ending == "tested whole":
		return "tested whole"
	}
	return ""
}
