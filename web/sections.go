package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/record"
)

// sectionsPage is a sheet that is a list in a few sections: people, items,
// promises, the programme.
type sectionsPage struct {
	Sheet
	Says     string // what the sheet is, in a line or two
	Caution  string
	Sections []Section
}

// Section is a titled list.
type Section struct {
	Title  string
	Rows   []Row
	Empty  string // what to do while there is nothing
	Add    []Add
	Folded bool // one tap down
}

// Row is one thing of a list: what it is, a word on its state, and lines that
// say more.
type Row struct {
	Link  Named
	State string
	Grave bool // can't be undone if missed
	Lines []Line
}

// Line is one line of a row: a label, then text or a link.
type Line struct {
	Label, Text string
	Link        Named
}

// Add leads to a form with some of it filled in.
type Add struct{ Href, Text string }

// adding makes the way to a form for a new subject. fields are pairs of field
// and value; afterwards the form leads back here.
func (v *view) adding(kind, text string, fields ...string) Add {
	q := url.Values{"back": {v.Here}}
	for i := 0; i+1 < len(fields); i += 2 {
		q.Set(fields[i], fields[i+1])
	}
	return Add{"/add/" + kind + "?" + q.Encode(), text}
}

// line adds a line to a row if there is something to say.
func (r *Row) line(label, text string) {
	if strings.TrimSpace(text) != "" {
		r.Lines = append(r.Lines, Line{Label: label, Text: text})
	}
}

// link adds a line that leads to a subject, if there is one.
func (r *Row) link(label string, to Named) {
	if to.Ref != "" {
		r.Lines = append(r.Lines, Line{Label: label, Link: to})
	}
}

// date adds a line with a date and what it rests on.
func (v *view) date(r *Row, label string, w desk.When) {
	if w.Known() {
		r.line(label, desk.Coarse(w.Day, v.Day)+", "+w.On())
	}
}

// stepDate adds a date of a step: told is how it is called on somebody's word,
// reckoned how it is called when it is the earliest that durations allow.
func (v *view) stepDate(r *Row, told, reckoned string, w desk.When) {
	if w.Basis == desk.Durations {
		told = reckoned
	}
	v.date(r, told, w)
}

// show renders a sections page.
func (s *Site) sections(w http.ResponseWriter, page *sectionsPage) error {
	for i := range page.Sections {
		if !page.Owns() {
			page.Sections[i].Add = nil
		}
	}
	return s.render(w, http.StatusOK, "sections", page)
}

// event says before which step something is due and how far that step is.
func (v *view) event(step record.Ref, ahead int, gone bool) string {
	if step == "" {
		return ""
	}
	before := "before " + the(v.rec.Name(step))
	switch {
	case gone:
		return before + ", which has begun"
	case ahead == 0:
		return before + ", which can come next"
	case ahead == 1:
		return before + ", one step from now"
	case ahead > 1:
		return fmt.Sprintf("%s, %d steps from now", before, ahead)
	}
	return before
}

// the puts an article before a name inside a sentence, unless it is written
// with a capital.
func the(name string) string {
	if name == "" || strings.ToLower(name[:1]) != name[:1] || strings.HasPrefix(name, "the ") {
		return name
	}
	return "the " + name
}

// known says a day with a word before it, or nothing.
func onDay(word string, d calendar.Day) string {
	if !d.Known() {
		return ""
	}
	return word + " " + d.Said()
}
