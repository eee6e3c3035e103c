package web

import (
	"net/http"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

// recordPage shows one subject of any kind: what holds of it and how we know,
// what names it, and everything that was ever said of it.
type recordPage struct {
	Sheet
	Kind    *record.Kind
	Self    Named
	Picture *Shown // of a photo that has its file
	Values  []Valued
	Stands  []plan.StandOrder // of a mould, cradle or bay
	Related []Related
	History []HistoryLine
	Doubts  []Doubt
}

func (s *Site) recordPage(w http.ResponseWriter, r *http.Request) error {
	self := record.R(r.PathValue("kind"), r.PathValue("key"))
	v, said, err := s.opened(r, self)
	if err != nil {
		return err
	}
	page := &recordPage{
		Sheet: v.Sheet, Kind: record.KindOf(self.Kind()), Self: v.called(self), Picture: s.photoOf(v, self), Values: v.values(self),
		Related: v.related(self), History: said, Doubts: v.doubts(self),
	}
	if o := v.rev.Plan.Forecast.At(self); o != nil {
		page.Stands = []plan.StandOrder{*o}
	}
	return s.render(w, http.StatusOK, "record", page)
}

// opened reads a subject for its page, named after its kind, with all that was
// ever said of it.
func (s *Site) opened(r *http.Request, self record.Ref) (*view, []HistoryLine, error) {
	v, err := s.view(r, "")
	if err != nil {
		return nil, nil, err
	}
	k, err := v.known(self)
	if err != nil {
		return nil, nil, err
	}
	v.Name = desk.Capital(k.Title)
	said, err := v.folder.History(r.Context(), self)
	if err != nil {
		return nil, nil, err
	}
	return v, v.history(said), nil
}

// known returns the kind of a subject that the record has.
func (v *view) known(self record.Ref) (*record.Kind, error) {
	k := record.KindOf(self.Kind())
	if k == nil {
		return nil, notFound("There is no kind “%s”.", self.Kind())
	}
	if !v.rec.Has(self) {
		return nil, notFound("As of %s there is no %s “%s”.", v.Day.Said(), k.Title, self.Key())
	}
	return k, nil
}

// listPage shows all subjects of a kind.
type listPage struct {
	Sheet
	Kind *record.Kind
	All  []Named
}

func (s *Site) listPage(w http.ResponseWriter, r *http.Request) error {
	k := record.KindOf(r.PathValue("kind"))
	if k == nil {
		return notFound("There is no kind “%s”.", r.PathValue("kind"))
	}
	v, err := s.view(r, k.Plural)
	if err != nil {
		return err
	}
	page := &listPage{Sheet: v.Sheet, Kind: k}
	for _, self := range v.rec.Refs(k.Name) {
		page.All = append(page.All, v.called(self))
	}
	return s.render(w, http.StatusOK, "list", page)
}

// Doubt is a doubt with its sides, each of which can be chosen where two
// values stand against each other.
type Doubt struct {
	journal.Doubt
	Name   Named
	Title  string // of the field
	Sides  []Side
	Choose bool
}

// Side is one of the things that stand against each other.
type Side struct {
	Text  string
	Entry string
	Link  Named
}

// doubts returns the doubts about one subject; with no subject, all.
func (v *view) doubts(about record.Ref) []Doubt {
	var out []Doubt
	for _, d := range v.rev.Doubts {
		if about == "" || d.About == about {
			out = append(out, v.doubt(d))
		}
	}
	return out
}

func (v *view) doubt(d journal.Doubt) Doubt {
	x := Doubt{Doubt: d, Name: v.called(d.About), Title: d.Field, Choose: d.Kind == journal.Conflict && v.Owns()}
	if k := record.KindOf(d.About.Kind()); k != nil && k.Field(d.Field) != nil {
		x.Title = k.Field(d.Field).Title
	}
	if d.About != "" {
		x.Says = strings.ReplaceAll(x.Says, string(d.About), x.Name.Name)
	}
	x.Says = desk.Capital(desk.Sentence(x.Says))
	for i, s := range d.Sides {
		side := Side{Text: s}
		if day, err := calendar.ParseISO(s); err == nil && day.Known() {
			side.Text = day.Said()
		}
		if i < len(d.From) {
			side.Entry = d.From[i]
		}
		if v.rec.Has(record.Ref(s)) {
			side.Link = v.Ref(record.Ref(s))
			side.Text = ""
		}
		x.Sides = append(x.Sides, side)
	}
	return x
}
