package visit

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"dogshore/journal"
	"dogshore/record"
)

// measurements sums up what was measured: of the readings of one thing at the
// visit that measured it last, the mean against what it should be, and how far
// they lie apart. Readings of other visits are history: the part may have
// changed in between.
func (t *table) measurements() []Measurement {
	type thing struct {
		what string
		of   record.Ref
	}
	groups := map[thing][]record.Measurement{}
	var order []thing
	for _, m := range journal.All[record.Measurement](t.r) {
		if !m.Got.Known {
			continue
		}
		k := thing{strings.ToLower(strings.Join(strings.Fields(m.What), " ")), m.Of}
		if groups[k] == nil {
			order = append(order, k)
		}
		groups[k] = append(groups[k], m)
	}
	var out []Measurement
	for _, k := range order {
		out = append(out, sumUp(t.latest(groups[k])))
	}
	slices.SortStableFunc(out, func(a, b Measurement) int {
		return cmp.Or(-cmp.Compare(flag(a.Out), flag(b.Out)), cmp.Compare(a.Self, b.Self))
	})
	return out
}

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
//	By = mean - (value + plus)   if that is more than nothing
//	   = mean - (value - minus)  if that is less than nothing
//	Scatter = highest - lowest reading
//
// both in SI. The tolerance is the last one that somebody wrote.
func sumUp(all []record.Measurement) Measurement {
	m := Measurement{Measurement: all[len(all)-1], Times: len(all)}
	m.Should = record.Tolerance{}
	low, high, sum := math.Inf(1), math.Inf(-1), 0.0
	for _, x := range all {
		low, high, sum = min(low, x.Got.SI), max(high, x.Got.SI), sum+x.Got.SI
		if x.Should.Known {
			m.Should, m.allowed = x.Should, x.Self
		}
		m.readings, m.values = append(m.readings, x.Self), append(m.values, x.Got.SI)
	}
	m.Scatter = high - low
	mean := sum / float64(len(all))
	if s := m.Should; s.Known && (s.Dim == m.Got.Dim || s.Dim == "" || m.Got.Dim == "") {
		// A reading that stands at the limit is within it: the margin is for
		// decimal fractions that binary ones only come near to.
		margin := 1e-9 * max(math.Abs(s.Value), s.Plus, s.Minus)
		switch above, below := mean-(s.Value+s.Plus), mean-(s.Value-s.Minus); {
		case above > margin:
			m.Out, m.By = true, above
		case below < -margin:
			m.Out, m.By = true, below
		}
	}
	return m
}

// Wide reports whether the readings lie further apart than the tolerance is
// wide: then the measuring is in doubt before the part is.
func (m Measurement) Wide() bool {
	return m.Times > 1 && m.Should.Known && m.Scatter > m.Should.Plus+m.Should.Minus
}
