package diary

import (
	"fmt"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// Indices of the sections that sightings are sorted into.
const (
	moved = iota
	asBefore
	notSeen
)

// item says one observation in words. at is its section, -1 for that of its
// kind; ok is false for what says nothing by itself.
func (d *reading) item(self record.Ref) (i Item, at int, ok bool) {
	at, ok = -1, true
	switch self.Kind() {
	case "sighting":
		i, at = d.sighting(self)
	case "measurement":
		i = d.measurement(self)
	case "arrival":
		x, _ := journal.Get[record.Arrival](d.r, self)
		i = Item{Text: d.name(x.Item) + map[record.Flag]string{record.Yes: ": all there", record.No: ": not all there"}[x.Whole], More: d.clean.remark(x.Note)}
		item, _ := journal.Get[record.Item](d.r, x.Item)
		i.Place = d.name(item.Part)
	case "agreement":
		x, _ := journal.Get[record.Agreement](d.r, self)
		i = d.about(Item{Text: x.Says, More: with(d.name(x.With))}, x.About, x.Before)
	case "decision":
		i = d.decision(self)
	case "confirmation":
		x, _ := journal.Get[record.Confirmation](d.r, self)
		i = Item{Text: "Confirmed: " + d.says(x.Of), More: joined(by(d.name(x.By)), x.How)}
	case "question":
		i, ok = d.question(self), !d.leave.Faults
	case "statement":
		i = d.statement(self)
	case "defect":
		x, _ := journal.Get[record.Defect](d.r, self)
		i = d.about(Item{Text: x.What, More: x.Gravity}, x.Part, x.Before)
	case "remedy":
		x, _ := journal.Get[record.Remedy](d.r, self)
		f, _ := journal.Get[record.Defect](d.r, x.Defect)
		i = d.about(Item{Text: f.What + ": " + x.State, More: joined(x.Note, by(d.name(x.By)))}, f.Part, "")
	case "release":
		x, _ := journal.Get[record.Release](d.r, self)
		i = d.about(Item{Text: "Released: " + d.name(x.Step), More: joined(by(d.name(x.By)), d.clean.remark(x.Note))}, x.Step, "")
	case "evidence":
		x, _ := journal.Get[record.Evidence](d.r, self)
		i, ok = d.about(Item{Text: x.What + ", for " + d.says(x.Shows)}, x.Shows, ""), x.What != ""
	case "note":
		x, _ := journal.Get[record.Note](d.r, self)
		i = d.about(Item{Text: d.clean.remark(x.Text), More: by(d.name(x.From))}, x.About, "")
	}
	return i, at, ok
}

// sighting says what was seen of a step, and what it was before.
func (d *reading) sighting(self record.Ref) (Item, int) {
	x, _ := journal.Get[record.Sighting](d.r, self)
	was := d.states[x.Step]
	i := d.about(Item{Text: d.name(x.Step) + ": " + x.State, More: d.clean.remark(x.Note)}, x.Step, "")
	if x.State == "could not see" || x.State == "not sure" {
		return i, notSeen
	}
	d.states[x.Step] = x.State
	if was == x.State || was == "" && x.State == "not started" {
		return i, asBefore
	}
	if was != "" {
		i.Text += " (was " + was + ")"
	}
	return i, moved
}

func (d *reading) measurement(self record.Ref) Item {
	x, _ := journal.Get[record.Measurement](d.r, self)
	k := record.KindFor[record.Measurement]()
	i := Item{Text: x.What + ": " + k.Field("got").Format(record.Encode(x.Got))}
	if x.Should.Known {
		i.More = "should be " + k.Field("should").Format(record.Encode(x.Should))
		if outside(x) {
			i.More += ": outside it"
		}
	}
	i.More = joined(i.More, d.clean.remark(x.By), x.Drawing)
	return d.about(i, x.Of, "")
}

// outside reports whether a value lies outside what it should be; a value at
// the limit is within.
func outside(x record.Measurement) bool {
	s := x.Should
	margin := 1e-9 * max(s.Value, -s.Value, s.Plus, s.Minus)
	return s.Known && x.Got.Known && (s.Dim == x.Got.Dim || s.Dim == "" || x.Got.Dim == "") &&
		(x.Got.SI > s.Value+s.Plus+margin || x.Got.SI < s.Value-s.Minus-margin)
}

func (d *reading) decision(self record.Ref) Item {
	x, _ := journal.Get[record.Decision](d.r, self)
	p, _ := journal.Get[record.Point](d.r, x.Point)
	i := Item{Text: strings.TrimSpace(p.Question + " " + desk.Capital(x.Says)), More: with(d.name(x.With))}
	if o, ok := journal.Get[record.Option](d.r, x.Option); ok {
		i.Text = joined(strings.TrimSpace(p.Question+" "+desk.Capital(o.Name)), x.Says)
		if h, ok := d.r.Held(x.Option, "price"); ok && !d.leave.Prices {
			i.More = joined("price "+record.KindFor[record.Option]().Field("price").Format(h.Value), i.More)
		}
	}
	return d.about(i, x.Point, "")
}

func (d *reading) question(self record.Ref) Item {
	x, _ := journal.Get[record.Question](d.r, self)
	i := Item{Text: x.Text}
	if x.To != "" {
		i.More = "asked of " + d.name(x.To)
	}
	for _, a := range journal.All[record.Answer](d.r) {
		if a.To == self {
			i.More = joined(i.More, "answered: "+a.Text+onDay(a.Day))
		}
	}
	return d.about(i, x.About, x.Before)
}

func (d *reading) statement(self record.Ref) Item {
	x, _ := journal.Get[record.Statement](d.r, self)
	when := x.When.Said()
	if when == "" {
		when = record.KindFor[record.Statement]().Field("left").Format(record.Encode(x.Left)) + " of work left"
	}
	return d.about(Item{Text: fmt.Sprintf("%s %s: %s", d.name(x.About), x.What, when), More: joined(by(d.name(x.By)), d.clean.remark(x.Said))}, x.About, "")
}

// says is what a decision, an agreement or another subject says.
func (d *reading) says(ref record.Ref) string {
	switch ref.Kind() {
	case "decision":
		return d.decision(ref).Text
	case "cover":
		x, _ := journal.Get[record.Cover](d.r, ref)
		return x.Hides
	}
	return d.name(ref)
}

// about gives an item the place and the stage of what it is about, or of the
// step before which it matters.
func (d *reading) about(i Item, about, before record.Ref) Item {
	i.Place = d.place(about)
	if i.Place == "" {
		i.Place = d.place(before)
	}
	for _, ref := range []record.Ref{about, before} {
		if ref.Kind() == "step" && i.Stage == "" {
			i.Stage = d.stage(ref)
		}
	}
	if before != "" {
		i.More = joined(i.More, "before "+desk.The(d.name(before)))
	}
	return i
}

// place is the part or place of a subject, by its name.
func (d *reading) place(ref record.Ref) string {
	var on record.Ref
	switch ref.Kind() {
	case "part", "place":
		on = ref
	case "step":
		x, _ := journal.Get[record.Step](d.r, ref)
		on = x.Part
	case "point":
		x, _ := journal.Get[record.Point](d.r, ref)
		on = x.Part
	case "item":
		x, _ := journal.Get[record.Item](d.r, ref)
		on = x.Part
	case "defect":
		x, _ := journal.Get[record.Defect](d.r, ref)
		on = x.Part
	case "requirement":
		x, _ := journal.Get[record.Requirement](d.r, ref)
		on = x.Part
	case "cover":
		x, _ := journal.Get[record.Cover](d.r, ref)
		on = x.What
	}
	return d.name(on)
}

func with(name string) string {
	if name == "" {
		return ""
	}
	return "with " + name
}

func by(name string) string {
	if name == "" {
		return ""
	}
	return "by " + name
}

func onDay(d calendar.Day) string {
	if !d.Known() {
		return ""
	}
	return ", " + d.Said()
}

// joined puts what is said behind each other.
func joined(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, "; ")
}
