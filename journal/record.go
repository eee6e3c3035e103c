package journal

import (
	"sort"

	"dogshore/calendar"
	"dogshore/record"
)

// Journal is a set of entries, indexed for folding. The zero Journal is empty
// and ready. It is not safe for use while entries are added; records made from
// it stay valid.
type Journal struct {
	entries map[string]*Entry
	ordered []*Entry // by arrival
	stamp   Stamp
}

// Add takes entries in. An entry that is already there is passed over, so
// that the same delivery twice counts once.
func (j *Journal) Add(entries ...Entry) {
	if j.entries == nil {
		j.entries = map[string]*Entry{}
	}
	for _, e := range entries {
		if _, ok := j.entries[e.ID]; ok {
			continue
		}
		j.entries[e.ID] = &e
		j.ordered = append(j.ordered, &e)
		j.stamp = max(j.stamp, e.Stamp)
	}
}

// Stamp returns the highest stamp seen.
func (j *Journal) Stamp() Stamp { return j.stamp }

// Len returns the number of entries.
func (j *Journal) Len() int { return len(j.ordered) }

// Entry returns the entry of that ID, or nil. The caller must not change it.
func (j *Journal) Entry(id string) *Entry { return j.entries[id] }

// Entries returns all entries in the order of arrival. The caller must not
// change them.
func (j *Journal) Entries() []*Entry { return j.ordered }

// Now is the arrival number that stands for "all we know now".
const Now = int64(1<<63 - 1)

// Held is one value that holds, and the entry it came from.
type Held struct {
	Value record.Value
	Entry *Entry
}

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

// Record is what the facts say, as of a day, known by an arrival. It does not
// change.
type Record struct {
	Day   calendar.Day
	Known int64

	subjects map[record.Ref]map[string]Held
	byKind   map[string][]record.Ref // keys sorted
	doubts   []Doubt
}

// Held returns the value that holds for one field. A value taken away again
// (record.Clear) does not hold.
func (r *Record) Held(self record.Ref, field string) (Held, bool) {
	h, ok := r.subjects[self][field]
	return h, ok && h.Value != record.Clear
}

// Has reports whether the record knows of a subject.
func (r *Record) Has(self record.Ref) bool { _, ok := r.subjects[self]; return ok }

// Refs returns the subjects of a kind, sorted by key.
func (r *Record) Refs(kind string) []record.Ref { return r.byKind[kind] }

// Doubts returns what the fold could not make sense of, sorted.
func (r *Record) Doubts() []Doubt { return r.doubts }

// From returns the entry that first spoke of a subject among those whose
// values hold: for an observation, the entry that made it. Nil if there is no
// such subject.
func (r *Record) From(self record.Ref) *Entry {
	var first *Entry
	for _, h := range r.subjects[self] {
		if first == nil || before(h.Entry, first) {
			first = h.Entry
		}
	}
	return first
}

// Name returns how a person calls a subject: its name field, else its key.
func (r *Record) Name(self record.Ref) string {
	if k := record.KindOf(self.Kind()); k != nil {
		if f := k.NameField(); f != nil {
			if h, ok := r.Held(self, f.Name); ok {
				return f.Format(h.Value)
			}
		}
	}
	return self.Key()
}

// Get reads one subject as its struct; ok is false if the record has none.
// The ref must be of T's kind.
func Get[T any](r *Record, self record.Ref) (subject T, ok bool) {
	fields, ok := r.subjects[self]
	if !ok || self.Kind() != record.KindFor[T]().Name {
		return subject, false
	}
	return decode[T](self, fields), true
}

// All reads every subject of T's kind, sorted by key.
func All[T any](r *Record) []T {
	refs := r.byKind[record.KindFor[T]().Name]
	out := make([]T, 0, len(refs))
	for _, self := range refs {
		out = append(out, decode[T](self, r.subjects[self]))
	}
	return out
}

func decode[T any](self record.Ref, fields map[string]Held) T {
	return record.Decode[T](self, func(f string) (record.Value, bool) {
		h, ok := fields[f]
		return h.Value, ok
	})
}

// before orders entries by since, stamp and id: the later one wins.
func before(a, b *Entry) bool {
	if a.Since != b.Since {
		return a.Since < b.Since
	}
	if a.Stamp != b.Stamp {
		return a.Stamp < b.Stamp
	}
	return a.ID < b.ID
}

func sortRefs(refs []record.Ref) {
	sort.Slice(refs, func(i, k int) bool { return refs[i] < refs[k] })
}
