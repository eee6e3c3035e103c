package photo

import (
	"cmp"
	"slices"

	"dogshore/calendar"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

// Layer is one closing of a place: what a step hid there, and the pictures from
// before.
type Layer struct {
	Step   record.Ref
	Hides  []string     // what can't be seen afterwards
	Covers []record.Ref //
	Closed calendar.Day // by which it was firmly known to have begun; 0 while it is still open
	Begun  bool         // it is closed, or being closed
	Photos []Photo      // of this place, taken before it closed; those that somebody said show it first
	Shown  int          // how many of them somebody said show what is hidden
}

// Behind says what lies behind a part or a place: for each step that covered
// it up, the latest first, what it hides and all pictures of it from before.
// A picture on the day on which the step was first known to have begun may be
// from before or after: it counts only if somebody said that it is from before
// that step, or that it shows what is hidden.
func (a Answer) Behind(r *journal.Record, p plan.Answer, of record.Ref) []Layer {
	near := around(r, of)
	return a.layers(p, near, func(x Photo, _ map[record.Ref]bool) bool { return near[x.Part] || near[x.Place] })
}

// layers lists the closings of what is near, with the pictures that fit: fits
// is told what each closing is of.
func (a Answer) layers(p plan.Answer, near map[record.Ref]bool, fits func(x Photo, of map[record.Ref]bool) bool) []Layer {
	var out []Layer
	var of []map[record.Ref]bool
	for _, c := range p.Covers {
		if !near[c.What] && !near[partOf(p, c.Step)] && !anyOf(p, c.Of, near) {
			continue
		}
		i := slices.IndexFunc(out, func(l Layer) bool { return l.Step == c.Step })
		if i < 0 {
			i = len(out)
			out = append(out, Layer{Step: c.Step, Closed: c.GoneBy, Begun: c.Gone})
			of = append(of, map[record.Ref]bool{partOf(p, c.Step): true})
		}
		of[i][c.What] = true
		for _, s := range c.Of {
			of[i][partOf(p, s)] = true
		}
		out[i].Hides, out[i].Covers = append(out[i].Hides, c.Hides), append(out[i].Covers, c.Self)
	}
	for i := range out {
		a.fill(&out[i], func(x Photo) bool { return fits(x, of[i]) })
	}
	slices.SortStableFunc(out, func(x, y Layer) int {
		if x.Begun != y.Begun {
			if x.Begun {
				return -1
			}
			return 1
		}
		return cmp.Compare(y.Closed, x.Closed)
	})
	return out
}

// fill finds the pictures of a layer.
func (a Answer) fill(l *Layer, fits func(Photo) bool) {
	for _, p := range a.Photos {
		shows := slices.ContainsFunc(p.Shows, func(e record.Evidence) bool {
			return slices.Contains(l.Covers, e.Shows) || e.Shows == l.Step
		})
		before := !l.Begun || l.Closed.Known() && p.Taken.Known() && p.Taken < l.Closed || p.Before == l.Step
		if shows || before && fits(p) {
			l.Photos = append(l.Photos, p)
			if shows {
				l.Shown++
			}
		}
	}
	slices.SortStableFunc(l.Photos, func(x, y Photo) int {
		shown := func(p Photo) int {
			if slices.ContainsFunc(p.Shows, func(e record.Evidence) bool { return slices.Contains(l.Covers, e.Shows) }) {
				return 0
			}
			return 1
		}
		return cmp.Or(cmp.Compare(shown(x), shown(y)), cmp.Compare(y.Taken, x.Taken))
	})
}

// around is a part or place with everything within it, and where its parts
// lie.
func around(r *journal.Record, of record.Ref) map[record.Ref]bool {
	near := map[record.Ref]bool{of: true}
	for changed := true; changed; {
		changed = false
		for _, x := range journal.All[record.Part](r) {
			if !near[x.Self] && (near[x.Within] && x.Within != "" || near[x.Place] && x.Place.Kind() == "place") {
				near[x.Self], changed = true, true
			}
		}
		for _, x := range journal.All[record.Place](r) {
			if !near[x.Self] && near[x.Within] && x.Within != "" {
				near[x.Self], changed = true, true
			}
		}
	}
	return near
}

func partOf(p plan.Answer, step record.Ref) record.Ref {
	if s := p.Step(step); s != nil {
		return s.Part
	}
	return ""
}

func anyOf(p plan.Answer, steps []record.Ref, near map[record.Ref]bool) bool {
	return slices.ContainsFunc(steps, func(s record.Ref) bool { return near[partOf(p, s)] })
}
