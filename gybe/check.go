package gybe

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"
)

// check returns an *Invalid unless the case can be reckoned.
func (c *Case) check() error {
	e := &Invalid{}
	c.Boom.check(e)
	c.Sail.check(e)
	e.band("wind_m_s", c.Wind, 0, fastest)
	if c.Wind.top() < 0.1 {
		e.add("wind_m_s is %g: give the wind that the preventer is to hold", c.Wind.top())
	}
	e.number("clear_m", c.Clear, 0, farthest)
	e.number("rate_rad_s", c.Rate, 0, fastest)
	e.known("factor", c.Factor, 0.1, 100)
	e.known("air_kg_m3", c.Air, 0.1, 10)
	if len(c.Preventers) > maxLeads {
		e.add("preventers holds %d: at most %d are reckoned", len(c.Preventers), maxLeads)
		return e
	}
	for i := range c.Preventers {
		c.Preventers[i].check(e, fmt.Sprintf("preventers %d (%s)", i+1, c.Preventers[i].Name), &c.Boom)
	}
	if len(c.Obstacles) > maxBlocked {
		e.add("obstacles holds %d: at most %d are looked at", len(c.Obstacles), maxBlocked)
		return e
	}
	corners := 0
	for i, o := range c.Obstacles {
		corners += len(o.Run)
		at := fmt.Sprintf("obstacles %d (%s)", i+1, o.Name)
		e.number(at+".radius_m", o.Radius, 0, farthest)
		e.run(at+".run", o.Run)
	}
	if corners > maxCorners {
		e.add("obstacles have %d corners together: at most %d are looked at", corners, maxCorners)
	}
	c.checkSeldom(e)
	return e.orNil()
}

func (c *Case) checkSeldom(e *Invalid) {
	if c.Rate > 0 && (c.Boom.Mass == 0 || c.Sail.Mass == 0 || c.Sail.Luff == 0) {
		e.add("rate_rad_s needs boom.mass_kg, sail.mass_kg and sail.luff_m: without them nobody knows the boom's inertia")
	}
	if d := c.Dip; d != nil {
		e.band("dip.speed_m_s", d.Speed, 0, fastest)
		e.number("dip.immersed_m", d.Immersed, 0, c.Boom.Length)
		e.known("dip.drag_coefficient", d.Drag, 0.01, 10)
		e.known("dip.water_kg_m3", d.Water, 1, 2000)
		if c.Boom.Depth <= 0 {
			e.add("dip needs boom.depth_m, the depth of the section that the water meets")
		}
	}
	if s := c.Sheet; s != nil {
		e.number("mainsheet.forward_m", s.Forward, -farthest, farthest)
		e.number("mainsheet.wind_m_s", s.Wind, 0, fastest)
		if c.Sail.Luff <= 0 {
			e.add("mainsheet needs sail.luff_m")
		}
		if s.Forward >= c.Sail.Foot {
			e.add("mainsheet.forward_m is %g: the sheet is made fast aft of the mast, so it is less than the foot of %g m", s.Forward, c.Sail.Foot)
		}
	}
}

func (e *Invalid) run(field string, run []Spot) {
	if len(run) == 0 || len(run) > maxRun {
		e.add("%s has %d spots: 1 to %d belong there", field, len(run), maxRun)
		return
	}
	for i, s := range run {
		e.spot(fmt.Sprintf("%s %d", field, i+1), s)
	}
}

func (b *Boom) check(e *Invalid) {
	e.spot("boom.gooseneck", b.Gooseneck)
	e.number("boom.length_m", b.Length, 0.1, farthest)
	e.number("boom.rise_m", b.Rise, -0.9*b.Length, 0.9*b.Length)
	e.known("boom.depth_m", b.Depth, 1e-3, 5)
	e.known("boom.mass_kg", b.Mass, 0.1, 1e5)
	e.known("boom.bending_nm", b.Bending, 1, strongest)
	e.known("boom.compression_n", b.Squeeze, 1, strongest)
	e.number("boom.out_rad", b.Out, 0.01, 2)
}

func (s *Sail) check(e *Invalid) {
	e.number("sail.area_m2", s.Area, 0.01, 1e4)
	e.known("sail.luff_m", s.Luff, 0.1, farthest)
	e.number("sail.foot_m", s.Foot, 0.1, farthest)
	e.known("sail.mass_kg", s.Mass, 0.1, 1e5)
	e.known("sail.force_coefficient", s.Force, 0.01, 10)
	e.known("sail.aft_m", s.Aft, 0.01, farthest)
}

func (p *Preventer) check(e *Invalid, at string, b *Boom) {
	switch p.Side {
	case Port, Starboard, Both:
	default:
		e.add("%s.side is %q: port, starboard or both belongs there", at, p.Side)
	}
	e.number(at+".at_m", p.At, 0.05, b.Length)
	e.known(at+".set_rad", p.Set, 0.01, b.Out)
	e.band(at+".slack_m", p.Slack, -farthest, farthest)
	e.known(at+".line.stiffness_n", p.Line.Stiffness, 1, strongest)
	e.known(at+".line.holds_n", p.Line.Holds, 1, strongest)
	if _, err := p.Line.law(); err != nil {
		e.add("%s.line: %v", at, err)
	}
	if len(p.Turns) == 0 || len(p.Turns) > maxTurns {
		e.add("%s.turns has %d: 1 to %d belong there, the last one being the end of the line", at, len(p.Turns), maxTurns)
		return
	}
	for i, t := range p.Turns {
		where := fmt.Sprintf("%s.turns %d (%s)", at, i+1, t.Name)
		e.spot(where+".spot", t.Spot)
		e.number(where+".friction", t.Friction, 0, 5)
		e.known(where+".rated_n", t.Rated, 1, strongest)
		if i > 0 && r3.Norm(r3.Sub(r3.Vec(t.Spot), r3.Vec(p.Turns[i-1].Spot))) < nearest {
			e.add("%s lies where the turn before it lies: leave one of the two out", where)
		}
	}
	if len(e.Problems) == 0 {
		p.checkLeads(e, at, b)
	}
}

// checkLeads notes where turns of a lead come to lie in one spot once it is laid
// out on a side, or more is hauled in than there is line.
func (p *Preventer) checkLeads(e *Invalid, at string, b *Boom) {
	for _, side := range p.sides() {
		l := newLead(b, p, side)
		for i, long := range l.legs {
			if !(long >= nearest) {
				e.add("%s.turns %d (%s): led on %s it lies where the turn before it lies", at, i+2, p.Turns[i+1].Name, side)
			}
		}
		set := p.set(b)
		at0 := l.pose(set)
		if at0.leg < nearest {
			e.add("%s: on %s its first turn lies where it is made fast on the boom", at, side)
		}
		if at0.length+p.Slack.Low <= 0.5*at0.length {
			e.add("%s.slack_m is %g: a line of %.3g m can't be hauled in by so much", at, p.Slack.Low, at0.length)
		}
	}
}

// top returns the upper end of a band.
func (b Band) top() float64 {
	if b.High == 0 && b.Low > 0 {
		return b.Low
	}
	return b.High
}

// ends returns the ends of a band, one if they are the same.
func (b Band) ends() []float64 {
	if t := b.top(); t != b.Low {
		return []float64{b.Low, t}
	}
	return []float64{b.Low}
}

// set returns the boom angle at which the preventer is set up.
func (p *Preventer) set(b *Boom) float64 {
	if p.Set > 0 {
		return p.Set
	}
	return b.Out
}

// sides returns the sides that a preventer is used on.
func (p *Preventer) sides() []Side {
	if p.Side == Both {
		return []Side{Port, Starboard}
	}
	return []Side{p.Side}
}

// home returns the side that the turns of a preventer are given for: its own,
// or of one that is shifted over, that on which its first turn lies.
func (p *Preventer) home() Side {
	switch {
	case p.Side != Both:
		return p.Side
	case p.Turns[0].Spot.Y < 0:
		return Starboard
	}
	return Port
}

// mirror returns 1 for port and -1 for starboard.
func (s Side) mirror() float64 {
	if s == Starboard {
		return -1
	}
	return 1
}
