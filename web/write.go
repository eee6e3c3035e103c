package web

import (
	"net/http"
	"net/url"
	"strings"
	"time"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/people"
	"dogshore/record"
	"dogshore/store"
)

const (
	authorCookie  = "author"
	defaultAuthor = "owner"
	longestAuthor = 80
)

// writable returns the folder for a form that was sent: it must be there, and
// the form must be readable.
func (s *Site) writable(r *http.Request) (*store.Folder, error) {
	f := s.folder.Load()
	if f == nil {
		return nil, errNoBuild
	}
	if strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/") {
		return f, r.ParseMultipartForm(longestForm)
	}
	return f, r.ParseForm()
}

// author is who writes: as the form says, else as the last form said. From
// outside it is who signed in; an owner may write another's name into a form,
// nobody else may.
func author(r *http.Request) string {
	v := visitorOf(r)
	if v != nil && v.Role != people.Owner {
		return v.Who
	}
	if a := strings.TrimSpace(r.PostFormValue("author")); a != "" && len(a) <= longestAuthor {
		return a
	}
	if v != nil {
		return v.Who
	}
	if c, err := r.Cookie(authorCookie); err == nil {
		if a, err := url.QueryUnescape(c.Value); err == nil && a != "" && len(a) <= longestAuthor {
			return a
		}
	}
	return defaultAuthor
}

// draft begins an entry by whoever sent the form, and remembers them for the
// next form.
func (s *Site) draft(w http.ResponseWriter, r *http.Request, f *store.Folder, since calendar.Day, how record.Grounds) journal.Entry {
	a := author(r)
	if visitorOf(r) != nil { // the session knows
		return f.Draft(a, since, how)
	}
	http.SetCookie(w, &http.Cookie{Name: authorCookie, Value: url.QueryEscape(a), Path: "/", MaxAge: int((365 * 24 * time.Hour).Seconds()), HttpOnly: true, SameSite: http.SameSiteStrictMode})
	return f.Draft(a, since, how)
}
