package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/drawing"
	"dogshore/record"
)

// programmePage draws the steps as bars and lists them in order: what is
// under way, what can come next, what is still to come, what is done.
type programmePage struct {
	Sheet
	Basis    string // what its dates rest on
	Sheets   []template.HTML
	Key      template.HTML
	Order    []template.HTML // steps without a date
	Undated  int
	Left     string // what the drawing leaves out
	Ask      programmeAsked
	Parts    []Choice
	Trades   []Choice
	Places   []Choice
	Scales   []Choice
	Launch   []string
	Path     []Row
	PathSays string
	Stands   []plan.StandOrder
	If       *whatIf
	Sections []Section
}

func (s *Site) programmePage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Programme")
	if err != nil {
		return err
	}
	ask, err := v.programmeAsked(r.URL.Query())
	if err != nil {
		return err
	}
	page := &programmePage{Sheet: v.Sheet, Ask: ask, Basis: v.basis(), Launch: v.launchSays(), Stands: v.rev.Plan.Forecast.Stands}
	page.Parts, page.Trades, page.Places, page.Scales = v.partChoices(ask.Part), v.tradeChoices(ask.Trade), v.placeChoices(ask.Place), scaleChoices(ask.Scale)
	steps := v.sift(ask)
	v.drawBars(page, steps)
	v.pathInWords(page)
	if page.If, err = v.whatIf(r, ""); err != nil {
		return err
	}
	page.Sections = v.programmeLists(steps)
	if !page.Owns() {
		for i := range page.Sections {
			page.Sections[i].Add = nil
		}
	}
	return s.render(w, http.StatusOK, "programme", page)
}

// drawBars draws the steps that were asked for.
func (v *view) drawBars(page *programmePage, steps []plan.Step) {
	if len(steps) == 0 {
		return
	}
	sheet := drawing.DrawProgramme(v.asDrawn(&page.Ask, steps))
	for _, d := range sheet.Sheets {
		page.Sheets = append(page.Sheets, sized(v.keepDay(d.SVG()), d.W))
	}
	for _, d := range sheet.ByOrder {
		page.Order = append(page.Order, sized(v.keepDay(d.SVG()), d.W))
	}
	page.Undated = sheet.Undated
	if sheet.Outside > 0 {
		page.Left = desk.Capital(count(sheet.Outside, "step lies", "steps lie")) + " outside these days; the list below has them all."
	}
	if page.Sheets != nil {
		page.Key = drawing.ProgrammeKey().SVG()
	}
}

// sized makes a drawing as broad as it was drawn.
func sized(svg template.HTML, width float64) template.HTML {
	return template.HTML(strings.Replace(string(svg), " viewBox=", fmt.Sprintf(` width="%.4gmm" viewBox=`, width), 1))
}

// asDrawn is what the drawing is asked for; days that were left open are
// chosen to fit.
func (v *view) asDrawn(ask *programmeAsked, steps []plan.Step) drawing.Programme {
	g := drawing.Programme{Steps: steps, Points: v.rev.Plan.Points, Looks: v.looks(), Path: map[record.Ref]int{},
		Called: v.rec.Name, Today: v.Day, Week: v.rev.Plan.Week}
	for i, ref := range v.rev.Plan.Path() {
		g.Path[ref] = i + 1
	}
	ask.fit(&g)
	g.From, g.To, g.Width = ask.From, ask.To, ask.width()
	return g
}

// looks are the sightings of each step that say where it stood.
func (v *view) looks() map[record.Ref][]drawing.Look {
	out := map[record.Ref][]drawing.Look{}
	for _, x := range v.sightings() {
		if x.State == "not started" || x.State == "under way" || x.State == "done" {
			out[x.Step] = append(out[x.Step], drawing.Look{Day: x.Day, State: x.State, Own: x.Grounds.Rank() >= record.Shown.Rank()})
		}
	}
	return out
}

// basis says what the dates of this build rest on.
func (v *view) basis() string {
	f := v.rev.Plan.Forecast
	switch {
	case f.Enough:
		return fmt.Sprintf("Dates by chance, from %d trials of the programme forward from %s. Pace and waiting were learned from %s of steps at %s. The forecast takes it that crew and order stay as they are; it is no promise of the yard's.",
			f.Trials, v.Day.Said(), count(f.Learned.Chains, "chain", "chains"), count(f.Learned.Visits, "visit", "visits"))
	case v.Level == "order":
		return "No date is earned yet: the steps stand in the order in which they wait for each other. " + f.Needs
	}
	return "Dates that somebody said, or that follow from the durations entered; each says which. " + f.Needs
}

// launchSays is the launch in words, as far as it is known.
func (v *view) launchSays() []string {
	for _, f := range v.rev.Facts {
		if f.Name == "launch" {
			return []string{f.Says, v.rev.Plan.Launch.Caution}
		}
	}
	return nil
}

// pathInWords lists the steps that drive the launch.
func (v *view) pathInWords(page *programmePage) {
	p := &v.rev.Plan
	for i, ref := range p.Path() {
		st := p.Step(ref)
		row := v.stepRow(*st)
		row.Link.Name = fmt.Sprintf("%d. %s", i+1, row.Link.Name)
		if st.Outlook.Critical > 0 {
			row.line("", desk.Capital(drawing.DrivesSays(st.Outlook.Critical)))
		}
		page.Path = append(page.Path, row)
	}
	switch {
	case page.Path != nil && p.Forecast.Enough:
		page.PathSays = "These steps drive the launch in at least half of the trials: a day gained or lost in them is most likely a day at the launch."
	case page.Path != nil:
		page.PathSays = "The longest chain by the durations entered. How sure that is, nobody can say yet."
	default:
		page.PathSays = "Which steps drive the launch can be said once all that lead to it have a length: how many working days each takes."
	}
}

// programmeLists says in words what the drawing shows.
func (v *view) programmeLists(steps []plan.Step) []Section {
	next := map[record.Ref]bool{}
	for _, ref := range v.rev.Plan.Next {
		next[ref] = true
	}
	under, can := Section{Title: "Under way"}, Section{Title: "Can come next"}
	come, done := Section{Title: "Still to come"}, Section{Title: "Done", Folded: true}
	for _, st := range steps {
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
	var out []Section
	for _, sec := range []Section{under, can, come, done} {
		if sec.Rows != nil {
			out = append(out, sec)
		}
	}
	last := Section{Add: []Add{v.adding("step", "Add a step"), v.adding("link", "Add what waits for what")}}
	switch {
	case len(v.rev.Plan.Steps) == 0:
		last.Empty = "There is no step yet. The start sheet lays the usual ones."
	case out == nil:
		last.Empty = "No step is of that part, trade and place."
	}
	return append(out, last)
}

func (v *view) stepRow(st plan.Step) Row {
	row := Row{Link: v.Ref(st.Self), State: stateSaid(st)}
	for _, w := range st.Waits {
		row.link("waits for", v.Ref(w))
	}
	v.spread(&row, "starts", st.Outlook.StartDated && st.State != "under way", st.Outlook.Start, st.Start)
	v.spread(&row, "is done", st.Outlook.Dated, st.Outlook.Finish, st.Finish)
	for _, c := range st.Covers {
		row.line("covers up", v.rec.Name(c))
	}
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
