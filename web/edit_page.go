package web

import (
	"net/http"
	"sort"
	"strings"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

func (s *Site) editPage(w http.ResponseWriter, r *http.Request) error {
	v, k, err := s.formView(r)
	if err != nil {
		return err
	}
	self := record.R(k.Name, r.PathValue("key"))
	if _, err := v.known(self); err != nil {
		return err
	}
	typed, _ := v.texts(self)
	return s.showForm(w, r, v, k, self.Key(), typed, nil, "")
}

// edit writes what was changed in the form, and nothing else: each fact over
// the entry whose value the form showed.
func (s *Site) edit(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, k, err := s.formView(r)
	if err != nil {
		return err
	}
	self := record.R(k.Name, r.PathValue("key"))
	if _, err := v.known(self); err != nil {
		return err
	}
	typed := typedFields(r, k)
	values, wrong := v.read(k, typed)
	if err := s.takeFiles(r, f, k, values, wrong); err != nil {
		return err
	}
	changed := changes(r, k, typed, values)
	since := v.correcting(self)
	if !k.Adds && r.PostFormValue("holds") == "change" {
		day := s.holds(r, v.Today, wrong)
		since = func(journal.Fact) calendar.Day { return day }
	}
	switch {
	case len(wrong) > 0:
		return s.showForm(w, r, v, k, self.Key(), typed, wrong, refusal(len(wrong)))
	case len(changed) == 0:
		return s.showForm(w, r, v, k, self.Key(), typed, wrong, "Nothing was changed, so nothing is written.")
	}
	var entries []journal.Entry
	for i := range changed {
		changed[i].Kind, changed[i].Key = self.Kind(), self.Key()
	}
	for _, group := range bySince(changed, since) {
		e := s.draft(w, r, f, group.since, groundsOr(r, v.groundsFor(k, values)))
		e.Origin, e.Facts = "form "+k.Title, group.facts
		entries = append(entries, e)
	}
	if _, err := f.Accept(r.Context(), entries...); err != nil {
		return s.showForm(w, r, v, k, self.Key(), typed, wrong, whyRefused(err))
	}
	return wrote(w, r, back(r), self, entries[len(entries)-1].ID)
}

// changes are the fields that read otherwise than the form showed them.
func changes(r *http.Request, k *record.Kind, typed map[string]string, values map[string]record.Value) []journal.Fact {
	var out []journal.Fact
	for i := range k.Fields {
		name := k.Fields[i].Name
		value, said := values[name]
		if k.Fields[i].Type == record.FileType {
			if said {
				out = append(out, journal.Fact{Field: name, Value: value, Over: r.PostFormValue("over." + name)})
			}
			continue
		}
		if lines(typed[name]) == lines(r.PostFormValue("was."+name)) {
			continue
		}
		if !said {
			value = record.Clear
		}
		out = append(out, journal.Fact{Field: name, Value: value, Over: r.PostFormValue("over." + name)})
	}
	return out
}

// lines takes away what a browser adds to the ends of lines.
func lines(s string) string { return strings.TrimSpace(strings.ReplaceAll(s, "\r\n", "\n")) }

// correcting gives a correction the since of the fact that it corrects; what
// was not said before holds from the subject's first day.
func (v *view) correcting(self record.Ref) func(journal.Fact) calendar.Day {
	return func(f journal.Fact) calendar.Day {
		if h, ok := v.rec.Held(self, f.Field); ok {
			return h.Entry.Since
		}
		return v.rec.From(self).Since
	}
}

type sinceGroup struct {
	since calendar.Day
	facts []journal.Fact
}

func bySince(all []journal.Fact, since func(journal.Fact) calendar.Day) []sinceGroup {
	var out []sinceGroup
next:
	for _, f := range all {
		day := since(f)
		for i := range out {
			if out[i].since == day {
				out[i].facts = append(out[i].facts, f)
				continue next
			}
		}
		out = append(out, sinceGroup{day, []journal.Fact{f}})
	}
	sort.Slice(out, func(i, k int) bool { return out[i].since < out[k].since })
	return out
}
