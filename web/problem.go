package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"dogshore/store"
)

// problem is an error that a person is told about: what was wrong, and what
// would be right.
type problem struct {
	status int
	says   string
	hint   string
}

func (p problem) Error() string { return p.says }

// errNoBuild is met while the folder is still empty: the start page comes
// first.
var errNoBuild error = problem{http.StatusConflict, "There is no build here yet.", "The start page makes one."}

// notFound says that the build has no such thing.
func notFound(format string, a ...any) error {
	return problem{http.StatusNotFound, fmt.Sprintf(format, a...), "It may have been struck, or the link may be of another day. The list of sheets leads on."}
}

// refused says that what was sent can't be taken.
func refused(says, hint string) error { return problem{http.StatusUnprocessableEntity, says, hint} }

// whyRefused says why the door did not let an entry in.
func whyRefused(err error) string {
	return "It was refused: " + strings.TrimPrefix(err.Error(), store.ErrRefused.Error()+": ")
}

// tooLong says that what was sent is longer than what is taken.
func tooLong(limit int64) problem {
	if limit == longestFile {
		return problem{http.StatusRequestEntityTooLarge, fmt.Sprintf("That is longer than the %d MB that are taken at once.", limit>>20), "Nothing was written. Split it, or leave the pictures out."}
	}
	return problem{http.StatusRequestEntityTooLarge, fmt.Sprintf("That is longer than the %d kB that a form takes.", limit>>10), "Nothing was written. Files go in by the intake page."}
}

// answered turns a handler's error into an answer.
func (s *Site) answered(h handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if _, err := url.ParseQuery(r.URL.RawQuery); err != nil {
			s.problem(w, r, problem{http.StatusBadRequest, "The address has signs in it that can't be read.", "Nothing was written. Come in again by a link of these pages."})
			return
		}
		err := h(w, r)
		if err == nil {
			return
		}
		var p problem
		var long *http.MaxBytesError
		switch {
		case errors.Is(err, errNoBuild) && r.Method == http.MethodGet:
			http.Redirect(w, r, "/start", http.StatusSeeOther)
			return
		case errors.As(err, &p):
		case errors.As(err, &long):
			p = tooLong(long.Limit)
		case errors.Is(err, store.ErrRefused):
			p = problem{http.StatusUnprocessableEntity, whyRefused(err), "Nothing was written."}
		default:
			s.log.Error("request", "path", r.URL.Path, "error", err)
			p = problem{http.StatusInternalServerError, "This could not be done.", "What was written before is kept. The program's output says why."}
		}
		s.problem(w, r, p)
	})
}

// problemPage says what went wrong.
type problemPage struct {
	Sheet
	Says, Hint string
}

// problem answers with p. It asks the folder for nothing, so that it can also
// say that the folder is gone.
func (s *Site) problem(w http.ResponseWriter, r *http.Request, p problem) {
	page := &problemPage{Sheet: s.bareSheet(r, "Not this way"), Says: p.says, Hint: p.hint}
	if err := s.render(w, p.status, "problem", page); err != nil {
		s.log.Error("problem page", "error", err)
		http.Error(w, p.says, p.status)
	}
}

func (s *Site) nothingHere(_ http.ResponseWriter, r *http.Request) error {
	return problem{http.StatusNotFound, fmt.Sprintf("There is no page %s.", r.URL.Path), "The list of sheets leads on."}
}
