package web

import (
	"net/http"
	"net/url"

	"dogshore/journal"
	"dogshore/record"
)

// entryPage shows one act of writing, and strikes it: the page that asks
// whether one is sure.
type entryPage struct {
	Sheet
	Entry   *journal.Entry
	Facts   []EntryFact
	Struck  bool
	By      *journal.Entry // the strike
	Strikes []Named        // what it strikes, if it is a strike
	Author  string
}

// EntryFact is one fact of an entry.
type EntryFact struct {
	Subject Named
	HistoryFact
}

func (s *Site) entryPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Entry")
	if err != nil {
		return err
	}
	e, err := v.folder.Entry(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	if e == nil {
		return notFound("There is no entry “%s”.", r.PathValue("id"))
	}
	page := &entryPage{Sheet: v.Sheet, Entry: e, Author: author(r)}
	for _, f := range e.Facts {
		if f.Kind == journal.EntryKind {
			page.Strikes = append(page.Strikes, Named{Ref: f.Ref(), Href: pathOf(f.Ref()), Name: "entry " + f.Key})
			continue
		}
		page.Facts = append(page.Facts, EntryFact{v.called(f.Ref()), v.factSaid(f)})
	}
	strikes, err := v.folder.Strikes(r.Context())
	if err != nil {
		return err
	}
	if by := strikes[e.ID]; len(by) > 0 {
		page.Struck = true
		if page.By, err = v.folder.Entry(r.Context(), by[len(by)-1]); err != nil {
			return err
		}
	}
	return s.render(w, http.StatusOK, "entry", page)
}

// strike strikes an entry as a mistake. Striking a strike takes it back.
func (s *Site) strike(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	id := r.PathValue("id")
	e, err := f.Entry(r.Context(), id)
	if err != nil {
		return err
	}
	if e == nil {
		return notFound("There is no entry “%s”.", id)
	}
	d := s.draft(w, r, f, s.today(), record.Told)
	d.Origin = "page of the entry"
	d.Facts = []journal.Fact{journal.Strike(id)}
	if _, err := f.Accept(r.Context(), d); err != nil {
		return err
	}
	http.Redirect(w, r, "/entry/"+url.PathEscape(id)+"?wrote="+d.ID, http.StatusSeeOther)
	return nil
}
