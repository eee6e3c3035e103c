package web

import (
	"log/slog"
	"net/http"
	"sync"
	"sync/atomic"
	"time"

	"dogshore/calendar"
	"dogshore/picture"
	"dogshore/store"
)

// Site answers with the pages of one build folder. It is safe for use from
// any goroutine.
type Site struct {
	now      func() time.Time
	log      *slog.Logger
	pages    *pages
	assets   *assets
	mux      http.Handler
	inner    http.Handler // the same without the guard
	patterns []string     // the addresses, for the table of rights
	outside  *Outside     // nil while only this computer may read
	memory   memory
	launches launches
	pending  pending

	folder atomic.Pointer[store.Folder]
	making sync.Mutex     // one start at a time
	smalls sync.Mutex     // guards maker
	maker  *picture.Maker // of small pictures
	taking sync.Map       // by tray: how far the taking in of its pictures is (taken)
	dir    string         // where the start page makes the build; empty when there is one
}

// New returns the pages of an open build folder, whose clock should be now
// too. The folder stays the caller's to close.
func New(folder *store.Folder, now func() time.Time, log *slog.Logger) *Site {
	s := newSite(now, log)
	s.folder.Store(folder)
	return s
}

// NewIn returns the pages of a folder that is still empty: they open with the
// start page, which makes the build in dir. Close closes what they made.
func NewIn(dir string, now func() time.Time, log *slog.Logger) *Site {
	s := newSite(now, log)
	s.dir = dir
	return s
}

func newSite(now func() time.Time, log *slog.Logger) *Site {
	a, err := newAssets()
	if err != nil {
		panic(err) // the files are embedded: only a broken program gets here
	}
	s := &Site{now: now, log: log, assets: a}
	s.pages = newPages(a)
	s.inner = s.routes()
	s.mux = s.guard(s.inner, func(r *http.Request) bool { return ownName(r.Host) })
	return s
}

// ServeHTTP answers one request.
func (s *Site) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.mux.ServeHTTP(w, r) }

// Close closes the folder that the start page made, if it did.
func (s *Site) Close() error {
	s.Rest()
	f := s.folder.Load()
	if s.dir == "" || f == nil {
		return nil
	}
	return f.Close()
}

// today is the civil day of the site's clock.
func (s *Site) today() calendar.Day { return calendar.Of(s.now()) }
