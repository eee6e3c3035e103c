package web

import (
	"net/http"
	"net/url"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// actsPage lists every act, those that did not fit on the first page too.
type actsPage struct {
	Sheet
	Acts  []ActLine
	Ruled []RuledAct
}

func (s *Site) actsPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Everything to do")
	if err != nil {
		return err
	}
	page := &actsPage{Sheet: v.Sheet, Ruled: v.ruled()}
	for i, a := range v.rev.Acts {
		page.Acts = append(page.Acts, v.act(a, i+1))
	}
	cautionsOnce(page.Acts, map[string]bool{})
	return s.render(w, http.StatusOK, "acts", page)
}

// actPage shows one act with all its workings, and says what becomes of it.
type actPage struct {
	Sheet
	Act     ActLine
	Problem string
	Typed   RulingTyped
}

// RulingTyped is what was typed into the form for a ruling.
type RulingTyped struct{ Why, Until, Author string }

func (s *Site) actPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Act")
	if err != nil {
		return err
	}
	return s.showAct(w, v, r.URL.Query().Get("id"), RulingTyped{Author: author(r)}, "")
}

func (s *Site) showAct(w http.ResponseWriter, v *view, id string, typed RulingTyped, says string) error {
	for _, a := range v.rev.Acts {
		if a.ID == id {
			return s.renderAct(w, v, a, typed, says)
		}
	}
	for _, x := range v.rev.Ruled {
		if x.Act.ID == id {
			return s.renderAct(w, v, x.Act, typed, says)
		}
	}
	return notFound("As of %s there is no act “%s”: what it asked for may be done.", v.Day.Said(), id)
}

func (s *Site) renderAct(w http.ResponseWriter, v *view, a desk.Act, typed RulingTyped, says string) error {
	status := http.StatusOK
	if says != "" {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "act", &actPage{Sheet: v.Sheet, Act: v.act(a, 0), Problem: says, Typed: typed})
}

// rule writes what the owner says to an act: do, drop, or waive with a name
// and a reason.
func (s *Site) rule(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Act")
	if err != nil {
		return err
	}
	id := r.PostFormValue("act")
	typed := RulingTyped{Why: strings.TrimSpace(r.PostFormValue("why")), Until: r.PostFormValue("until"), Author: author(r)}
	ruling := record.Ruling{Act: id, Says: r.PostFormValue("says"), Why: typed.Why, Day: v.Today}
	until, err := calendar.ParseISO(typed.Until)
	switch {
	case err != nil:
		return s.showAct(w, v, id, typed, desk.Capital(err.Error())+".")
	case until.Known() && until <= v.Today:
		return s.showAct(w, v, id, typed, "The day on which it comes back must lie ahead.")
	case ruling.Says != "do" && typed.Why == "":
		return s.showAct(w, v, id, typed, "Say why: whoever reads it in a year has only these words.")
	}
	ruling.Until = until
	by := record.KindOf("ruling").Field("by")
	if ref, err := v.resolve(by, typed.Author); err == nil {
		ruling.By = ref
	}
	e := s.draft(w, r, f, v.Today, record.Written)
	e.Origin = "ruling on the review"
	e.Facts = journal.Facts(record.R("ruling", e.ID), record.Values(ruling))
	if _, err := f.Accept(r.Context(), e); err != nil {
		return s.showAct(w, v, id, typed, whyRefused(err))
	}
	return wrote(w, r, "/", "", e.ID)
}

func query(s string) string { return url.QueryEscape(s) }
