package web

import (
	"net/http"

	"dogshore/desk/visit"
	"dogshore/drawing"
	"dogshore/internal/draw"
	"dogshore/journal"
	"dogshore/letter"
	"dogshore/record"
)

// walkPage is the sheet that goes along to the yard, on paper or on the phone:
// the walk in the order of the floor, with what to look at, ask and measure.
type walkPage struct {
	Sheet
	Coming visit.Coming
	Stops  []stop
	Loose  []loose
	Asks   []visit.Question
	States []string
}

// loose is an agreement or a decision that is not firm.
type loose struct {
	visit.Loose
	Link Named
	With Named
	Step Named
}

func (s *Site) walkPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Walking sheet")
	if err != nil {
		return err
	}
	page := &walkPage{Sheet: v.Sheet, Coming: v.rev.Visit.Next, Stops: v.stops(""), Asks: v.rev.Visit.Questions, States: states}
	for _, l := range v.rev.Visit.Loose {
		page.Loose = append(page.Loose, loose{l, v.called(l.About), v.Ref(l.With), v.Ref(l.Before)})
	}
	return s.render(w, http.StatusOK, "walk", page)
}

// walkPaper is the walking sheet for paper: one page.
func (s *Site) walkPaper(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Walking sheet")
	if err != nil {
		return err
	}
	b, _ := journal.Get[record.Build](v.rec, buildRef)
	sheet := drawing.WalkSheet(b, v.rev.Visit, letter.Words(v.rec).Names(v.rec))
	return paper(w, "walking-sheet.pdf", "Walking sheet: "+b.Name, []*draw.Drawing{sheet})
}
