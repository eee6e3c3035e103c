package journal

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dogshore/record"
)

// Doubt is something the record can't make sense of. It is shown with both
// sides, never silently resolved.
type Doubt struct {
	Kind  DoubtKind  `json:"kind"`
	About record.Ref `json:"about"`
	Field string     `json:"field,omitempty"`
	Says  string     `json:"says"`              // one sentence for a person
	Sides []string   `json:"sides,omitempty"`   // the values that stand against each other
	From  []string   `json:"entries,omitempty"` // the entries they came from
}

// DoubtKind tells doubts apart.
type DoubtKind string

// The doubts that the fold itself can find. Desks find more in the record.
const (
	Conflict DoubtKind = "conflict" // two values that nobody has written over
	Dangling DoubtKind = "dangling" // a reference to nothing
	Missing  DoubtKind = "missing"  // a needed field that nobody has said
	Cycle    DoubtKind = "cycle"    // parts or steps that wait for or lie in themselves
	Newer    DoubtKind = "newer"    // written by a newer program: kept, not read
	Rule     DoubtKind = "rule"     // fields that do not fit each other
)

// Doubts returns what the fold could not make sense of, sorted. They are
// found when first asked for.
func (r *Record) Doubts() []Doubt {
	r.judged.Do(func() {
		r.j.mu.RLock()
		defer r.j.mu.RUnlock()
		out := r.conflicts()
		if r.newer > 0 {
			out = append(out, Doubt{Kind: Newer, Says: fmt.Sprintf("%d entries were written by a newer program; they are kept, and not read here", r.newer)})
		}
		out = append(out, r.judge()...)
		slices.SortFunc(out, Doubt.Compare)
		r.doubts = out
	})
	return r.doubts
}

// conflicts finds the fields of which two different values stand.
func (r *Record) conflicts() []Doubt {
	var out []Doubt
	for i := range r.win {
		s := &r.j.slots[i]
		if len(s.more) < 2 || r.win[i].entry == none {
			continue
		}
		self := r.j.subjects[s.subject].ref
		k := record.KindOf(self.Kind())
		if k == nil {
			continue
		}
		f := k.Field(r.entries[r.win[i].entry].Facts[r.win[i].fact].Field)
		if f == nil {
			continue
		}
		heads := r.standing(s, f)
		if !slices.ContainsFunc(heads, func(h Held) bool { return !f.Same(h.Value, heads[0].Value) }) {
			continue
		}
		d := Doubt{Kind: Conflict, About: self, Field: f.Name}
		for _, h := range heads {
			d.Sides = append(d.Sides, f.Format(h.Value))
			d.From = append(d.From, h.Entry.ID)
		}
		d.Says = fmt.Sprintf("%s %q: its %s stands as %s; %s holds until somebody says which", k.Title, r.name(self), f.Title, list(d.Sides), f.Format(r.at(r.win[i]).Value))
		out = append(out, d)
	}
	return out
}

// standing returns the values of a slot that count and that nobody has written
// over, the one that wins last.
//
// A fact is written over by one that counts and names its entry in Over; with
// it go the facts written before that one which say the same as the named one
// (the writer was shown a value, and it was theirs too), and what the named
// one was written over itself, even if it is struck by now.
func (r *Record) standing(s *slot, f *record.Field) []Held {
	all := s.all()
	in := map[string]said{}
	overs := false
	for _, x := range all {
		if r.arrived(x) {
			in[r.entries[x.entry].ID] = x
			overs = overs || r.entries[x.entry].Facts[x.fact].Over != ""
		}
	}
	over := map[said]bool{}
	if overs {
		for _, x := range all {
			if r.arrived(x) && r.counts(x) {
				r.cover(x, all, in, over, f)
			}
		}
	}
	var out []Held
	for _, x := range all {
		if r.arrived(x) && r.counts(x) && !over[x] {
			out = append(out, r.at(x))
		}
	}
	return out
}

// cover marks what x was written over.
func (r *Record) cover(x said, all []said, in map[string]said, over map[said]bool, f *record.Field) {
	writer := r.entries[x.entry]
	seen := map[said]bool{x: true}
	for todo := []said{x}; len(todo) > 0; {
		at := todo[0]
		todo = todo[1:]
		for _, id := range r.entries[at.entry].Facts[at.fact].Overs() {
			named, ok := in[id]
			if !ok || seen[named] {
				continue
			}
			seen[named] = true
			todo = append(todo, named)
			over[named] = true
			value := r.at(named).Value
			for _, y := range all {
				if y != x && r.arrived(y) && writtenBefore(r.entries[y.entry], writer) && f.Same(r.at(y).Value, value) {
					over[y] = true
				}
			}
		}
	}
}

// Over returns what a fact about a field says in Over when its writer was
// shown all that stands: the entries of these values, separated by blanks, or
// "" if nothing was said yet.
func (r *Record) Over(self record.Ref, field string) string {
	r.j.mu.RLock()
	defer r.j.mu.RUnlock()
	at := r.slot(self, field)
	k := record.KindOf(self.Kind())
	if at == none || r.win[at].entry == none || k == nil || k.Field(field) == nil {
		return ""
	}
	var ids []string
	for _, h := range r.standing(&r.j.slots[at], k.Field(field)) {
		ids = append(ids, h.Entry.ID)
	}
	if win := r.at(r.win[at]).Entry.ID; !slices.Contains(ids, win) {
		ids = append(ids, win)
	}
	return strings.Join(ids, " ")
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

// Compare orders doubts by kind, subject, field and what they say.
func (d Doubt) Compare(o Doubt) int {
	return cmp.Or(cmp.Compare(d.Kind, o.Kind), cmp.Compare(d.About, o.About), cmp.Compare(d.Field, o.Field), cmp.Compare(d.Says, o.Says))
}
