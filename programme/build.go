package programme

import (
	"fmt"
	"math"

	"dogshore/calendar"
)

// A kind of link as an index, for the inner loops.
type kind uint8

const (
	fs kind = iota
	ss
	ff
	sf
)

var kinds = map[LinkType]kind{"": fs, FS: fs, SS: ss, FF: ff, SF: sf}

var kindNames = [...]LinkType{fs: FS, ss: SS, ff: FF, sf: SF}

// fromStart and toFinish say at which ends a kind of link is tied.
func (k kind) fromStart() bool { return k == ss || k == sf }
func (k kind) toFinish() bool  { return k == ff || k == sf }

// net is a case made ready for passing: names resolved to places, times in
// seconds.
type net struct {
	c     *Case
	cals  []*calendar.Calendar // of the case, in its order; the last counts by the clock
	nodes []node
	edges []edge
	in    csr // links by the step that waits
	out   csr // links by the step that is waited for
	order []int32
	loop  []int32 // steps of an allowed loop (SS one way, FF back), if any
}

type node struct {
	cal   *calendar.Calendar
	state State
	known bool
	done  bool
	begun bool            // and not done
	work  calendar.Work   // still to do, from base on
	base  calendar.Moment // no earlier than this, links apart
	from  calendar.Moment // taken as the start of what has begun
	to    calendar.Moment // taken as the finish of what is done
}

// instant reports whether nothing is left of the step but a moment: it is at
// any hour, where work begins and ends only when something is worked.
func (n *node) instant() bool { return n.known && n.work == 0 }

type edge struct {
	from, to int32
	kind     kind
	broken   bool // seen out of order: bounds do not run along it
	same     bool // both steps and the lag count on one calendar
	cal      *calendar.Calendar
	lag      calendar.Work
}

// csr lists links by step: those of step i are at[at[i]:at[i+1]] of link.
type csr struct{ at, link []int32 }

func (c csr) of(i int32) []int32 { return c.link[c.at[i]:c.at[i+1]] }

// The longest length, lag or remainder that a case may name: a hundred years.
const longest = 36525

// builder resolves a case.
type builder struct {
	net
	bad      Invalid
	calByID  map[string]*calendar.Calendar
	elapsed  *calendar.Calendar
	stepByID map[string]int32
}

// build checks c and makes it ready; the error is an *Invalid with all
// problems.
func build(c *Case) (*net, error) {
	b := &builder{net: net{c: c}, elapsed: calendar.Elapsed()}
	if !c.DataDate.Known() {
		b.bad.add(NoDataDate, 0, nil, "the case has no data date: give the day that it is looked at from")
	}
	b.readCalendars()
	b.readSteps()
	b.readLinks()
	b.in = byStep(len(b.nodes), b.edges, func(e *edge) int32 { return e.to })
	b.out = byStep(len(b.nodes), b.edges, func(e *edge) int32 { return e.from })
	b.sort(&b.bad)
	if err := b.bad.orNil(); err != nil {
		return nil, err
	}
	return &b.net, nil
}

func (b *builder) readCalendars() {
	b.calByID = make(map[string]*calendar.Calendar, len(b.c.Calendars))
	for _, in := range b.c.Calendars {
		if in.ID == "" {
			b.bad.add(NoID, 0, nil, "a calendar with the week %q has no id", in.Week)
			continue
		}
		if _, twice := b.calByID[in.ID]; twice {
			b.bad.add(Duplicate, 0, nil, "two calendars have the id %q", in.ID)
			continue
		}
		cal, err := calendar.New(in.Week, in.Closures)
		if err != nil {
			b.bad.add(BadCalendar, 0, nil, "calendar %q: %v", in.ID, err)
		}
		b.calByID[in.ID] = cal
		b.net.cals = append(b.net.cals, cal)
	}
	b.net.cals = append(b.net.cals, b.elapsed)
}

func (b *builder) readSteps() {
	b.nodes = make([]node, len(b.c.Steps))
	b.stepByID = make(map[string]int32, len(b.c.Steps))
	for i := range b.c.Steps {
		s := &b.c.Steps[i]
		if s.ID == "" {
			b.bad.add(NoID, 0, nil, "step %d of the case has no id", i+1)
		} else if first, twice := b.stepByID[s.ID]; twice {
			b.bad.add(Duplicate, 0, []string{s.ID}, "steps %d and %d have the same id %q", first+1, i+1, s.ID)
		} else {
			b.stepByID[s.ID] = int32(i)
		}
		b.readLength(s, &b.nodes[i])
		b.checkSightings(s)
	}
}

// readLength checks a step's length and gives its node a calendar and work.
func (b *builder) readLength(s *Step, n *node) {
	id := []string{s.ID}
	n.known = s.Known || s.Work != 0 || s.Hours != 0
	switch {
	case !inRange(s.Work) || s.Work < 0:
		b.bad.add(BadLength, 0, id, "step %q: %g working days is no length: give 0 to %d", s.ID, s.Work, longest)
	case !inRange(s.Hours/24) || s.Hours < 0:
		b.bad.add(BadLength, 0, id, "step %q: %g hours is no length: give 0 to %d days of 24 hours", s.ID, s.Hours, longest)
	case s.Work != 0 && s.Hours != 0:
		b.bad.add(BadLength, 0, id, "step %q has both working days and elapsed hours: give one", s.ID)
	}
	if s.Left != nil && (!inRange(*s.Left) || *s.Left < 0) {
		b.bad.add(BadLength, 0, id, "step %q: %g days left is no length: give 0 to %d", s.ID, *s.Left, longest)
	}
	n.cal = b.elapsed
	if s.Hours == 0 {
		n.cal = b.calendarOf(s.Calendar, func() string { return fmt.Sprintf("step %q", s.ID) }, 0, n.known && s.Work != 0)
	}
	n.work = n.cal.Of(s.Work) + b.elapsed.Of(s.Hours/24)
}

func inRange(days float64) bool { return math.Abs(days) <= longest } // false for NaN

// calendarOf returns the named calendar, or the first of the case. Where
// nothing needs one, a case without calendars is counted by the clock.
func (b *builder) calendarOf(id string, who func() string, link int, needed bool) *calendar.Calendar {
	if id == "" && len(b.c.Calendars) > 0 {
		id = b.c.Calendars[0].ID
	}
	if cal := b.calByID[id]; cal != nil {
		return cal
	}
	if _, bad := b.calByID[id]; bad {
		return b.elapsed // its own problem is already told
	}
	switch {
	case id != "":
		b.bad.add(NoCalendar, link, nil, "%s is on calendar %q, which the case does not have", who(), id)
	case needed:
		b.bad.add(NoCalendar, link, nil, "%s counts in working days, and the case has no calendar: give one, as {\"id\": \"yard\", \"week\": \"Mon-Fri\"}", who())
	}
	return b.elapsed
}

func (b *builder) checkSightings(s *Step) {
	for _, v := range s.Seen {
		switch {
		case v.State != NotStarted && v.State != UnderWay && v.State != Done:
			b.bad.add(BadSighting, 0, []string{s.ID}, "step %q: a sighting says %q: write %q, %q or %q", s.ID, v.State, NotStarted, UnderWay, Done)
		case !v.Day.Known():
			b.bad.add(BadSighting, 0, []string{s.ID}, "step %q: a sighting has no day", s.ID)
		case v.Day > b.c.DataDate && b.c.DataDate.Known():
			b.bad.add(BadSighting, 0, []string{s.ID}, "step %q: the sighting of %s lies after the data date %s", s.ID, v.Day, b.c.DataDate)
		}
	}
}

func (b *builder) readLinks() {
	b.edges = make([]edge, 0, len(b.c.Links))
	for i := range b.c.Links {
		l := &b.c.Links[i]
		from, okFrom := b.stepByID[l.From]
		to, okTo := b.stepByID[l.To]
		k, okKind := kinds[l.Type]
		for _, end := range []struct {
			id string
			ok bool
		}{{l.From, okFrom}, {l.To, okTo}} {
			if !end.ok {
				b.bad.add(NoStep, i+1, nil, "link %d from %q to %q: the case has no step %q", i+1, l.From, l.To, end.id)
			}
		}
		if !okKind {
			b.bad.add(BadLink, i+1, []string{l.From, l.To}, "link %d from %q to %q: type %q is not one of FS, SS, FF, SF", i+1, l.From, l.To, l.Type)
		}
		if !inRange(l.Lag) || !inRange(l.Hours/24) || l.Lag != 0 && l.Hours != 0 {
			b.bad.add(BadLink, i+1, []string{l.From, l.To}, "link %d from %q to %q: give its lag in working days or in hours, not both, within %d days", i+1, l.From, l.To, longest)
		}
		if okFrom && okTo && okKind {
			b.edges = append(b.edges, b.edge(l, i+1, from, to, k))
		}
	}
}

func (b *builder) edge(l *Link, place int, from, to int32, k kind) edge {
	e := edge{from: from, to: to, kind: k, cal: b.nodes[to].cal}
	if l.Calendar != "" {
		e.cal = b.calendarOf(l.Calendar, func() string { return fmt.Sprintf("link %d from %q to %q", place, l.From, l.To) }, place, true)
	}
	e.lag = e.cal.Of(l.Lag)
	if l.Hours != 0 {
		e.cal, e.lag = b.elapsed, b.elapsed.Of(l.Hours/24)
	}
	e.same = b.nodes[from].cal == b.nodes[to].cal && (e.lag == 0 || e.cal == b.nodes[to].cal)
	return e
}

func byStep(n int, edges []edge, key func(*edge) int32) csr {
	at := make([]int32, n+1)
	for i := range edges {
		at[key(&edges[i])+1]++
	}
	for i := range n {
		at[i+1] += at[i]
	}
	link := make([]int32, len(edges))
	next := append([]int32(nil), at[:n]...)
	for i := range edges {
		k := key(&edges[i])
		link[next[k]] = int32(i)
		next[k]++
	}
	return csr{at, link}
}
