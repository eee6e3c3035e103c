package web

import (
	"net/http"

	"dogshore/desk/photo"
	"dogshore/desk/plan"
	"dogshore/desk/visit"
	"dogshore/journal"
	"dogshore/record"
)

// partPage shows one part: its stages and how we know, what covers it up, and
// all that hangs on it.
type partPage struct {
	Sheet
	Part     Named
	Values   []Valued
	Within   []Named
	Stages   []Row
	Sections []Section
	Pictures []Shown
	Doubts   []Doubt
	History  []HistoryLine
}

func (s *Site) partPage(w http.ResponseWriter, r *http.Request) error {
	self := record.R("part", r.PathValue("key"))
	v, said, err := s.opened(r, self)
	if err != nil {
		return err
	}
	p, _ := journal.Get[record.Part](v.rec, self)
	page := &partPage{Sheet: v.Sheet, Part: v.Ref(self), Values: v.values(self, "name", "plan", "profile"),
		Doubts: v.doubts(self), History: said}
	for _, other := range journal.All[record.Part](v.rec) {
		if other.Within == self && other.Withdrawn != record.Yes {
			page.Within = append(page.Within, v.Ref(other.Self))
		}
	}
	for _, st := range v.stepsOf(self) {
		page.Stages = append(page.Stages, v.stageRow(st))
	}
	page.Sections = []Section{v.coversOf(p), v.pointsOf(p), v.defectsOf(p), v.agreementsOf(p), v.checksOf(p), v.measurementsOf(p), v.photosOf(p)}
	page.Pictures = s.strip(v, func(x record.Photo) bool { return ofPart(x, p) })
	if !v.Owns() {
		for i := range page.Sections {
			page.Sections[i].Add = nil
		}
	}
	return s.render(w, http.StatusOK, "part", page)
}

func (v *view) stageRow(st plan.Step) Row {
	row := Row{Link: v.Ref(st.Self), State: stateSaid(st)}
	v.stepDate(&row, "starts", "could start", st.Start)
	for _, c := range st.Covers {
		row.line("covers up", v.rec.Name(c))
	}
	return row
}

func (v *view) coversOf(p record.Part) Section {
	sec := Section{Title: "What gets covered up", Empty: "Nothing is entered that covers it up.", Add: []Add{v.adding("cover", "Add what covers it up", "what", string(p.Self))}}
	for _, c := range v.rev.Plan.Covers {
		if !v.concerns(c.What, p) && v.partOf(c.Step) != p.Self {
			continue
		}
		row := Row{Link: v.Ref(c.Self), State: v.event(c.Step, c.Ahead, c.Gone), Grave: graveWords[c.Gravity]}
		v.date(&row, "last chance", c.Before)
		row.line("look at", c.Look)
		row.line("have on file before", c.Evidence)
		for _, e := range c.OnFile {
			row.link("on file", v.evidence(e))
		}
		if len(c.OnFile) == 0 {
			row.line("on file", v.unchecked(c, p))
		}
		sec.Rows = append(sec.Rows, row)
	}
	return sec
}

// unchecked says what is on file of a cover that nobody has said is shown:
// nothing, or pictures that nobody has looked at for it.
func (v *view) unchecked(c plan.Cover, p record.Part) string {
	a := photo.Read(v.rec)
	for _, l := range a.Behind(v.rec, v.rev.Plan, p.Self) {
		if l.Step == c.Step && len(l.Photos) > 0 {
			return "pictures exist, not checked: " + count(len(l.Photos), "picture", "pictures") + " from before"
		}
	}
	return "nothing yet"
}

// graveWords are the gravities that can't be put right without cutting.
var graveWords = map[string]bool{"structure": true, "safety": true, "needs cutting": true}

func (v *view) partOf(step record.Ref) record.Ref {
	st, _ := journal.Get[record.Step](v.rec, step)
	return st.Part
}

func (v *view) pointsOf(p record.Part) Section {
	sec := Section{Title: "Points", Empty: "No point is open here.", Add: []Add{v.adding("point", "Add an open point", "part", string(p.Self))}}
	for _, list := range [][]plan.Point{v.rev.Plan.Points, v.rev.Plan.Settled} {
		for _, x := range list {
			if v.concerns(x.Point.Part, p) {
				sec.Rows = append(sec.Rows, v.pointRow(x))
			}
		}
	}
	return sec
}

func (v *view) defectsOf(p record.Part) Section {
	sec := Section{Title: "Defects", Empty: "No defect is noted.", Add: []Add{v.adding("defect", "Add a defect", "part", string(p.Self))}}
	open := map[record.Ref]bool{}
	for _, d := range v.rev.Visit.Defects {
		open[d.Self] = true
		if v.concerns(d.Part, p) {
			row := Row{Link: v.Ref(d.Self), State: defectState(d.State, d.Told), Grave: graveWords[d.Gravity] && d.Snag != record.Yes}
			row.line("must be right", v.event(d.Before, d.Ahead, d.Gone))
			sec.Rows = append(sec.Rows, row)
		}
	}
	for _, d := range journal.All[record.Defect](v.rec) {
		if !open[d.Self] && v.concerns(d.Part, p) {
			sec.Rows = append(sec.Rows, Row{Link: v.Ref(d.Self), State: "closed"})
		}
	}
	return sec
}

func defectState(state string, told bool) string {
	switch {
	case told:
		return "said to be put right, not seen"
	case state == "":
		return "not looked at since"
	}
	return state
}

func (v *view) agreementsOf(p record.Part) Section {
	sec := Section{Title: "Agreements", Empty: "Nothing is agreed here.", Add: []Add{v.adding("agreement", "Add an agreement", "about", string(p.Self), "day", v.Today.String())}}
	for _, a := range journal.All[record.Agreement](v.rec) {
		if !v.concerns(a.About, p) && (a.Before == "" || v.partOf(a.Before) != p.Self) {
			continue
		}
		row := Row{Link: v.Ref(a.Self)}
		row.link("with", v.Ref(a.With))
		row.line("on", a.Day.Said())
		row.link("before", v.Ref(a.Before))
		sec.Rows = append(sec.Rows, row)
	}
	return sec
}

func (v *view) measurementsOf(p record.Part) Section {
	sec := Section{Title: "Measurements", Empty: "Nothing is measured yet.", Add: []Add{v.adding("measurement", "Add a measurement", "of", string(p.Self))}}
	k := record.KindOf("measurement")
	for _, m := range journal.All[record.Measurement](v.rec) {
		if !v.concerns(m.Of, p) && (m.Of.Kind() != "step" || v.partOf(m.Of) != p.Self) {
			continue
		}
		row := Row{Link: v.Ref(m.Self)}
		for _, name := range []string{"got", "should"} {
			if h, ok := v.rec.Held(m.Self, name); ok {
				row.line(map[string]string{"got": "measured", "should": "should be"}[name], k.Field(name).Format(h.Value))
			}
		}
		row.line("on", map[string]string{"bare": "the bare laminate", "finished": "the finished surface"}[m.State])
		row.line("how", m.Taken)
		row.line("with", m.By)
		row.line("drawing", m.Drawing)
		row.link("at", v.Ref(m.Visit))
		sec.Rows = append(sec.Rows, row)
	}
	return sec
}

// checksOf lists what is to be measured, with what came of it.
func (v *view) checksOf(p record.Part) Section {
	sec := Section{Title: "What is to be measured", Empty: "Nothing is entered that is to be measured.", Add: []Add{v.adding("check", "Add what is to be measured", "of", string(p.Self))}}
	for _, c := range v.rev.Visit.Checks {
		if !v.concerns(c.Of, p) && (c.Of.Kind() != "step" || v.partOf(c.Of) != p.Self) {
			continue
		}
		row := Row{Link: v.Ref(c.Self), State: checkState(c)}
		row.line("should be", v.fieldText(c.Self, "should"))
		if c.Got != nil {
			row.line("measured", v.gotSaid(c.Got))
			row.link("at", v.Ref(c.Got.Visit))
		}
		row.line("how", c.Taken)
		row.line("on", map[string]string{"bare": "the bare laminate", "finished": "the finished surface"}[c.State])
		row.line("drawing", c.Drawing)
		if c.Before != "" {
			row.line("can be measured", v.event(c.Before, c.Ahead, c.Gone))
		}
		sec.Rows = append(sec.Rows, row)
	}
	return sec
}

func checkState(c visit.Check) string {
	switch {
	case c.Told:
		return "only told"
	case c.Got == nil && c.Gone:
		return "never measured, covered by now"
	case c.Got == nil:
		return "not measured yet"
	case c.Got.Unlike:
		return "can't be compared"
	case c.Got.Out:
		return "outside what it should be"
	case c.Got.Wide():
		return "readings far apart"
	case !c.Got.Should.Known:
		return "measured"
	}
	return "within what it should be"
}

func (v *view) photosOf(p record.Part) Section {
	sec := Section{Title: "Pictures noted by name", Empty: "None whose file is still to come.", Add: []Add{v.adding("photo", "Add a picture", "part", string(p.Self))}}
	for _, x := range journal.All[record.Photo](v.rec) {
		if !ofPart(x, p) || x.File.Known() { // those with their file are shown
			continue
		}
		row := Row{Link: v.Ref(x.Self)}
		row.line("on it", x.Note)
		row.link("at", v.Ref(x.Visit))
		sec.Rows = append(sec.Rows, row)
	}
	return sec
}

// ofPart reports whether a picture is one of a part, or of its place.
func ofPart(x record.Photo, p record.Part) bool {
	return x.Part == p.Self || x.Place != "" && x.Place == p.Place
}
