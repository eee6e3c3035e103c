package web

import (
	"fmt"
	"net/http"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/record"
)

// promisesPage lists the dates that people said, by person, and what became
// of them.
func (s *Site) promisesPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Promises")
	if err != nil {
		return err
	}
	page := &sectionsPage{Sheet: v.Sheet, Says: "Dates that were said, by whom, and what became of them. Whether one was kept can be told no closer than between two looks."}
	add := []Add{v.adding("statement", "Add a date that somebody said", "on", v.Today.String())}
	for _, k := range v.rev.Plan.Keepers {
		name := "Nobody is named"
		if k.Who != "" {
			name = v.rec.Name(k.Who)
		}
		page.Sections = append(page.Sections, Section{Title: name + ": " + tally(k), Rows: v.promisesOf(k.Who)})
	}
	if page.Sections == nil {
		rows := []Row{}
		for _, p := range v.rev.Plan.Promises {
			rows = append(rows, v.promise(p))
		}
		page.Sections = []Section{{Rows: rows, Empty: "No date is on record yet. Write down what the yard says, as they say it: “14 April”, “W34”, “end of May”."}}
	}
	page.Sections[len(page.Sections)-1].Add = add
	return s.sections(w, page)
}

func (v *view) promisesOf(who record.Ref) []Row {
	var rows []Row
	for _, p := range v.rev.Plan.Promises {
		if p.Statement.By == who {
			rows = append(rows, v.promise(p))
		}
	}
	return rows
}

func (v *view) promise(p plan.Promise) Row {
	row := Row{Link: v.Ref(p.Self), State: string(p.State)}
	row.Link.Name = fmt.Sprintf("%s: %s %s", desk.Capital(v.rec.Name(p.About)), p.What, spanSaid(p.When))
	if p.State == plan.Broken && p.Late > 0 {
		row.line("late", "by at least "+count(p.Late, "day", "days"))
	}
	row.line("said", onDay("on", p.On))
	if p.Again {
		row.line("", "The same day was said once more later; it counts there.")
	}
	row.line("in their words", p.Said)
	row.line("settled", onDay("by the look of", p.SeenOn))
	return row
}

// spanSaid prints a span as it was said, else as a day, week or month.
func spanSaid(s calendar.Span) string {
	if !s.Known() {
		return "on no day that was named"
	}
	return s.Said()
}
