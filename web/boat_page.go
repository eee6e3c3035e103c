package web

import (
	"html/template"
	"net/http"
	"regexp"

	"dogshore/desk/photo"
	"dogshore/desk/plan"
	"dogshore/drawing"
	"dogshore/journal"
	"dogshore/record"
	lay "dogshore/template"
)

// boatPage shows the boat as a drawing, toned by stage, and as a tree of
// parts that says the same in words.
type boatPage struct {
	Sheet
	Drawing template.HTML
	Tree    []*Branch
	Add     Add
}

// Branch is a part in the tree, with its state.
type Branch struct {
	Part   Named
	Number int    // in the drawing; 0 if it is not drawn
	Has    string // the latest stage reached and how we know
	Next   string // the step that can come next
	Open   string // open points and defects
	Within []*Branch
}

func (s *Site) boatPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Boat")
	if err != nil {
		return err
	}
	picture, numbers := v.drawn()
	page := &boatPage{Sheet: v.Sheet, Tree: v.tree(numbers), Drawing: picture, Add: v.adding("part", "Add a part")}
	return s.render(w, http.StatusOK, "boat", page)
}

// drawnLinks finds the links of a drawing, which lead to pages as of today.
var drawnLinks = regexp.MustCompile(`href="(/(?:part|step|visit|photo|behind/part)/[^"?]+)"`)

// keepDay makes the links of a drawing keep the day that is looked at.
func (v *view) keepDay(svg template.HTML) template.HTML {
	return template.HTML(drawnLinks.ReplaceAllStringFunc(string(svg), func(href string) string {
		path := drawnLinks.FindStringSubmatch(href)[1]
		return `href="` + template.HTMLEscapeString(v.Link(path)) + `"`
	}))
}

// drawn is the boat toned by stage, with the number of each part in it;
// nothing if no part has an outline. Its links keep the day that is looked at.
func (v *view) drawn() (template.HTML, map[record.Ref]int) {
	var parts []record.Part
	schematic, any := false, false
	for _, p := range journal.All[record.Part](v.rec) {
		if p.Withdrawn == record.Yes {
			continue
		}
		parts = append(parts, p)
		any = any || len(p.Plan) > 2 || len(p.Profile) > 2
		for _, f := range []string{"plan", "profile"} {
			if h, ok := v.rec.Held(p.Self, f); ok && h.Entry.Author == lay.Author {
				schematic = true
			}
		}
	}
	if !any {
		return "", nil
	}
	sheet := drawing.Boat(parts, drawing.StandingOf(v.rev.Plan.Steps), schematic)
	sheet.Photos(v.photoMarks(photo.Read(v.rec), false), func(m drawing.PhotoMark) string { return v.behindMark(m, false) })
	numbers := map[record.Ref]int{}
	for _, row := range sheet.Rows {
		numbers[row.Part] = row.Number
	}
	return v.keepDay(sheet.SVG()), numbers
}

// tree nests the parts. A part that lies in itself stands at the top; the
// record's doubts say so.
func (v *view) tree(numbers map[record.Ref]int) []*Branch {
	parts := journal.All[record.Part](v.rec)
	branch, within := map[record.Ref]*Branch{}, map[record.Ref]record.Ref{}
	order := make([]record.Ref, 0, len(parts))
	rank := v.ranks()
	for _, p := range parts {
		if p.Withdrawn == record.Yes {
			continue
		}
		branch[p.Self] = v.branch(p)
		branch[p.Self].Number = numbers[p.Self]
		within[p.Self] = p.Within
		order = append(order, p.Self)
	}
	sortBy(order, func(a record.Ref) int { return rank[a] })
	var top []*Branch
	for _, self := range order {
		if up := branch[within[self]]; up != nil && !circles(self, within) {
			up.Within = append(up.Within, branch[self])
		} else {
			top = append(top, branch[self])
		}
	}
	return top
}

// circles reports whether a part lies, through others, in itself.
func circles(self record.Ref, within map[record.Ref]record.Ref) bool {
	seen := map[record.Ref]bool{}
	for at := self; at != ""; at = within[at] {
		if seen[at] {
			return true
		}
		seen[at] = true
	}
	return false
}

// ranks orders parts by the first of their steps; parts without one come last.
func (v *view) ranks() map[record.Ref]int {
	out := map[record.Ref]int{}
	for i, st := range v.rev.Plan.Steps {
		if _, ok := out[st.Part]; !ok && st.Part != "" {
			out[st.Part] = i
		}
	}
	for _, ref := range v.rec.Refs("part") {
		if _, ok := out[ref]; !ok {
			out[ref] = len(v.rev.Plan.Steps)
		}
	}
	return out
}

func (v *view) branch(p record.Part) *Branch {
	b := &Branch{Part: v.Ref(p.Self)}
	steps := v.stepsOf(p.Self)
	if at, ok := reached(steps); ok {
		b.Has = v.rec.Name(at.Self) + ": " + stateSaid(at)
	}
	for _, st := range steps {
		if st.State != "done" && st.State != "under way" && st.Ahead == 0 && v.isNext(st.Self) {
			b.Next = v.rec.Name(st.Self)
			break
		}
	}
	points, defects := 0, 0
	for _, x := range v.rev.Plan.Points {
		if v.concerns(x.Point.Part, p) && x.State == plan.Open {
			points++
		}
	}
	for _, x := range v.rev.Visit.Defects {
		if v.concerns(x.Part, p) {
			defects++
		}
	}
	if points > 0 {
		b.Open = count(points, "open point", "open points")
	}
	if defects > 0 {
		if b.Open != "" {
			b.Open += ", "
		}
		b.Open += count(defects, "defect", "defects")
	}
	return b
}

// concerns reports whether what is about a part or place is about p.
func (v *view) concerns(about record.Ref, p record.Part) bool {
	return about != "" && (about == p.Self || about == p.Place)
}

func (v *view) isNext(step record.Ref) bool {
	for _, ref := range v.rev.Plan.Next {
		if ref == step {
			return true
		}
	}
	return false
}

func (v *view) stepsOf(part record.Ref) []plan.Step {
	var out []plan.Step
	for _, st := range v.rev.Plan.Steps {
		if st.Part == part {
			out = append(out, st)
		}
	}
	return out
}

// reached is the last step of a part that has begun.
func reached(steps []plan.Step) (plan.Step, bool) {
	for i := len(steps) - 1; i >= 0; i-- {
		if steps[i].State == "done" || steps[i].State == "under way" {
			return steps[i], true
		}
	}
	return plan.Step{}, false
}
