package web

import (
	"net/http"
	"strings"

	"dogshore/journal"
	"dogshore/record"
)

// requirementsPage lists what must be true of the boat and what shows it.
func (s *Site) requirementsPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Requirements")
	if err != nil {
		return err
	}
	list := Section{Empty: "Nothing is entered yet. Begin with the lines of the specification that get covered up.", Add: []Add{v.adding("requirement", "Add a requirement")}}
	shown := map[record.Ref][]Named{}
	for _, e := range journal.All[record.Evidence](v.rec) {
		shown[e.Shows] = append(shown[e.Shows], v.evidence(e))
	}
	for _, q := range journal.All[record.Requirement](v.rec) {
		if q.Withdrawn == record.Yes {
			continue
		}
		row := Row{Link: v.Ref(q.Self), State: "nothing on file"}
		if n := len(shown[q.Self]); n > 0 {
			row.State = count(n, "paper or picture on file", "papers or pictures on file")
		}
		row.link("on", v.Ref(q.Part))
		row.line("stands in", q.Source)
		row.line("shown by", q.ShownBy)
		row.link("before", v.Ref(q.Before))
		for _, e := range shown[q.Self] {
			row.link("on file", e)
		}
		list.Rows = append(list.Rows, row)
	}
	return s.sections(w, &sectionsPage{Sheet: v.Sheet, Sections: []Section{list},
		Says: "What the specification and the lessons of earlier boats ask for. What is on file is noted here, never accepted."})
}

// evidence names what shows something.
func (v *view) evidence(e record.Evidence) Named {
	n := v.Ref(e.Self)
	n.Name = e.What
	if e.Photo != "" {
		n.Name = strings.TrimSpace("picture " + v.rec.Name(e.Photo))
	}
	if n.Name == "" {
		n.Name = "not named"
	}
	return n
}

// sistersPage lists the hulls ahead of ours and what was seen there.
func (s *Site) sistersPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Sister hulls")
	if err != nil {
		return err
	}
	page := &sectionsPage{Sheet: v.Sheet, Says: "What was seen on a hull ahead of ours tells what to expect and what to look for. It is never evidence for ours."}
	seen := map[record.Ref][]Row{}
	for _, x := range journal.All[record.SisterSighting](v.rec) {
		row := Row{Link: v.Ref(x.Step), State: x.State + onDay(",", x.Day)}
		row.line("worth knowing", x.Lesson)
		seen[x.Sister] = append(seen[x.Sister], row)
	}
	for _, h := range journal.All[record.Sister](v.rec) {
		title := h.Name
		if held, ok := v.rec.Held(h.Self, "ahead"); ok {
			title += ", ahead by " + record.KindOf("sister").Field("ahead").Format(held.Value)
		}
		sec := Section{Title: title, Rows: seen[h.Self], Empty: "Nothing is noted of her yet.",
			Add: []Add{v.adding("sister_sighting", "Add what was seen on her", "sister", string(h.Self)), {"/edit/sister/" + h.Key(), "Change or correct"}}}
		page.Sections = append(page.Sections, sec)
	}
	last := Section{Add: []Add{v.adding("sister", "Add a sister hull")}}
	if page.Sections == nil {
		last.Empty = "None is entered. If she is one of a series, the hull ahead of her shows what is to come."
	}
	page.Sections = append(page.Sections, last)
	return s.sections(w, page)
}

// calendarPage lists the ways of counting working time and their closures.
func (s *Site) calendarPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Calendar")
	if err != nil {
		return err
	}
	page := &sectionsPage{Sheet: v.Sheet, Says: "Which days are worked. Dates that are reckoned from durations count these days only."}
	closed := map[record.Ref][]Row{}
	for _, c := range journal.All[record.Closure](v.rec) {
		row := Row{Link: v.Ref(c.Self)}
		row.Link.Name = c.From.Said() + " to " + c.To.Said()
		row.line("why", c.Why)
		if held, ok := v.rec.Held(c.Self, "working"); ok {
			row.line("worked", record.KindOf("closure").Field("working").Format(held.Value)+" of each day")
		}
		closed[c.Calendar] = append(closed[c.Calendar], row)
	}
	for _, c := range journal.All[record.Calendar](v.rec) {
		page.Sections = append(page.Sections, Section{Title: c.Name + ": " + c.Week, Rows: closed[c.Self], Empty: "No closure is entered.",
			Add: []Add{v.adding("closure", "Add a closure", "calendar", string(c.Self)), {"/edit/calendar/" + c.Key(), "Change or correct"}}})
	}
	last := Section{Add: []Add{v.adding("calendar", "Add a calendar")}}
	if page.Sections == nil {
		last.Empty = "None is entered. Dates from durations need one: the yard's week, as “Mon-Fri 1”, and its shutdowns."
	}
	page.Sections = append(page.Sections, last, Section{
		Title: "In your own calendar program",
		Empty: "Visits, decide-by and look-before dates, holds, cut-offs and the answers that letters ask for. Payments stand there by the cut-offs that the contract names for them. Subscribe to this address on this computer, and a date that moves moves there too; the sheet of phones makes an address for a calendar program elsewhere; a date as coarse as a week or a month stands over its days, up to the last one.",
		Add:   []Add{{"/calendar.ics", "The dates, as a calendar"}, {"/phones#feeds", "For a calendar program elsewhere"}},
	})
	return s.sections(w, page)
}
