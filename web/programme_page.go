package web

import (
	"net/http"

	"dogshore/calendar"
	"dogshore/desk/plan"
	"dogshore/record"
)

// programmePage lists the steps in order: what is under way, what can come
// next, what is still to come, what is done.
func (s *Site) programmePage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Programme")
	if err != nil {
		return err
	}
	next := map[record.Ref]bool{}
	for _, ref := range v.rev.Plan.Next {
		next[ref] = true
	}
	under, can := Section{Title: "Under way"}, Section{Title: "Can come next"}
	come, done := Section{Title: "Still to come"}, Section{Title: "Done", Folded: true}
	for _, st := range v.rev.Plan.Steps {
		to := &come
		switch {
		case st.State == "done":
			to = &done
		case st.State == "under way":
			to = &under
		case next[st.Self]:
			to = &can
		}
		to.Rows = append(to.Rows, v.stepRow(st))
	}
	page := &sectionsPage{Sheet: v.Sheet, Says: "The steps in the order in which they wait for each other. A date stands where somebody said one, or where durations allow it to be reckoned."}
	for _, sec := range []Section{under, can, come, done} {
		if sec.Rows != nil {
			page.Sections = append(page.Sections, sec)
		}
	}
	last := Section{Add: []Add{v.adding("step", "Add a step"), v.adding("link", "Add what waits for what")}}
	if page.Sections == nil {
		last.Empty = "There is no step yet. The start sheet lays the usual ones."
	}
	page.Sections = append(page.Sections, last)
	return s.sections(w, page)
}

func (v *view) stepRow(st plan.Step) Row {
	row := Row{Link: v.Ref(st.Self), State: stateSaid(st)}
	for _, w := range st.Waits {
		row.link("waits for", v.Ref(w))
	}
	v.stepDate(&row, "starts", "could start", st.Start)
	v.stepDate(&row, "done", "could be done", st.Finish)
	return row
}

// stateSaid says where a step stands and how we know.
func stateSaid(st plan.Step) string {
	switch {
	case st.State == "" || st.State == "not known":
		return "not known"
	case st.NeverSeen:
		return st.State + ", inferred from a later step; never seen"
	case st.Grounds == "":
		return st.State
	}
	return st.State + ", " + string(st.Grounds) + sinceSaid(st.Since)
}

func sinceSaid(d calendar.Day) string { return onDay(" on", d) }
