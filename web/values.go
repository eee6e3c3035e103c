package web

import (
	"encoding/json"
	"sort"
	"strings"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
)

// Valued is one field of a subject as a page shows it.
type Valued struct {
	Field *record.Field
	Text  string
	Link  Named  // where the value names a subject
	File  string // address of a file
	Entry *journal.Entry
}

// values reads the known fields of a subject, in the order of the table.
func (v *view) values(self record.Ref, except ...string) []Valued {
	k := record.KindOf(self.Kind())
	if k == nil {
		return nil
	}
	var out []Valued
next:
	for i := range k.Fields {
		f := &k.Fields[i]
		for _, x := range except {
			if f.Name == x {
				continue next
			}
		}
		if h, ok := v.rec.Held(self, f.Name); ok {
			out = append(out, v.valued(f, h))
		}
	}
	return out
}

func (v *view) valued(f *record.Field, h journal.Held) Valued {
	x := Valued{Field: f, Text: f.Format(h.Value), Entry: h.Entry}
	switch f.Type {
	case record.RefType:
		var to record.Ref
		if json.Unmarshal([]byte(h.Value), &to) == nil && to != "" {
			x.Link = v.Ref(to)
			x.Text = x.Link.Name
		}
	case record.TextType, record.ChoiceType:
		x.Text = plain(h.Value)
	case record.DayType:
		var d calendar.Day
		if json.Unmarshal([]byte(h.Value), &d) == nil {
			x.Text = d.Said()
		}
	case record.FileType:
		var file record.File
		if json.Unmarshal([]byte(h.Value), &file) == nil && file.Known() {
			x.File, x.Text = "/file/"+file.SHA256+"/"+file.Name, file.Name
		}
	}
	return x
}

// plain reads a text's value.
func plain(v record.Value) string {
	var s string
	_ = json.Unmarshal([]byte(v), &s) // a value that is no text says nothing
	return s
}

// Relation is one other subject that names this one.
type Relation struct {
	Subject Named
	Field   string
}

// Related are the subjects of one kind that name a subject.
type Related struct {
	Kind *record.Kind
	Of   []Relation
}

// related finds what names self, by kind, in the order of the table.
func (v *view) related(self record.Ref) []Related {
	var out []Related
	want := record.Encode(self)
	for i := range record.Kinds() {
		k := &record.Kinds()[i]
		group := Related{Kind: k}
		for j := range k.Fields {
			f := &k.Fields[j]
			if f.Type != record.RefType {
				continue
			}
			for _, other := range v.rec.Refs(k.Name) {
				if h, ok := v.rec.Held(other, f.Name); ok && h.Value == want {
					group.Of = append(group.Of, Relation{v.called(other), f.Title})
				}
			}
		}
		if group.Of != nil {
			out = append(out, group)
		}
	}
	return out
}

// called names a subject so that a person can tell it from its like: its
// name, or for kinds without one its first two values.
func (v *view) called(self record.Ref) Named {
	n := v.Ref(self)
	k := record.KindOf(self.Kind())
	if k == nil || k.NameField() != nil {
		return n
	}
	var said []string
	for _, x := range v.values(self) {
		if said = append(said, x.Text); len(said) == 3 {
			break
		}
	}
	if said != nil {
		n.Name = strings.Join(said, ", ")
	}
	return n
}

// HistoryLine is what one entry said of a subject.
type HistoryLine struct {
	Entry  *journal.Entry
	Struck bool
	Facts  []HistoryFact
}

// HistoryFact is one field that it gave a value.
type HistoryFact struct{ Title, Text string }

// history reads all that was ever said of a subject, latest first.
func (v *view) history(said []store.Said) []HistoryLine {
	var out []HistoryLine
	at := map[string]int{}
	for _, x := range said {
		i, ok := at[x.Entry.ID]
		if !ok {
			i = len(out)
			at[x.Entry.ID] = i
			out = append(out, HistoryLine{Entry: x.Entry, Struck: x.Struck})
		}
		out[i].Facts = append(out[i].Facts, v.factSaid(x.Fact))
	}
	sort.SliceStable(out, func(i, k int) bool { return out[i].Entry.Stamp > out[k].Entry.Stamp })
	return out
}

func (v *view) factSaid(f journal.Fact) HistoryFact {
	k := record.KindOf(f.Kind)
	if k == nil || k.Field(f.Field) == nil {
		return HistoryFact{f.Field, string(f.Value)}
	}
	d := k.Field(f.Field)
	if f.Value == record.Clear {
		return HistoryFact{d.Title, "taken away"}
	}
	return HistoryFact{d.Title, v.valued(d, journal.Held{Value: f.Value}).Text}
}
