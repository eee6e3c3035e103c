package web

import (
	"net/http"
	"regexp"
	"slices"
	"strings"

	"dogshore/calendar"
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
	Blank    bool       // the sheet of a visit that is begun without a connection
	Kept     workingSet // what a phone keeps besides the page
	First    []firstAct // what the review wants first
	Stops    []stop
	Rest     []stepName // every other step, to be found by name
	Checks   []Choice
	States   []string
	Begun    []string // the states of a later stage that one sees already
	Grave    []string
	People   []Choice
	Parts    []Choice // and places
	Built    []Choice // parts alone
	Points   []Choice
	Items    []Choice // bought in, and not seen whole yet
	Defects  []defect
	Found    []foundLine
	Doubts   []Doubt           // about what was noted here
	Typed    map[string]string // what was refused, and is kept
	Wrong    string
	Form     string // the form that was refused
	Pictures []Shown
}

// defect is a defect that was not seen put right.
type defect struct {
	Link Named
	visit.Defect
}

// firstAct is one of the acts that the review puts on its first page, and
// where on the walk it is done.
type firstAct struct{ Say, Stop string }

// stepName is a step that can be found by name.
type stepName struct {
	Choice
	Key string // "" if it is as the name has it
}

// workingSet is what a phone must know besides the page to note things without
// a connection: which entries its page was made from.
type workingSet struct {
	Visit record.Ref        `json:"visit"`
	Who   string            `json:"who,omitempty"` // who is signed in, and so notes on it
	Day   calendar.Day      `json:"day"`
	Last  int64             `json:"last"` // the arrival of the newest entry
	Over  map[string]string `json:"over"` // by step: the entries of its state at this visit
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
		Visit: full, Closed: full.Closed == record.Yes, States: states, Begun: []string{"under way", "done"}, Grave: record.KindOf("defect").Field("gravity").Of,
		People: v.names([]string{"person"}), Parts: v.names([]string{"part", "place"}), Points: v.names([]string{"point"}), Built: v.names([]string{"part"}),
		Typed: typed, Form: form, Wrong: wrong,
	}
	v.Name = "Visit of " + full.Day.Said()
	if page.Blank = self == blank; page.Blank {
		v.Name = "Visit"
	}
	page.Sheet, page.Self = v.Sheet, v.Ref(self)
	v.fillWalk(page, self)
	if v.Visitor != nil {
		page.Kept.Who = v.Visitor.Who
	}
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
	for _, x := range v.found(self) {
		page.Doubts = append(page.Doubts, v.doubts(x.Self)...)
	}
	return s.render(w, status, "visit", page)
}

// fillWalk lays the walk on the sheet, and what a phone keeps of it.
func (v *view) fillWalk(page *visitPage, self record.Ref) {
	page.Stops = v.stops(self)
	page.Rest = v.stepNames()
	page.Checks = v.names([]string{"check"})
	for _, a := range v.rev.First.AtVisit {
		f := firstAct{Say: a.Say}
		for i, st := range v.rev.Visit.Walk {
			if slices.ContainsFunc(st.Acts, func(x desk.Act) bool { return x.ID == a.ID }) {
				f.Stop = page.Stops[i].ID
			}
		}
		page.First = append(page.First, f)
	}
	page.Kept = workingSet{Visit: self, Day: page.Visit.Day, Last: v.Last, Over: map[string]string{}}
	for _, g := range journal.All[record.Sighting](v.rec) {
		if g.Visit == self {
			page.Kept.Over[g.Step.Key()] = v.rec.Over(g.Self, "state")
		}
	}
}

// stepNames lists every step, each with its key where that is not its name in
// small letters, joined by strokes.
func (v *view) stepNames() []stepName {
	keys := map[string]string{}
	for _, ref := range v.rec.Refs("step") {
		keys[string(ref)], keys[v.rec.Name(ref)] = ref.Key(), ref.Key()
	}
	var out []stepName
	for _, c := range v.names([]string{"step"}) {
		x := stepName{c, keys[c.Value]}
		if plainKey.MatchString(c.Value) && x.Key == strings.ReplaceAll(strings.ToLower(c.Value), " ", "-") {
			x.Key = ""
		}
		out = append(out, x)
	}
	return out
}

var plainKey = regexp.MustCompile(`^[A-Za-z0-9]+( [A-Za-z0-9]+)*$`)

// blankVisit is the sheet of no visit: a phone keeps it, to note on it a visit
// that it begins without a connection.
func (s *Site) blankVisit(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Visit")
	if err != nil {
		return err
	}
	return s.showVisit(w, v, blank, http.StatusOK, nil, "", "")
}

// blank stands for the visit that a phone begins.
var blank = record.R("visit", "blank")

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
			line.Says = v.fieldText(x.Self, "got")
		case "evidence":
			e, _ := journal.Get[record.Evidence](v.rec, x.Self)
			line.Link.Name, line.Says = v.rec.Name(e.Photo), "shows "+v.rec.Name(e.Shows)
		}
		out = append(out, line)
	}
	return out
}

// gotSaid says what was measured: the one reading as it was written, or the
// mean of several with their spread.
func (v *view) gotSaid(m *visit.Measurement) string {
	if m.Times > 1 {
		return m.Said()
	}
	return v.fieldText(m.Self, "got")
}
