package web

import (
	"fmt"
	"net/http"
	"strings"

	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// quick lists the forms of the visit sheet: which kind each writes, and which
// fields it has. Everything else about them is in the table of kinds.
var quick = map[string][]string{
	"sighting":    {"step", "state", "note"},
	"agreement":   {"says", "with", "about", "before"},
	"defect":      {"what", "part", "gravity", "before", "snag"},
	"question":    {"text", "to", "before"},
	"measurement": {"check", "what", "of", "got", "should", "by", "taken", "state", "drawing"},
	"photo":       {"name", "part", "place", "file", "note"},
	"evidence":    {"shows", "photo"},
	"arrival":     {"item", "whole", "note"},
	"remedy":      {"defect", "state", "note"},
	"statement":   {"about", "what", "when", "by", "said"},
	"decision":    {"point", "option", "says", "with"},
	"note":        {"text", "about"},
}

// note writes one thing that was found at a visit: POST /visit/{key}/{kind}.
func (s *Site) note(w http.ResponseWriter, r *http.Request) error {
	k := record.KindOf(r.PathValue("kind"))
	if k == nil || quick[k.Name] == nil {
		return notFound("A visit has no form for “%s”.", r.PathValue("kind"))
	}
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, self, err := s.visitView(r)
	if err != nil {
		return err
	}
	typed := typedFields(r, k)
	at, _ := journal.Get[record.Visit](v.rec, self)
	t, err := v.thing(at, k, typed, "")
	if err != nil {
		return err
	}
	if err := s.takeFiles(r, f, k, t.values, t.wrong); err != nil {
		return err
	}
	if k.Name == "photo" && t.named(typed) {
		delete(t.wrong, "name")
	}
	if len(t.wrong) > 0 {
		return s.showVisit(w, v, self, http.StatusUnprocessableEntity, typed, k.Name, whyNot(k, t.wrong))
	}
	if g := record.Grounds(r.PostFormValue("grounds")); g.Rank() >= 0 {
		t.grounds = g
	}
	e := s.draft(w, r, f, at.Day, t.grounds)
	e.Origin = "sheet of the visit of " + at.Day.Said()
	v.say(&e, at, k, &t)
	entries := []journal.Entry{e}
	if k.Name == "defect" {
		more, err := s.shownBy(r, f, v, e, t)
		if err != nil {
			return err
		}
		entries = append(entries, more...)
	}
	if _, err := f.Accept(r.Context(), entries...); err != nil {
		return s.showVisit(w, v, self, http.StatusUnprocessableEntity, typed, k.Name, whyRefused(err))
	}
	stop := r.PostFormValue("stop")
	if step := record.Ref(typed["step"]); k.Name == "sighting" && v.rec.Has(step) { // a tap: back to where it stands
		x, _ := journal.Get[record.Step](v.rec, step)
		stop = "stop-" + x.Part.Key()
	}
	return wrote(w, r, visitAt(self, stop, k.Name), t.subject, e.ID)
}

// visitAt is the place on the visit's sheet to go back to: the stop where one
// stands, else the form that was used.
func visitAt(self record.Ref, stop, kind string) string {
	if stop == "" || strings.ContainsAny(stop, "/#?\\\r\n") {
		stop = "form-" + kind
	}
	return pathOf(self) + "#" + stop
}

// whyNot says in one sentence what was wrong with a short form.
func whyNot(k *record.Kind, wrong map[string]string) string {
	var parts []string
	for i := range k.Fields {
		f := &k.Fields[i]
		if w, ok := wrong[f.Name]; ok {
			parts = append(parts, fmt.Sprintf("%s: %s", desk.Capital(f.Title), w))
		}
	}
	return "Nothing is written yet. " + strings.Join(parts, " ")
}

// closeVisit notes that all that a visit found is written down.
func (s *Site) closeVisit(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, self, err := s.visitView(r)
	if err != nil {
		return err
	}
	visit, _ := journal.Get[record.Visit](v.rec, self)
	e := s.draft(w, r, f, visit.Day, record.Written)
	e.Visit, e.Origin = self, "sheet of the visit of "+visit.Day.Said()
	e.Facts = []journal.Fact{{Kind: "visit", Key: self.Key(), Field: "closed", Value: record.Encode(record.Yes), Over: v.rec.Over(self, "closed")}}
	if _, err := f.Accept(r.Context(), e); err != nil {
		return err
	}
	return wrote(w, r, "/letter-draft", self, e.ID)
}
