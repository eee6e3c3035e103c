package journal

import (
	"fmt"
	"sort"

	"dogshore/calendar"
	"dogshore/record"
)

// As folds the entries whose facts hold by day and that had arrived by known
// (Now for all) into a record.
//
// Per field the winner is the latest since; ties go to the higher stamp, then
// the higher entry id. Struck entries are skipped. The fold is total: what
// makes no sense is set aside and returned as a doubt.
func (j *Journal) As(day calendar.Day, known int64) *Record {
	r := &Record{Day: day, Known: known, subjects: map[record.Ref]map[string]Held{}, byKind: map[string][]record.Ref{}}
	struck := j.struck(known)
	type slot struct {
		ref   record.Ref
		field string
	}
	all := map[slot][]heldFact{}
	newer := 0
	for _, e := range j.ordered {
		if e.Arrival > known || e.Since > day || struck[e.ID] {
			continue
		}
		if e.Version > Version {
			newer++
			continue
		}
		for _, f := range e.Facts {
			if f.Kind == EntryKind {
				continue
			}
			s := slot{f.Ref(), f.Field}
			all[s] = append(all[s], heldFact{e, f})
		}
	}
	for s, facts := range all {
		win := facts[0]
		for _, f := range facts[1:] {
			if before(win.e, f.e) {
				win = f
			}
		}
		m := r.subjects[s.ref]
		if m == nil {
			m = map[string]Held{}
			r.subjects[s.ref] = m
			r.byKind[s.ref.Kind()] = append(r.byKind[s.ref.Kind()], s.ref)
		}
		m[s.field] = Held{win.f.Value, win.e}
		if d, ok := conflict(s.ref, s.field, facts, win); ok {
			r.doubts = append(r.doubts, d)
		}
	}
	for _, refs := range r.byKind {
		sortRefs(refs)
	}
	if newer > 0 {
		r.doubts = append(r.doubts, Doubt{Kind: Newer, Says: fmt.Sprintf("%d entries were written by a newer program; they are kept, and not read here", newer)})
	}
	r.doubts = append(r.doubts, r.judge()...)
	sortDoubts(r.doubts)
	return r
}

type heldFact struct {
	e *Entry
	f Fact
}

// struck finds the entries that are skipped: those that a strike names which
// is not itself skipped. A strike counts only against entries written before
// it (stamp, id), so that the answer never runs in a circle.
func (j *Journal) struck(known int64) map[string]bool {
	var strikes []*Entry
	for _, e := range j.ordered {
		if e.Arrival > known || e.Version > Version {
			continue
		}
		for _, f := range e.Facts {
			if f.Kind == EntryKind {
				strikes = append(strikes, e)
				break
			}
		}
	}
	later := func(a, b *Entry) bool {
		if a.Stamp != b.Stamp {
			return a.Stamp > b.Stamp
		}
		return a.ID > b.ID
	}
	sort.Slice(strikes, func(i, k int) bool { return later(strikes[i], strikes[k]) })
	out := map[string]bool{}
	for _, s := range strikes {
		if out[s.ID] {
			continue
		}
		for _, f := range s.Facts {
			if f.Kind != EntryKind {
				continue
			}
			if e := j.entries[f.Key]; e != nil && later(s, e) {
				out[e.ID] = true
			}
		}
	}
	return out
}

// conflict reports whether two different values of a field stand that nobody
// has written over.
func conflict(ref record.Ref, field string, facts []heldFact, win heldFact) (Doubt, bool) {
	if len(facts) == 1 {
		return Doubt{}, false
	}
	over := map[string]bool{}
	for _, f := range facts {
		if f.f.Over != "" {
			over[f.f.Over] = true
		}
	}
	k := record.KindOf(ref.Kind())
	if k == nil || k.Field(field) == nil {
		return Doubt{}, false
	}
	d := k.Field(field)
	var heads []heldFact
	differ := false
	for _, f := range facts {
		if over[f.e.ID] {
			continue
		}
		heads = append(heads, f)
		differ = differ || !d.Same(f.f.Value, heads[0].f.Value)
	}
	if !differ {
		return Doubt{}, false
	}
	sort.Slice(heads, func(i, k int) bool { return before(heads[i].e, heads[k].e) })
	out := Doubt{Kind: Conflict, About: ref, Field: field}
	for _, h := range heads {
		out.Sides = append(out.Sides, d.Format(h.f.Value))
		out.From = append(out.From, h.e.ID)
	}
	out.Says = fmt.Sprintf("%s: %s stands as %s; %s holds until somebody says which", ref, d.Title, list(out.Sides), d.Format(win.f.Value))
	return out, true
}

func list(s []string) string {
	out := ""
	for i, x := range s {
		switch {
		case i == 0:
		case i == len(s)-1:
			out += " and as "
		default:
			out += ", as "
		}
		out += x
	}
	return out
}

func sortDoubts(d []Doubt) {
	sort.Slice(d, func(i, k int) bool {
		a, b := d[i], d[k]
		if a.Kind != b.Kind {
			return a.Kind < b.Kind
		}
		if a.About != b.About {
			return a.About < b.About
		}
		if a.Field != b.Field {
			return a.Field < b.Field
		}
		return a.Says < b.Says
	})
}
