package web

import (
	"net/http"
	"strings"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
)

// startVisit notes on which day the build was looked at, and how.
func (s *Site) startVisit(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Start sheet")
	if err != nil {
		return err
	}
	day, err := calendar.ParseISO(r.PostFormValue("day"))
	if err != nil || !day.Known() || day > v.Today {
		return s.startSheet(w, r, v, nil)
	}
	values := record.Values(record.Visit{Day: day, By: r.PostFormValue("by")})
	e := s.draft(w, r, f, day, v.groundsFor(record.KindOf("visit"), values))
	e.Origin = "start sheet"
	e.Facts = journal.Facts(record.R("visit", e.ID), values)
	if _, err := f.Accept(r.Context(), e); err != nil {
		return err
	}
	http.Redirect(w, r, "/start#stages", http.StatusSeeOther)
	return nil
}

// startStage writes one tap: which stage a part has reached at the visit.
func (s *Site) startStage(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Start sheet")
	if err != nil {
		return err
	}
	state, key, _ := strings.Cut(r.PostFormValue("tap"), "/")
	step, ok := journal.Get[record.Step](v.rec, record.R("step", key))
	if !ok {
		return notFound("There is no step “%s”.", key)
	}
	var entries []journal.Entry
	switch state {
	case "not done here", "done here":
		entries = s.notDone(w, r, f, v, step, state == "not done here")
	default:
		if v.Visit == nil {
			return refused("Say first on which day you looked.", "The line above the stages asks for it; then one tap a part is enough.")
		}
		if entries, err = s.tapped(w, r, f, v, step, state); err != nil {
			return err
		}
	}
	if _, err := f.Accept(r.Context(), entries...); err != nil {
		return refused(whyRefused(err), "Nothing was written.")
	}
	http.Redirect(w, r, "/start#part-"+step.Part.Key(), http.StatusSeeOther)
	return nil
}

// notDone says that the yard does not do a step, or does it after all.
func (s *Site) notDone(w http.ResponseWriter, r *http.Request, f *store.Folder, v *view, step record.Step, not bool) []journal.Entry {
	value := record.Encode(record.Yes)
	if !not {
		value = record.Encode(record.No)
	}
	e := s.draft(w, r, f, journal.Always, record.Told)
	e.Origin = "start sheet"
	e.Facts = []journal.Fact{{Kind: "step", Key: step.Key(), Field: "not_done", Value: value, Over: v.rec.Over(step.Self, "not_done")}}
	return []journal.Entry{e}
}

// tapped writes the sighting, and strikes what was tapped by mistake at the
// same visit: a later stage of the same part.
func (s *Site) tapped(w http.ResponseWriter, r *http.Request, f *store.Folder, v *view, step record.Step, state string) ([]journal.Entry, error) {
	day, visit := v.Visit.Day, v.Visit.Ref
	seen := record.Sighting{Visit: visit, Step: step.Self, State: state}
	values := record.Values(seen)
	e := s.draft(w, r, f, day, v.groundsFor(record.KindOf("sighting"), values))
	e.Visit, e.Origin = visit, "start sheet"
	self := sightingAt(visit, step.Self)
	e.Facts = journal.Facts(self, values)
	for i, x := range e.Facts {
		e.Facts[i].Over = v.rec.Over(self, x.Field)
	}
	entries := []journal.Entry{e}
	for _, other := range v.stepsWith(step.Part) {
		ref := sightingAt(visit, other.Self)
		if other.Self == step.Self || !v.rec.Has(ref) {
			continue
		}
		later := other.Rank.SI > step.Rank.SI
		was, _ := journal.Get[record.Sighting](v.rec, ref)
		if !later && was.State == "done" {
			continue // an earlier stage that was done agrees with it
		}
		said, err := f.History(r.Context(), ref)
		if err != nil {
			return nil, err
		}
		for _, x := range said {
			if !x.Struck && !striking(entries, x.Entry.ID) {
				d := s.draft(w, r, f, v.Today, record.Told)
				d.Origin, d.Facts = "start sheet: another stage was tapped", []journal.Fact{journal.Strike(x.Entry.ID)}
				entries = append(entries, d)
			}
		}
	}
	return entries, nil
}

// striking reports whether one of the entries strikes id already.
func striking(entries []journal.Entry, id string) bool {
	for _, e := range entries {
		for _, f := range e.Facts {
			if f.Kind == journal.EntryKind && f.Key == id {
				return true
			}
		}
	}
	return false
}
