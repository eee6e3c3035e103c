package web

import (
	"net/http"

	"dogshore/calendar"
	"dogshore/desk/plan"
)

// itemsPage lists what is bought in, by which step needs it.
func (s *Site) itemsPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Bought in")
	if err != nil {
		return err
	}
	list := Section{Empty: "Nothing is entered yet. Begin with what takes longest to come: engines, mast, hatches, windows, tanks.", Add: []Add{v.adding("item", "Add a bought-in item")}}
	there := Section{Title: "All there", Folded: true}
	for _, it := range v.rev.Plan.Items {
		if it.Whole {
			there.Rows = append(there.Rows, v.item(it))
		} else {
			list.Rows = append(list.Rows, v.item(it))
		}
	}
	page := &sectionsPage{Sheet: v.Sheet, Says: "What is bought, and the step that can't start without it.", Sections: []Section{list}}
	if there.Rows != nil {
		page.Sections = append(page.Sections, there)
	}
	return s.sections(w, page)
}

func (v *view) item(it plan.Item) Row {
	row := Row{Link: v.Ref(it.Self), State: itemState(it.Ordered, it.Arrived, it.Whole)}
	if it.Late {
		row.State += "; late for what needs it"
	}
	row.link("needed by", v.Ref(it.NeededBy))
	v.date(&row, "needed", it.Needed)
	v.date(&row, "order by", it.OrderBy)
	if it.Guess {
		row.line("lead", "a guess: nobody has quoted it")
	}
	row.line("bought by", it.BoughtBy)
	row.link("from", v.Ref(it.Supplier))
	for _, p := range it.Said {
		row.line("said", p.What+" "+spanSaid(p.When)+onDay(", on", p.On))
	}
	return row
}

func itemState(ordered, arrived calendar.Day, whole bool) string {
	switch {
	case whole:
		return "all there" + onDay(", seen", arrived)
	case arrived.Known():
		return "there in part" + onDay(", seen", arrived)
	case ordered.Known():
		return "ordered" + onDay("", ordered)
	}
	return "no order on record"
}
