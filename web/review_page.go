package web

import (
	"net/http"

	"dogshore/review"
)

// reviewPage is the home page: what the owner must look at, ask and settle.
type reviewPage struct {
	Sheet
	Facts []review.Fact
}

func (s *Site) reviewPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Review")
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "review", &reviewPage{Sheet: v.Sheet, Facts: v.rev.Facts})
}
