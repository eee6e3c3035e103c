package web

import (
	"net/http"

	"dogshore/desk"
	"dogshore/desk/plan"
)

// pointsPage lists the open points by what covers them up, soonest first.
func (s *Site) pointsPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Points")
	if err != nil {
		return err
	}
	open := Section{Title: "Open", Empty: "No point is open. What is still to be settled, and gets built some way if nobody says anything, belongs here.",
		Add: []Add{v.adding("point", "Add an open point", "asked", v.Today.String())}}
	loose := Section{Title: "Decided, and not firm yet"}
	firm := Section{Title: "Decided, in writing", Folded: true}
	for _, list := range [][]plan.Point{v.rev.Plan.Points, v.rev.Plan.Settled} {
		for _, p := range list {
			to := &open
			switch p.State {
			case plan.SaidOnly, plan.NoPower:
				to = &loose
			case plan.InWriting:
				to = &firm
			}
			to.Rows = append(to.Rows, v.pointRow(p))
		}
	}
	page := &sectionsPage{Sheet: v.Sheet, Says: "What must be settled, by the step that covers it up or fixes it.", Sections: []Section{open}}
	for _, sec := range []Section{loose, firm} {
		if sec.Rows != nil {
			page.Sections = append(page.Sections, sec)
		}
	}
	return s.sections(w, page)
}

func (v *view) pointRow(p plan.Point) Row {
	row := Row{Link: v.Ref(p.Self), State: string(p.State), Grave: p.State == plan.Open && graveWords[p.Gravity]}
	if p.State == plan.Open {
		row.State = "" // it stands among the open ones
	}
	step := p.Step
	if step == "" {
		step = p.CoveredBy
	}
	if step == "" {
		row.line("", "No step is named that covers it up or fixes it.")
	}
	row.line("", desk.Capital(v.event(step, p.Ahead, p.Gone)))
	v.date(&row, "decide by", p.By)
	v.date(&row, "cut-off", p.Cutoff)
	if p.State == plan.Open {
		row.link("whose move", v.Ref(p.Move))
		row.line("if nobody says anything", p.Default)
	}
	return row
}
