package web

import (
	"net/http"

	"dogshore/journal"
	"dogshore/record"
)

// chooseSide settles a conflict: the value of the chosen entry is written
// again, over each of the other values that stand, from the day of the one
// that held.
func (s *Site) chooseSide(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Doubt")
	if err != nil {
		return err
	}
	about, field, choose := record.Ref(r.PostFormValue("about")), r.PostFormValue("field"), r.PostFormValue("choose")
	for _, d := range v.rec.Doubts() {
		if d.Kind != journal.Conflict || d.About != about || d.Field != field {
			continue
		}
		held, _ := v.rec.Held(about, field)
		chosen, err := f.Entry(r.Context(), choose)
		if err != nil {
			return err
		}
		value, ok := saidBy(chosen, about, field)
		if !ok || held.Entry == nil {
			break
		}
		e := s.draft(w, r, f, held.Entry.Since, chosen.Grounds)
		e.Origin = "choice between two values"
		e.Facts = []journal.Fact{{Kind: about.Kind(), Key: about.Key(), Field: field, Value: value, Over: v.rec.Over(about, field)}}
		if _, err := f.Accept(r.Context(), e); err != nil {
			return err
		}
		return wrote(w, r, back(r), about, e.ID)
	}
	return problem{http.StatusConflict, "This doubt does not stand any more.", "Somebody may have settled it already. Look at the page again."}
}

func saidBy(e *journal.Entry, about record.Ref, field string) (record.Value, bool) {
	if e == nil {
		return "", false
	}
	for _, f := range e.Facts {
		if f.Ref() == about && f.Field == field {
			return f.Value, true
		}
	}
	return "", false
}
