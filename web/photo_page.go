package web

import (
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"

	"dogshore/desk/photo"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/unit"
)

// photoPage shows one picture: what it is of, what somebody said that it
// shows, a length measured on it, and how to take it out for good.
type photoPage struct {
	Sheet
	Photo   Named
	Shot    Shot
	Values  []Valued
	Shows   []shownLine
	Spot    spotForm
	Could   []Choice // what it could show, of its part
	Behind  Named
	View    Named
	Doubts  []Doubt
	History []HistoryLine
	Author  string
	Measure measureForm
	File    record.File
	Film    *filmView
	Gone    bool // its file is not there any more: it was taken out
}

// measureForm is a length measured on a picture from one that is known there.
type measureForm struct {
	Known string // the length that is known, as typed
	What  string
	Marks [4][2]string // ends of the known length, then of the unknown, in parts of the picture's width and height
	Got   string       // the result in words; "" until it can be said
	Bad   string
}

func (s *Site) photoPage(w http.ResponseWriter, r *http.Request) error {
	page, err := s.photoSheet(r)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "photo", page)
}

func (s *Site) photoSheet(r *http.Request) (*photoPage, error) {
	self := record.R("photo", r.PathValue("key"))
	v, err := s.view(r, "Picture")
	if err != nil {
		return nil, err
	}
	if _, err := v.known(self); err != nil {
		return nil, err
	}
	said, err := v.folder.History(r.Context(), self)
	if err != nil {
		return nil, err
	}
	a := photo.Read(v.rec)
	p, ok := a.Photo(self)
	if !ok {
		return nil, notFound("There is no such picture.")
	}
	s.wantSmall(v, []photo.Photo{p})
	film := v.filmOf(p, a)
	page := &photoPage{Sheet: v.Sheet, Photo: v.Ref(self), Shot: v.shot(p), Values: v.values(self, "name", "file"), Doubts: v.doubts(self), History: v.history(said), Author: author(r), File: p.File, Film: film}
	if p.File.Known() {
		in, err := v.folder.File(p.File)
		if page.Gone = err != nil; !page.Gone {
			_ = in.Close() // only looked whether it is there
		}
	}
	for i, e := range p.Shows {
		page.Shows = append(page.Shows, v.shownLine(i+1, e))
	}
	if page.Spot, err = v.spotForm(r, p, a); err != nil {
		return nil, err
	}
	page.Could = v.couldShow(p)
	if of := p.Part; of != "" || p.Place != "" {
		if of == "" {
			of = p.Place
		}
		page.Behind = Named{Href: v.Link("/behind/" + string(of)), Name: "What is behind " + v.rec.Name(of)}
	}
	page.Measure = v.measured(r)
	return page, nil
}

// couldShow lists what a picture of its part or place could be evidence of,
// nearest first: what gets covered up there, its defects, points and
// requirements.
func (v *view) couldShow(p photo.Photo) []Choice {
	has := map[record.Ref]bool{}
	for _, e := range p.Shows {
		has[e.Shows] = true
	}
	var out []Choice
	add := func(ref record.Ref, text string) {
		if !has[ref] {
			out = append(out, Choice{Value: string(ref), Text: text})
		}
	}
	here := func(of record.Ref) bool { return of != "" && (of == p.Part || of == p.Place) }
	for _, c := range v.rev.Plan.Covers {
		step := v.rev.Plan.Step(c.Step)
		if here(c.What) || step != nil && here(step.Part) {
			add(c.Self, c.Hides)
		}
	}
	for _, x := range journal.All[record.Defect](v.rec) {
		if here(x.Part) {
			add(x.Self, "defect: "+x.What)
		}
	}
	for _, x := range journal.All[record.Point](v.rec) {
		if here(x.Part) {
			add(x.Self, "point: "+x.Question)
		}
	}
	for _, x := range journal.All[record.Requirement](v.rec) {
		if here(x.Part) {
			add(x.Self, "requirement: "+x.Says)
		}
	}
	for _, s := range v.rev.Plan.Steps {
		if here(s.Part) && (s.State == "done" || s.State == "under way") {
			add(s.Self, "step: "+s.Name)
		}
	}
	return out
}

// showPhoto writes that a picture shows something: from then on it is evidence.
func (s *Site) showPhoto(w http.ResponseWriter, r *http.Request) error {
	f, v, self, err := s.photoWritten(r)
	if err != nil {
		return err
	}
	k := record.KindFor[record.Evidence]()
	shows, err := v.resolve(k.Field("shows"), r.PostFormValue("shows"))
	if err != nil || shows == "" {
		return refused("Nothing is written yet: say what the picture shows.", "Go back and choose one of the list.")
	}
	p, _ := journal.Get[record.Photo](v.rec, self)
	e := s.draft(w, r, f, v.Today, groundsOr(r, record.Seen))
	e.Origin = "page of the picture"
	values := map[string]record.Value{"shows": record.Encode(shows), "photo": record.Encode(self)}
	if p.Visit != "" {
		values["visit"] = record.Encode(p.Visit)
	}
	if p.Day.Known() {
		values["day"] = record.Encode(p.Day)
	}
	e.Facts = journal.Facts(record.R("evidence", e.ID), values)
	if _, err := f.Accept(r.Context(), e); err != nil {
		return err
	}
	return wrote(w, r, pathOf(self), self, e.ID)
}

// measured reads a length off a picture: the known length times the ratio of
// the two, each counted in the picture's own pixels.
func (v *view) measured(r *http.Request) measureForm {
	m := measureForm{Known: strings.TrimSpace(r.FormValue("known")), What: strings.TrimSpace(r.FormValue("what"))}
	var at [4][2]float64
	marked := true
	for i := range at {
		for k, axis := range []string{"x", "y"} {
			text := r.FormValue(fmt.Sprintf("%s%d", axis, i+1))
			m.Marks[i][k] = text
			x, err := strconv.ParseFloat(text, 64)
			if err != nil || x < 0 || x > 1 || math.IsNaN(x) {
				marked = false
			}
			at[i][k] = x
		}
	}
	if m.Known == "" {
		return m
	}
	q, err := unit.ParseQuantity(m.Known, unit.Length, unit.Habit{})
	if err != nil {
		m.Bad = err.Error()
		return m
	}
	aspect, err := strconv.ParseFloat(r.FormValue("aspect"), 64)
	if !marked || err != nil || !(aspect > 0) {
		m.Bad = "Mark both ends of the known length and of the one that you want, on the picture."
		return m
	}
	got, ok := onPicture(q, at, aspect)
	if !ok {
		m.Bad = "The ends of a length lie on one another."
		return m
	}
	m.Got = got.Text()
	return m
}

// onPicture returns the length between the last two marks. Marks are parts of
// the picture's width and height, aspect its width over its height. Each mark
// may be off by a four hundredth of the width, which a thumb can place; what
// lies askew or in another plane is off by more than any figure here says.
func onPicture(known unit.Quantity, at [4][2]float64, aspect float64) (unit.Quantity, bool) {
	long := func(a, b [2]float64) float64 { return math.Hypot(a[0]-b[0], (a[1]-b[1])/aspect) }
	ref, want := long(at[0], at[1]), long(at[2], at[3])
	const off = math.Sqrt2 / 400
	if ref <= off || want <= 0 {
		return unit.Quantity{}, false
	}
	v := known.SI * want / ref
	low, high := known.Low*max(want-off, 0)/(ref+off), known.High*(want+off)/(ref-off)
	mm := func(x float64) float64 { return math.Round(1000*x) / 1000 }
	return unit.Quantity{Known: true, SI: mm(v), Low: math.Min(mm(low), mm(v)), High: math.Max(mm(high), mm(v)), About: true, Dim: unit.Length}, true
}

// measurePhoto writes down a length that was measured on a picture.
func (s *Site) measurePhoto(w http.ResponseWriter, r *http.Request) error {
	f, v, self, err := s.photoWritten(r)
	if err != nil {
		return err
	}
	m := v.measured(r)
	if m.Got == "" || m.What == "" {
		page, err := s.photoSheet(r)
		if err != nil {
			return err
		}
		page.Measure = m
		if m.What == "" && m.Bad == "" {
			page.Measure.Bad = "Say what was measured, from where to where."
		}
		return s.render(w, http.StatusUnprocessableEntity, "photo", page)
	}
	got, err := unit.ParseQuantity(m.Got, unit.Length, unit.Habit{})
	if err != nil {
		return err
	}
	p, _ := journal.Get[record.Photo](v.rec, self)
	values := record.Values(record.Measurement{What: m.What, Got: got, Visit: p.Visit, Photo: self, Taken: "on a picture", By: "on the picture, from a length of " + m.Known})
	if p.Part != "" {
		values["of"] = record.Encode(p.Part)
	} else if p.Place != "" {
		values["of"] = record.Encode(p.Place)
	}
	e := s.draft(w, r, f, v.Today, record.Shown)
	e.Origin = "page of the picture"
	e.Facts = journal.Facts(record.R("measurement", e.ID), values)
	if _, err := f.Accept(r.Context(), e); err != nil {
		return err
	}
	return wrote(w, r, pathOf(self), self, e.ID)
}

// expungePhoto takes a picture's file out for good, on a person's demand.
func (s *Site) expungePhoto(w http.ResponseWriter, r *http.Request) error {
	f, v, self, err := s.photoWritten(r)
	if err != nil {
		return err
	}
	p, _ := journal.Get[record.Photo](v.rec, self)
	reason := strings.TrimSpace(r.PostFormValue("reason"))
	switch {
	case !p.File.Known():
		return refused("There is no file of this picture to take out.", "Its row can be struck on the entry's page.")
	case reason == "":
		return refused("Nothing was taken out: say why.", "Go back and write who asked for it; the reason stays on record.")
	case r.PostFormValue("sure") != "yes":
		return refused("Nothing was taken out: tick that you are sure.", "What is taken out can't be brought back.")
	}
	if err := f.ExpungeFile(r.Context(), p.File, author(r), reason); err != nil {
		return err
	}
	return wrote(w, r, pathOf(self), self, "")
}

func (s *Site) photoWritten(r *http.Request) (f *store.Folder, v *view, self record.Ref, err error) {
	if f, err = s.writable(r); err != nil {
		return nil, nil, "", err
	}
	if v, err = s.view(r, "Picture"); err != nil {
		return nil, nil, "", err
	}
	self = record.R("photo", r.PathValue("key"))
	_, err = v.known(self)
	return f, v, self, err
}
