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
	Open   []Named // visits that were begun and not closed
}

// daysOpen is how long a visit that nobody closed is offered to go on with.
const daysOpen = 3

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
	for _, x := range journal.All[record.Visit](v.rec) {
		if x.Day.Known() && x.Day <= v.Today && v.Today-x.Day <= daysOpen && x.Planned != record.Yes && x.Closed != record.Yes {
			page.Open = append(page.Open, v.Ref(x.Self))
		}
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
	sheet := drawing.WalkSheet(b, v.rev.Visit, letter.Words(v.rec).Names(v.rec), v.number)
	return paper(w, "walking-sheet.pdf", "Walking sheet: "+b.Name, []*draw.Drawing{sheet})
}
