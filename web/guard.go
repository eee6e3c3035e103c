package web

import (
	"net"
	"net/http"
	"runtime/debug"
	"strings"
)

// policy lets a page load only what this server sends, and no script or style
// that stands in the page itself.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; font-src 'self'; img-src 'self' blob:; media-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// Bodies are bounded: a form is short, a file that somebody brings is not.
const (
	longestForm = 1 << 20
	longestFile = 64 << 20
	longestLoad = 16 << 30 // of pictures, each of them bounded by itself
)

// guard stands before every request: it answers only to its own names (a page
// elsewhere could else have its own name point here), refuses writes that come
// from other sites, bounds bodies, and catches what a handler did not foresee.
func (s *Site) guard(next http.Handler, answers func(*http.Request) bool) http.Handler {
	own := http.NewCrossOriginProtection()
	own.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.problem(w, r, problem{http.StatusForbidden, "This was sent from another site.", "Nothing was written. Open the page here and send it again."})
	}))
	inner := own.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		if h.Get("Cache-Control") == "" {
			h.Set("Cache-Control", "no-store")
		}
		defer s.recovered(w, r)
		if !answers(r) {
			says := "These pages answer only on this computer."
			if visitorOf(r) != nil {
				says = "These pages do not answer to that name."
			}
			s.problem(w, r, problem{http.StatusMisdirectedRequest, says, "Open them by the address that the program printed."})
			return
		}
		limit := int64(longestForm)
		if strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/form-data") {
			limit = longestFile
			if r.URL.Path == "/pictures" || strings.HasPrefix(r.URL.Path, "/pictures/") {
				limit = longestLoad
			}
		}
		r.Body = http.MaxBytesReader(w, r.Body, limit)
		inner.ServeHTTP(w, r)
	})
}

func (s *Site) recovered(w http.ResponseWriter, r *http.Request) {
	p := recover()
	if p == nil {
		return
	}
	if p == http.ErrAbortHandler {
		panic(p)
	}
	s.log.Error("panic", "path", r.URL.Path, "value", p, "stack", string(debug.Stack()))
	s.problem(w, r, problem{http.StatusInternalServerError, "The program made a mistake here.", "What was written before is kept. The program's output has the details."})
}

// ownName reports whether a Host header names this computer's loopback.
func ownName(host string) bool {
	name := hostOf(host)
	if strings.EqualFold(name, "localhost") {
		return true
	}
	ip := net.ParseIP(name)
	return ip != nil && ip.IsLoopback()
}

// hostOf is the name or address in a Host header, without port and brackets.
func hostOf(host string) string {
	if h, _, err := net.SplitHostPort(host); err == nil {
		host = h
	}
	return strings.Trim(host, "[]")
}
