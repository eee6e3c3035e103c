package web

import (
	"fmt"
	"net/http"
	"strings"

	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

// peoplePage lists who has to do with the build and what their word counts
// for.
func (s *Site) peoplePage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "People")
	if err != nil {
		return err
	}
	list := Section{Empty: "Nobody is entered yet. Begin with whoever answers you at the yard, and whether their yes may change what is built.", Add: []Add{v.adding("person", "Add somebody")}}
	kept := map[record.Ref]plan.Keeper{}
	for _, k := range v.rev.Plan.Keepers {
		kept[k.Who] = k
	}
	for _, p := range journal.All[record.Person](v.rec) {
		row := Row{Link: v.Ref(p.Self), State: p.Role}
		row.line("trade", p.Trade)
		row.line("may", powers(p))
		row.line("clause", p.Clause)
		row.line("reached at", p.Contact)
		if k, ok := kept[p.Self]; ok {
			row.line("dates said", tally(k))
		}
		list.Rows = append(list.Rows, row)
	}
	return s.sections(w, &sectionsPage{Sheet: v.Sheet, Sections: []Section{list},
		Says: "An agreement counts for as much as the person may give. Who may instruct, release and accept stands in the contract."})
}

// powers says what somebody's word may do; what nobody has said is said too.
func powers(p record.Person) string {
	var may, open []string
	for _, x := range []struct {
		flag record.Flag
		word string
	}{{p.MayInstruct, "instruct"}, {p.MayRelease, "release"}, {p.MayAccept, "accept"}} {
		switch x.flag {
		case record.Yes:
			may = append(may, x.word)
		case "":
			open = append(open, x.word)
		}
	}
	out := strings.Join(may, ", ")
	if out == "" {
		out = "nothing that is on record"
	}
	if open != nil {
		out += "; not said whether: " + strings.Join(open, ", ")
	}
	return out
}

func tally(k plan.Keeper) string {
	var out []string
	for _, x := range []struct {
		n    int
		word string
	}{{k.Kept, "kept"}, {k.Broken, "not kept"}, {k.Moved, "moved before they were due"}, {k.Unclear, "kept or not can't be told"}, {k.Open, "still to come"}} {
		if x.n > 0 {
			out = append(out, fmt.Sprintf("%d %s", x.n, x.word))
		}
	}
	return strings.Join(out, ", ")
}
