package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"dogshore/desk/photo"
	"dogshore/journal"
	"dogshore/record"
)

// photosPage sorts pictures to parts and places: the first that is not sorted
// stands large, a run of the next can go with it, and a tap or a key sorts them
// and shows what comes next.
type photosPage struct {
	Sheet
	Says    string
	First   *Shot
	Run     []Shot // the first and those after it at the same visit
	Suggest []Choice
	Names   []Choice // all parts and places
	Visit   Named
	Views   []Named
	Sorted  []sortedOf // what is sorted, by visit
	Shots   map[string][]Shot
	Author  string
	Skip    string // where to go on when this one is left for later
}

// sortedOf heads the sorted pictures of one visit.
type sortedOf struct {
	Title string
	Visit Named
	More  int // how many more there are than are shown here
}

// Shot is a picture as a thumbnail.
type Shot struct {
	Link  Named
	Thumb string // "" while there is no file, or none that can be shown
	Large string
	Film  string // the address of a film, which has no thumbnail
	Says  string // how it is known, what of it is doubtful
	Of    Named
	Shows []Named
}

// shot makes the thumbnail of a picture.
func (v *view) shot(p photo.Photo) Shot {
	s := Shot{Link: v.Ref(p.Self), Of: v.Ref(p.Part)}
	if p.Part == "" {
		s.Of = v.Ref(p.Place)
	}
	if x := v.shown(p.Photo); !x.Film {
		s.Thumb, s.Large = x.Thumb, x.Screen
	} else {
		s.Film = x.Original
	}
	var says []string
	if p.Taken.Known() {
		says = append(says, p.Taken.Said())
	}
	says = append(says, string(p.How))
	if p.Doubt != "" {
		says = append(says, "doubtful: "+p.Doubt)
	}
	if len(p.Shows) == 0 {
		says = append(says, "not checked")
	}
	s.Says = strings.Join(says, ", ")
	for _, e := range p.Shows {
		s.Shows = append(s.Shows, v.Ref(e.Shows))
	}
	return s
}

// Lengths of the sheet's lists.
const (
	longestRun  = 24
	suggestions = 9  // a key for each
	ofVisit     = 24 // sorted ones of one visit; the visit's own page has all
)

func (s *Site) photosPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Pictures")
	if err != nil {
		return err
	}
	a := photo.Read(v.rec)
	s.wantSmall(v, a.Photos)
	page := &photosPage{Sheet: v.Sheet, Author: author(r), Shots: map[string][]Shot{}}
	open := a.Of(func(p photo.Photo) bool { return !p.Sorted })
	page.Says = fmt.Sprintf("%s; %s still to be sorted to a part or a place.", count(len(a.Photos), "picture", "pictures"), count(len(open), "is", "are"))
	skip := r.URL.Query().Get("after")
	first := 0
	if i := slices.IndexFunc(open, func(p photo.Photo) bool { return p.Key() == skip }); i >= 0 {
		first = (i + 1) % len(open)
	}
	if len(open) > 0 && v.Owns() {
		v.toSort(page, a, open, first)
	}
	for _, x := range a.Views {
		page.Views = append(page.Views, Named{Href: v.Link("/same-view?name=" + url.QueryEscape(x.Name)), Name: fmt.Sprintf("%s (%s)", x.Name, count(len(x.Photos), "picture", "pictures"))})
	}
	page.sorted(v, a)
	return s.render(w, http.StatusOK, "photos", page)
}

// toSort fills in the picture to be sorted next, the run behind it, and what it
// is likely of.
func (v *view) toSort(page *photosPage, a photo.Answer, open []photo.Photo, first int) {
	one := open[first]
	x := v.shot(one)
	page.First, page.Visit = &x, v.Ref(one.Visit)
	for _, p := range open[first:] {
		if p.Visit != one.Visit || len(page.Run) == longestRun {
			break
		}
		page.Run = append(page.Run, v.shot(p))
	}
	for _, ref := range a.Suggest(v.rec, v.rev.Plan, one, suggestions) {
		page.Suggest = append(page.Suggest, Choice{Value: string(ref), Text: v.rec.Name(ref)})
	}
	page.Names = v.names([]string{"part", "place"})
	page.Skip = "/photos?after=" + url.QueryEscape(one.Key())
}

// sorted lists what is sorted, the latest visit first.
func (p *photosPage) sorted(v *view, a photo.Answer) {
	done := a.Of(func(p photo.Photo) bool { return p.Sorted })
	slices.Reverse(done)
	for _, x := range done {
		name := "at no visit"
		if x.Visit != "" {
			name = v.Ref(x.Visit).Name
		}
		if p.Shots[name] == nil {
			p.Sorted = append(p.Sorted, sortedOf{Title: name, Visit: v.Ref(x.Visit)})
		}
		if len(p.Shots[name]) == ofVisit {
			p.Sorted[slices.IndexFunc(p.Sorted, func(o sortedOf) bool { return o.Title == name })].More++
			continue
		}
		p.Shots[name] = append(p.Shots[name], v.shot(x))
	}
}

// sortPhotos writes of which part or place a run of pictures is.
func (s *Site) sortPhotos(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Pictures")
	if err != nil {
		return err
	}
	to := r.PostFormValue("of")
	if to == "" {
		to = r.PostFormValue("other")
	}
	both := &record.Field{Type: record.RefType, Of: []string{"part", "place"}}
	of, err := v.resolve(both, to)
	if err != nil || of == "" {
		return refused("Nothing is sorted yet: name a part or a place.", "Go back, and tap one of the suggestions or write its name.")
	}
	run, err := v.runOf(r)
	if err != nil {
		return err
	}
	var entries []journal.Entry
	for _, self := range run {
		fact := journal.Fact{Kind: "photo", Key: self.Key(), Field: of.Kind(), Value: record.Encode(of), Over: v.rec.Over(self, of.Kind())}
		e := s.draft(w, r, f, v.correcting(self)(fact), groundsOr(r, record.Seen))
		e.Origin, e.Facts = "sorting of pictures", []journal.Fact{fact}
		entries = append(entries, e)
	}
	if _, err := f.Accept(r.Context(), entries...); err != nil {
		return err
	}
	return wrote(w, r, "/photos?after="+url.QueryEscape(r.PostFormValue("behind"))+"#sort", "", entries[0].ID)
}

// runOf are the pictures from the first to the last that were chosen, as the
// page listed them.
func (v *view) runOf(r *http.Request) ([]record.Ref, error) {
	listed := r.PostForm["photo"]
	last := r.PostFormValue("last")
	var out []record.Ref
	for _, key := range listed {
		self := record.R("photo", key)
		if !v.rec.Has(self) {
			return nil, notFound("There is no picture “%s”.", key)
		}
		out = append(out, self)
		if key == last || last == "" {
			break
		}
	}
	if len(out) == 0 {
		return nil, refused("No picture was chosen.", "Go back and choose one.")
	}
	return out, nil
}

// sameViewPage shows one view over the visits, side by side.
type sameViewPage struct {
	Sheet
	Title string
	Shots []Shot
}

func (s *Site) sameViewPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Same view")
	if err != nil {
		return err
	}
	name := r.URL.Query().Get("name")
	page := &sameViewPage{Sheet: v.Sheet, Title: name}
	for _, x := range photo.Read(v.rec).Views {
		if strings.EqualFold(x.Name, strings.TrimSpace(name)) {
			page.Title = x.Name
			for _, p := range x.Photos {
				page.Shots = append(page.Shots, v.shot(p))
			}
		}
	}
	if page.Shots == nil {
		return notFound("No picture repeats a view called “%s”.", name)
	}
	return s.render(w, http.StatusOK, "same_view", page)
}

// wantSmall has the small copies of pictures made in the background.
func (s *Site) wantSmall(v *view, photos []photo.Photo) {
	var want []record.File
	for _, p := range photos {
		if p.File.Known() && !v.shown(p.Photo).Film {
			want = append(want, p.File)
		}
	}
	s.small(v.folder).Want(want...)
}
