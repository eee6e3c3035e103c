package web

import (
	"net/http"
	"strconv"
)

// last answers with the arrival number of the newest entry, so that an open
// page can tell that something was written in another window.
func (s *Site) last(w http.ResponseWriter, r *http.Request) error {
	n := int64(0)
	if f := s.folder.Load(); f != nil {
		var err error
		if n, err = f.Last(r.Context()); err != nil {
			return err
		}
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	_, err := w.Write([]byte(strconv.FormatInt(n, 10)))
	return err
}
