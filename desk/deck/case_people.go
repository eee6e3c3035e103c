package deck

import (
	"math"

	"dogshore/jackstay"
	"dogshore/journal"
	"dogshore/plane"
	"dogshore/record"
	"dogshore/unit"
)

// people fills in tethers and who wears them.
func (d *reading) people(c *jackstay.Case) {
	for _, t := range d.tethers {
		legs := []float64{t.Long.SI}
		for n := 2; n <= int(t.Hooks.SI+0.5); n++ {
			legs = append(legs, shortLeg(t))
		}
		c.Tethers = append(c.Tethers, jackstay.Tether{ID: string(t.Self), Legs: legs, Stuff: d.stuff(t.Rope, "tether webbing 25 mm")})
		if t.Mass.Known || t.Ring.Known {
			name := t.Wearer
			if name == "" {
				name = t.Name
			}
			c.Persons = append(c.Persons, jackstay.Person{ID: name, Mass: t.Mass.SI, Ring: t.Ring.SI, Uses: []string{string(t.Self)}})
		}
	}
}

func shortLeg(t record.Tether) float64 {
	if t.Short.Known {
		return t.Short.SI
	}
	return t.Long.SI
}

func known(q unit.Quantity) *float64 {
	if !q.Known {
		return nil
	}
	return &q.SI
}

func spot(s record.Spot) jackstay.Spot { return jackstay.Spot{X: s.X, Y: s.Y, Z: s.Z} }

func points(o record.Outline) []plane.Point {
	out := make([]plane.Point, len(o))
	for i, p := range o {
		out[i] = plane.Point{X: p[0], Y: p[1]}
	}
	return out
}

// sea is how she lies when somebody goes over: what was entered for it, else
// upright on flat water. The middle of each band is taken, and what half of it
// makes at each edge widens the band of that edge's height.
func (d *reading) sea(c *jackstay.Case) {
	b, ok := journal.Get[record.Build](d.r, "build/build")
	if !ok {
		return
	}
	if b.Heel.Known {
		c.Sea.Heel = math.Abs(b.Heel.Low+b.Heel.High) / 2
	}
	if b.Wave.Known {
		c.Sea.Wave = max(0, (b.Wave.Low+b.Wave.High)/2)
	}
	if b.AtSea.Known {
		c.Sea.Tow = max(0, b.AtSea.High)
	}
	for i := range c.Edges {
		e := &c.Edges[i]
		wide := 0.0
		for _, p := range e.Path {
			wide = max(wide, math.Abs(p.Y))
		}
		if e.Spread == 0 {
			e.Spread = usualSpread
		}
		e.Spread += wide*math.Abs(math.Sin(b.Heel.High)-math.Sin(b.Heel.Low))/2 + math.Abs(b.Wave.High-b.Wave.Low)/2
	}
}

// usualSpread is half the band of a freeboard that was entered without one, m:
// as the engine takes it.
const usualSpread = 0.1
