package jackstay

import (
	"dogshore/rope"
	"dogshore/source"
)

// The three stiffnesses of every check.
const (
	soft = iota
	asEntered
	stiff
)

var scales = [3]float64{0.5, 1, 2}

// band takes a value at each stiffness.
func band(v [3]float64) Band { return Band{v[soft], v[asEntered], v[stiff]} }

func (b Band) most() float64  { return max(b.Soft, b.As, b.Stiff) }
func (b Band) least() float64 { return min(b.Soft, b.As, b.Stiff) }

// setup is a case with what nobody entered filled in.
type setup struct {
	c         *Case
	legs      []leg
	tethers   []Tether
	persons   []Person
	mass      float64 // of the heaviest
	slide     float64
	fall      float64
	edgeMu    float64
	edgeAngle float64
	anchorMin float64
	margin    float64
	tracing   float64
	bridge    float64
	assumed   []Assumed
}

// leg is one leg of one tether, at the three stiffnesses.
type leg struct {
	tether string
	length float64
	strap  [3]Strap
}

var (
	bySheet   = source.Source{How: source.Common}
	byRules   = source.Source{How: source.Memory, Text: "tether of at most 2 m, with one of at most 1 m or a hook half-way (Offshore Special Regulations 5.02)"}
	byWebbing = source.Source{How: source.Memory, Text: "polyester webbing of 25 mm, makers' tables"}
)

func prepare(c *Case) (*setup, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	s := &setup{c: c, tethers: c.Tethers, persons: append([]Person(nil), c.Persons...)}
	if len(s.tethers) == 0 {
		s.tethers = []Tether{{ID: "2 m and 1 m", Legs: []float64{2, 1}}}
		s.assume("tether", "longer leg", 2, "m", byRules)
		s.assume("tether", "shorter leg", 1, "m", byRules)
	}
	for _, t := range s.tethers {
		s.takeTether(&t)
	}
	if len(s.persons) == 0 {
		s.persons = []Person{{ID: "large man", Body: "M95"}, {ID: "small woman", Body: "F5"}}
	}
	for i := range s.persons {
		s.fillPerson(&s.persons[i])
	}
	s.bridge = s.shortestBridge()
	l := &c.Loads
	s.slide = s.or(l.Slide, "loads", "speed of a slide across a wet deck", 3, "m/s")
	s.fall = s.or(l.Fall, "loads", "free fall before the tether comes tight", 1, "m")
	s.edgeMu = s.or(l.EdgeMu, "loads", "friction of the tether over the edge", 0, "")
	s.edgeAngle = s.or(l.EdgeAngle, "loads", "bend of the tether over the edge", 1.5707963267948966, "rad")
	s.anchorMin = s.or(l.AnchorMin, "loads", "least load that an anchorage is asked to hold", 20e3, "N")
	s.margin = s.or(l.Margin, "loads", "margin wanted between reach and edge", 0.3, "m")
	if s.tracing = c.Tracing; s.tracing == 0 {
		s.tracing = 0.1
		s.assume("plan", "error of the tracing", s.tracing, "m", bySheet)
	}
	return s, nil
}

func (s *setup) assume(of, what string, v float64, unit string, src source.Source) {
	s.assumed = append(s.assumed, Assumed{of, what, v, unit, src})
}

func (s *setup) or(v *float64, of, what string, usual float64, unit string) float64 {
	if v != nil {
		return *v
	}
	s.assume(of, what, usual, unit, bySheet)
	return usual
}

// takeTether makes the straps of a tether's legs.
func (s *setup) takeTether(t *Tether) {
	law, ok := t.Stuff.law()
	if !ok {
		law, _ = rope.Linear(150e3)
		s.assume("tether "+t.ID, "stiffness", 150e3, "N", byWebbing)
	}
	for _, l := range t.Legs {
		g := leg{tether: t.ID, length: l}
		for q, k := range scales {
			g.strap[q] = Strap{Law: law.Scaled(k), Length: l}
		}
		s.legs = append(s.legs, g)
	}
}

// law returns the stretch law of some stuff: a test before a stiffness before
// the table.
func (s *Stuff) law() (rope.Law, bool) {
	if len(s.Curve) > 0 {
		l, err := rope.Table(points(s.Curve))
		return l, err == nil
	}
	ea := s.Stiffness
	if m, ok := rope.StuffOf(s.Material); ea == 0 && ok {
		ea = m.EA
	}
	l, err := rope.Linear(ea)
	return l, err == nil
}

func (s *setup) fillPerson(p *Person) {
	key := p.Body
	if key == "" {
		key = "M95"
	}
	b, _ := bodyOf(key)
	fill := func(v *float64, what, unit string, usual float64) {
		if *v == 0 {
			*v = usual
			s.assume("person "+p.ID, what, usual, unit, fromBodies)
		}
	}
	fill(&p.Mass, "mass with wet gear", "kg", b.mass+gear)
	fill(&p.Ring, "height of the ring, standing", "m", b.ring)
	fill(&p.Kneel, "height of the ring, kneeling", "m", b.kneel)
	fill(&p.Reach, "reach of the hand beyond the ring", "m", b.arm)
	fill(&p.Tall, "stature", "m", b.tall)
	s.mass = max(s.mass, p.Mass)
}

// uses lists the tethers of a person.
func (s *setup) uses(p *Person) []Tether {
	if len(p.Uses) == 0 {
		return s.tethers
	}
	var out []Tether
	for _, t := range s.tethers {
		for _, u := range p.Uses {
			if t.ID == u {
				out = append(out, t)
			}
		}
	}
	return out
}

// shortestBridge is the widest gap that each person can bridge, kneeling, on
// some tether of theirs with two hooks.
func (s *setup) shortestBridge() float64 {
	least := -1.0
	for i := range s.persons {
		p := &s.persons[i]
		best := 0.0
		for _, t := range s.uses(p) {
			for a := range t.Legs {
				for b := range t.Legs {
					if a != b {
						best = max(best, Bridge(t.Legs[a], t.Legs[b], p.Kneel, p.Reach))
					}
				}
			}
		}
		if least < 0 || best < least {
			least = best
		}
	}
	return max(least, 0)
}
