package web

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"dogshore/people"
	"dogshore/people/trust"
)

// Outside is how other computers reach the pages, and who may come in.
type Outside struct {
	Access *people.Access
	Hosts  []string    // names and addresses that are answered, besides the address that was reached
	Shown  []string    // those that a person is told
	Port   int         //
	TLS    *tls.Config // nil: plain http, with what that lacks
	Root   *trust.Root // the root that TLS is under; nil if the certificate is the user's
}

// Entrance is where a phone finds the pages at one of the hosts that are shown.
type Entrance struct {
	Page string // the pages
	Door string // where a phone begins: it says how to trust the root, where there is one
}

// Entrances lists where a phone finds the pages.
func (o *Outside) Entrances() []Entrance {
	var out []Entrance
	for _, h := range o.Shown {
		at := net.JoinHostPort(h, strconv.Itoa(o.Port))
		a := Entrance{Page: "http://" + at + "/"}
		if o.TLS != nil {
			a.Page = "https://" + at + "/"
		}
		if a.Door = a.Page; o.Root != nil {
			a.Door = "http://" + at + "/"
		}
		out = append(out, a)
	}
	return out
}

// answers reports whether a request names a host that is listened at: one of
// the names, or the very address that it reached. A name of somebody else's
// that points here is none of them.
func (o *Outside) answers(r *http.Request) bool {
	host := hostOf(r.Host)
	if slices.Contains(o.Hosts, strings.ToLower(host)) {
		return true
	}
	ip, err := netip.ParseAddr(host)
	if err != nil {
		return false
	}
	at, _ := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	if at == nil {
		return false
	}
	reached, err := netip.ParseAddrPort(at.String())
	return err == nil && reached.Addr().Unmap().WithZone("") == ip.Unmap().WithZone("")
}

// cookie is the name of the session's cookie. Browsers take one that is called
// __Host- only over https and hand it to no other host; cookies do not tell
// ports apart, so the name does.
func (o *Outside) cookie() string {
	name := fmt.Sprintf("dogshore-%d", o.Port)
	if o.TLS != nil {
		return "__Host-" + name
	}
	return name
}

// Let sets who may come in from outside, and how; it is called before anything
// is served. From then on the sheet of phones lists them.
func (s *Site) Let(o Outside) { s.outside = &o }

// visitor is a request from outside: who sends it, once they are in.
type visitor struct {
	people.Session
	in bool
}

type visitorKey struct{}

// visitorOf returns who sends a request from outside; nil on this computer,
// where nobody signs in.
func visitorOf(r *http.Request) *visitor {
	v, _ := r.Context().Value(visitorKey{}).(*visitor)
	return v
}

func (v *visitor) on(r *http.Request) *http.Request {
	return r.WithContext(context.WithValue(r.Context(), visitorKey{}, v))
}

// A body of somebody who is not in is a passphrase and two names; whoever is
// in has time to send pictures over a poor line.
const (
	longestKnock = 4 << 10
	timeInside   = 10 * time.Minute
)

// fromOutside answers other computers: before they are in, with the page to
// sign in on, what it loads, how to trust the root, and the dates for a calendar
// program that has an address for them; afterwards with what their rights allow.
func (s *Site) fromOutside() http.Handler {
	before := http.NewServeMux()
	before.Handle("GET /sign-in", s.answered(s.signInPage))
	before.Handle("POST /sign-in", s.answered(s.signIn))
	before.Handle("GET "+feedPath, s.answered(s.feedOutside))
	s.openDoor(before)
	known := s.guard(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if _, pattern := before.Handler(r); pattern != "" {
			r.Body = http.MaxBytesReader(w, r.Body, longestKnock)
			before.ServeHTTP(w, r)
			return
		}
		session, err := s.outside.Access.Session(r.Context(), s.token(r))
		if err != nil {
			s.notIn(w, r, err)
			return
		}
		c := http.NewResponseController(w)
		_ = c.SetReadDeadline(time.Now().Add(timeInside))  // what can't be set stays short
		_ = c.SetWriteDeadline(time.Now().Add(timeInside)) // as above
		s.inner.ServeHTTP(w, (&visitor{session, true}).on(r))
	}), s.outside.answers)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { known.ServeHTTP(w, (&visitor{}).on(r)) })
}

// openDoor adds what is served to whoever knocks: the assets of the page to
// sign in on, and the root certificate with how to trust it.
func (s *Site) openDoor(mux *http.ServeMux) {
	for _, name := range []string{"sheet.css", "mark.svg", "mark-180.png", "script/page.js", "script/left.js", "script/kept.js", "font/"} {
		mux.Handle("GET "+s.assets.base+name, s.assets)
	}
	if s.outside.Root != nil {
		mux.Handle("GET /trust", s.answered(s.trustPage))
		mux.Handle("GET "+rootPath, s.answered(s.rootFile))
	}
}

func (s *Site) token(r *http.Request) string {
	if c, err := r.Cookie(s.outside.cookie()); err == nil {
		return c.Value
	}
	return ""
}

// notIn answers whoever is not signed in: a person is led to the page to sign
// in on, a script is told so, since it would take that page for its answer.
func (s *Site) notIn(w http.ResponseWriter, r *http.Request, why error) {
	h, challenge := w.Header(), "Dogshore-session"
	switch {
	case errors.Is(why, people.ErrRevoked):
		// The phone may keep pages for use without a network; who was put out
		// is to read them no longer. What was noted there and not sent is
		// nowhere else: it stays, until somebody signs in on that phone again.
		h.Set("Clear-Site-Data", `"cache"`)
		challenge += ` error="put out"`
	case !errors.Is(why, people.ErrSignedOut):
		s.log.Error("session", "path", r.URL.Path, "error", why)
		s.problem(w, r, problem{http.StatusInternalServerError, "Who you are could not be looked up.", "The program's output says why."})
		return
	}
	if opensPage(r) {
		http.Redirect(w, r, "/sign-in?"+url.Values{"next": {r.URL.RequestURI()}}.Encode(), http.StatusSeeOther)
		return
	}
	h.Set("WWW-Authenticate", challenge)
	s.problem(w, r, problem{http.StatusUnauthorized, "You are not signed in.", "Nothing was written. Open the sign-in page, come in, and send it again."})
}

// opensPage reports whether a person opens a page, as against a script or form.
func opensPage(r *http.Request) bool {
	if r.Method != http.MethodGet {
		return false
	}
	if mode := r.Header.Get("Sec-Fetch-Mode"); mode != "" {
		return mode == "navigate"
	}
	return strings.Contains(r.Header.Get("Accept"), "text/html")
}

// onTheStep answers plain http at an address whose pages are at https: how to
// trust the root, or where to go.
func (s *Site) onTheStep() http.Handler {
	mux := http.NewServeMux()
	s.openDoor(mux)
	mux.Handle("GET /", s.answered(func(w http.ResponseWriter, r *http.Request) error {
		if s.outside.Root == nil {
			http.Redirect(w, r, "https://"+r.Host+"/", http.StatusSeeOther)
			return nil
		}
		if r.URL.Path != "/" {
			http.Redirect(w, r, "/", http.StatusSeeOther)
			return nil
		}
		return s.trustPage(w, r)
	}))
	mux.Handle("/", s.answered(func(http.ResponseWriter, *http.Request) error {
		return problem{http.StatusForbidden, "Nothing is taken without encryption here.", "Nothing was written. The pages are at the address that begins with https."}
	}))
	known := s.guard(mux, s.outside.answers)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.Body = http.MaxBytesReader(w, r.Body, longestKnock)
		known.ServeHTTP(w, (&visitor{}).on(r))
	})
}
