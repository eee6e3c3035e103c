package web

import (
	"html/template"
	"net/http"

	"dogshore/calendar"
	"dogshore/drawing"
	"dogshore/journal"
	"dogshore/record"
)

// startSheetPage is the start sheet: about thirty rows from which the first
// review follows.
type startSheetPage struct {
	Sheet
	Seen     Named // the visit whose findings are noted; none until its day is said
	SeenDay  calendar.Day
	When, By string // the form for it
	Ways     []string
	WhyVisit string
	Parts    []StartPart
	Pictures []Pictured // each picture once; the parts refer to them
	Blocks   []RowBlock
	Lists    []NameList
	Done     string // what is entered so far
	Author   string
}

// StartPart is one assembly with its stages, each one tap.
type StartPart struct {
	ID     string
	Part   Named
	Says   string // where it stands, once something was tapped
	Stages []StartStage
	Reach  *StartStage // the last stage that was tapped
	Left   []StartStage
}

// StartStage is one stage of an assembly.
type StartStage struct {
	Step    record.Ref
	Name    string
	Picture string // id of its picture
	State   string // as tapped at this visit
	NotDone bool
}

// Pictured is a picture of the key, or a stage with it.
type Pictured struct {
	record.Stage
	Picture template.HTML
}

// startSheet shows the sheet; refused rows come back with what was typed.
func (s *Site) startSheet(w http.ResponseWriter, r *http.Request, v *view, refused *RowBlock) error {
	page := &startSheetPage{Sheet: v.Sheet, When: v.Today.String(), By: "owner", Ways: ways, Author: author(r)}
	if r.Method == http.MethodPost && refused == nil {
		page.When, page.By = r.PostFormValue("day"), r.PostFormValue("by")
		page.WhyVisit = "Write the day of the visit as 2027-04-12; it can't lie ahead."
	}
	visit := record.Visit{}
	if v.Visit != nil {
		visit, _ = journal.Get[record.Visit](v.rec, v.Visit.Ref)
		page.Seen, page.SeenDay = v.Ref(visit.Self), visit.Day
	}
	seen := map[string]bool{}
	for _, p := range journal.All[record.Part](v.rec) {
		if part, ok := v.startPart(p, visit); ok {
			page.Parts = append(page.Parts, part)
			for _, st := range part.Stages {
				seen[st.Picture] = true
			}
		}
	}
	rank := v.ranks()
	sortBy(page.Parts, func(p StartPart) int { return rank[p.Part.Ref] })
	for _, st := range record.Stages {
		if seen[st.Slug] {
			page.Pictures = append(page.Pictures, Pictured{st, drawing.Key(st.Slug).SVG()})
		}
	}
	page.Blocks, page.Lists = v.rowBlocks(refused)
	page.Done = v.entered()
	status := http.StatusOK
	if refused != nil || page.WhyVisit != "" {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "start_sheet", page)
}

func (v *view) startPart(p record.Part, visit record.Visit) (StartPart, bool) {
	out := StartPart{ID: "part-" + p.Key(), Part: v.Ref(p.Self)}
	if p.Withdrawn == record.Yes {
		return out, false
	}
	for _, st := range v.stepsWith(p.Self) {
		x := StartStage{Step: st.Self, Name: st.Name, NotDone: st.NotDone == record.Yes}
		if stage, ok := record.StageOf(st.Stage); ok {
			x.Name, x.Picture = stage.Name, stage.Slug
		}
		if sight, ok := journal.Get[record.Sighting](v.rec, sightingAt(visit.Self, st.Self)); ok && visit.Self != "" {
			x.State = sight.State
			out.Says = x.Name + ": " + sight.State
		}
		if x.NotDone {
			out.Left = append(out.Left, x)
			continue
		}
		out.Stages = append(out.Stages, x)
		if x.State == "done" || x.State == "under way" {
			out.Reach = &out.Stages[len(out.Stages)-1]
		}
	}
	if out.Reach != nil {
		reach := *out.Reach
		out.Reach, out.Says = &reach, reach.Name+": "+reach.State
	}
	return out, len(out.Stages)+len(out.Left) > 0
}

// stepsWith lists a part's steps in the usual order, those that the yard does
// not do too: the plan leaves them out.
func (v *view) stepsWith(part record.Ref) []record.Step {
	var out []record.Step
	for _, st := range journal.All[record.Step](v.rec) {
		if st.Part == part && st.Withdrawn != record.Yes {
			out = append(out, st)
		}
	}
	sortBy(out, func(st record.Step) int { return int(1000 * st.Rank.SI) })
	return out
}

// sightingAt names the one sighting of a step at a visit: another tap takes
// its place.
func sightingAt(visit, step record.Ref) record.Ref {
	return record.R("sighting", visit.Key()+"."+step.Key())
}

// entered says how far the sheet is filled in.
func (v *view) entered() string {
	sighted := map[record.Ref]bool{}
	for _, x := range journal.All[record.Sighting](v.rec) {
		st, _ := journal.Get[record.Step](v.rec, x.Step)
		sighted[st.Part] = true
	}
	return count(len(v.Visits), "visit", "visits") + ", " +
		count(len(sighted), "part", "parts") + " with a stage, " +
		count(len(v.rec.Refs("point")), "open point", "open points") + ", " +
		count(len(v.rec.Refs("statement")), "date said", "dates said") + ", " +
		count(len(v.rec.Refs("person")), "person", "people")
}
