package visit

import (
	"fmt"
	"strconv"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/source"
	"dogshore/unit"
)

// measure goes back to what was measured out of tolerance, or with readings
// further apart than the tolerance is wide.
func (t *table) measure(x Measurement) desk.Act {
	a := t.act(desk.Tell, desk.ToYard, x.Self, x.Of, t.stepOf("", x.Of))
	mean, should := t.mean(x), desk.Typed(t.r, x.allowed, "should", "should be")
	a.Say = fmt.Sprintf("Tell the yard: %s measured %s, should be %s.", x.What, mean.Text, should.Text)
	if x.Out {
		a.Why = append(a.Why, t.off(x, mean, should))
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
		Symbol: "off", Says: "out of tolerance by", Value: x.By, Unit: si(x.Got.Dim), Text: plain(x.By, x.Got.Dim),
		Rule: "off = m - " + limit.Symbol, Of: []figure.Figure{mean, limit}, Source: source.Source{How: source.Derived},
	}
}

// scatter says how far the readings lie apart.
func (t *table) scatter(x Measurement) figure.Figure {
	return figure.Figure{
		Symbol: "s", Says: "the readings lie apart by", Value: x.Scatter, Unit: si(x.Got.Dim), Text: plain(x.Scatter, x.Got.Dim),
		Rule: "s = highest reading - lowest reading", Of: t.mean(x).Of, Source: source.Source{How: source.Derived},
	}
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
	}
	return ""
}

// plain prints a value in its unit, lengths below a metre in mm, to three
// digits: what a tape or gauge gives.
func plain(v float64, d unit.Dimension) string {
	u := si(d)
	if d == unit.Length && v > -1 && v < 1 {
		v, u = v*1000, "mm"
	}
	text := strconv.FormatFloat(v, 'g', 3, 64)
	if u == "" {
		return text
	}
	return text + " " + u
}
