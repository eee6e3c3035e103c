package web

import (
	"net/http"

	"dogshore/desk"
	"dogshore/desk/visit"
	"dogshore/journal"
	"dogshore/record"
)

// visitPage is the sheet that is filled in during a visit: a stage is one tap,
// a defect a word, an agreement under a minute.
type visitPage struct {
	Sheet
	Self     Named
	Visit    record.Visit
	Closed   bool
	Stops    []stop
	Rest     []Choice // every other step, to be found by name
	States   []string
	Grave    []string
	People   []Choice
	Parts    []Choice // and places
	Built    []Choice // parts alone
	Points   []Choice
	Items    []Choice // bought in, and not seen whole yet
	Defects  []defect
	Pictures []Shown
	Found    []foundLine
	Typed    map[string]string // what was refused, and is kept
	Wrong    string
	Form     string // the form that was refused
}

// stop is one place on the walk.
type stop struct {
	ID    string
	Part  Named
	Lies  Named
	Steps []tap
	Acts  []desk.Act
}

// tap is a step whose state is one tap.
type tap struct {
	Key    string
	Name   string
	Stage  string // of the picture key
	Was    string // as last known, and how
	Now    string // as noted at this visit
	Likely string
}

// defect is a defect that was not seen put right.
type defect struct {
	Link Named
	visit.Defect
}

// foundLine is one thing noted at this visit.
type foundLine struct {
	Title string
	Link  Named
	Says  string
	Entry string
}

var states = record.KindOf("sighting").Field("state").Of

func (s *Site) visitPage(w http.ResponseWriter, r *http.Request) error {
	v, self, err := s.visitView(r)
	if err != nil {
		return err
	}
	return s.showVisit(w, v, self, http.StatusOK, nil, "", "")
}

// visitView reads the build and checks that the visit is there.
func (s *Site) visitView(r *http.Request) (*view, record.Ref, error) {
	self := record.R("visit", r.PathValue("key"))
	v, err := s.view(r, "Visit")
	if err != nil {
		return nil, "", err
	}
	_, err = v.known(self)
	return v, self, err
}

func (s *Site) showVisit(w http.ResponseWriter, v *view, self record.Ref, status int, typed map[string]string, form, wrong string) error {
	full, _ := journal.Get[record.Visit](v.rec, self)
	if typed == nil {
		typed = map[string]string{}
	}
	page := &visitPage{
		Visit: full, Closed: full.Closed == record.Yes, States: states, Grave: record.KindOf("defect").Field("gravity").Of,
		People: v.names([]string{"person"}), Parts: v.names([]string{"part", "place"}), Points: v.names([]string{"point"}), Built: v.names([]string{"part"}),
		Typed: typed, Form: form, Wrong: wrong,
	}
	v.Name = "Visit of " + full.Day.Said()
	page.Sheet, page.Self = v.Sheet, v.Ref(self)
	page.Stops = v.stops(self)
	page.Rest = v.names([]string{"step"})
	for _, d := range v.rev.Visit.Defects {
		page.Defects = append(page.Defects, defect{v.Ref(d.Self), d})
	}
	for _, i := range v.rev.Plan.Items {
		if !i.Whole {
			page.Items = append(page.Items, Choice{Value: string(i.Self), Text: i.Name})
		}
	}
	page.Found = v.foundLines(self)
	page.Pictures = s.strip(v, func(p record.Photo) bool { return p.Visit == self })
	return s.render(w, status, "visit", page)
}

// stops is the walk, with what was noted at this visit already.
func (v *view) stops(self record.Ref) []stop {
	now := v.statesAt(self)
	states := map[record.Ref]string{}
	stages := map[record.Ref]string{}
	for _, st := range v.rev.Plan.Steps {
		states[st.Self] = st.State
		if st.Grounds != "" {
			states[st.Self] += " (" + string(st.Grounds) + ")"
		}
		stages[st.Self] = st.Stage
	}
	var out []stop
	for _, x := range v.rev.Visit.Walk {
		st := stop{ID: "stop-" + x.Part.Key(), Part: v.Ref(x.Part), Acts: x.Acts}
		if x.Lies != x.Part {
			st.Lies = v.Ref(x.Lies)
		}
		for i, l := range x.Steps {
			if i > 0 && x.Steps[i-1].Step == l.Step {
				continue // its second likely state: every state has its button anyway
			}
			st.Steps = append(st.Steps, tap{Key: l.Step.Key(), Name: v.rec.Name(l.Step), Stage: stages[l.Step], Was: states[l.Step], Now: now[l.Step], Likely: l.Tap})
		}
		out = append(out, st)
	}
	return out
}

// statesAt reads what was noted of steps at one visit.
func (v *view) statesAt(self record.Ref) map[record.Ref]string {
	out := map[record.Ref]string{}
	for _, x := range v.found(self) {
		if g, ok := journal.Get[record.Sighting](v.rec, x.Self); ok {
			out[g.Step] = g.State
		}
	}
	return out
}

// foundLines says what was noted at a visit, each with its entry.
func (v *view) foundLines(self record.Ref) []foundLine {
	var out []foundLine
	for _, x := range v.found(self) {
		if p, ok := journal.Get[record.Photo](v.rec, x.Self); ok && p.File.Known() {
			continue // the strip shows it
		}
		line := foundLine{Title: desk.Capital(x.Kind.Title), Link: v.Ref(x.Self), Entry: v.rec.From(x.Self).ID}
		line.Link.Name = v.called(x.Self).Name
		switch x.Kind.Name {
		case "sighting":
			g, _ := journal.Get[record.Sighting](v.rec, x.Self)
			line.Link.Name, line.Says = v.rec.Name(g.Step), g.State
			if g.Note != "" {
				line.Says += ": " + g.Note
			}
		case "arrival":
			a, _ := journal.Get[record.Arrival](v.rec, x.Self)
			line.Link.Name = v.rec.Name(a.Item)
			line.Says = map[record.Flag]string{record.Yes: "all there", record.No: "not all there"}[a.Whole]
		case "remedy":
			m, _ := journal.Get[record.Remedy](v.rec, x.Self)
			line.Link.Name, line.Says = v.rec.Name(m.Defect), m.State
		case "measurement":
			if h, ok := v.rec.Held(x.Self, "got"); ok {
				line.Says = x.Kind.Field("got").Format(h.Value)
			}
		}
		out = append(out, line)
	}
	return out
}
