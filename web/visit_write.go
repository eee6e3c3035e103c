package web

import (
	"encoding/json"
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
	"measurement": {"what", "of", "got", "should", "by"},
	"photo":       {"name", "part", "note"},
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
	values, wrong := v.read(k, s.completed(v, self, k, typed))
	if len(wrong) > 0 {
		return s.showVisit(w, v, self, http.StatusUnprocessableEntity, typed, k.Name, whyNot(k, wrong))
	}
	visit, _ := journal.Get[record.Visit](v.rec, self)
	e := s.draft(w, r, f, visit.Day, groundsOr(r, v.groundsFor(k, values)))
	e.Visit, e.Origin = self, "sheet of the visit of "+visit.Day.Said()
	key := e.ID
	if k.Name == "sighting" { // a second tap at the same visit takes the place of the first
		var step record.Ref
		if err := json.Unmarshal([]byte(values["step"]), &step); err != nil {
			return err // read has resolved it
		}
		key = self.Key() + "." + step.Key()
	}
	subject := record.R(k.Name, key)
	e.Facts = journal.Facts(subject, values)
	for i, x := range e.Facts {
		e.Facts[i].Over = v.rec.Over(subject, x.Field)
	}
	if _, err := f.Accept(r.Context(), e); err != nil {
		return s.showVisit(w, v, self, http.StatusUnprocessableEntity, typed, k.Name, whyRefused(err))
	}
	return wrote(w, r, visitAt(self, r.PostFormValue("stop"), k.Name), subject, e.ID)
}

// visitAt is the place on the visit's sheet to go back to: the stop where one
// stands, else the form that was used.
func visitAt(self record.Ref, stop, kind string) string {
	if stop == "" || strings.ContainsAny(stop, "/#?\\\r\n") {
		stop = "form-" + kind
	}
	return pathOf(self) + "#" + stop
}

// completed adds what the sheet itself knows: the visit, its day, and that a
// number which is still missing is to be told.
func (s *Site) completed(v *view, self record.Ref, k *record.Kind, typed map[string]string) map[string]string {
	visit, _ := journal.Get[record.Visit](v.rec, self)
	full := map[string]string{}
	for name, text := range typed {
		full[name] = text
	}
	if k.Field("visit") != nil {
		full["visit"] = string(self)
	}
	for _, name := range []string{"day", "on", "asked"} {
		if k.Field(name) != nil && full[name] == "" {
			full[name] = visit.Day.String()
		}
	}
	return full
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
