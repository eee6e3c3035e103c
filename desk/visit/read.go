package visit

import (
	"cmp"
	"slices"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

// Read says what the visits so far left open, what the next one is for, and
// what goes into the letter after the last. It reads the plan's answer for
// where each step stands and runs no engine. What was dropped or waived asks
// nothing of the next visit. more are the acts of the desks between the two.
func Read(r *journal.Record, p plan.Answer, more ...desk.Act) Answer {
	t := newTable(r, p)
	a := Answer{Day: r.Day}
	a.Last, a.Before = t.lastTwo()
	a.Loose = t.loose()
	a.Questions = t.questions()
	a.Defects = t.defects()
	a.Measurements = t.measurements()
	a.Checks = t.checks(a.Measurements)
	a.Unanswered = t.unanswered(a)
	a.Acts = t.acts(a)
	all, _ := desk.Rule(r, desk.Merge(slices.Concat(p.Acts, more, a.Acts)))
	a.Next = t.coming(a.Last, all)
	a.Walk = t.walk(all)
	a.Letter = t.letter(a, all)
	a.at = map[record.Ref]record.Ref{}
	for _, c := range a.Checks {
		a.at[c.Self] = t.on(c.Of, c.Before)
	}
	return a
}

// table is the record as this desk looks things up in it.
type table struct {
	r       *journal.Record
	p       plan.Answer
	steps   map[record.Ref]*plan.Step
	points  map[record.Ref]*plan.Point
	held    []record.Visit // that have been, oldest first
	lines   []sent         // of letters sent, by number
	answers map[record.Ref]record.Answer
	shown   map[record.Ref]bool // subjects that a picture or paper shows
}

func newTable(r *journal.Record, p plan.Answer) *table {
	t := &table{
		r: r, p: p,
		steps:   map[record.Ref]*plan.Step{},
		points:  map[record.Ref]*plan.Point{},
		answers: map[record.Ref]record.Answer{},
		shown:   map[record.Ref]bool{},
	}
	for i := range p.Steps {
		t.steps[p.Steps[i].Self] = &p.Steps[i]
	}
	for _, points := range [][]plan.Point{p.Points, p.Settled} {
		for i := range points {
			t.points[points[i].Self] = &points[i]
		}
	}
	for _, a := range journal.All[record.Answer](r) {
		if was, ok := t.answers[a.To]; !ok || was.Day <= a.Day {
			t.answers[a.To] = a
		}
	}
	for _, e := range journal.All[record.Evidence](r) {
		t.shown[e.Shows] = true
	}
	t.held = Held(r)
	t.lines = t.sentLines()
	return t
}

// Held returns the visits that have been by the record's day, oldest first. A
// planned one whose day merely passed is a missed visit, and raises no alarm.
func Held(r *journal.Record) []record.Visit {
	var out []record.Visit
	for _, v := range journal.All[record.Visit](r) {
		if v.Day.Known() && v.Day <= r.Day && v.Planned != record.Yes {
			out = append(out, v)
		}
	}
	slices.SortStableFunc(out, func(a, b record.Visit) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Self, b.Self))
	})
	return out
}

// Looks reports whether somebody looked: a call tells, and shows nothing.
func Looks(v record.Visit) bool { return v.By != "call" }

// lastTwo returns the last two visits at which somebody looked.
func (t *table) lastTwo() (last, before record.Visit) {
	for _, v := range t.held {
		if Looks(v) {
			last, before = v, last
		}
	}
	return last, before
}

// ahead says how far off a step is: -1 if not known.
func (t *table) ahead(step record.Ref) int {
	if s := t.steps[step]; s != nil {
		return s.Ahead
	}
	return -1
}

// gone reports whether a step has begun, as seen or as it follows from a later
// one; a word that it has still leaves the look to be had.
func (t *table) gone(step record.Ref) bool {
	s := t.steps[step]
	return s != nil && s.Begun.Known()
}

// chance is the last day before a step starts, if that was earned.
func (t *table) chance(step record.Ref) desk.When {
	if s := t.steps[step]; s != nil && !t.gone(step) {
		return s.Chance
	}
	return desk.When{}
}

// stepOf is the step before which something matters: the one that was named,
// else the one that what it is about hangs on. Nothing is guessed.
func (t *table) stepOf(named, about record.Ref) record.Ref {
	if named != "" {
		return named
	}
	switch about.Kind() {
	case "step":
		return about
	case "point":
		if x, ok := journal.Get[record.Point](t.r, about); ok {
			return x.CoveredBy
		}
	case "item":
		if x, ok := journal.Get[record.Item](t.r, about); ok {
			return x.NeededBy
		}
	case "defect":
		if x, ok := journal.Get[record.Defect](t.r, about); ok {
			return x.Before
		}
	case "requirement":
		if x, ok := journal.Get[record.Requirement](t.r, about); ok {
			return x.Before
		}
	}
	return ""
}

// on is the part or place where something is to be done.
func (t *table) on(about, step record.Ref) record.Ref {
	switch about.Kind() {
	case "part", "place":
		return about
	case "point":
		if x, ok := journal.Get[record.Point](t.r, about); ok && x.Part != "" {
			return x.Part
		}
	case "item":
		if x, ok := journal.Get[record.Item](t.r, about); ok && x.Part != "" {
			return x.Part
		}
	case "defect":
		if x, ok := journal.Get[record.Defect](t.r, about); ok && x.Part != "" {
			return x.Part
		}
	case "requirement":
		if x, ok := journal.Get[record.Requirement](t.r, about); ok && x.Part != "" {
			return x.Part
		}
	case "step":
		if s := t.steps[about]; s != nil && s.Part != "" {
			return s.Part
		}
	}
	if s := t.steps[step]; s != nil {
		return s.Part
	}
	return ""
}

// name is how a person calls a subject, "" for nothing.
func (t *table) name(ref record.Ref) string {
	if ref == "" {
		return ""
	}
	return t.r.Name(ref)
}

// dayOf is the day of an observation: the one it names, else its visit's,
// else the day from which its entry holds.
func (t *table) dayOf(self record.Ref, day calendar.Day, visit record.Ref) calendar.Day {
	if day.Known() {
		return day
	}
	if v, ok := journal.Get[record.Visit](t.r, visit); ok && v.Day.Known() {
		return v.Day
	}
	if e := t.r.From(self); e != nil && e.Since != journal.Always {
		return e.Since
	}
	return 0
}

// grounds says how an observation is known: as its entry says, and never
// better than its visit can give. The yard's pictures show, a call tells.
func (t *table) grounds(self, visit record.Ref) record.Grounds {
	e := t.r.From(self)
	if e == nil {
		return record.Inferred
	}
	g := e.Grounds
	v, ok := journal.Get[record.Visit](t.r, visit)
	switch {
	case !ok:
	case v.By == "call" && g.Rank() > record.Told.Rank():
		return record.Told
	case v.By == "pictures" && g.Rank() > record.Shown.Rank():
		return record.Shown
	}
	return g
}

// witnessed reports whether grounds mean that somebody saw it, if only in a
// picture. What was told or written was said.
func witnessed(g record.Grounds) bool {
	return g != record.Written && g.Rank() >= record.Shown.Rank()
}

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}
