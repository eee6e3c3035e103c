package jackstay

import (
	"dogshore/plane"
	"dogshore/rope"
)

// Bounds of a case: more than any deck has, little enough to be worked at once.
const (
	MostLines   = 40
	MostThings  = 2000   // catches, points, edges, obstacles, levels
	MostCorners = 20_000 // of all outlines and paths together
	LongestLine = 200.0  // m
)

// check finds all that is wrong with a case.
func (c *Case) check() error {
	e := &Invalid{}
	if len(c.Lines) > MostLines || len(c.Catches)+len(c.Points)+len(c.Edges)+len(c.Obstacles)+len(c.Levels)+len(c.Tethers)+len(c.Persons) > MostThings {
		e.add(TooMuch, "", "more than %d lines or %d other things: split the case", MostLines, MostThings)
		return e
	}
	ids := &names{e: e, seen: map[string]bool{}}
	c.checkPlan(e, ids)
	for i := range c.Lines {
		ids.take("line", c.Lines[i].ID)
		c.Lines[i].check(e)
	}
	for _, p := range c.Points {
		ids.take("clip point", p.ID)
		if !p.At.finite() {
			e.add(BadPlace, p.ID, "clip point %s has no place", p.ID)
		}
		mustBe(e, p.ID, "breaking load", p.Rated, 0, 1e9)
	}
	c.checkPeople(e, ids)
	c.checkLoads(e)
	return e.orNil()
}

// checkPlan goes through outlines, edges and catches.
func (c *Case) checkPlan(e *Invalid, ids *names) {
	corners := 0
	paths := func(what, id string, path []plane.Point, least int) {
		if corners += len(path); len(path) < least {
			e.add(BadOutline, id, "%s %s has %d corners: it needs %d", what, id, len(path), least)
		}
		for i, p := range path {
			if !p.Finite() {
				e.add(BadPlace, id, "%s %s: corner %d is no place", what, id, i+1)
			}
		}
	}
	if len(c.Outline) > 0 {
		paths("the outline", "", c.Outline, 3)
	}
	for _, l := range c.Levels {
		paths("level", l.ID, l.Outline, 3)
		mustBe(e, l.ID, "height", l.Z, -1e3, 1e3)
	}
	for _, o := range c.Obstacles {
		paths("obstacle", o.ID, o.Outline, 3)
	}
	for i := range c.Edges {
		ids.take("edge", c.Edges[i].ID)
		paths("edge", c.Edges[i].ID, c.Edges[i].Path, 2)
		c.Edges[i].check(e)
	}
	for _, k := range c.Catches {
		ids.take("catch", k.ID)
		least := 1
		if k.Area {
			least = 3
		}
		paths("catch", k.ID, k.Path, least)
		mustBe(e, k.ID, "height", k.Z, -1e3, 1e3)
	}
	if corners > MostCorners {
		e.add(TooMuch, "", "outlines and paths have %d corners: %d can be worked", corners, MostCorners)
	}
}

type names struct {
	e    *Invalid
	seen map[string]bool
}

func (n *names) take(what, id string) {
	switch {
	case id == "":
		n.e.add(NoID, "", "a %s has no id", what)
	case n.seen[what+" "+id]:
		n.e.add(Duplicate, id, "there are two of the %s %s", what, id)
	}
	n.seen[what+" "+id] = true
}

func mustBe(e *Invalid, of, what string, v, lo, hi float64) {
	if !(v >= lo && v <= hi) {
		e.add(BadValue, of, "%s: %s of %g: it must be from %g to %g", of, what, v, lo, hi)
	}
}

func mayBe(e *Invalid, of, what string, v *float64, lo, hi float64) {
	if v != nil {
		mustBe(e, of, what, *v, lo, hi)
	}
}

func (d *Edge) check(e *Invalid) {
	mustBe(e, d.ID, "height", d.Z, -1e3, 1e3)
	mayBe(e, d.ID, "freeboard", d.Freeboard, -100, 1e3)
	mustBe(e, d.ID, "spread of the freeboard", d.Spread, 0, 100)
	last := 0.0
	for _, r := range d.Rails {
		if !(r > last && r < 10) {
			e.add(BadValue, d.ID, "edge %s: rails at %v m: they must rise from above 0", d.ID, d.Rails)
			break
		}
		last = r
	}
}

func (l *Line) check(e *Invalid) {
	if n := len(l.Supports); n < 2 || n > MostSupports {
		e.add(TooMuch, l.ID, "line %s has %d supports: 2 to %d can be worked", l.ID, n, MostSupports)
		return
	}
	length := 0.0
	for i, s := range l.Supports {
		if !s.At.finite() {
			e.add(BadPlace, l.ID, "line %s: support %d has no place", l.ID, i+1)
			return
		}
		if s.Kind != "" && s.Kind != FixedSupport && s.Kind != GuideSupport {
			e.add(BadValue, l.ID, "line %s: support %d is %q: fixed or guide", l.ID, i+1, s.Kind)
		}
		mayBe(e, l.ID, "friction of a guide", s.Friction, 0, 10)
		mustBe(e, l.ID, "spring of an end", s.Spring, 0, 1e12)
		mustBe(e, l.ID, "breaking load of a support", s.Rated, 0, 1e9)
		if i > 0 {
			d := s.At.vec().dist(l.Supports[i-1].At.vec())
			if length += d; d < 4*Stop {
				e.add(TooShort, l.ID, "line %s: supports %d and %d are nearer than %g m", l.ID, i, i+1, 4*Stop)
			}
		}
	}
	mustBe(e, l.ID, "length", length, 0, LongestLine)
	mayBe(e, l.ID, "slack", l.Slack, -0.2, 1)
	mayBe(e, l.ID, "pretension", l.Pretense, 0, 1e6)
	if l.Slack != nil && l.Pretense != nil {
		e.add(BadValue, l.ID, "line %s has both slack and pretension: enter one", l.ID)
	}
	mustBe(e, l.ID, "persons", float64(l.Together), 0, MostHooks)
	mustBe(e, l.ID, "hand force", l.HandForce, 0, 1e5)
	l.Stuff.check(e, "line "+l.ID, false)
}

func (s *Stuff) check(e *Invalid, of string, optional bool) {
	if _, ok := rope.StuffOf(s.Material); s.Material != "" && !ok {
		e.add(NotThere, of, "%s: the material %q is not in the table", of, s.Material)
	} else if s.Material == "" && s.Stiffness == 0 && len(s.Curve) == 0 && !optional {
		e.add(BadStuff, of, "%s: neither a material of the table, nor a stiffness, nor a stretch test", of)
	}
	mustBe(e, of, "stiffness", s.Stiffness, 0, 1e12)
	mustBe(e, of, "breaking load", s.MBL, 0, 1e9)
	mayBe(e, of, "years", s.Years, 0, 200)
	if len(s.Curve) > 0 {
		if len(s.Curve) > 1000 {
			e.add(TooMuch, of, "%s: a stretch test of %d points: 1000 can be worked", of, len(s.Curve))
		} else if _, err := rope.Table(points(s.Curve)); err != nil {
			e.add(BadStuff, of, "%s: %v", of, err)
		}
	}
	if _, _, err := rope.Derate(1, 1, s.Factors); err != nil {
		e.add(NotThere, of, "%s: %v", of, err)
	}
}

func points(curve []CurvePoint) []rope.Point {
	out := make([]rope.Point, len(curve))
	for i, p := range curve {
		out[i] = rope.Point(p)
	}
	return out
}

func (c *Case) checkPeople(e *Invalid, ids *names) {
	for _, t := range c.Tethers {
		ids.take("tether", t.ID)
		if len(t.Legs) == 0 || len(t.Legs) > 3 {
			e.add(BadValue, t.ID, "tether %s has %d legs: 1 to 3, one hook on each", t.ID, len(t.Legs))
		}
		for _, l := range t.Legs {
			mustBe(e, t.ID, "length of a leg", l, 0.2, 10)
		}
		t.Stuff.check(e, "tether "+t.ID, true)
	}
	for _, p := range c.Persons {
		ids.take("person", p.ID)
		if _, ok := bodyOf(p.Body); p.Body != "" && !ok {
			e.add(NotThere, p.ID, "person %s: body %q: F5 F50 F95 M5 M50 M95", p.ID, p.Body)
		}
		mustBe(e, p.ID, "mass", p.Mass, 0, 500)
		for _, v := range []float64{p.Ring, p.Kneel, p.Reach, p.Tall} {
			mustBe(e, p.ID, "measure of the body", v, 0, 3)
		}
		for _, u := range p.Uses {
			if !ids.seen["tether "+u] {
				e.add(NotThere, p.ID, "person %s uses the tether %q, which there is not", p.ID, u)
			}
		}
	}
}

func (c *Case) checkLoads(e *Invalid) {
	l := &c.Loads
	mayBe(e, "", "speed of a slide", l.Slide, 0, 50)
	mayBe(e, "", "fall", l.Fall, 0, 20)
	mayBe(e, "", "friction of an edge", l.EdgeMu, 0, 5)
	mayBe(e, "", "angle of an edge", l.EdgeAngle, 0, 7)
	mayBe(e, "", "least load of an anchor", l.AnchorMin, 0, 1e7)
	mayBe(e, "", "margin", l.Margin, 0, 10)
	mustBe(e, "", "heel", c.Sea.Heel, -1.6, 1.6)
	mustBe(e, "", "wave", c.Sea.Wave, 0, 20)
	mustBe(e, "", "speed", c.Sea.Tow, 0, 50)
	mustBe(e, "", "error of the tracing", c.Tracing, 0, 10)
	mustBe(e, "", "height of the deck", c.DeckZ, -1e3, 1e3)
}
