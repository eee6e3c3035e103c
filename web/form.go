package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"sort"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// Input is one field of a form, with what was typed into it.
type Input struct {
	Field   *record.Field
	ID      string // the name of its control
	Control Control
	Value   string
	Choices []Choice
	List    string // the id of the list of names to choose from
	Example string // how it may be written
	Bare    bool   // without its explanation: it stands beside the line above
	Must    bool   // can't be left unsaid here
	Wrong   string // why it was refused
	Was     string // edited: the text that was shown, and the entry that it came from
	Over    string
}

// Control is the kind of control that an input is.
type Control string

// The controls.
const (
	LineControl   Control = "line"
	LongControl   Control = "long"
	DayControl    Control = "day"
	RadioControl  Control = "radio"
	SelectControl Control = "select"
	NameControl   Control = "name" // a name out of a long list
	FileControl   Control = "file"
)

// Choice is one of the values to choose from.
type Choice struct {
	Value, Text string
	Chosen      bool
}

// Bounds of what is laid open: more words than that go into a list to choose
// from, more subjects into a field that completes.
const (
	fewWords      = 6
	fewSubjects   = 24
	longestOption = 120
)

// NameList is a list of subjects by name, shared by the fields that name them.
type NameList struct {
	ID    string
	Names []Choice
}

// inputs lays out the fields of a kind, filled with typed texts by field name.
func (v *view) inputs(k *record.Kind, typed, wrong map[string]string) (in []Input, lists []NameList) {
	have := map[string]bool{}
	for i := range k.Fields {
		f := &k.Fields[i]
		x := Input{Field: f, ID: f.Name, Value: typed[f.Name], Wrong: wrong[f.Name], Example: example(f)}
		x.Control = control(f)
		switch f.Type {
		case record.ChoiceType:
			x.Choices = chosen(f.Of, x.Value)
		case record.FlagType:
			x.Choices = chosen([]string{string(record.Yes), string(record.No)}, x.Value)
		case record.RefType:
			names := v.names(f.Of)
			if x.Control = SelectControl; len(names) > fewSubjects {
				x.Control, x.List = NameControl, "names-"+strings.Join(f.Of, "-")
				if !have[x.List] {
					have[x.List] = true
					lists = append(lists, NameList{x.List, names})
				}
				break
			}
			x.Choices = v.choose(f, names, x.Value)
		}
		in = append(in, x)
	}
	return in, lists
}

func control(f *record.Field) Control {
	switch f.Type {
	case record.DayType:
		return DayControl
	case record.FileType:
		return FileControl
	case record.FlagType:
		return RadioControl
	case record.ChoiceType:
		if len(f.Of) <= fewWords {
			return RadioControl
		}
		return SelectControl
	case record.OutlineType:
		return LongControl
	}
	if f.Long {
		return LongControl
	}
	return LineControl
}

func chosen(words []string, value string) []Choice {
	var out []Choice
	for _, w := range words {
		out = append(out, Choice{w, w, w == value})
	}
	return out
}

// choose marks the subject that value names among the few there are.
func (v *view) choose(f *record.Field, names []Choice, value string) []Choice {
	ref, err := v.resolve(f, value)
	out := make([]Choice, 0, len(names))
	for _, c := range names {
		to, _ := v.resolve(f, c.Value)
		c.Chosen = err == nil && value != "" && to == ref
		out = append(out, c)
	}
	return out
}

// names lists the subjects of some kinds: by name where the name is theirs
// alone, else with their reference.
func (v *view) names(kinds []string) []Choice {
	var refs []record.Ref
	times := map[string]int{}
	for _, kind := range kinds {
		for _, ref := range v.rec.Refs(kind) {
			refs = append(refs, ref)
			times[fold(v.called(ref).Name)]++
		}
	}
	out := make([]Choice, 0, len(refs))
	for _, ref := range refs {
		name := v.called(ref).Name
		c := Choice{Value: name, Text: name}
		switch {
		case times[fold(name)] > 1 || len(name) > longestOption:
			c = Choice{Value: string(ref), Text: fmt.Sprintf("%s (%s)", name, ref)}
		case name != v.rec.Name(ref): // called otherwise than its name says
			c.Value = string(ref)
		}
		out = append(out, c)
	}
	sort.SliceStable(out, func(i, k int) bool { return fold(out[i].Text) < fold(out[k].Text) })
	return out
}

// resolve finds the subject that a text names: its reference, its key, or its
// name, if only one of the kinds that the field permits has it.
func (v *view) resolve(f *record.Field, text string) (record.Ref, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return "", nil
	}
	var found []record.Ref
	for _, kind := range f.Of {
		for _, ref := range v.rec.Refs(kind) {
			if string(ref) == text {
				return ref, nil
			}
			if ref.Key() == text || fold(v.rec.Name(ref)) == fold(text) {
				found = append(found, ref)
			}
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return "", fmt.Errorf("there is no %s called “%s”; write one that the record has, or add it first", strings.Join(f.Of, " or "), text)
	}
	var both []string
	for _, r := range found {
		both = append(both, string(r))
	}
	return "", fmt.Errorf("“%s” may be %s; write which", text, strings.Join(both, " or "))
}

func fold(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// read turns what was typed into values, and says of each field that is
// refused why. A blank field says nothing and is left out, and so is one that
// says that nothing is known.
func (v *view) read(k *record.Kind, typed map[string]string) (values map[string]record.Value, wrong map[string]string) {
	values, wrong = map[string]record.Value{}, map[string]string{}
	for i := range k.Fields {
		f := &k.Fields[i]
		text := strings.TrimSpace(typed[f.Name])
		if text == "" {
			if f.Need {
				wrong[f.Name] = "This can't be left empty."
			}
			continue
		}
		value, err := v.parse(f, text)
		var absent *unit.Absent
		switch {
		case errors.As(err, &absent) && !f.Need:
		case err != nil:
			wrong[f.Name] = reason(f, err)
		default:
			values[f.Name] = value
		}
	}
	return values, wrong
}

func (v *view) parse(f *record.Field, text string) (record.Value, error) {
	if f.Type == record.RefType {
		ref, err := v.resolve(f, text)
		return record.Encode(ref), err
	}
	if f.Type == record.DayType { // as the browser's own field for a day sends it
		if d, err := calendar.ParseISO(text); err == nil {
			return record.Encode(d), nil
		}
	}
	return f.Parse(text, v.Today)
}

// reason puts an error beside its field, so it need not name the field again.
func reason(f *record.Field, err error) string {
	var two *unit.Ambiguous
	if errors.As(err, &two) {
		return fmt.Sprintf("“%s” can be read in more ways than one. Write %s.", two.Text, strings.Join(two.Readings, " or "))
	}
	return desk.Capital(strings.TrimPrefix(err.Error(), f.Title+": ")) + "."
}

// texts reads the values that hold of a subject as a form shows them, and the
// entries that they came from.
func (v *view) texts(self record.Ref) (texts, over map[string]string) {
	texts, over = map[string]string{}, map[string]string{}
	k := record.KindOf(self.Kind())
	for i := range k.Fields {
		f := &k.Fields[i]
		if h, ok := v.rec.Held(self, f.Name); ok {
			texts[f.Name], over[f.Name] = v.text(f, h), h.Entry.ID
		}
	}
	return texts, over
}

func (v *view) text(f *record.Field, h journal.Held) string {
	switch f.Type {
	case record.TextType, record.ChoiceType:
		return plain(h.Value)
	case record.DayType, record.FlagType:
		return plain(h.Value)
	case record.RefType:
		var to record.Ref
		_ = json.Unmarshal([]byte(h.Value), &to) // a value that does not decode shows as nothing
		if name := v.rec.Name(to); name != "" {
			if back, err := v.resolve(f, name); err == nil && back == to {
				return name
			}
		}
		return string(to)
	}
	return f.Format(h.Value)
}

// example shows how a value may be written.
func example(f *record.Field) string {
	switch f.Type {
	case record.QuantityType, record.ThreePointType, record.ToleranceType:
		e := examples[f.Dim]
		switch f.Type {
		case record.ThreePointType:
			return "three guesses: one in ten quicker, most likely, one in ten longer, as 2-3-5 days"
		case record.ToleranceType:
			return "25 mm +-0,5"
		}
		return e
	case record.MoneyType:
		return "1200 EUR"
	case record.SpanType:
		return "14 April, W34, end of May"
	case record.SpotType:
		return "x y z in metres: forward of the after end of the waterline, to port, up"
	}
	return ""
}

var examples = map[unit.Dimension]string{
	unit.Length: "9,8 m, 25 mm, 32' 2\"",
	unit.Mass:   "12,5 kg", unit.Work: "3 days", unit.Time: "6 weeks, 24 h",
	unit.Number: "2", unit.Any: "12,4 mm, 3 kg, 22 °C", unit.Area: "1,2 m²",
}
