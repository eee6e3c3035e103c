package visit

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"dogshore/journal"
	"dogshore/record"
)

// thing is what readings are readings of: what was to be measured, else what
// they say that they measured, and of what.
type thing struct {
	check record.Ref
	what  string
	of    record.Ref
}

// measurements sums up what was measured: of the readings of one thing at the
// visit that measured it last, the mean against what it should be, and how far
// they lie apart. Readings of other visits are history: the part may have
// changed in between.
func (t *table) measurements() []Measurement {
	checks := map[thing]record.Check{}
	byRef := map[record.Ref]record.Check{}
	for _, c := range journal.All[record.Check](t.r) {
		checks[thing{what: folded(c.What), of: c.Of}] = c
		byRef[c.Self] = c
	}
	groups := map[thing][]record.Measurement{}
	var order []thing
	for _, m := range journal.All[record.Measurement](t.r) {
		if !m.Got.Known {
			continue
		}
		k := thing{what: folded(m.What), of: m.Of}
		if c, ok := checks[k]; ok && m.Check == "" {
			m.Check = c.Self
		}
		if _, ok := byRef[m.Check]; ok {
			k = thing{check: m.Check}
		}
		if groups[k] == nil {
			order = append(order, k)
		}
		groups[k] = append(groups[k], m)
	}
	var out []Measurement
	for _, k := range order {
		out = append(out, sumUp(t.latest(groups[k]), byRef[k.check]))
	}
	slices.SortStableFunc(out, func(a, b Measurement) int {
		return cmp.Or(-cmp.Compare(flag(a.Out), flag(b.Out)), cmp.Compare(a.Self, b.Self))
	})
	return out
}

func folded(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// latest keeps the readings of the visit (or day) that measured last.
func (t *table) latest(all []record.Measurement) []record.Measurement {
	slices.SortStableFunc(all, func(a, b record.Measurement) int {
		return cmp.Or(cmp.Compare(t.dayOf(a.Self, 0, a.Visit), t.dayOf(b.Self, 0, b.Visit)), cmp.Compare(a.Self, b.Self))
	})
	day := t.dayOf(all[len(all)-1].Self, 0, all[len(all)-1].Visit)
	return slices.DeleteFunc(all, func(m record.Measurement) bool { return t.dayOf(m.Self, 0, m.Visit) != day })
}

// sumUp compares readings of one thing with what it should be:
//
//	Mean    = sum of readings / number of readings
//	By      = Mean - (value + plus)   if that is more than nothing
//	        = Mean - (value - minus)  if that is less than nothing
//	Scatter = highest - lowest reading
//	Spread  = sqrt(sum of (reading - Mean)² / (number - 1))
//
// in SI. What it should be is what its check says, else the last tolerance
// that somebody wrote beside a reading; one that says otherwise is named.
// Source of Spread: the standard deviation of a sample, from any text on
// statistics.
func sumUp(all []record.Measurement, c record.Check) Measurement {
	m := Measurement{Measurement: all[len(all)-1], Times: len(all)}
	m.complete(c)
	low, high, sum := math.Inf(1), math.Inf(-1), 0.0
	for _, x := range all {
		low, high, sum = min(low, x.Got.SI), max(high, x.Got.SI), sum+x.Got.SI
		switch {
		case !x.Should.Known:
		case !c.Should.Known:
			m.Should, m.allowed = x.Should, x.Self
		case !sameTolerance(x.Should, c.Should):
			m.Other = x.Self
		}
		m.readings, m.values = append(m.readings, x.Self), append(m.values, x.Got.SI)
		m.Unlike = m.Unlike || x.Got.Dim != all[0].Got.Dim
	}
	m.Scatter, m.Mean = high-low, sum/float64(len(all))
	if len(all) > 1 {
		for _, v := range m.values {
			m.Spread += (v - m.Mean) * (v - m.Mean)
		}
		m.Spread = math.Sqrt(m.Spread / float64(len(all)-1))
	}
	m.judge()
	return m
}

// complete takes from the check what the reading left out.
func (m *Measurement) complete(c record.Check) {
	m.Should = c.Should
	if c.Should.Known {
		m.allowed = c.Self
	}
	if c.Self == "" {
		return
	}
	m.What = c.What
	m.Of = cmp.Or(c.Of, m.Of)
	m.State = cmp.Or(m.State, c.State)
	m.Drawing = cmp.Or(c.Drawing, m.Drawing)
}

// judge compares the mean with the limits, if they are of its dimension.
func (m *Measurement) judge() {
	s := m.Should
	if !s.Known {
		return
	}
	m.Unlike = m.Unlike || s.Dim != m.Got.Dim && s.Dim != "" && m.Got.Dim != ""
	if m.Unlike {
		return
	}
	// A reading that stands at the limit is within it: the margin is for
	// decimal fractions that binary ones only come near to.
	margin := 1e-9 * max(math.Abs(s.Value), s.Plus, s.Minus)
	switch above, below := m.Mean-(s.Value+s.Plus), m.Mean-(s.Value-s.Minus); {
	case above > margin:
		m.Out, m.By = true, above
	case below < -margin:
		m.Out, m.By = true, below
	}
}

func sameTolerance(a, b record.Tolerance) bool {
	return a.Value == b.Value && a.Minus == b.Minus && a.Plus == b.Plus && a.Dim == b.Dim
}

// Wide reports whether the readings lie further apart than the tolerance is
// wide: then the measuring is in doubt before the part is.
func (m Measurement) Wide() bool {
	return m.Times > 1 && !m.Unlike && m.Should.Known && m.Scatter > m.Should.Plus+m.Should.Minus
}

// Said says what several readings came to: "25.1 mm, mean of 4; spread 0.3 mm".
func (m Measurement) Said() string {
	if m.Times < 2 {
		return plain(m.Mean, m.Got.Dim)
	}
	return fmt.Sprintf("%s, mean of %d; spread %s, %s apart", plain(m.Mean, m.Got.Dim), m.Times, plainWide(m.Spread, m.Got.Dim), plainWide(m.Scatter, m.Got.Dim))
}

// checks lists what is to be measured, with what was measured of it. What was
// only told leaves the measuring to be done.
func (t *table) checks(measured []Measurement) []Check {
	got := map[record.Ref]Measurement{}
	for _, m := range measured {
		if m.Check != "" {
			got[m.Check] = m
		}
	}
	var out []Check
	for _, x := range journal.All[record.Check](t.r) {
		step := t.stepOf(x.Before, x.Of)
		c := Check{Check: x, Ahead: t.ahead(step), Gone: t.gone(step)}
		if x.Before == "" && x.Of.Kind() == "step" {
			c.Gone = false // it is measured while that step goes on, and after
		}
		if m, ok := got[x.Self]; ok {
			for _, ref := range m.readings {
				c.Told = t.grounds(ref, m.Visit).Rank() <= record.Told.Rank()
				if !c.Told {
					c.Got = &m
					break
				}
			}
		}
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b Check) int {
		return cmp.Or(cmp.Compare(flag(a.Gone), flag(b.Gone)), cmp.Compare(farOr(a.Ahead), farOr(b.Ahead)), cmp.Compare(a.Self, b.Self))
	})
	return out
}

// farOr puts what is not known last.
func farOr(ahead int) int {
	if ahead < 0 {
		return math.MaxInt
	}
	return ahead
}
