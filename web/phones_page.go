package web

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"dogshore/desk"
	"dogshore/internal/qr"
	"dogshore/people"
)

// phonesPage lists who may come in from outside, lets a phone in and puts it
// out.
type phonesPage struct {
	Sheet
	Off       bool // only this computer may read
	Dir       string
	Plain     bool
	Own       bool // under the program's own root
	Entrances []Entrance
	Phones    []people.Session
	Gone      []people.Session
	Codes     []people.Code
	Roles     []people.Role
	New       newCode
	Feeds     []people.Feed
	Feed      newFeed
	Asks      bool // for the present passphrase: it comes from outside
	Shortest  int
	Problem   string
	Done      string
}

// newFeed is an address for a calendar to show, once, or what was typed to make
// one.
type newFeed struct {
	Who, Device string
	At          []string // the address itself, at each entrance
}

// newCode is a code to show, once, or what was typed to make one.
type newCode struct {
	Who, Device string
	Role        people.Role
	Typed       string // the code itself
}

var errOnlyHere error = problem{http.StatusConflict, "Only this computer can read these pages now.", "The sheet of phones says how to let a phone in."}

func (s *Site) phonesPage(w http.ResponseWriter, r *http.Request) error {
	return s.showPhones(w, r, http.StatusOK, phonesPage{Done: doneWords[r.URL.Query().Get("done")]})
}

// doneWords says what was done before the page was opened again.
var doneWords = map[string]string{
	"out":        "The phone is put out: its next request is refused.",
	"all":        "All phones are put out, and all codes taken back.",
	"name":       "The name is changed. What was written before keeps the name that it was written under.",
	"back":       "The code is taken back.",
	"feed":       "The address is ended: the calendar program that reads there is refused from now on. What it has read it may keep.",
	"passphrase": "The passphrase is changed, and every phone has to sign in anew.",
}

func (s *Site) showPhones(w http.ResponseWriter, r *http.Request, status int, page phonesPage) error {
	v, err := s.view(r, "Phones")
	if err != nil {
		return err
	}
	page.Sheet, page.Dir, page.Shortest = v.Sheet, v.folder.Dir(), people.ShortestPassphrase
	if page.Off = s.outside == nil; page.Off {
		return s.render(w, status, "phones", &page)
	}
	o := s.outside
	page.Plain, page.Own, page.Entrances, page.Roles, page.Asks = o.TLS == nil, o.Root != nil, o.Entrances(), people.Roles, visitorOf(r) != nil
	all, err := o.Access.Sessions(r.Context())
	if err != nil {
		return fmt.Errorf("list the phones: %w", err)
	}
	for _, x := range all {
		if x.In() {
			page.Phones = append(page.Phones, x)
		} else {
			page.Gone = append(page.Gone, x)
		}
	}
	if page.Codes, err = o.Access.Codes(r.Context()); err != nil {
		return fmt.Errorf("list the codes: %w", err)
	}
	if page.Feeds, err = o.Access.Feeds(r.Context()); err != nil {
		return fmt.Errorf("list the addresses for calendars: %w", err)
	}
	if page.New.Role == "" {
		page.New.Role = people.Mate
	}
	return s.render(w, status, "phones", &page)
}

// access returns who may come in, for a form of the sheet of phones.
func (s *Site) access(r *http.Request) (*people.Access, error) {
	if s.outside == nil {
		return nil, errOnlyHere
	}
	return s.outside.Access, r.ParseForm()
}

// newCode makes a code and shows it: once, for it is kept nowhere.
func (s *Site) newCode(w http.ResponseWriter, r *http.Request) error {
	a, err := s.access(r)
	if err != nil {
		return err
	}
	page := phonesPage{New: newCode{Who: r.PostFormValue("who"), Device: r.PostFormValue("device"), Role: people.Role(r.PostFormValue("role"))}}
	_, page.New.Typed, err = a.NewCode(r.Context(), page.New.Who, page.New.Device, page.New.Role)
	var name *people.NameError
	if errors.As(err, &name) {
		page.Problem = desk.Capital(name.Says) + ". No code was made."
		return s.showPhones(w, r, http.StatusUnprocessableEntity, page)
	}
	if err != nil {
		return err
	}
	return s.showPhones(w, r, http.StatusOK, page)
}

// onPhones does something to a phone or a code, and leads back to the sheet.
func (s *Site) onPhones(w http.ResponseWriter, r *http.Request, done string, do func(*people.Access) error) error {
	a, err := s.access(r)
	if err != nil {
		return err
	}
	err = do(a)
	var name *people.NameError
	switch {
	case errors.Is(err, people.ErrNone):
		return problem{http.StatusNotFound, "There is no such phone or code any more.", "The sheet of phones shows who is in."}
	case errors.As(err, &name):
		return s.showPhones(w, r, http.StatusUnprocessableEntity, phonesPage{Problem: desk.Capital(name.Says) + ". Nothing was changed."})
	case err != nil:
		return err
	}
	http.Redirect(w, r, "/phones?done="+done, http.StatusSeeOther)
	return nil
}

func (s *Site) takeBack(w http.ResponseWriter, r *http.Request) error {
	return s.onPhones(w, r, "back", func(a *people.Access) error { return a.TakeBack(r.Context(), r.PathValue("id")) })
}

func (s *Site) renamePhone(w http.ResponseWriter, r *http.Request) error {
	return s.onPhones(w, r, "name", func(a *people.Access) error {
		return a.Rename(r.Context(), r.PathValue("id"), r.PostFormValue("who"), r.PostFormValue("device"))
	})
}

func (s *Site) putOut(w http.ResponseWriter, r *http.Request) error {
	return s.onPhones(w, r, "out", func(a *people.Access) error { return a.Revoke(r.Context(), r.PathValue("id")) })
}

func (s *Site) putAllOut(w http.ResponseWriter, r *http.Request) error {
	return s.onPhones(w, r, "all", func(a *people.Access) error { _, err := a.EndAll(r.Context()); return err })
}

// newPassphrase changes the passphrase. From outside the present one is asked
// for; on this computer whoever reads the pages could set one by command.
func (s *Site) newPassphrase(w http.ResponseWriter, r *http.Request) error {
	return s.changePassphrase(w, r, func(a *people.Access, text string) error {
		if visitorOf(r) == nil {
			_, err := a.SetPassphrase(r.Context(), text)
			return err
		}
		_, err := a.ChangePassphrase(r.Context(), remote(r.RemoteAddr), r.PostFormValue("present"), text)
		return err
	})
}

func (s *Site) changePassphrase(w http.ResponseWriter, r *http.Request, change func(*people.Access, string) error) error {
	a, err := s.access(r)
	if err != nil {
		return err
	}
	text := r.PostFormValue("passphrase")
	if text != r.PostFormValue("again") {
		return s.showPhones(w, r, http.StatusUnprocessableEntity, phonesPage{Problem: "The two new passphrases are not the same. Nothing was changed."})
	}
	err = change(a, text)
	var weak *people.WeakError
	var soon *people.TooSoonError
	switch {
	case errors.As(err, &weak):
		return s.showPhones(w, r, http.StatusUnprocessableEntity, phonesPage{Problem: desk.Capital(weak.Says) + " Nothing was changed."})
	case errors.As(err, &soon):
		return s.showPhones(w, r, http.StatusTooManyRequests, phonesPage{Problem: desk.Capital(soon.Error()) + ". Nothing was changed."})
	case errors.Is(err, people.ErrWrong):
		return s.showPhones(w, r, http.StatusForbidden, phonesPage{Problem: "That is not the present passphrase. Nothing was changed."})
	case err != nil:
		return err
	}
	http.Redirect(w, r, "/phones?done=passphrase", http.StatusSeeOther)
	return nil
}

// addressCode is an address for a phone's camera: ?n= counts from 0.
func (s *Site) addressCode(w http.ResponseWriter, r *http.Request) error {
	if s.outside == nil {
		return errOnlyHere
	}
	all := s.outside.Entrances()
	n, err := strconv.Atoi(r.URL.Query().Get("n"))
	if err != nil || n < 0 || n >= len(all) {
		return notFound("There is no address %q.", r.URL.Query().Get("n"))
	}
	c, err := qr.Of(all[n].Door)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	_, _ = w.Write(c.SVG()) // the reader may have gone
	return nil
}
