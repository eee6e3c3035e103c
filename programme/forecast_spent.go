package programme

import (
	"math"
	"slices"

	"dogshore/calendar"
	"dogshore/internal/random"
)

// spent is the work that went into a step under way before it was last seen not
// done. Its start is even over its gap but for what it says that the step was
// still open after e: with S = 1 - G, the chance to be longer,
//
//	p(e) = S(e) / integral of S from least to most        least <= e <= most
//
// Lengths scale with the pace, so S is laid once, over work in medians at that
// pace, and each trial reads its own stretch of it.
type spent struct {
	least, most float64 // seconds of work
	key         random.Key
	from, step  float64                 // of the nodes, in medians
	log         [spentCells + 1]float64 // ln S at the nodes
	rest        [spentCells + 1]float64 // ln of the integral of S from the node to the last one
}

const spentCells = 256

// spentOf returns the work that went into step i by the moment from which
// nothing is known of it any more.
func (m *model) spentOf(l *law, n *node, i int32) *spent {
	now := float64(n.cal.Worked(m.since(i)))
	lo, hi := m.seen.lo[2*i], m.seen.hi[2*i]
	x := &spent{key: m.seed.For(m.c.Steps[i].ID).For("spent")}
	x.least = max(0, now-float64(n.cal.Worked(calendar.At(hi+1))))
	x.most = max(x.least, now-float64(n.cal.Worked(calendar.At(lo))))
	if lo == 0 { // nobody saw it not begun: the last day leaves the most to do
		x.most = max(0, now-float64(n.cal.Worked(calendar.At(hi))))
		x.least = x.most
	}
	if l.sigma > 0 && x.most > x.least {
		x.lay(l, m.factors.of[l.pace])
	}
	return x
}

// lay lays the nodes over all stretches that the paces ask for.
func (x *spent) lay(l *law, paces []float64) {
	x.from = x.least / (l.median * slices.Max(paces))
	x.step = (x.most/(l.median*slices.Min(paces)) - x.from) / spentCells
	for i := range x.log {
		x.log[i] = l.logSurvival(x.from + float64(i)*x.step)
	}
	x.rest[spentCells] = math.Inf(-1)
	after := 0.0 // the integral from the node on, in units of S at it
	for i := spentCells - 1; i >= 0; i-- {
		fall := x.log[i] - x.log[i+1]
		after = after*math.Exp(-fall) + x.step*decay(fall)
		x.rest[i] = x.log[i] + math.Log(after)
	}
}

// decay is the mean of exp(-fall t) over t from 0 to 1.
func decay(fall float64) float64 {
	if fall < 1e-9 {
		return 1 - fall/2
	}
	return -math.Expm1(-fall) / fall
}

// logSurvival is ln S of a length, in medians.
func (l *law) logSurvival(length float64) float64 {
	if length <= 0 {
		return 0
	}
	return random.LogSurvival(math.Log(length) / l.sigma)
}

// ended returns ln of the integral of S from e on, and the node before e. Within
// a cell S falls as an exponential.
func (x *spent) ended(e float64) (ln float64, i int) {
	at := (e - x.from) / x.step
	i = min(max(int(at), 0), spentCells-1)
	part, fall := at-float64(i), x.log[i]-x.log[i+1]
	left := (1 - part) * x.step * decay(fall*(1-part))
	return x.log[i] - fall*part + math.Log(left+math.Exp(x.rest[i+1]-x.log[i]+fall*part)), i
}

// draw draws the work spent from u, at a median that has its pace in it.
func (x *spent) draw(u, median float64) float64 {
	most := x.most
	if x.step == 0 { // for certain, or no longer than a length that is certain
		most = max(x.least, min(most, median))
		return x.least + u*(most-x.least)
	}
	a, i := x.ended(x.least / median)
	b, j := x.ended(most / median)
	want := a + math.Log1p(u*math.Expm1(min(0, b-a))) // between a and b, as u between 0 and 1
	for i < j {
		if k := (i + j + 1) / 2; x.rest[k] >= want {
			i = k
		} else {
			j = k - 1
		}
	}
	return min(max((x.from+(float64(i)+x.within(i, want))*x.step)*median, x.least), most)
}

// within returns the part of cell i after which the integral of S is still
// exp(want).
func (x *spent) within(i int, want float64) float64 {
	fall := x.log[i] - x.log[i+1]
	left := (math.Exp(want-x.log[i]) - math.Exp(x.rest[i+1]-x.log[i])) / x.step // of S, in units of it at the node
	if fall < 1e-9 {
		return min(max(1-left, 0), 1)
	}
	return min(max(-math.Log(math.Exp(-fall)+left*fall)/fall, 0), 1)
}

// remaining draws what is left of a step under way: first the work spent, then
//
//	D given D > e, from  ln S(D) = ln S(e) + ln (1 - u)
//
// through the logarithm, so that a step overdue many times still has a tail. u
// is the draw of a step that nobody has seen begun: the two differ by what was
// seen alone.
func (l *law) remaining(trial uint64, median float64) float64 {
	e := l.spent.draw(l.spent.key.Unit(trial), median)
	if l.sigma == 0 {
		return median - e
	}
	z := random.QuantileOfLogSurvival(l.logSurvival(e/median) + math.Log1p(-l.key.Unit(trial)))
	return min(median*math.Exp(l.sigma*z), mostTimes*(median+e)) - e
}
