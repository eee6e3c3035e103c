package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"dogshore/diary"
	"dogshore/people"
	"dogshore/record"
)

// diaryPage lists the visits to read, and finds things in them.
type diaryPage struct {
	Sheet
	Diary    diary.Diary
	Visits   []diaryVisit // latest first
	Word     string
	Place    string
	Stage    string
	Asked    bool
	Found    []diary.Find
	ByVisit  []foundAt
	Leave    []string // what can be left out
	Names    []diary.Name
	Archives bool // whoever looks may carry all of it out
}

// diaryVisit is one visit in the list.
type diaryVisit struct {
	diary.Page
	Link     string
	Pictures int
	Thumb    string // the first picture, small; "" if there is none
}

// foundAt is what was found at one visit.
type foundAt struct {
	Page  diary.Page
	Link  string
	Items []diary.Item
}

// diaryLeaf is one visit in reading form.
type diaryLeaf struct {
	Sheet
	Page          diary.Page
	Before, After *diaryVisit
	Own           string // the visit's own sheet, to be filled in
}

func (s *Site) diaryPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Diary")
	if err != nil {
		return err
	}
	q := r.URL.Query()
	page := &diaryPage{Sheet: v.Sheet, Diary: v.diary(), Word: strings.TrimSpace(q.Get("word")), Place: q.Get("place"), Stage: q.Get("stage"), Leave: diary.Leave{Prices: true, Names: true, Faults: true}.Words(), Names: diary.Names(v.rec)}
	page.Archives = v.Visitor == nil || v.Visitor.Role == people.Owner
	page.Asked = page.Word != "" || page.Place != "" || page.Stage != ""
	for _, p := range slices.Backward(page.Diary.Visits) {
		x := diaryVisit{Page: p, Link: v.diaryAt(p), Pictures: len(p.Pictures)}
		if first := p.First(); first != nil {
			x.Thumb = pictureSized(first.File, "thumb")
		}
		page.Visits = append(page.Visits, x)
	}
	if page.Asked {
		page.Found = page.Diary.Find(page.Word, page.Place, page.Stage)
		for _, x := range page.Found {
			if n := len(page.ByVisit); n == 0 || page.ByVisit[n-1].Page.Name != x.Page.Name {
				page.ByVisit = append(page.ByVisit, foundAt{x.Page, v.diaryAt(x.Page), nil})
			}
			last := &page.ByVisit[len(page.ByVisit)-1]
			last.Items = append(last.Items, x.Item)
		}
	}
	return s.render(w, http.StatusOK, "diary", page)
}

// diary reads the diary with the ways to its pictures and to the subjects.
func (v *view) diary() diary.Diary {
	d := diary.Read(v.rec, diary.Leave{})
	for i := range d.Visits {
		p := &d.Visits[i]
		for k := range p.Pictures {
			x := &p.Pictures[k]
			x.Src, x.Why = pictureAt(x.File)
			x.Href = v.Link(pathOf(x.Subject()))
		}
		for _, sec := range p.Sections {
			for k := range sec.Items {
				sec.Items[k].Href = v.Link(pathOf(sec.Items[k].Subject()))
			}
		}
		for k := range p.Letters {
			p.Letters[k].Href = v.Link(pathOf(p.Letters[k].Self))
			p.Letters[k].Text = "" // it stands on its own page
		}
	}
	return d
}

func (v *view) diaryAt(p diary.Page) string { return v.Link("/diary/" + p.Self.Key()) }

// pictureAt is where a page finds a picture at the size of a screen, or why it
// finds none.
func pictureAt(f record.File) (src, why string) {
	switch {
	case !f.Known():
		return "", "there is no file of it"
	case !canScreen(f):
		return "", "its file can't be shown here"
	}
	return pictureSized(f, "screen"), ""
}

func (s *Site) diaryVisit(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Diary")
	if err != nil {
		return err
	}
	self := record.R("visit", r.PathValue("key"))
	d := v.diary()
	i := slices.IndexFunc(d.Visits, func(p diary.Page) bool { return p.Self == self })
	if i < 0 {
		return notFound("As of %s the diary has no visit “%s”.", v.Day.Said(), self.Key())
	}
	v.Name = "Diary, " + d.Visits[i].Day.Said()
	page := &diaryLeaf{Sheet: v.Sheet, Page: d.Visits[i], Own: v.Link(pathOf(self))}
	at := func(k int) *diaryVisit {
		if k < 0 || k >= len(d.Visits) {
			return nil
		}
		return &diaryVisit{Page: d.Visits[k], Link: v.diaryAt(d.Visits[k])}
	}
	page.Before, page.After = at(i-1), at(i+1)
	return s.render(w, http.StatusOK, "diary_visit", page)
}

// diaryArchive hands out all visits as one archive, as today has them.
func (s *Site) diaryArchive(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Diary")
	if err != nil {
		return err
	}
	leave, err := diary.ParseLeave(r.URL.Query()["without"])
	if err != nil {
		return refused(fmt.Sprintf("%v.", err), "Take it from the diary's own form.")
	}
	d := diary.Read(v.rec, leave)
	h := w.Header()
	h.Set("Content-Type", "application/zip")
	h.Set("Content-Disposition", `attachment; filename="`+d.FileName()+`"`)
	// Written as it is made: a build's pictures are more than one wants to
	// hold. What fails on the way breaks the download off, so that it is not
	// taken for a whole one.
	if err := d.Archive(w, v.screens(r.Context()), v.folder.File); err != nil {
		s.log.Error("diary archive", "error", err)
		panic(http.ErrAbortHandler)
	}
	return nil
}
