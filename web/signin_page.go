package web

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"dogshore/people"
)

// signInPage is where whoever comes from outside says who they are. It tells
// nothing of the build.
type signInPage struct {
	Sheet
	Next        string
	Who, Device string
	Problem     string
	Plain       bool // the line is not encrypted
	Out         bool // this phone was put out
}

func (s *Site) signInPage(w http.ResponseWriter, r *http.Request) error {
	next := ownPath(r.FormValue("next"))
	_, err := s.outside.Access.Session(r.Context(), s.token(r))
	if err == nil {
		http.Redirect(w, r, orReview(next), http.StatusSeeOther)
		return nil
	}
	page := signInPage{Next: next, Who: "owner", Device: "phone", Out: errors.Is(err, people.ErrRevoked)}
	page.Forget = page.Out || r.FormValue("out") != ""
	return s.askIn(w, r, http.StatusOK, page)
}

func (s *Site) askIn(w http.ResponseWriter, r *http.Request, status int, page signInPage) error {
	forget := page.Forget
	page.Sheet, page.Plain = s.bareSheet(r, "Sign in"), s.outside.TLS == nil
	page.Forget = forget
	return s.render(w, status, "sign_in", &page)
}

// signIn lets somebody in. Whoever was in with the same phone before is out.
func (s *Site) signIn(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return err
	}
	page := signInPage{Next: ownPath(r.PostFormValue("next")), Who: r.PostFormValue("who"), Device: r.PostFormValue("device")}
	access := s.outside.Access
	_, token, err := access.SignIn(r.Context(), people.Asked{From: remote(r.RemoteAddr), Secret: r.PostFormValue("secret"), Who: page.Who, Device: page.Device})
	var soon *people.TooSoonError
	var name *people.NameError
	switch {
	case errors.As(err, &soon):
		w.Header().Set("Retry-After", strconv.Itoa(int(soon.Wait/time.Second)+1))
		page.Problem = fmt.Sprintf("Too many attempts failed. The next one counts in %s; this one was not looked at.", soon.Said())
		return s.askIn(w, r, http.StatusTooManyRequests, page)
	case errors.Is(err, people.ErrWrong):
		page.Problem = "That is neither the passphrase nor a code that still counts. A code is good once, and for a day."
		return s.askIn(w, r, http.StatusForbidden, page)
	case errors.As(err, &name):
		page.Problem = "Not signed in yet: " + name.Says + "."
		return s.askIn(w, r, http.StatusUnprocessableEntity, page)
	case err != nil:
		return err
	}
	if before, err := access.Session(r.Context(), s.token(r)); err == nil {
		if err := access.SignOut(r.Context(), before.ID); err != nil && !errors.Is(err, people.ErrNone) {
			return err
		}
	}
	http.SetCookie(w, s.sessionCookie(token, 183*24*time.Hour))
	http.Redirect(w, r, orReview(page.Next), http.StatusSeeOther)
	return nil
}

// sessionCookie is sent to these pages alone, never from a page elsewhere, and
// no script reads it.
func (s *Site) sessionCookie(token string, lasts time.Duration) *http.Cookie {
	c := &http.Cookie{Name: s.outside.cookie(), Value: token, Path: "/", MaxAge: int(lasts / time.Second), HttpOnly: true, Secure: s.outside.TLS != nil, SameSite: http.SameSiteStrictMode}
	if lasts == 0 {
		c.MaxAge = -1
	}
	return c
}

func (s *Site) signOut(w http.ResponseWriter, r *http.Request) error {
	v := visitorOf(r)
	if v == nil {
		return problem{http.StatusConflict, "Nobody signs in on this computer.", "Phones are put out on the sheet of phones."}
	}
	if err := s.outside.Access.SignOut(r.Context(), v.ID); err != nil && !errors.Is(err, people.ErrNone) {
		return err
	}
	http.SetCookie(w, s.sessionCookie("", 0))
	http.Redirect(w, r, "/sign-in?out=yes", http.StatusSeeOther) // whoever signs out leaves no page behind
	return nil
}

func orReview(next string) string {
	if next == "" {
		return "/"
	}
	return next
}
