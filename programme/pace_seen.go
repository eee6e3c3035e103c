package programme

import (
	"errors"
	"math"
	"slices"

	"dogshore/calendar"
)

// glimpse is what was seen of one step's start and finish, in working days of
// its calendar. Its ends come from its own sightings; only where nobody saw it
// before it had begun is its start bounded from below by what it waited for.
type glimpse struct {
	begun         bool // and start is bounded on both sides
	done          bool
	whole         bool // seen not begun, and later done
	start, finish span
}

// observer turns sightings into what pace and waiting are learned from.
type observer struct {
	*net
	c      *ForecastCase
	own    *bounds
	all    *bounds // with what comes through the network
	seen   []glimpse
	gates  []gate
	laws   []lasting // at pace 1; nil where nothing is known of a length
	held   []bool    // its start waits for more than its links and the yard's habit
	idle   []bool    // the plan left it time
	lays   []laying
	trade  []int // into trades, -1 where a step does not share the yard's pace
	trades []string
	visits int
}

func observe(c *ForecastCase) (*observer, error) {
	plain := c.Case()
	bad := c.check()
	n, err := build(&plain)
	if err != nil {
		var e *Invalid
		if !errors.As(err, &e) {
			return nil, err
		}
		bad.Problems = append(bad.Problems, e.Problems...)
	}
	if err := bad.orNil(); err != nil {
		return nil, err
	}
	o := &observer{net: n, c: c}
	o.bounds()
	o.sort()
	o.countVisits()
	for i := range n.nodes {
		o.laws = append(o.laws, o.law(&c.Steps[i]))
		o.seen = append(o.seen, o.glimpse(int32(i)))
	}
	for i := range n.nodes {
		o.gates = append(o.gates, o.gate(int32(i)))
	}
	o.hold()
	for i := range n.nodes {
		o.lays = append(o.lays, o.laying(int32(i)))
	}
	return o, nil
}

// hold marks the steps that may begin only after a visit of the owner, or when
// a stand is free: what they wait for is more than can be told from links; and
// those that had time.
func (o *observer) hold() {
	o.idle = spare(o.c)
	first := make(map[string]bool)
	for _, s := range o.c.Stands {
		for _, h := range s.Holdings {
			first[h.First] = true
		}
	}
	for i := range o.c.Steps {
		s := &o.c.Steps[i]
		o.held = append(o.held, s.Owner || first[s.ID])
	}
}

// law returns what a step's length is drawn from at pace 1, in working days of
// its calendar.
func (o *observer) law(s *ForecastStep) lasting {
	median, sigma := Lognormal(s.Spread)
	switch {
	case sigma > 0:
		return lognormal{math.Log(median), sigma}
	case median > 0:
		return exact(median)
	case s.Known || s.Work > 0 || s.Hours > 0:
		return exact(s.Work + s.Hours/24)
	}
	return nil
}

// bounds takes the sightings as they bound each step alone, and through the
// network.
func (o *observer) bounds() {
	var r Result
	r.Steps = make([]Times, len(o.nodes))
	o.all = o.look(&r)
	o.own = newBounds(len(o.nodes))
	for i := range o.nodes {
		seen, _ := o.agreed(int32(i))
		o.bound(o.own, int32(i), seen)
	}
}

// sort lists the trades of the yard's own steps. A length without a spread is
// certain and follows no pace; nor does one by the clock: resin cures no faster
// for a fast crew.
func (o *observer) sort() {
	for i := range o.c.Steps {
		if s := &o.c.Steps[i]; !s.Supplier && !slices.Contains(o.trades, s.Trade) {
			o.trades = append(o.trades, s.Trade)
		}
	}
	slices.Sort(o.trades)
	for i := range o.c.Steps {
		t := -1
		if s := &o.c.Steps[i]; !s.Supplier && s.Spread.Known() {
			t, _ = slices.BinarySearch(o.trades, s.Trade)
		}
		o.trade = append(o.trade, t)
	}
}

// countVisits counts the days on which anything was seen.
func (o *observer) countVisits() {
	days := make(map[calendar.Day]bool)
	for i := range o.c.Steps {
		for _, v := range o.c.Steps[i].Seen {
			days[v.Day] = true
		}
	}
	o.visits = len(days)
}

// glimpse reads the spans of step i. A day that is a bound counts whole.
func (o *observer) glimpse(i int32) glimpse {
	start, finish := 2*i, 2*i+1
	cal := o.nodes[i].cal
	from := o.own.lo[start]
	if from == 0 {
		from = o.all.lo[start]
	}
	var g glimpse
	g.begun = from != 0 && o.own.hi[start] != 0
	g.done = g.begun && o.own.hi[finish] != 0
	g.whole = g.done && o.own.lo[start] != 0
	g.start = span{math.Inf(-1), math.Inf(1)}
	g.finish = g.start
	if from != 0 {
		g.start.lo, g.finish.lo = morning(cal, from), morning(cal, max(from, o.own.lo[finish]))
	}
	if d := o.own.hi[start]; d != 0 {
		g.start.hi = morning(cal, d+1)
	}
	if d := o.own.hi[finish]; d != 0 {
		g.finish.hi = morning(cal, d+1)
	}
	return g
}

// chains counts the chains of steps seen from first to last: steps that were
// seen not begun and later done, where those that follow each other and were
// found done at the same look are one.
func (o *observer) chains() int {
	count := 0
	for j := range o.seen {
		if !o.seen[j].whole {
			continue
		}
		joined := false
		for _, l := range o.in.of(int32(j)) {
			e := &o.edges[l]
			joined = joined || e.kind == fs && o.seen[e.from].whole && o.own.hi[2*e.from+1] == o.own.hi[2*j+1]
		}
		if !joined {
			count++
		}
	}
	return count
}

// barred reports whether step j was not to begin before a day later than from,
// in working days of its calendar.
func (o *observer) barred(j int32, from float64) bool {
	d := o.c.Steps[j].NotFrom
	return d.Known() && morning(o.nodes[j].cal, d) > from
}

// morning returns the working days of cal before day d.
func morning(cal *calendar.Calendar, d calendar.Day) float64 {
	return cal.Days(cal.Worked(calendar.At(d)))
}
