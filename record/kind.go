package record

import (
	"fmt"
	"reflect"
	"strings"
	"sync"

	"dogshore/calendar"
	"dogshore/unit"
)

// Kind describes one kind of subject.
type Kind struct {
	Name   string // "bought-in item" is kind "item": the word in references and views
	Title  string // as pages write it, one of them: "bought-in item"
	Plural string // as sheets and pages write many: "Bought-in items"
	Says   string // one line for the person who fills it in
	Adds   bool   // an observation: added, never overwritten
	Fields []Field
	typ    reflect.Type
}

// Field describes one field of a kind.
type Field struct {
	Name  string         // as in facts, JSON and SQL: "covered_by"
	Title string         // as in sheets and forms: "covered by"
	Says  string         // one line for the person who fills it in
	Type  Type           //
	Of    []string       // the kinds a reference may name, or the words to choose from
	Dim   unit.Dimension // of a quantity, three-point or tolerance
	Need  bool           // a subject without it is a doubt
	Long  bool           // text of several lines
	Names bool           // a person finds the subject by it
	Least int            // of an outline: the fewest points that say something, 3 unless it is a path or a point
	index int
}

// described lists the kinds once; everything else about them is in their tags.
var described = []struct {
	of                  any
	name, title, plural string
	says                string
	adds                bool
}{
	{Build{}, "build", "build", "Build", "the boat being built", false},
	{Person{}, "person", "person", "People", "who has to do with the build, and what their word counts for", false},
	{Place{}, "place", "place", "Places", "regions of the boat", false},
	{Part{}, "part", "part", "Parts", "what is built and can be looked at", false},
	{Stand{}, "stand", "stand", "Stands", "moulds, cradles and bays", false},
	{Calendar{}, "calendar", "calendar", "Calendars", "ways of counting working time", false},
	{Closure{}, "closure", "closure", "Closures", "shutdowns and holidays", false},
	{Step{}, "step", "step", "Steps", "lines of the programme", false},
	{Link{}, "link", "link", "Links", "what waits for what", false},
	{Cover{}, "cover", "cover", "Covers", "what a step covers up", false},
	{Requirement{}, "requirement", "requirement", "Requirements", "what must be true of the boat, and how it is shown", false},
	{Check{}, "check", "check", "Checks", "what is to be measured, and what it should be", false},
	{Point{}, "point", "open point", "Open points", "what is still to be settled", false},
	{Option{}, "option", "option", "Options", "ways to settle an open point", false},
	{Lead{}, "lead", "lead", "Leads", "time that something takes before it can be built in", false},
	{Cutoff{}, "cutoff", "cut-off", "Cut-offs", "dates that the contract or the yard has named", false},
	{Item{}, "item", "bought-in item", "Bought-in items", "what is bought and by whom", false},
	{Sister{}, "sister", "sister hull", "Sister hulls", "hulls ahead of ours in the series", false},
	{Visit{}, "visit", "visit", "Visits", "looks at the build", true},
	{Sighting{}, "sighting", "sighting", "Sightings", "what was seen of a step", true},
	{Measurement{}, "measurement", "measurement", "Measurements", "values taken, and what they should be", true},
	{Photo{}, "photo", "photo", "Photos", "pictures by time, part and place", true},
	{Evidence{}, "evidence", "evidence", "Evidence", "what a picture or paper shows", true},
	{Agreement{}, "agreement", "agreement", "Agreements", "what was agreed, with whom", true},
	{Decision{}, "decision", "decision", "Decisions", "how open points were settled", true},
	{Confirmation{}, "confirmation", "confirmation", "Confirmations", "what makes an agreement or a decision firm", true},
	{Question{}, "question", "question", "Questions", "what to ask", true},
	{Answer{}, "answer", "answer", "Answers", "what was answered", true},
	{Statement{}, "statement", "statement", "Statements", "what was said of a date, by whom, on which day", true},
	{Defect{}, "defect", "defect", "Defects", "what is wrong", true},
	{Remedy{}, "remedy", "remedy", "Remedies", "looks at a defect afterwards", true},
	{Release{}, "release", "release", "Releases", "holds released, by whom", true},
	{Order{}, "order", "order", "Orders", "orders of bought-in items", true},
	{Arrival{}, "arrival", "arrival", "Arrivals", "bought-in items found on the spot", true},
	{SisterSighting{}, "sister_sighting", "sighting on a sister hull", "Sister sightings", "what was seen on a sister hull", true},
	{Letter{}, "letter", "letter", "Letters", "letters as they were sent", true},
	{Line{}, "line", "line of a letter", "Letter lines", "numbered points of a letter", true},
	{Note{}, "note", "note", "Notes", "pasted messages and remarks", true},
	{Ruling{}, "ruling", "ruling", "Rulings", "do, drop or waive", true},
	{Tracing{}, "tracing", "tracing", "Tracings", "pictures that the deck plan is traced over", false},
	{Level{}, "level", "deck level", "Deck levels", "pieces of deck that one can stand on", false},
	{Edge{}, "edge", "deck edge", "Deck edges", "runs of the deck's edge, with or without guard-rails", false},
	{Obstacle{}, "obstacle", "obstacle", "Obstacles", "what a line or a hook can catch on, what is in the way, what swings", false},
	{Rope{}, "rope", "rope", "Ropes", "ropes, webbing and wire, as bought", false},
	{Fitting{}, "fitting", "fitting", "Fittings", "hardware on a part, and what is under it", false},
	{Jackstay{}, "jackstay", "jackstay", "Jackstays", "lines along the deck to clip to", false},
	{Support{}, "support", "point of a jackstay", "Jackstay points", "ends and guides of the jackstays", false},
	{Tether{}, "tether", "tether", "Tethers", "what clips a person on", false},
	{Task{}, "task", "task on deck", "Deck tasks", "what one must do on deck at sea, and the way there", false},
	{Boom{}, "boom", "boom", "Booms", "booms with their sails", false},
	{Preventer{}, "preventer", "preventer", "Preventers", "lines that hold a boom out", false},
	{Turn{}, "turn", "turn of a preventer", "Preventer turns", "blocks and ends on a preventer's way", false},
	{Sweep{}, "sweep", "swept region", "Swept regions", "what moving gear sweeps, besides the boom", false},
	{Term{}, "term", "term", "Terms", "words in the yard's language", false},
}

// Kinds returns the table of kinds, in the order in which sheets stand in a
// workbook. The caller must not change it.
var Kinds = sync.OnceValue(func() []Kind {
	out := make([]Kind, 0, len(described))
	for _, d := range described {
		t := reflect.TypeOf(d.of)
		out = append(out, Kind{
			Name: d.name, Title: d.title, Plural: d.plural, Says: d.says, Adds: d.adds,
			Fields: fields(t), typ: t,
		})
	}
	return out
})

var byName = sync.OnceValue(func() map[string]*Kind {
	m := map[string]*Kind{}
	for i := range Kinds() {
		m[Kinds()[i].Name] = &Kinds()[i]
	}
	return m
})

var byType = sync.OnceValue(func() map[reflect.Type]*Kind {
	m := map[reflect.Type]*Kind{}
	for i := range Kinds() {
		m[Kinds()[i].typ] = &Kinds()[i]
	}
	return m
})

// KindOf returns the kind of that name, or nil.
func KindOf(name string) *Kind { return byName()[name] }

// KindFor returns the kind that struct type T describes. It panics if T is
// not a kind: only a programmer can cause that.
func KindFor[T any]() *Kind {
	k := byType()[reflect.TypeFor[T]()]
	if k == nil {
		panic(fmt.Sprintf("record: internal error: %v is not a kind", reflect.TypeFor[T]()))
	}
	return k
}

// Field returns the field of that name, or nil.
func (k *Kind) Field(name string) *Field {
	for i := range k.Fields {
		if k.Fields[i].Name == name {
			return &k.Fields[i]
		}
	}
	return nil
}

// NameField returns the field by which a person finds a subject, or nil.
func (k *Kind) NameField() *Field {
	for i := range k.Fields {
		if k.Fields[i].Names {
			return &k.Fields[i]
		}
	}
	return nil
}

func fields(t reflect.Type) []Field {
	var out []Field
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			continue
		}
		name := snake(f.Name)
		d := Field{Name: name, Title: strings.ReplaceAll(name, "_", " "), Says: f.Tag.Get("says"), index: i}
		if of := f.Tag.Get("of"); of != "" {
			d.Of = strings.Split(of, "|")
		}
		d.Dim = unit.Dimension(f.Tag.Get("in"))
		for _, word := range strings.Split(f.Tag.Get("is"), ",") {
			switch word {
			case "":
			case "need":
				d.Need = true
			case "long":
				d.Long = true
			case "name":
				d.Names = true
			case "path":
				d.Least = 2
			case "point":
				d.Least = 1
			default:
				panic(fmt.Sprintf("record: internal error: %v.%s has an unknown tag word %q", t, f.Name, word))
			}
		}
		d.Type = typeOf(f.Type, d)
		if d.Type == OutlineType && d.Least == 0 {
			d.Least = 3
		}
		out = append(out, d)
	}
	return out
}

var goTypes = map[reflect.Type]Type{
	reflect.TypeFor[string]():        TextType,
	reflect.TypeFor[calendar.Day]():  DayType,
	reflect.TypeFor[calendar.Span](): SpanType,
	reflect.TypeFor[Flag]():          FlagType,
	reflect.TypeFor[Ref]():           RefType,
	reflect.TypeFor[unit.Quantity](): QuantityType,
	reflect.TypeFor[unit.Money]():    MoneyType,
	reflect.TypeFor[ThreePoint]():    ThreePointType,
	reflect.TypeFor[Spot]():          SpotType,
	reflect.TypeFor[Outline]():       OutlineType,
	reflect.TypeFor[File]():          FileType,
	reflect.TypeFor[Tolerance]():     ToleranceType,
}

func typeOf(t reflect.Type, d Field) Type {
	typ, ok := goTypes[t]
	if !ok {
		panic(fmt.Sprintf("record: internal error: field %s has type %v, which is no value type", d.Name, t))
	}
	if typ == TextType && d.Of != nil {
		return ChoiceType
	}
	return typ
}

// snake turns CoveredBy into covered_by.
func snake(s string) string {
	var b strings.Builder
	for i, r := range s {
		if r >= 'A' && r <= 'Z' {
			if i > 0 {
				b.WriteByte('_')
			}
			r += 'a' - 'A'
		}
		b.WriteRune(r)
	}
	return b.String()
}
