package intake

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dogshore/calendar"
	"dogshore/dxf"
	"dogshore/journal"
	"dogshore/record"
)

// canBe says once how a run's question is answered.
func canBe() string {
	return fmt.Sprintf("a run is answered as %s, %s, obstacle with its sort (%s), or swept region with its gear (%s), as obstacle: winch",
		isLevel, isEdge, strings.Join(record.KindOf("obstacle").Field("sort").Of, ", "), strings.Join(record.KindOf("sweep").Field("sort").Of, ", "))
}

// lot asks what the runs of a lot are, and takes them where that is answered.
func (r *reader) lot(p *plan, l *lot, on laid, lies bool) {
	id := l.at.String()
	a, answered := r.answer(id)
	if answered && record.Loose(a) == record.Loose(isNothing) {
		r.out.skip(l.at, "", "left out, as was answered")
		return
	}
	if answered && a == isApart && len(l.things) > 1 {
		if len(l.things) > mostEach {
			r.out.refuse(l.at, "", "%d are too many to ask about one by one (at most %d): part them by layer in the drawing", len(l.things), mostEach)
			return
		}
		for i, run := range l.things {
			one := &lot{at: run.at, name: fmt.Sprintf("%s %d", l.name, i+1), count: l.count, things: l.things[i : i+1]}
			r.lot(p, one, on, lies)
		}
		return
	}
	what, ok := readTaken(a)
	if !ok {
		r.askWhat(l)
		return
	}
	heights := r.heights(p, l, what)
	if !lies {
		return
	}
	for i, run := range l.things {
		name := pretty(l.name)
		if len(l.things) > 1 {
			name = fmt.Sprintf("%s %d", name, i+1)
		}
		r.outline(run, what, name, on, heights)
	}
}

// askWhat asks what the runs of a lot are.
func (r *reader) askWhat(l *lot) {
	question := "what is this " + l.count + "?"
	if len(l.things) > 1 {
		question = fmt.Sprintf("what are these %d %ss?", len(l.things), l.count)
	}
	var readings []string
	if g := guess(l.name); g != "" {
		question += " By its name perhaps: " + g
		readings = append(readings, g)
	}
	for _, x := range []string{isLevel, isEdge, obstacleOf("other"), sweptBy("other"), isNothing} {
		if !slices.Contains(readings, x) {
			readings = append(readings, x)
		}
	}
	if len(l.things) > 1 {
		readings = append(readings, isApart)
	}
	text := strings.Join(l.notes(), "; ")
	r.ask(Ask{ID: l.at.String(), At: l.at, Text: short(text), Question: question, Readings: readings, Free: true})
}

// asked are the heights that each kind is asked for, with what they are.
var heightsOf = map[string][]struct{ field, question string }{
	"level":    {{"height", "how high above the design waterline is it?"}},
	"edge":     {{"height", "how high above the water is the deck's edge there?"}, {"rail", "how high above the deck is the upper guard-wire or rail (0 m where there is none)?"}},
	"obstacle": {{"base", "how high above the design waterline is its foot?"}, {"height", "how far does it stand up?"}},
	"sweep":    {{"low", "from which height above the design waterline does it sweep?"}, {"high", "up to which height?"}},
}

// asDrawn is the answer that takes each run's own height out of the drawing.
const asDrawn = "as drawn"

// given is a height that was answered; drawn takes the run's own.
type given struct {
	field *record.Field
	value record.Value
	drawn bool
}

// heights asks for the heights of a lot. What is not answered is left out of
// what is written, and can be filled in later.
func (r *reader) heights(p *plan, l *lot, what taken) []given {
	k := record.KindOf(what.kind)
	var out []given
	for i, x := range heightsOf[what.kind] {
		f := k.Field(x.field)
		id := l.at.String() + " " + x.field
		a, ok := r.answer(id)
		if ok && a == asDrawn && i == 0 {
			out = append(out, given{field: f, drawn: true})
			continue
		}
		if ok {
			v, err := f.Parse(a, r.opt.Today)
			if err == nil && v != record.Clear {
				out = append(out, given{field: f, value: v})
				continue
			}
		}
		ask := Ask{ID: id, At: l.at, Text: pretty(l.name), Question: x.question, Free: true}
		if low, high := (&plan{runs: l.things}).extent(); i == 0 && (low.Z != 0 || high.Z != 0) {
			ask.Readings = []string{asDrawn}
			ask.Question += fmt.Sprintf(" The %s has it at %s.", p.as, heightText(low.Z, high.Z))
		}
		ask.Question += " Without an answer it is written without this height."
		r.ask(ask)
	}
	return out
}

// outline takes one run as a subject of its kind.
func (r *reader) outline(run outlineRun, what taken, name string, on laid, heights []given) {
	k := record.KindOf(what.kind)
	path := k.Field("plan")
	if what.kind == "edge" {
		path = k.Field("path")
	}
	points, ok := r.corners(run, path, what, on)
	if !ok {
		return
	}
	v, err := path.Check(record.Encode(points))
	if err != nil {
		r.out.refuse(run.at, "", "%v", err)
		return
	}
	facts := []Fact{{At: run.at, Field: path, Value: v}}
	if what.sort != "" {
		facts = append(facts, Fact{At: run.at, Field: k.Field("sort"), Value: record.Encode(what.sort)})
	}
	for _, h := range heights {
		if h.drawn {
			low, high := dxf.Extent([]dxf.Shape{{Points: run.points}})
			if h.value, err = h.field.Parse(heightText(low.Z, high.Z), r.opt.Today); err != nil {
				r.out.refuse(run.at, heightText(low.Z, high.Z), "%v", err)
				continue
			}
		}
		facts = append(facts, Fact{At: run.at, Field: h.field, Value: h.value})
	}
	self := r.subject(k, name)
	if !r.rec.Has(self) {
		facts = append([]Fact{{At: run.at, Field: k.NameField(), Value: record.Encode(name)}}, facts...)
	}
	r.news(self, name, run.at, facts)
}

// corners are a run's points on the boat. A level or a swept region is closed;
// whether an open run is one, is asked.
func (r *reader) corners(run outlineRun, path *record.Field, what taken, on laid) (record.Outline, bool) {
	points := run.points
	switch {
	case run.closed && path.Least == 2 && len(points) > 2:
		points = append(points[:len(points):len(points)], points[0])
	case !run.closed && path.Least == 3:
		const closeIt = "close it straight"
		id := run.at.String() + " open"
		if a, _ := r.answer(id); a != closeIt {
			gap := dist(points[0], points[len(points)-1])
			r.ask(Ask{ID: id, At: run.at, Readings: []string{closeIt},
				Question: fmt.Sprintf("a %s is a closed outline, and this run is open: %s m from its end to its beginning", record.KindOf(what.kind).Title, metresText(gap))})
			return nil, false
		}
	}
	out := make(record.Outline, 0, len(points))
	for _, p := range points {
		if at := on.at(p); len(out) == 0 || out[len(out)-1] != at {
			out = append(out, at)
		}
	}
	return out, true
}

func dist(a, b dxf.Point) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// subject is what a name stands for: the one subject that has it, or a new one.
func (r *reader) subject(k *record.Kind, name string) record.Ref {
	self := record.R(k.Name, record.Slug(name))
	if found := r.known(k.Name, name); len(found) == 1 {
		self = found[0]
	}
	for n := 2; r.outlined[self]; n++ {
		self = record.R(k.Name, fmt.Sprintf("%s-%d", record.Slug(name), n))
	}
	if r.outlined == nil {
		r.outlined = map[record.Ref]bool{}
	}
	r.outlined[self] = true
	return self
}

// news compares facts with the record. What differs is asked about, and then
// holds from the day that was said.
func (r *reader) news(self record.Ref, name string, at Cell, facts []Fact) {
	k := record.KindOf(self.Kind())
	by := map[calendar.Day]*News{}
	var days []calendar.Day
	add := func(since calendar.Day, f Fact) {
		if by[since] == nil {
			by[since] = &News{At: at, Self: self, Name: name, New: !r.rec.Has(self), Grounds: record.Written, By: r.opt.Author}
			days = append(days, since)
		}
		by[since].Facts = append(by[since].Facts, f)
	}
	always := journal.Since(k, 0, r.opt.Today)
	for _, f := range facts {
		cur, holds := r.rec.Held(self, f.Field.Name)
		switch {
		case holds && f.Field.Same(cur.Value, f.Value):
			r.out.Same++
		case !holds:
			add(always, f)
		default:
			if since, ok := r.moved(f, cur); ok {
				f.Was, f.Over = f.Field.Format(cur.Value), cur.Entry.ID
				add(since, f)
			}
		}
	}
	for _, day := range days {
		n := *by[day]
		n.Since = day
		r.out.Reads = append(r.out.Reads, n)
	}
}

// moved asks whether what the file says holds against the record, and since
// when.
func (r *reader) moved(f Fact, cur journal.Held) (since calendar.Day, ok bool) {
	const file, rec = "what the file says", "what the record says"
	id := f.At.String() + " " + f.Field.Name + " change"
	switch a, answered := r.answer(id); {
	case answered && a == rec:
		return 0, false
	case answered && a == file, r.opt.Correct, r.opt.Since != 0:
	default:
		r.ask(Ask{ID: id, At: f.At, Text: short(f.Field.Format(f.Value)), Readings: []string{file, rec},
			Question: fmt.Sprintf("its %s is %q on record; which holds?", f.Field.Title, short(f.Field.Format(cur.Value)))})
		return 0, false
	}
	switch {
	case r.opt.Since != 0:
		return r.opt.Since, true
	case r.opt.Correct:
		return cur.Entry.Since, true
	}
	r.waits++
	return 0, false
}

// pretty writes a layer's name as people write names: SIDE_DECK-PORT is Side
// deck port.
func pretty(name string) string {
	words := strings.FieldsFunc(name, func(c rune) bool { return c == '_' || c == ' ' || c == '\t' })
	out := strings.Join(words, " ")
	if strings.ToUpper(out) == out {
		out = strings.ToLower(strings.ReplaceAll(out, "-", " "))
	}
	first := []rune(out)
	if len(first) == 0 {
		return "Outline"
	}
	return strings.ToUpper(string(first[:1])) + string(first[1:])
}
