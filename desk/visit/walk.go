package visit

import (
	"cmp"
	"math"
	"slices"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

// walk orders the parts as one walks past them: what shares a mould, cradle
// or bay together, else what belongs to the same assembly; first the one where
// what can't be undone soonest is asked, and in each the parts where something
// is asked. Acts are those for the visit
// that are to be done there; what belongs to no part comes last, in a stop
// without one.
//
// Parts where nothing is asked and no stage is likely to have changed are left
// out.
func (t *table) walk(acts []desk.Act) []Stop {
	w := &walker{t: t, parts: map[record.Ref]record.Part{}, order: map[record.Ref]int{}, stops: map[record.Ref]*Stop{}, first: map[record.Ref]int{}}
	for _, x := range journal.All[record.Part](t.r) {
		w.parts[x.Self] = x
	}
	w.likely()
	asked := slices.DeleteFunc(slices.Clone(acts), func(a desk.Act) bool { return a.Where != desk.AtVisit || !a.Due(t.r.Day) })
	desk.Sort(asked, t.r.Day)
	for i, a := range asked {
		w.ask(a, i)
	}
	return w.sorted()
}

type walker struct {
	t     *table
	parts map[record.Ref]record.Part
	order map[record.Ref]int // of parts, as their steps come in the network
	stops map[record.Ref]*Stop
	first map[record.Ref]int // the most pressing act asked where a stop lies
}

// likely makes a stop of every part whose stage can have changed.
func (w *walker) likely() {
	of := map[record.Ref][]*plan.Step{}
	for i := range w.t.p.Steps {
		s := &w.t.p.Steps[i]
		if s.NotDone == record.Yes || s.Withdrawn == record.Yes {
			continue
		}
		if _, ok := w.order[s.Part]; !ok {
			w.order[s.Part] = len(w.order)
		}
		of[s.Part] = append(of[s.Part], s)
	}
	for part, steps := range of {
		if x, ok := w.parts[part]; part == "" || ok && x.Withdrawn == record.Yes {
			continue
		}
		if next := likely(steps, w.t.p.LastVisit.Self == ""); next != nil {
			w.stops[part] = &Stop{Part: part, Steps: next, Lies: w.lies(part, steps)}
		}
	}
}

// likely returns what is most likely to be seen of a part now, each a tap: what
// is under way is done, and the next is under way; where nothing is under way
// the next step is, or it is done already.
//
// A step that others have to come before is not likely yet, unless nobody has
// looked at all.
func likely(steps []*plan.Step, first bool) []Likely {
	slices.SortStableFunc(steps, func(a, b *plan.Step) int { return cmp.Compare(a.Rank.SI, b.Rank.SI) })
	var out []Likely
	at := -1 // the last one that has begun
	for i, s := range steps {
		if s.State == "under way" {
			out = append(out, Likely{Step: s.Self, State: s.State, Tap: "done"})
		}
		if s.State == "under way" || s.State == "done" {
			at = i
		}
	}
	if at+1 == len(steps) {
		return out
	}
	next := steps[at+1]
	waiting := len(out) > 0
	if next.Ahead > desk.Soon && !first {
		return out
	}
	out = append(out, Likely{Step: next.Self, State: next.State, Tap: "under way"})
	if !waiting {
		out = append(out, Likely{Step: next.Self, State: next.State, Tap: "done"})
	}
	return out
}

// lies is where a part is found: the stand of the step it is at, else the
// assembly it belongs to.
func (w *walker) lies(part record.Ref, steps []*plan.Step) record.Ref {
	var stand record.Ref
	for _, s := range steps {
		if s.Stand == "" {
			continue
		}
		stand = s.Stand
		if s.State != "done" {
			break
		}
	}
	if stand != "" {
		return stand
	}
	return w.root(part)
}

// root is the outermost part that a part lies in; rings stop where they close.
func (w *walker) root(part record.Ref) record.Ref {
	seen := map[record.Ref]bool{}
	for !seen[part] {
		seen[part] = true
		x, ok := w.parts[part]
		if !ok || x.Within == "" {
			break
		}
		part = x.Within
	}
	return part
}

// ask puts an act where it is done; pressing is its place among all.
func (w *walker) ask(a desk.Act, pressing int) {
	part := w.partOf(a)
	s := w.stops[part]
	if s == nil {
		s = &Stop{Part: part, Lies: w.root(part)}
		w.stops[part] = s
	}
	s.Acts = append(s.Acts, a)
	if _, ok := w.first[s.Lies]; !ok {
		w.first[s.Lies] = pressing
	}
}

// partOf is the part at which an act is done.
func (w *walker) partOf(a desk.Act) record.Ref {
	if a.On.Kind() == "part" {
		return a.On
	}
	if s := w.t.steps[a.Before]; s != nil && s.Part != "" {
		return s.Part
	}
	if a.On.Kind() == "place" {
		best := record.Ref("")
		for ref, x := range w.parts {
			if x.Place == a.On && (best == "" || ref < best) {
				best = ref
			}
		}
		return best
	}
	if a.Subject.Kind() == "part" {
		return a.Subject
	}
	if s := w.t.steps[a.Subject]; s != nil {
		return s.Part
	}
	return ""
}

func (w *walker) sorted() []Stop {
	group := map[record.Ref]int{} // where a group comes: with the first of its parts
	for _, s := range w.stops {
		if was, ok := group[s.Lies]; !ok || w.index(s.Part) < was {
			group[s.Lies] = w.index(s.Part)
		}
	}
	pressing := func(s Stop) int {
		if i, ok := w.first[s.Lies]; ok {
			return i
		}
		return math.MaxInt
	}
	out := make([]Stop, 0, len(w.stops))
	for _, s := range w.stops {
		out = append(out, *s)
	}
	slices.SortFunc(out, func(a, b Stop) int {
		return cmp.Or(
			cmp.Compare(flag(a.Part == ""), flag(b.Part == "")),
			cmp.Compare(pressing(a), pressing(b)),
			cmp.Compare(group[a.Lies], group[b.Lies]),
			cmp.Compare(a.Lies, b.Lies),
			-cmp.Compare(flag(len(a.Acts) > 0), flag(len(b.Acts) > 0)),
			cmp.Compare(w.index(a.Part), w.index(b.Part)),
			cmp.Compare(a.Part, b.Part),
		)
	})
	return out
}

// index is a part's place in the order of the network; parts without steps
// come behind.
func (w *walker) index(part record.Ref) int {
	if i, ok := w.order[part]; ok {
		return i
	}
	return len(w.order)
}
