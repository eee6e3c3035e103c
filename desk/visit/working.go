package visit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/source"
	"dogshore/unit"
)

// measure goes back to what was measured out of tolerance, or with readings
// further apart than the tolerance is wide.
func (t *table) measure(x Measurement) desk.Act {
	a := t.act(desk.Tell, desk.ToYard, x.Self, x.Of, t.stepOfReading(x))
	mean, should := t.mean(x), desk.Typed(t.r, x.allowed, "should", "should be")
	a.Say = fmt.Sprintf("Tell the yard: %s measured %s, should be %s.", x.What, mean.Text, should.Text)
	a.How = sources(x.State, x.Drawing)
	if x.Out {
		a.Why = append(a.Why, t.off(x, mean, should))
	}
	if x.Times > 1 {
		a.Why = append(a.Why, t.spread(x, mean))
	}
	if x.Wide() {
		a.Do, a.Where, a.ID = desk.Measure, desk.AtVisit, id(desk.Measure, x.Self)
		a.Say = fmt.Sprintf("Measure again: %s. %d readings lie further apart than the tolerance is wide.", x.What, x.Times)
		a.Why = append(a.Why, t.scatter(x))
	}
	return a
}

// mean is the mean of the readings, or the one reading as it was written.
func (t *table) mean(x Measurement) figure.Figure {
	var of []figure.Figure
	rule, sum := "m = (", 0.0
	for i, ref := range x.readings {
		f := desk.Typed(t.r, ref, "got", "measured")
		f.Symbol, f.Value, f.Unit = fmt.Sprintf("m%d", i+1), x.values[i], si(x.Got.Dim)
		if i > 0 {
			rule += " + "
		}
		rule += f.Symbol
		sum += f.Value
		of = append(of, f)
	}
	if len(of) == 1 {
		of[0].Symbol = "m"
		return of[0]
	}
	v := sum / float64(len(of))
	return figure.Figure{
		Symbol: "m", Says: fmt.Sprintf("mean of %d readings", len(of)), Value: v, Unit: si(x.Got.Dim), Text: plain(v, x.Got.Dim),
		Rule: fmt.Sprintf("%s) / %d", rule, len(of)), Of: of, Source: source.Source{How: source.Derived},
	}
}

// off says how far the mean lies outside the nearer limit.
func (t *table) off(x Measurement, mean, should figure.Figure) figure.Figure {
	limit := should
	limit.Symbol, limit.Value, limit.Unit = "upper", x.Should.Value+x.Should.Plus, si(x.Got.Dim)
	if x.By < 0 {
		limit.Symbol, limit.Value = "lower", x.Should.Value-x.Should.Minus
	}
	return figure.Figure{
		Symbol: "off", Says: "out of tolerance by", Value: x.By, Unit: si(x.Got.Dim), Text: plainWide(x.By, x.Got.Dim),
		Rule: "off = m - " + limit.Symbol, Of: []figure.Figure{mean, limit}, Source: source.Source{How: source.Derived},
	}
}

// scatter says how far the readings lie apart.
func (t *table) scatter(x Measurement) figure.Figure {
	return figure.Figure{
		Symbol: "s", Says: "the readings lie apart by", Value: x.Scatter, Unit: si(x.Got.Dim), Text: plainWide(x.Scatter, x.Got.Dim),
		Rule: fmt.Sprintf("s = max(%[1]s) - min(%[1]s)", symbols(x.Times)), Of: t.mean(x).Of, Source: source.Source{How: source.Derived},
	}
}

// spread is the standard deviation of repeated readings: how sure one of them
// is.
func (t *table) spread(x Measurement, mean figure.Figure) figure.Figure {
	var squares []string
	for i := range x.readings {
		squares = append(squares, fmt.Sprintf("(m%[1]d - m) * (m%[1]d - m)", i+1))
	}
	return figure.Figure{
		Symbol: "sd", Says: fmt.Sprintf("spread of %d readings (standard deviation)", x.Times), Value: x.Spread, Unit: si(x.Got.Dim), Text: plainWide(x.Spread, x.Got.Dim),
		Rule: fmt.Sprintf("sd = sqrt((%s) / (%d - 1))", strings.Join(squares, " + "), x.Times),
		Of:   append([]figure.Figure{mean}, mean.Of...), Source: source.Source{How: source.Derived},
	}
}

// symbols lists m1, m2, ...
func symbols(n int) string {
	var out []string
	for i := range n {
		out = append(out, fmt.Sprintf("m%d", i+1))
	}
	return strings.Join(out, ", ")
}

// stepOfReading is the step before which a reading matters: its check's.
func (t *table) stepOfReading(x Measurement) record.Ref {
	c, _ := journal.Get[record.Check](t.r, x.Check)
	return t.stepOf(c.Before, x.Of)
}

// sources says on which surface and by which drawing something is measured.
func sources(state, drawing string) []string {
	var out []string
	switch state {
	case "bare":
		out = append(out, "On the bare laminate.")
	case "finished":
		out = append(out, "On the finished surface.")
	}
	if drawing != "" {
		out = append(out, "By drawing "+desk.Sentence(drawing))
	}
	return out
}

// toMeasure asks for what nobody has measured yet: one's own measure is taken,
// a reading of the yard's is looked at; what is covered by now is asked for.
func (t *table) toMeasure(x Check) desk.Act {
	step := t.stepOf(x.Before, x.Of)
	a := t.act(desk.Measure, desk.AtVisit, x.Self, x.Of, step)
	a.Gone = x.Gone
	a.Say = "Measure: " + x.What
	if x.Shown() {
		a.Do, a.ID, a.Say = desk.Ask, id(desk.Ask, x.Self), "Ask to see the reading: "+x.What
	}
	if x.Gone {
		a.Do, a.Where, a.ID = desk.Ask, desk.ToYard, id(desk.Ask, x.Self)
		a.Say = "Ask for the record of what it measured: " + x.What
	}
	why := t.typed(x.Self, "what", "to be measured, and nothing is on file")
	if x.Told {
		why.Says = "to be measured, and so far only told"
	}
	a.Why = []figure.Figure{why}
	if x.Should.Known {
		should := desk.Typed(t.r, x.Self, "should", "should be")
		a.Say += "; it should be " + should.Text
		a.Why = append(a.Why, should)
	}
	a.Say = desk.Sentence(a.Say)
	a.How = sources(x.State, x.Drawing)
	if x.Before != "" && !a.Gone {
		a.Missed = "Afterwards it can't be measured without cutting."
	}
	return a
}

// whichShould asks what a value should be, where two say it differently or it
// is said of something that can't be compared.
func (t *table) whichShould(x Measurement) desk.Act {
	a := t.act(desk.Settle, desk.AtHome, x.Self, x.Of, t.stepOfReading(x))
	a.ID = "should/" + string(x.Self)
	should := desk.Typed(t.r, x.allowed, "should", "should be")
	a.Say = fmt.Sprintf("Say which holds for %s: the check says %s, a reading was noted with %s.", x.What, should.Text, desk.Typed(t.r, x.Other, "should", "").Text)
	a.Why = []figure.Figure{should, desk.Typed(t.r, x.Other, "should", "beside the reading")}
	if x.Unlike {
		got := desk.Typed(t.r, x.Self, "got", "measured")
		a.Say = fmt.Sprintf("Write %s again: measured %s, should be %s; the two can't be compared.", x.What, got.Text, should.Text)
		a.Why = []figure.Figure{got, should}
	}
	return a
}

// si is the unit in which a dimension is held.
func si(d unit.Dimension) string {
	switch d {
	case unit.Length:
		return "m"
	case unit.Area:
		return "m²"
	case unit.Volume:
		return "m³"
	case unit.Mass:
		return "kg"
	case unit.Force:
		return "N"
	case unit.Pressure:
		return "Pa"
	case unit.Angle:
		return "rad"
	case unit.Temperature:
		return "K"
	case unit.Time:
		return "s"
	case unit.Speed:
		return "m/s"
	case unit.Barcol, unit.ShoreD:
		return scale[d]
	}
	return ""
}

// scale is how a hardness is written behind its number.
var scale = map[unit.Dimension]string{unit.Barcol: "Barcol", unit.ShoreD: "Shore D"}

// plainWide prints a width: a difference of temperatures needs no zero.
func plainWide(v float64, d unit.Dimension) string {
	if d == unit.Temperature {
		return strconv.FormatFloat(v, 'g', 3, 64) + " K"
	}
	return plain(v, d)
}

// plain prints a value in its unit, lengths below a metre in mm, to three
// digits: what a tape or gauge gives.
func plain(v float64, d unit.Dimension) string {
	u := si(d)
	switch {
	case d == unit.Length && v > -1 && v < 1:
		v, u = v*1000, "mm"
	case d == unit.Temperature:
		v, u = v-273.15, "°C"
	case d == unit.Pressure:
		v, u = v/100, "mbar"
	case d == unit.Angle:
		v, u = v*180/math.Pi, "°"
	case d == unit.Volume:
		v, u = v*1000, "l"
	}
	text := strconv.FormatFloat(v, 'g', 3, 64)
	if u == "" {
		return text
	}
	return text + " " + u
}
