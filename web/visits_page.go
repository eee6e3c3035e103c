package web

import (
	"net/http"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/visit"
	"dogshore/journal"
	"dogshore/record"
)

// visitsPage says when to come next and how, and lists the visits so far.
type visitsPage struct {
	Sheet
	Coming visit.Coming
	All    []Visited
	People []Choice
	New    newVisit
}

// Visited is one visit with what came of it.
type Visited struct {
	Link    Named
	Visit   record.Visit
	Who     string
	Found   int // how many things were noted
	Letters []Named
}

// newVisit is the form that begins a visit, as it was typed.
type newVisit struct {
	Day, By, Who, Wrong string
}

// ways are the ways to look at the build.
var ways = record.KindOf("visit").Field("by").Of

func (s *Site) visitsPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Visits")
	if err != nil {
		return err
	}
	return s.showVisits(w, v, http.StatusOK, newVisit{Day: v.Today.String(), By: "owner"})
}

func (s *Site) showVisits(w http.ResponseWriter, v *view, status int, form newVisit) error {
	page := &visitsPage{Sheet: v.Sheet, Coming: v.rev.Visit.Next, New: form, People: v.names([]string{"person"})}
	letters := map[record.Ref][]Named{}
	for _, l := range journal.All[record.Letter](v.rec) {
		n := v.Ref(l.Self)
		n.Name = "letter of " + l.Day.Said()
		letters[l.Visit] = append(letters[l.Visit], n)
	}
	found := v.findings()
	for _, x := range v.Visits {
		full, _ := journal.Get[record.Visit](v.rec, x.Ref)
		link := v.Ref(x.Ref)
		link.Name = x.Day.Said()
		page.All = append(page.All, Visited{link, full, v.whoWent(full), found[x.Ref], letters[x.Ref]})
	}
	return s.render(w, status, "visits", page)
}

// whoWent says how, and by whom, a visit was made.
func (v *view) whoWent(x record.Visit) string {
	if x.Who == "" {
		return x.By
	}
	return strings.TrimPrefix(x.By+", ", ", ") + v.rec.Name(x.Who)
}

// findings counts what was noted at each visit.
func (v *view) findings() map[record.Ref]int {
	out := map[record.Ref]int{}
	for _, x := range v.found("") {
		out[x.visit]++
	}
	return out
}

// begin writes a new visit and opens its sheet.
func (s *Site) begin(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Visits")
	if err != nil {
		return err
	}
	form := newVisit{Day: r.PostFormValue("day"), By: r.PostFormValue("by"), Who: r.PostFormValue("who")}
	day, err := calendar.ParseISO(strings.TrimSpace(form.Day))
	if err != nil || !day.Known() || day > v.Today {
		form.Wrong = "Write the day of the visit, as 2027-04-12; a visit to come is fixed in the build's own data."
		return s.showVisits(w, v, http.StatusUnprocessableEntity, form)
	}
	who, err := v.resolve(record.KindOf("visit").Field("who"), form.Who)
	if err != nil {
		form.Wrong = desk.Capital(err.Error()) + "."
		return s.showVisits(w, v, http.StatusUnprocessableEntity, form)
	}
	values := record.Values(record.Visit{Day: day, By: form.By, Who: who})
	e := s.draft(w, r, f, day, v.groundsFor(record.KindOf("visit"), values))
	self := record.R("visit", e.ID)
	e.Origin, e.Visit = "sheet of visits", self
	e.Facts = journal.Facts(self, values)
	if _, err := f.Accept(r.Context(), e); err != nil {
		form.Wrong = whyRefused(err)
		return s.showVisits(w, v, http.StatusUnprocessableEntity, form)
	}
	return wrote(w, r, pathOf(self), self, e.ID)
}
