package gybe

import (
	"fmt"
	"math"

	"dogshore/figure"
	"dogshore/source"
)

// Workings says how the numbers of a result follow from each other and from
// what was entered.
type Workings struct {
	r reckoning

	// Entry says where an input comes from, by its field in the case
	// ("sail.area_m2"); without it inputs end in their values.
	Entry func(field string) *figure.Entered
}

// Explain makes the workings of a case ready.
func Explain(c Case) (*Workings, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	w := &Workings{r: reckoning{c: c}}
	w.r.defaults()
	w.r.inertia = inertia(&w.r.c)
	return w, nil
}

var (
	byMast   = source.Source{How: source.Derived, Text: "moments about the mast, which takes no torque about its own axis; docs/theory/gybe.md"}
	byEnergy = source.Source{How: source.Derived, Text: "balance of energy where the boom comes to rest, no damping; docs/theory/gybe.md"}
	byTurn   = source.Source{How: source.Derived, Text: "the two tensions at a turn, added as vectors; docs/theory/gybe.md"}
	byPress  = source.Source{How: source.Published, Text: "dynamic pressure, any text on fluid mechanics"}
	byTrade  = source.Source{How: source.Published, Text: "deck-hardware loading formula, reproduced in a rigging textbook; metric constant derived for the mainsheet"}
	byHand   = source.Source{How: source.Entered}
)

func (w *Workings) input(symbol, says, field, unit string, v float64) figure.Figure {
	f := figure.Figure{Symbol: symbol, Says: says, Value: v, Unit: unit, Text: figureText(v, unit), Source: byHand}
	if w.Entry != nil {
		f.Entry = w.Entry(field)
	}
	return f
}

func figureText(v float64, unit string) string {
	if unit == "" {
		return fmt.Sprintf("%.4g", v)
	}
	return fmt.Sprintf("%.4g %s", v, unit)
}

func worked(symbol, says, unit string, v float64, rule string, src source.Source, of ...figure.Figure) figure.Figure {
	return figure.Figure{Symbol: symbol, Says: says, Value: v, Unit: unit, Text: figureText(v, unit), Rule: rule, Source: src, Of: of}
}

// Moment returns the working of the sail's moment about the mast in a wind.
func (w *Workings) Moment(wind float64) figure.Figure {
	c := &w.r.c
	q := worked("q", "dynamic pressure of the wind", "Pa", w.r.press(wind), "q = 0.5 * rho * V * V", byPress,
		w.input("rho", "density of air", "air_kg_m3", "kg/m³", c.Air), w.input("V", "wind at the sail", "wind_m_s", "m/s", wind))
	f := worked("F_s", "force of the sail, square to the wind", "N", w.r.press(wind)*c.Sail.Area*c.Sail.Force, "F_s = q * A * C", byPress, q,
		w.input("A", "area of the sail", "sail.area_m2", "m²", c.Sail.Area), w.input("C", "its force coefficient", "sail.force_coefficient", "", c.Sail.Force))
	return worked("M", "moment of the sail about the mast", "N m", w.r.moment(wind), "M = F_s * x", byMast, f,
		w.input("x", "how far aft of the mast the force acts", "sail.aft_m", "m", c.Sail.Aft))
}

// Held returns the working of the tension that holds the boom at an angle, the
// line not giving; its lever unfolds to what the tape measured. ok is false
// where no tension does.
func (w *Workings) Held(p Preventer, side Side, angle float64) (f figure.Figure, ok bool) {
	l := newLead(&w.r.c.Boom, &p, side)
	pose := l.pose(angle)
	if pose.lever <= leastLever*l.at {
		return figure.Figure{}, false
	}
	m := w.Moment(w.r.c.Wind.top())
	return worked("T", "tension of "+p.Name+" at the boom", "N", m.Value/pose.lever, "T = M / r", byMast, m, w.lever(l, &pose)), true
}

func (w *Workings) lever(l *lead, p *pose) figure.Figure {
	_, outward := l.axis(p.angle)
	share := p.lever / (l.at * l.flat)
	of := worked("u", "share of the pull that is square to the boom and outward", "", share, "u = (dx * sin(B) + dy * cos(B)) / l1", byMast,
		w.input("dx", "first turn forward of where it is made fast", "preventers.turns.spot", "m", p.pull.X*p.leg),
		w.input("dy", "first turn outboard of it", "preventers.turns.spot", "m", p.pull.Y*p.leg),
		w.input("l1", "length of the leg between them", "preventers.turns.spot", "m", p.leg),
		w.input("B", "boom angle", "boom.out_rad", "rad", math.Atan2(outward.X, outward.Y)))
	return worked("r", "lever of the pull about the mast", "m", p.lever, "r = a * e * u", byMast,
		w.input("a", "from the mast to where it is made fast, along the boom", "preventers.at_m", "m", l.at),
		w.input("e", "share of that which is level", "boom.rise_m", "", l.flat), of)
}

// Turn returns the working of the load on a turn of a lead, without friction
// there: 2 T sin(phi/2). ok is false for the end and for a turn with friction,
// where the two tensions differ: that load is told as it is.
func (w *Workings) Turn(p Preventer, side Side, held Held, i int) (f figure.Figure, ok bool) {
	if i+1 >= len(p.Turns) || i >= len(held.Points) || p.Turns[i].Friction != 0 {
		return figure.Figure{}, false
	}
	q := held.Points[i]
	t := figure.Figure{Symbol: "T", Says: "tension there", Value: q.In, Unit: "N", Text: figureText(q.In, "N"), Source: byTurn}
	if top, ok := w.Held(p, side, held.Angle); ok && i == 0 {
		t = top
	}
	phi := figure.Figure{Symbol: "phi", Says: "angle by which the line turns there", Value: q.Turning, Unit: "rad", Text: fmt.Sprintf("%.0f°", q.Turning*180/math.Pi), Source: byTurn}
	return worked("R", "load on "+orThe(q.Name, "the turn"), "N", q.Load, "R = 2 * T * sin(phi / 2)", byTurn, t, phi), true
}

// Stopped returns the working of a boom caught aback at once and stopped: the
// energy that is left where it comes to rest, which must vanish. ok is false
// where it is not stopped, or the lead has friction or the boom is in the water:
// there the work on the line is summed along the way.
func (w *Workings) Stopped(p Preventer, side Side, run Run) (f figure.Figure, ok bool) {
	l := newLead(&w.r.c.Boom, &p, side)
	law, err := p.Line.law()
	if err != nil || run.Outcome != Holds || l.rubs {
		return figure.Figure{}, false
	}
	set := p.set(&w.r.c.Boom)
	d := l.drawn(law.Scaled(run.Setting.Stretch), set, run.Slack)
	m := w.Moment(run.Wind)
	stop := l.pose(run.Angle)
	took := figure.Figure{
		Symbol: "U", Says: fmt.Sprintf("what the line has taken up, stretched by %.2f m to %.0f N", run.Stretched, run.Tension),
		Value: d.taken(set, run.Angle), Unit: "J", Text: figureText(d.taken(set, run.Angle), "J"), Source: byEnergy,
	}
	if len(p.Line.Curve) == 0 && run.Slack >= 0 {
		took.Rule = "U = k * EA * max(0, l - L0) * max(0, l - L0) / (2 * L0)"
		took.Of = []figure.Figure{
			w.input("EA", "stiffness of the line", "preventers.line.stiffness_n", "N", p.Line.Stiffness),
			worked("k", "times that: stretch is known to half and double", "", run.Setting.Stretch, "", byEnergy),
			worked("l", "length of the way where the boom stops", "m", stop.length, "", byMast),
			worked("L0", "length of the line, unstretched", "m", d.own, "L0 = l0 + s", byMast,
				worked("l0", "length of the way where it is set up", "m", l.pose(set).length, "", byMast),
				w.input("s", "slack there", "preventers.slack_m", "m", run.Slack)),
		}
	}
	left := m.Value*(set-run.Angle) + w.r.inertia*w.r.c.Rate*w.r.c.Rate/2 - took.Value
	f = worked("E", "energy of motion that is left where the boom stops; it must vanish", "J", left, "E = M * (B0 - B) + 0.5 * I * w * w - U", byEnergy, m, took,
		w.input("B0", "boom angle where the line is set up", "preventers.set_rad", "rad", set),
		worked("B", "boom angle where it stops, found so that E vanishes", "rad", run.Angle, "", byEnergy),
		worked("I", "inertia of boom, sail and air about the mast", "kg m²", w.r.inertia, "", byEnergy),
		w.input("w", "rate at which it swings in already", "rate_rad_s", "rad/s", w.r.c.Rate))
	if math.Abs(left) < 0.001 {
		f.Text = "less than 0.001 J"
	}
	return f, true
}

// SheetLoad returns the working of the trade's formula for the mainsheet. ok is
// false if the case does not ask for it.
func (w *Workings) SheetLoad() (f figure.Figure, ok bool) {
	c := &w.r.c
	if c.Sheet == nil {
		return figure.Figure{}, false
	}
	w.r.sheet()
	v := worked("V", "apparent wind", "kn", c.Sheet.Wind/knot, "V = v * 3600 / 1852", byTrade, w.input("v", "apparent wind", "mainsheet.wind_m_s", "m/s", c.Sheet.Wind))
	return worked("ML", "mainsheet by the trade's formula", "N", w.r.out.Sheet.Load, "ML = 9.80665 * E * E * P * P * 0.02104 * V * V / (hyp(P, E) * (E - X))", byTrade,
		w.input("E", "foot of the sail", "sail.foot_m", "m", c.Sail.Foot), w.input("P", "hoist of the sail", "sail.luff_m", "m", c.Sail.Luff), v,
		w.input("X", "how far forward of the clew the sheet is made fast", "mainsheet.forward_m", "m", c.Sheet.Forward)), true
}

// Functions are what the rules of the workings call: sine, cosine, and the long
// side of a right triangle.
func Functions() map[string]func(...float64) float64 {
	return map[string]func(...float64) float64{
		"sin": func(a ...float64) float64 { return math.Sin(a[0]) },
		"cos": func(a ...float64) float64 { return math.Cos(a[0]) },
		"hyp": func(a ...float64) float64 { return math.Hypot(a[0], a[1]) },
	}
}
