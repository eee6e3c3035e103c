package diary

import (
	"encoding/json"
	"fmt"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// reading is a diary while it is being read, visit by visit.
type reading struct {
	r      *journal.Record
	leave  Leave
	clean  *cleaner
	states map[record.Ref]string // of steps, as last seen
	found  map[record.Ref][]record.Ref
	days   map[calendar.Day]record.Ref // of the visits
	at     *Page                       // being read
	count  int
}

// collect sorts what was observed by its visit: the one it names, else the one
// in whose sheet it was written, else the one of its day.
func (d *reading) collect() {
	d.found = map[record.Ref][]record.Ref{}
	for _, kind := range order {
		for _, self := range d.r.Refs(kind) {
			if at := d.visitOf(self); at != "" {
				d.found[at] = append(d.found[at], self)
			}
		}
	}
}

func (d *reading) visitOf(self record.Ref) record.Ref {
	if h, ok := d.r.Held(self, "visit"); ok {
		var at record.Ref
		if json.Unmarshal([]byte(h.Value), &at) == nil && at != "" {
			return at
		}
	}
	if e := d.r.From(self); e != nil && e.Visit != "" {
		return e.Visit
	}
	var day calendar.Day
	switch self.Kind() {
	case "statement":
		x, _ := journal.Get[record.Statement](d.r, self)
		day = x.On
	case "release":
		x, _ := journal.Get[record.Release](d.r, self)
		day = x.Day
	case "confirmation":
		x, _ := journal.Get[record.Confirmation](d.r, self)
		day = x.Day
	}
	return d.days[day]
}

// sections lists the sections in the order in which one tells of a visit, and
// the kinds that make them.
var sections = []struct {
	title string
	kinds []string
}{
	{"What moved", nil}, {"As before", nil}, {"Not seen", nil},
	{"Arrived", []string{"arrival"}},
	{"Measured", []string{"measurement"}},
	{"Agreed and decided", []string{"agreement", "decision", "confirmation"}},
	{"Asked", []string{"question"}},
	{"Said of dates", []string{"statement"}},
	{"Faults", []string{"defect", "remedy"}},
	{"Released", []string{"release"}},
	{"Papers", []string{"evidence"}},
	{"Notes", []string{"note"}},
}

// order lists the kinds that a visit is made of.
var order = func() []string {
	out := []string{"sighting", "photo"}
	for _, s := range sections {
		out = append(out, s.kinds...)
	}
	return out
}()

func (d *reading) page(v record.Visit, name string) Page {
	p := Page{Self: v.Self, Name: name, Day: v.Day, How: d.how(v), Note: d.clean.unless(d.clean.remark(v.Note))}
	d.at = &p
	titles := map[string]int{}
	for i, s := range sections {
		for _, kind := range s.kinds {
			titles[kind] = i
		}
	}
	got := make([][]Item, len(sections))
	for _, self := range d.found[v.Self] {
		if d.clean.faulty[self] {
			continue
		}
		if self.Kind() == "photo" {
			d.picture(v, self)
			continue
		}
		item, at, ok := d.item(self)
		if !ok {
			continue
		}
		if at < 0 {
			at = titles[self.Kind()]
		}
		if item = d.finish(v, self, item); item.Text != "" {
			got[at] = append(got[at], item)
		}
	}
	for i, items := range got {
		if items != nil {
			p.Sections = append(p.Sections, Section{sections[i].title, items})
		}
	}
	if !d.leave.Any() {
		d.letters(v)
	}
	return p
}

// finish cleans an item's texts; one whose words are a fault's says nothing.
func (d *reading) finish(v record.Visit, self record.Ref, i Item) Item {
	d.count++
	i.self, i.Anchor = self, fmt.Sprintf("i%d", d.count)
	i.Text, i.More = d.clean.unless(i.Text), d.clean.unless(i.More)
	i.Place, i.Stage = d.clean.text(i.Place), d.clean.text(i.Stage)
	i.Grounds = string(d.grounds(v, self))
	return i
}

// grounds says how something is known, never better than its visit can give:
// the yard's pictures show, a call tells.
func (d *reading) grounds(v record.Visit, self record.Ref) record.Grounds {
	e := d.r.From(self)
	if e == nil {
		return record.Inferred
	}
	most := record.Certified
	switch v.By {
	case "call":
		most = record.Told
	case "pictures":
		most = record.Shown
	}
	if e.Grounds.Rank() > most.Rank() {
		return most
	}
	return e.Grounds
}

func (d *reading) how(v record.Visit) string {
	text := map[string]string{"owner": "by the owner", "surveyor": "by a surveyor", "pictures": "by the yard's pictures", "call": "by a call"}[v.By]
	if v.Who != "" {
		text = strings.TrimPrefix(text+", "+d.r.Name(v.Who), ", ")
	}
	return d.clean.text(text)
}

func (d *reading) picture(v record.Visit, self record.Ref) {
	ph, _ := journal.Get[record.Photo](d.r, self)
	text := strings.TrimSpace(d.clean.remark(ph.Note))
	if text == "" {
		text = d.name(ph.Part)
	}
	if text == "" {
		text = d.name(ph.Place)
	}
	if text == "" {
		text = "Picture"
	}
	i := Item{Text: text, Place: d.name(ph.Part)}
	if i.Place == "" {
		i.Place = d.name(ph.Place)
	}
	if ph.Before != "" {
		i.More, i.Stage = "before "+desk.The(d.name(ph.Before)), d.stage(ph.Before)
	}
	if ph.By != "" {
		i.More = strings.TrimPrefix(i.More+", taken by "+d.name(ph.By), ", ")
	}
	if i = d.finish(v, self, i); i.Text == "" {
		return // its caption is a fault's
	}
	d.at.Pictures = append(d.at.Pictures, Picture{Item: i, File: ph.File})
}

// letters adds the letters that went out after a visit. They stand only where
// nothing is left out: a letter is kept as it was sent.
func (d *reading) letters(v record.Visit) {
	for _, l := range journal.All[record.Letter](d.r) {
		if l.Visit == v.Self {
			d.at.Letters = append(d.at.Letters, Letter{Self: l.Self, Name: "Letter of " + l.Day.Said(), Text: l.Text, File: l.Sheet})
		}
	}
}

// name is how a person calls a subject, "" for nothing.
func (d *reading) name(ref record.Ref) string {
	if ref == "" {
		return ""
	}
	return d.r.Name(ref)
}

// stage is the stage of the picture key of a step.
func (d *reading) stage(step record.Ref) string {
	x, _ := journal.Get[record.Step](d.r, step)
	s, _ := record.StageOf(x.Stage)
	return s.Name
}
