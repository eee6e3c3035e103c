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
	"dogshore/figure"
	"dogshore/journal"
	"dogshore/record"
)

// stepPage shows one step: what bounds it and from which sightings, how its
// dates spread, what it waits for and what waits for it, what it covers up,
// what was said of it and what was seen.
type stepPage struct {
	Sheet
	Step     Named
	Part     Named
	State    string
	Left     bool // not done by this yard, or left out
	Near     string
	Dates    []Line
	Drives   string
	Stands   []plan.StandOrder // where it has a mould, cradle or bay after another
	Sheets   []template.HTML
	Bounds   []string
	BoundBy  []Named
	Figures  []figure.Figure
	Sections []Section
	Said     *SaidForm
	If       *whatIf
	Values   []Valued
	Doubts   []Doubt
	History  []HistoryLine
}

// SaidForm is the short form for what was said of a step.
type SaidForm struct {
	About  record.Ref
	What   []string
	People []Choice
	On     string
	Author string
	Back   string
}

func (s *Site) stepPage(w http.ResponseWriter, r *http.Request) error {
	self := record.R("step", r.PathValue("key"))
	v, said, err := s.opened(r, self)
	if err != nil {
		return err
	}
	page := &stepPage{Sheet: v.Sheet, Step: v.Ref(self), Values: v.values(self, "name", "part"), Doubts: v.doubts(self), History: said}
	st := v.rev.Plan.Step(self)
	if page.Left = st == nil; page.Left {
		only, _ := journal.Get[record.Step](v.rec, self)
		st = &plan.Step{Step: only, State: "not known", Ahead: -1}
	}
	page.Part, page.State = v.Ref(st.Part), stateSaid(*st)
	v.fillStep(page, st)
	if page.If, err = v.whatIf(r, self); err != nil {
		return err
	}
	if page.Left || st.State == "done" {
		page.If = nil
	}
	if v.Owns() {
		page.Said = &SaidForm{About: self, What: []string{"starts", "is done"}, People: v.names([]string{"person"}), On: v.Today.String(), Author: author(r), Back: v.Here}
	} else {
		for i := range page.Sections {
			page.Sections[i].Add = nil
		}
	}
	return s.render(w, http.StatusOK, "step", page)
}

func (v *view) fillStep(page *stepPage, st *plan.Step) {
	if st.State != "done" && st.State != "under way" {
		page.Near = v.near(st.Ahead)
	}
	v.stepDates(page, st)
	if o := v.rev.Plan.Forecast.At(st.Stand); o != nil && st.State != "done" {
		page.Stands = []plan.StandOrder{*o}
	}
	page.Bounds = v.bounds(st)
	for _, id := range st.Times.BoundBy {
		if ref := record.R("step", id); ref != st.Self {
			page.BoundBy = append(page.BoundBy, v.Ref(ref))
		}
	}
	page.Sections = []Section{v.before(st), v.after(st), v.coveredBy(st), v.pointsAt(st), v.itemsAt(st), v.saidOf(st), v.seenOf(st)}
	v.drawAround(page, st)
}

func (v *view) near(ahead int) string {
	switch {
	case ahead == 0:
		return "It can come next."
	case ahead == 1:
		return "One step has to begin before it."
	case ahead > 1:
		return fmt.Sprintf("%d steps have to begin before it.", ahead)
	}
	return ""
}

// stepDates says when, by chance or on whose word, with the workings.
func (v *view) stepDates(page *stepPage, st *plan.Step) {
	var row Row
	if st.State != "done" {
		if st.State != "under way" {
			v.spread(&row, "starts", st.Outlook.StartDated, st.Outlook.Start, st.Start)
			if len(st.Covers) > 0 {
				v.date(&row, "last chance to look before", st.Chance)
			}
		}
		v.spread(&row, "is done", st.Outlook.Dated, st.Outlook.Finish, st.Finish)
		for _, w := range []desk.When{st.Start, st.Chance, st.Finish} {
			if w.Work.Says != "" {
				page.Figures = append(page.Figures, w.Work)
			}
		}
	}
	page.Dates = row.Lines
	switch {
	case st.State == "done" || !v.rev.Plan.Forecast.Enough || !st.Outlook.Dated:
	case st.Outlook.Critical >= 0.005:
		page.Drives = "It " + drawing.DrivesSays(st.Outlook.Critical) + "."
	default:
		page.Drives = "It drives the launch in none of the trials: a day here is hardly a day at the launch."
	}
	if st.Outlook.OwnerWait > 0.05 {
		page.Drives += fmt.Sprintf(" In the mean %.1f days of it are spent waiting for your own visit.", st.Outlook.OwnerWait)
	}
}

// bounds says between which days sightings put its start and its end.
func (v *view) bounds(st *plan.Step) []string {
	t := st.Times
	var out []string
	for _, x := range []struct {
		what     string
		from, to calendar.Day
	}{{"began", t.StartFrom, t.StartBy}, {"was done", t.FinishFrom, t.FinishBy}} {
		switch {
		case x.from.Known() && x.to.Known() && x.from == x.to:
			out = append(out, "It "+x.what+" on "+x.from.Said()+".")
		case x.from.Known() && x.to.Known():
			out = append(out, "It "+x.what+" between "+x.from.Said()+" and "+x.to.Said()+".")
		case x.to.Known():
			out = append(out, "It "+x.what+" by "+x.to.Said()+"; since when nobody knows.")
		case x.from.Known():
			out = append(out, map[string]string{"began": "It had not begun before ", "was done": "It was not done before "}[x.what]+x.from.Said()+".")
		}
	}
	return out
}

// drawAround draws the step among those it waits for and those that wait for
// it.
func (v *view) drawAround(page *stepPage, st *plan.Step) {
	near := map[record.Ref]bool{st.Self: true}
	for _, l := range v.links() {
		if l.To == st.Self {
			near[l.From] = true
		}
		if l.From == st.Self {
			near[l.To] = true
		}
	}
	var steps []plan.Step
	for _, x := range v.rev.Plan.Steps {
		if near[x.Self] {
			steps = append(steps, x)
		}
	}
	var ask programmeAsked
	g := v.asDrawn(&ask, steps)
	low, high := g.Reach()
	if !low.Known() {
		return
	}
	g.From, g.To = low-7, max(high+7, low+60)
	if st.State != "done" {
		g.From = max(g.From, v.Day-21)
	}
	for _, d := range drawing.DrawProgramme(g).Sheets {
		page.Sheets = append(page.Sheets, sized(v.keepDay(d.SVG()), d.W))
	}
}

// links are the links that hold.
func (v *view) links() []record.Link {
	var out []record.Link
	for _, l := range journal.All[record.Link](v.rec) {
		if l.Withdrawn != record.Yes {
			out = append(out, l)
		}
	}
	return out
}

func (v *view) before(st *plan.Step) Section {
	sec := Section{Title: "What it waits for", Empty: "No link leads to it: nothing is known that it waits for.",
		Add: []Add{v.adding("link", "Add what it waits for", "to", string(st.Self))}}
	for _, l := range v.links() {
		if l.To == st.Self {
			sec.Rows = append(sec.Rows, v.linkRow(l, l.From))
		}
	}
	return sec
}

func (v *view) after(st *plan.Step) Section {
	sec := Section{Title: "What waits for it", Empty: "Nothing is known to wait for it.",
		Add: []Add{v.adding("link", "Add what waits for it", "from", string(st.Self))}}
	for _, l := range v.links() {
		if l.From == st.Self {
			sec.Rows = append(sec.Rows, v.linkRow(l, l.To))
		}
	}
	return sec
}

// linkWords say what waits for what, by type.
var linkWords = map[string]string{"SS": "start waits for start", "FF": "end waits for end", "SF": "end waits for start"}

func (v *view) linkRow(l record.Link, other record.Ref) Row {
	row := Row{Link: v.Ref(other), State: "left out of the programme"}
	if st := v.rev.Plan.Step(other); st != nil {
		row.State = stateSaid(*st)
	}
	row.line("", linkWords[l.Type])
	k := record.KindOf("link")
	for _, name := range []string{"lag", "wait"} {
		if h, ok := v.rec.Held(l.Self, name); ok {
			row.line(map[string]string{"lag": "working days between", "wait": "elapsed time between"}[name], k.Field(name).Format(h.Value))
		}
	}
	if e := v.rec.From(l.Self); e != nil && e.Grounds == record.Inferred {
		row.line("", "the usual order, no source")
	}
	row.link("the link", v.Ref(l.Self))
	return row
}

func (v *view) coveredBy(st *plan.Step) Section {
	sec := Section{Title: "What it covers up", Empty: "Nothing is entered that it covers up.", Add: []Add{v.adding("cover", "Add what it covers up", "step", string(st.Self))}}
	for _, c := range v.rev.Plan.Covers {
		if c.Step != st.Self {
			continue
		}
		row := Row{Link: v.Ref(c.Self), State: c.Gravity, Grave: graveWords[c.Gravity] && !c.Gone}
		v.date(&row, "last chance", c.Before)
		row.line("look at", c.Look)
		row.line("on file before", c.Evidence)
		if c.Looked != "" {
			row.link("it could be looked at on", v.Ref(c.Looked))
		}
		if len(c.OnFile) == 0 {
			row.line("on file", "nothing yet")
		}
		for _, e := range c.OnFile {
			row.link("on file", v.evidence(e))
		}
		sec.Rows = append(sec.Rows, row)
	}
	return sec
}

func (v *view) pointsAt(st *plan.Step) Section {
	sec := Section{Title: "To be settled before it", Empty: "No point hangs on it.", Add: []Add{v.adding("point", "Add an open point", "covered_by", string(st.Self))}}
	for _, list := range [][]plan.Point{v.rev.Plan.Points, v.rev.Plan.Settled} {
		for _, x := range list {
			if x.Step == st.Self {
				sec.Rows = append(sec.Rows, v.pointRow(x))
			}
		}
	}
	return sec
}

func (v *view) itemsAt(st *plan.Step) Section {
	sec := Section{Title: "What must be there for it"}
	for _, x := range v.rev.Plan.Items {
		if x.Step != st.Self {
			continue
		}
		row := Row{Link: v.Ref(x.Self), State: "not arrived"}
		if x.Arrived.Known() {
			row.State = "arrived" + onDay(" by", x.Arrived)
		}
		v.date(&row, "needed", x.Needed)
		sec.Rows = append(sec.Rows, row)
	}
	return sec
}

func (v *view) saidOf(st *plan.Step) Section {
	sec := Section{Title: "What was said of it", Empty: "Nobody has said a date of it."}
	for _, p := range st.Said {
		row := v.promise(p)
		row.Link.Name = strings.TrimSpace(fmt.Sprintf("%s %s", desk.Capital(p.What), spanSaid(p.When)))
		if p.Left.Known {
			row.Link.Name = fmt.Sprintf("%g working days left", p.Left.SI)
		}
		if p.Statement.By != "" {
			row.link("by", v.Ref(p.Statement.By))
		}
		sec.Rows = append(sec.Rows, row)
	}
	return sec
}

func (v *view) seenOf(st *plan.Step) Section {
	sec := Section{Title: "What was seen of it", Empty: "Nobody of yours has seen it."}
	all := v.sightings()
	for i := len(all) - 1; i >= 0; i-- {
		x := all[i]
		if x.Step != st.Self {
			continue
		}
		row := Row{Link: v.Ref(x.Self), State: x.State + ", " + string(x.Grounds)}
		row.Link.Name = x.Day.Said()
		row.line("", x.Note)
		row.link("at the", v.Ref(x.Visit))
		sec.Rows = append(sec.Rows, row)
	}
	return sec
}
