package web

import (
	"net/http"
	"time"
)

// rootPath is where a phone takes the root certificate from. Its end tells a
// phone that it is one.
const rootPath = "/dogshore-root.crt"

// trustPage explains how a phone comes to trust the root certificate, and what
// that means.
type trustPage struct {
	Sheet
	Root        string // where it is taken from
	Called      string
	Fingerprint string
	Ends        time.Time
	Pages       string // the pages at https; empty where they are open already
	Here        bool   // on the computer itself
}

func (s *Site) trustPage(w http.ResponseWriter, r *http.Request) error {
	if s.outside == nil || s.outside.Root == nil {
		return problem{http.StatusNotFound, "There is no root certificate to trust.", "The program makes one when it serves other computers without a certificate of yours; the sheet of phones says how."}
	}
	root := s.outside.Root
	page := &trustPage{Sheet: s.bareSheet(r, "Trust this computer"), Root: rootPath, Called: root.Name(), Fingerprint: root.Fingerprint(), Ends: root.Ends(), Here: visitorOf(r) == nil}
	if r.TLS == nil && !page.Here {
		page.Pages = "https://" + r.Host + "/"
	}
	return s.render(w, http.StatusOK, "trust", page)
}

func (s *Site) rootFile(w http.ResponseWriter, _ *http.Request) error {
	if s.outside == nil || s.outside.Root == nil {
		return notFound("There is no root certificate here.")
	}
	w.Header().Set("Content-Type", "application/x-x509-ca-cert")
	_, _ = w.Write(s.outside.Root.Certificate()) // the reader may have gone
	return nil
}
