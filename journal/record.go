package journal

import (
	"slices"
	"sync"

	"dogshore/calendar"
	"dogshore/record"
)

// Now is the arrival number that stands for "all we know now".
const Now = int64(1<<63 - 1)

// Record is what the facts say, as of a day, known by an arrival. It does not
// change, and may be read from several goroutines.
type Record struct {
	Day   calendar.Day
	Known int64

	j       *Journal // for its index only: locked while that is read
	entries []*Entry // those that the record was made from
	struck  []bool
	win     []said // for each slot of the time
	there   []bool // for each subject of the time
	newer   int

	judged sync.Once
	doubts []Doubt

	mu   sync.Mutex // guards what follows
	refs map[string][]record.Ref
	all  map[string]any // by kind, the subjects as All has decoded them
}

// Held is one value that holds, and the entry it came from.
type Held struct {
	Value record.Value
	Entry *Entry
}

// Held returns the value that holds for one field. A value taken away again
// (record.Clear) does not hold.
func (r *Record) Held(self record.Ref, field string) (Held, bool) {
	r.j.mu.RLock()
	defer r.j.mu.RUnlock()
	return r.held(self, field)
}

// held is Held for those who hold the lock already, as the other small
// letters below are.
func (r *Record) held(self record.Ref, field string) (Held, bool) {
	at := r.slot(self, field)
	if at == none || r.win[at].entry == none {
		return Held{}, false
	}
	h := r.at(r.win[at])
	return h, h.Value != record.Clear
}

// slot finds the slot of a field that the record knows of, or none.
func (r *Record) slot(self record.Ref, field string) int32 {
	sub, ok := r.j.byRef[self]
	if !ok {
		return none
	}
	f, ok := r.j.fields[field]
	if !ok {
		return none
	}
	if at := r.j.slot(sub, f); int(at) < len(r.win) {
		return at
	}
	return none
}

func (r *Record) at(s said) Held {
	e := r.entries[s.entry]
	return Held{e.Facts[s.fact].Value, e}
}

// winners calls do for each field of a subject that has a winner.
func (r *Record) winners(sub int32, do func(s said)) {
	for at := r.j.subjects[sub].slot; at != none; at = r.j.slots[at].next {
		if int(at) < len(r.win) && r.win[at].entry != none {
			do(r.win[at])
		}
	}
}

// Has reports whether the record knows of a subject.
func (r *Record) Has(self record.Ref) bool {
	r.j.mu.RLock()
	defer r.j.mu.RUnlock()
	return r.has(self)
}

func (r *Record) has(self record.Ref) bool {
	sub, ok := r.j.byRef[self]
	return ok && r.knows(sub)
}

func (r *Record) knows(sub int32) bool { return int(sub) < len(r.there) && r.there[sub] }

// Refs returns the subjects of a kind, sorted by key. The caller must not
// change them.
func (r *Record) Refs(kind string) []record.Ref {
	r.mu.Lock()
	defer r.mu.Unlock()
	if refs, ok := r.refs[kind]; ok {
		return refs
	}
	r.j.mu.RLock()
	defer r.j.mu.RUnlock()
	subs := r.ofKind(kind)
	refs := make([]record.Ref, len(subs))
	for i, sub := range subs {
		refs[i] = r.j.subjects[sub].ref
	}
	r.refs[kind] = refs
	return refs
}

func (r *Record) ofKind(kind string) []int32 {
	all := r.j.byKind[kind]
	out := make([]int32, 0, len(all))
	for _, sub := range all {
		if r.knows(sub) {
			out = append(out, sub)
		}
	}
	return out
}

// From returns the entry that first spoke of a subject among those whose
// values hold: for an observation, the entry that made it. Nil if there is no
// such subject.
func (r *Record) From(self record.Ref) *Entry {
	r.j.mu.RLock()
	defer r.j.mu.RUnlock()
	sub, ok := r.j.byRef[self]
	if !ok {
		return nil
	}
	var first *Entry
	r.winners(sub, func(s said) {
		if e := r.entries[s.entry]; first == nil || before(e, first) {
			first = e
		}
	})
	return first
}

// Name returns how a person calls a subject: its name field, else its key.
func (r *Record) Name(self record.Ref) string {
	r.j.mu.RLock()
	defer r.j.mu.RUnlock()
	return r.name(self)
}

func (r *Record) name(self record.Ref) string {
	if k := record.KindOf(self.Kind()); k != nil {
		if f := k.NameField(); f != nil {
			if h, ok := r.held(self, f.Name); ok {
				return f.Format(h.Value)
			}
		}
	}
	return self.Key()
}

// Get reads one subject as its struct; ok is false if the record has none.
// The ref must be of T's kind.
func Get[T any](r *Record, self record.Ref) (subject T, ok bool) {
	if self.Kind() != record.KindFor[T]().Name {
		return subject, false
	}
	r.j.mu.RLock()
	defer r.j.mu.RUnlock()
	if !r.has(self) {
		return subject, false
	}
	return decode[T](r, self), true
}

// All reads every subject of T's kind, sorted by key. The slice is the caller's
// own; what its structs point to is not. Several desks read the same kinds, which
// are decoded once.
func All[T any](r *Record) []T {
	kind := record.KindFor[T]().Name
	refs := r.Refs(kind)
	r.mu.Lock()
	defer r.mu.Unlock()
	if out, ok := r.all[kind].([]T); ok {
		return slices.Clone(out)
	}
	r.j.mu.RLock()
	defer r.j.mu.RUnlock()
	out := make([]T, 0, len(refs))
	for _, self := range refs {
		out = append(out, decode[T](r, self))
	}
	if r.all == nil {
		r.all = map[string]any{}
	}
	r.all[kind] = out
	return slices.Clone(out)
}

func decode[T any](r *Record, self record.Ref) T {
	var room [24]*Fact
	facts := room[:0]
	r.winners(r.j.byRef[self], func(s said) { facts = append(facts, &r.entries[s.entry].Facts[s.fact]) })
	return record.Decode[T](self, func(field string) (record.Value, bool) {
		for _, f := range facts {
			if f.Field == field {
				return f.Value, true
			}
		}
		return "", false
	})
}
