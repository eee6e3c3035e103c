package programme

import (
	"fmt"
	"slices"
	"strings"

	"dogshore/calendar"
	"dogshore/figure"
	"dogshore/source"
)

// Workings says how the numbers of a result follow from each other and from
// what was entered. The early start of a step unfolds along the links that
// drive it, down to the data date; its late start along those that bind it, up
// to the last finish. What neither drives nor binds is shown by its value.
type Workings struct {
	p  *pass
	r  *Result
	at map[string]int32
	// open guards the chain against a loop that drives itself.
	open map[int32]bool

	// Name gives a step or a calendar its name; without it ids are shown.
	Name func(id string) string
	// Entry says where an input comes from; without it inputs end in their
	// values. Of is a step's id, a calendar's, or a link's place counted from 1.
	Entry func(what Input, of string) *figure.Entered
}

// Input names what somebody entered.
type Input string

// The inputs of a working.
const (
	Length   Input = "length"
	LeftTold Input = "left"
	NotStart Input = "not before"
	HardDate Input = "not after"
	LagOf    Input = "lag"
	Week     Input = "calendar"
	Status   Input = "data date"
	Sighted  Input = "sighting"
)

var byRule = source.Source{How: source.Derived, Text: "precedence network, definitions of the relations; docs/theory/programme.md"}

// Explain makes the workings of a case ready; r must be the case's result.
func Explain(c Case, r Result) (*Workings, error) {
	n, err := build(&c)
	if err != nil {
		return nil, err
	}
	scratch := Result{Steps: make([]Times, len(n.nodes))}
	n.stand(&scratch, n.look(&scratch))
	w := &Workings{p: newPass(n), r: &r, at: make(map[string]int32, len(c.Steps)), open: make(map[int32]bool)}
	if err := w.p.forward(); err != nil {
		return nil, err
	}
	for i := range c.Steps {
		w.at[c.Steps[i].ID] = int32(i)
		w.p.ls[i], w.p.lf[i] = r.Steps[i].LateStart, r.Steps[i].LateFinish
	}
	return w, nil
}

// Functions are what the rules of a case's workings call, each with a
// calendar's number first: fwd, back, next, last, end and startfor take and
// return day numbers with their fraction; days counts the working days between
// two.
func Functions(c Case) (map[string]func(...float64) float64, error) {
	n, err := build(&c)
	if err != nil {
		return nil, err
	}
	cals := n.cals
	moment := func(f func(*calendar.Calendar, calendar.Moment, float64) calendar.Moment) func(...float64) float64 {
		return func(a ...float64) float64 {
			a = append(a, 0)
			return dayNumber(f(cals[int(a[0])], calendar.Moment(round(a[1]*86400)), a[2]))
		}
	}
	return map[string]func(...float64) float64{
		"fwd":  moment((*calendar.Calendar).Forward),
		"back": moment((*calendar.Calendar).Back),
		"next": moment(func(c *calendar.Calendar, m calendar.Moment, _ float64) calendar.Moment { return c.NextWorking(m) }),
		"last": moment(func(c *calendar.Calendar, m calendar.Moment, _ float64) calendar.Moment { return c.LastStart(m) }),
		"end": moment(func(c *calendar.Calendar, m calendar.Moment, _ float64) calendar.Moment {
			return c.Earliest(c.Worked(m))
		}),
		"startfor": moment(func(c *calendar.Calendar, m calendar.Moment, d float64) calendar.Moment {
			return c.StartFor(m, c.Of(d))
		}),
		"days": func(a ...float64) float64 {
			return cals[int(a[0])].Between(calendar.Moment(round(a[1]*86400)), calendar.Moment(round(a[2]*86400)))
		},
	}, nil
}

func round(x float64) int64 {
	if x < 0 {
		return -int64(-x + 0.5)
	}
	return int64(x + 0.5)
}

func dayNumber(m calendar.Moment) float64 { return float64(m) / 86400 }

// EarlyStart returns the working of a step's early start.
func (w *Workings) EarlyStart(id string) figure.Figure { return w.start(w.at[id], true) }

// EarlyFinish returns the working of a step's early finish.
func (w *Workings) EarlyFinish(id string) figure.Figure { return w.finish(w.at[id], true) }

// LateStart returns the working of a step's late start.
func (w *Workings) LateStart(id string) figure.Figure { return w.lateStart(w.at[id], true) }

// LateFinish returns the working of a step's late finish.
func (w *Workings) LateFinish(id string) figure.Figure { return w.lateFinish(w.at[id], true) }

// TotalFloat returns the working of a step's total float.
func (w *Workings) TotalFloat(id string) figure.Figure {
	i := w.at[id]
	f := figure.Figure{
		Symbol: "TF", Says: "total float of " + w.name(id), Value: w.r.Steps[i].Total, Unit: unitOf(w.p, w.p.nodes[i].cal),
		Text: w.daysText(w.p.nodes[i].cal, w.r.Steps[i].Total), Source: byRule,
	}
	if w.r.Steps[i].Floats {
		f.Rule = "TF = days(C, ES, LS)"
		f.Of = []figure.Figure{w.calendar("C", w.p.nodes[i].cal), w.start(i, true), w.lateStart(i, true)}
	}
	return f
}

// FreeFloat returns the working of a step's free float.
func (w *Workings) FreeFloat(id string) figure.Figure {
	i := w.at[id]
	f := figure.Figure{
		Symbol: "FF", Says: "free float of " + w.name(id), Value: w.r.Steps[i].Free, Unit: unitOf(w.p, w.p.nodes[i].cal),
		Text: w.daysText(w.p.nodes[i].cal, w.r.Steps[i].Free), Source: byRule,
	}
	if w.r.Steps[i].Floats {
		b := w.limits(i, false)
		f.Rule = "FF = days(C, ES, " + b.of("min") + ")"
		f.Of = append(b.inputs, w.start(i, false))
	}
	return f
}

// Calendar returns the calendar of a case by its id, for leads.
func (w *Workings) Calendar(id string) *calendar.Calendar {
	for k := range w.p.c.Calendars {
		if w.p.c.Calendars[k].ID == id {
			return w.p.cals[k]
		}
	}
	return nil
}

// Decide returns the working of DecideBy from a start that is itself worked
// out; each lead is on a Calendar of the case, or in hours.
func (w *Workings) Decide(start figure.Figure, leads []Lead) (figure.Figure, error) {
	rule, of := start.Symbol, []figure.Figure{start}
	for i := len(leads) - 1; i >= 0; i-- {
		l := leads[i]
		cal, days := l.Calendar, l.Days
		if cal == nil {
			cal, days = w.p.cals[len(w.p.cals)-1], l.Hours/24
		}
		if slices.Index(w.p.cals, cal) < 0 || l.Calendar != nil && l.Hours != 0 {
			return figure.Figure{}, fmt.Errorf("programme: the lead %q needs days on a calendar of the case, or hours, not both", l.Says)
		}
		c, symbol := fmt.Sprintf("C%d", i+1), fmt.Sprintf("L%d", i+1)
		of = append(of, w.calendar(c, cal), figure.Figure{
			Symbol: symbol, Says: l.Says, Value: days, Unit: unitOf(w.p, cal), Text: w.daysText(cal, days), Source: source.Source{How: source.Entered},
		})
		rule = fmt.Sprintf("back(%s, %s, %s)", c, rule, symbol)
	}
	m := calendar.Moment(round(start.Value * 86400))
	return w.moment("D", "latest moment to decide", DecideBy(m, leads), "D = "+rule, of), nil
}

func (w *Workings) name(id string) string {
	if w.Name != nil {
		return w.Name(id)
	}
	return id
}

func (w *Workings) entry(what Input, of string) *figure.Entered {
	if w.Entry != nil {
		return w.Entry(what, of)
	}
	return nil
}

func (w *Workings) moment(symbol, says string, m calendar.Moment, rule string, of []figure.Figure) figure.Figure {
	text := m.Day().Said()
	if m != calendar.At(m.Day()) {
		text += ", " + m.String()[len("2006-01-02 "):]
	}
	f := figure.Figure{Symbol: symbol, Says: says, Value: dayNumber(m), Unit: "day", Text: text, Rule: rule, Of: of, Source: byRule}
	return f
}

func (w *Workings) given(symbol, says string, m calendar.Moment, what Input, of string) figure.Figure {
	f := w.moment(symbol, says, m, "", nil)
	f.Source, f.Entry = source.Source{How: source.Entered}, w.entry(what, of)
	return f
}

func unitOf(p *pass, cal *calendar.Calendar) string {
	if cal == p.cals[len(p.cals)-1] {
		return "days of 24 hours"
	}
	return "working days"
}

func (w *Workings) daysText(cal *calendar.Calendar, d float64) string {
	return fmt.Sprintf("%.4g %s", d, unitOf(w.p, cal))
}

func (w *Workings) calendar(symbol string, cal *calendar.Calendar) figure.Figure {
	k := slices.Index(w.p.cals, cal)
	f := figure.Figure{Symbol: symbol, Value: float64(k), Unit: "calendar", Says: "every hour", Text: "24/7", Source: source.Source{How: source.Derived}}
	if k < len(w.p.c.Calendars) {
		in := w.p.c.Calendars[k]
		f.Says, f.Text = "calendar "+w.name(in.ID), in.Week
		f.Source, f.Entry = source.Source{How: source.Entered}, w.entry(Week, in.ID)
	}
	return f
}

// rule collects the arguments of a rule and what they name.
type rule struct {
	args   []string
	inputs []figure.Figure
}

func (b *rule) add(arg string, in ...figure.Figure) {
	b.args = append(b.args, arg)
	b.inputs = append(b.inputs, in...)
}

// of prints the arguments as a call, or alone if there is but one.
func (b *rule) of(call string) string {
	if len(b.args) == 1 {
		return b.args[0]
	}
	return call + "(" + strings.Join(b.args, ", ") + ")"
}

// as gives a figure another symbol.
func as(symbol string, f figure.Figure) figure.Figure {
	if f.Rule != "" {
		f.Rule = symbol + strings.TrimPrefix(f.Rule, f.Symbol)
	}
	f.Symbol = symbol
	return f
}

// length is the step's length, or, of what is under way, what is left of it.
func (w *Workings) length(i int32) figure.Figure {
	n, s := &w.p.nodes[i], &w.p.c.Steps[i]
	days := n.cal.Days(n.work)
	f := figure.Figure{
		Symbol: "OD", Says: "length of " + w.name(s.ID), Value: days, Unit: unitOf(w.p, n.cal), Text: w.daysText(n.cal, days),
		Source: source.Source{How: source.Entered}, Entry: w.entry(Length, s.ID),
	}
	switch {
	case s.Left != nil:
		f.Says, f.Entry = "work left of "+w.name(s.ID)+", as told", w.entry(LeftTold, s.ID)
	case n.begun:
		whole := f
		whole.Symbol, whole.Value = "OD0", n.cal.Days(n.cal.Of(s.Work)+n.cal.Of(s.Hours/24))
		whole.Text = w.daysText(n.cal, whole.Value)
		f.Says, f.Source, f.Entry = "work left of "+w.name(s.ID), byRule, nil
		f.Rule = "OD = max(0, OD0 - days(C, S0, M0))"
		f.Of = []figure.Figure{w.calendar("C", n.cal), whole,
			w.given("S0", "start of "+w.name(s.ID)+", the middle of the days that the sightings allow", n.from, Sighted, s.ID),
			w.moment("M0", "morning from which it goes on", n.base, "", nil)}
	}
	return f
}

// start returns the early start of step i; deep unfolds it.
func (w *Workings) start(i int32, deep bool) figure.Figure {
	n, id := &w.p.nodes[i], w.p.c.Steps[i].ID
	f := w.moment("ES", "early start of "+w.name(id), w.p.es[i], "", nil)
	if n.done || w.p.es[i] == 0 || !deep || w.open[i] {
		return f
	}
	w.open[i] = true
	defer delete(w.open, i)
	var first, b rule
	w.earliest(&first, i)
	b.inputs = append(first.inputs, w.calendar("C", n.cal))
	if n.instant() {
		b.args = []string{"next(C, " + first.of("max") + ")"}
	} else {
		b.args = first.args
	}
	needsLength := false
	for q, l := range w.p.in.of(i) {
		e := &w.p.edges[l]
		if n.begun && e.kind == ss {
			continue
		}
		needsLength = needsLength || e.kind.toFinish() && !n.instant()
		w.need(&b, q+1, l, i)
	}
	if needsLength {
		b.inputs = append(b.inputs, w.length(i))
	}
	f.Of, f.Rule = b.inputs, "ES = "+b.of("max")
	if !n.instant() {
		f.Rule = "ES = next(C, " + b.of("max") + ")"
	}
	return f
}

// earliest adds what bounds step i apart from links.
func (w *Workings) earliest(b *rule, i int32) {
	n, s, t := &w.p.nodes[i], &w.p.c.Steps[i], &w.r.Steps[i]
	b.add("DD", w.given("DD", "data date", calendar.At(w.p.c.DataDate), Status, ""))
	if s.NotFrom.Known() && !n.begun {
		b.add("NF", w.given("NF", "not before", calendar.At(s.NotFrom), NotStart, s.ID))
	}
	from, what := t.StartFrom, "the morning after it was seen not started"
	if n.begun {
		from, what = t.FinishFrom, "the morning after it was seen not done"
	}
	if from > w.p.c.DataDate {
		b.add("SF", w.given("SF", what, calendar.At(from), Sighted, s.ID))
	}
}

// need adds what link l, the q-th into step i, asks of its early start.
func (w *Workings) need(b *rule, q int, l, i int32) {
	e, n := &w.p.edges[l], &w.p.nodes[i]
	from := &w.p.nodes[e.from]
	id := w.p.c.Steps[e.from].ID
	drives := w.p.drivenBy[i] == l
	symbol := fmt.Sprintf("EF%d", q)
	end := w.finish(e.from, drives)
	if e.kind.fromStart() {
		symbol, end = fmt.Sprintf("ES%d", q), w.start(e.from, drives)
		if from.begun || from.done {
			end = w.given("ES", "start of "+w.name(id)+", the middle of the days that the sightings allow", w.p.begin[e.from], Sighted, id)
		}
	} else if from.done {
		end = w.given("EF", "finish of "+w.name(id)+", the middle of the days that the sightings allow", w.p.ef[e.from], Sighted, id)
	}
	x := w.lagged(b, "fwd", symbol, q, l)
	switch {
	case e.kind.toFinish() && e.same && n.instant():
		x = "end(C, " + x + ")"
	case e.kind.toFinish() && e.same:
		x = "next(C, fwd(C, " + x + ", -OD))"
	case e.kind.toFinish() && !n.instant():
		x = "startfor(C, " + x + ", OD)"
	}
	b.add(x, as(symbol, end))
}

// lagged prints a moment moved along link l's lag, and adds what that names.
func (w *Workings) lagged(b *rule, call, x string, q int, l int32) string {
	e := &w.p.edges[l]
	if e.lag == 0 {
		return x
	}
	c, lag := fmt.Sprintf("C%d", q), fmt.Sprintf("l%d", q)
	days := e.cal.Days(e.lag)
	b.inputs = append(b.inputs, w.calendar(c, e.cal), figure.Figure{
		Symbol: lag, Says: "lag between " + w.name(w.p.c.Steps[e.from].ID) + " and " + w.name(w.p.c.Steps[e.to].ID),
		Value: days, Unit: unitOf(w.p, e.cal), Text: w.daysText(e.cal, days),
		Source: source.Source{How: source.Entered}, Entry: w.entry(LagOf, fmt.Sprint(l+1)),
	})
	return call + "(" + c + ", " + x + ", " + lag + ")"
}

func (w *Workings) finish(i int32, deep bool) figure.Figure {
	f := w.moment("EF", "early finish of "+w.name(w.p.c.Steps[i].ID), w.p.ef[i], "", nil)
	if n := &w.p.nodes[i]; deep && !n.done && w.p.ef[i] != 0 {
		f.Rule, f.Of = "EF = fwd(C, ES, OD)", []figure.Figure{w.calendar("C", n.cal), w.start(i, true), w.length(i)}
	}
	return f
}

func (w *Workings) lateStart(i int32, deep bool) figure.Figure {
	f := w.moment("LS", "late start of "+w.name(w.p.c.Steps[i].ID), w.p.ls[i], "", nil)
	if deep && w.r.Steps[i].Floats && !w.open[i] {
		w.open[i] = true
		defer delete(w.open, i)
		b := w.limits(i, true)
		f.Rule, f.Of = "LS = "+b.of("min"), b.inputs
	}
	return f
}

func (w *Workings) lateFinish(i int32, deep bool) figure.Figure {
	f := w.moment("LF", "late finish of "+w.name(w.p.c.Steps[i].ID), w.p.lf[i], "", nil)
	if n := &w.p.nodes[i]; deep && w.r.Steps[i].Floats {
		f.Rule, f.Of = "LF = fwd(C, LS, OD)", []figure.Figure{w.calendar("C", n.cal), w.lateStart(i, true), w.length(i)}
	}
	return f
}

// limits collects what the last finish and the links out of step i allow its
// start: by late times of what waits, or else by their early ones.
func (w *Workings) limits(i int32, late bool) rule {
	n, s := &w.p.nodes[i], &w.p.c.Steps[i]
	var b rule
	b.add("back(C, T, OD)", w.calendar("C", n.cal), w.length(i), w.moment("T", "last finish", w.r.Finish, "", nil))
	if late && s.NotAfter.Known() {
		b.add("back(C, NA, OD)", w.given("NA", "to be finished by", calendar.At(s.NotAfter+1), HardDate, s.ID))
	}
	unfolded := false
	for q, l := range w.p.out.of(i) {
		e := &w.p.edges[l]
		if w.p.free(e) {
			continue
		}
		binds := late && !unfolded && w.p.allow(e, n, w.p.ls[e.to], w.p.lf[e.to]) == w.p.ls[i]
		unfolded = unfolded || binds
		end := w.waitingEnd(e, late, binds)
		symbol := fmt.Sprintf("%s%d", end.Symbol, q+1)
		x := w.allowed(&b, symbol, q+1, l)
		b.add(x, as(symbol, end))
	}
	return b
}

func (w *Workings) waitingEnd(e *edge, late, deep bool) figure.Figure {
	switch {
	case late && e.kind.toFinish():
		return w.lateFinish(e.to, deep)
	case late:
		return w.lateStart(e.to, deep)
	case e.kind.toFinish():
		return w.finish(e.to, false)
	}
	return w.start(e.to, false)
}

// allowed prints the latest start that link l allows.
func (w *Workings) allowed(b *rule, x string, q int, l int32) string {
	e := &w.p.edges[l]
	n := &w.p.nodes[e.from]
	if e.kind.toFinish() && e.same {
		if e.lag != 0 {
			x = w.lagged(b, "fwd", x, q, l)
			x = strings.Replace(x, fmt.Sprintf(", l%d)", q), fmt.Sprintf(", -l%d)", q), 1)
		}
		x = "next(C, " + x + ")"
	} else {
		x = w.lagged(b, "back", x, q, l)
	}
	switch {
	case n.instant():
		return x
	case e.kind.fromStart():
		return "last(C, " + x + ")"
	}
	return "back(C, " + x + ", OD)"
}
