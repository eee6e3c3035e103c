package journal

import (
	"slices"
	"sync"

	"dogshore/calendar"
	"dogshore/record"
)

// Journal is a set of entries, indexed for folding. The zero Journal is empty
// and ready. It may be used from several goroutines; records made from it
// stay as they are while entries are added.
//
// Every field of every subject has a slot, which holds what was ever said of
// it in the order in which it wins:
//
//	subject part/deck ── slot name ── said, said, said   (since, stamp, id)
//	                  └─ slot within ── said
type Journal struct {
	mu       sync.RWMutex
	ordered  []*Entry // by arrival
	since    []calendar.Day
	arrival  []int64 // both beside ordered, close together for the fold
	byID     map[string]int32
	strikes  []int32 // the entries that strike
	newer    []int32 // the entries of a newer version
	stamp    Stamp
	fields   map[string]int32
	subjects []subject
	byRef    map[record.Ref]int32
	byKind   map[string][]int32 // subjects in the order of their keys
	sorted   int                // how many subjects stand in byKind
	slots    []slot
}

type subject struct {
	ref  record.Ref
	slot int32 // its newest slot, or none
}

type slot struct {
	subject int32
	field   int32
	next    int32 // the subject's next slot, or none
	first   said
	more    []said // all of them if there are several, the winner last; else nil
}

// said is one fact: the place of its entry in ordered, and its place there.
type said struct{ entry, fact int32 }

const none = int32(-1)

// Add takes entries in. An entry that is already there is passed over, so
// that the same delivery twice counts once.
func (j *Journal) Add(entries ...Entry) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.byID == nil {
		j.byID = make(map[string]int32, len(entries))
		j.fields = map[string]int32{}
		j.byRef = make(map[record.Ref]int32, len(entries))
		j.byKind = map[string][]int32{}
	}
	own := slices.Clone(entries)
	facts := 0
	for i := range own {
		facts += len(own[i].Facts)
	}
	j.slots = slices.Grow(j.slots, facts/2)
	for i := range own {
		if _, there := j.byID[own[i].ID]; !there {
			j.add(&own[i])
		}
	}
}

func (j *Journal) add(e *Entry) {
	at := int32(len(j.ordered))
	j.byID[e.ID] = at
	j.ordered = append(j.ordered, e)
	j.since = append(j.since, e.Since)
	j.arrival = append(j.arrival, e.Arrival)
	j.stamp = max(j.stamp, e.Stamp)
	if e.Version > Version {
		j.newer = append(j.newer, at)
		return
	}
	strikes := false
	sub := none
	for n, f := range e.Facts {
		if f.Kind == EntryKind {
			strikes = true
			continue
		}
		if sub == none || e.Facts[n-1].Key != f.Key || e.Facts[n-1].Kind != f.Kind {
			sub = j.subject(f.Ref())
		}
		j.say(sub, f.Field, said{at, int32(n)})
	}
	if strikes {
		j.strikes = append(j.strikes, at)
	}
}

// subject returns a subject's number, a new one if need be.
func (j *Journal) subject(ref record.Ref) int32 {
	sub, ok := j.byRef[ref]
	if !ok {
		sub = int32(len(j.subjects))
		j.subjects = append(j.subjects, subject{ref, none})
		j.byRef[ref] = sub
	}
	return sub
}

// say puts a fact in its slot.
func (j *Journal) say(sub int32, name string, s said) {
	field, ok := j.fields[name]
	if !ok {
		field = int32(len(j.fields))
		j.fields[name] = field
	}
	at := j.slot(sub, field)
	if at == none {
		at = int32(len(j.slots))
		j.slots = append(j.slots, slot{subject: sub, field: field, next: j.subjects[sub].slot, first: s})
		j.subjects[sub].slot = at
		return
	}
	sl := &j.slots[at]
	if sl.more == nil {
		sl.more = []said{sl.first}
	}
	i, _ := slices.BinarySearchFunc(sl.more, s, j.order)
	sl.more = slices.Insert(sl.more, i, s)
}

// order tells which of two facts of a slot wins, by before.
func (j *Journal) order(a, b said) int {
	switch x, y := j.ordered[a.entry], j.ordered[b.entry]; {
	case before(x, y):
		return -1
	case before(y, x):
		return 1
	}
	return int(a.fact - b.fact) // the door lets a field be said once in an entry
}

// slot finds a subject's slot for a field, or none.
func (j *Journal) slot(sub, field int32) int32 {
	at := j.subjects[sub].slot
	for at != none && j.slots[at].field != field {
		at = j.slots[at].next
	}
	return at
}

// all returns what was ever said in a slot, the winner last.
func (s *slot) all() []said {
	if s.more != nil {
		return s.more
	}
	return []said{s.first}
}

// sortKinds puts the subjects that are new among those of their kind.
func (j *Journal) sortKinds() {
	news := map[string][]int32{}
	for ; j.sorted < len(j.subjects); j.sorted++ {
		k := j.subjects[j.sorted].ref.Kind()
		news[k] = append(news[k], int32(j.sorted))
	}
	for k, add := range news {
		slices.SortFunc(add, j.byKey)
		old := j.byKind[k]
		merged := make([]int32, 0, len(old)+len(add))
		for len(old) > 0 && len(add) > 0 {
			from := &old
			if j.byKey(add[0], old[0]) < 0 {
				from = &add
			}
			merged = append(merged, (*from)[0])
			*from = (*from)[1:]
		}
		j.byKind[k] = append(append(merged, old...), add...)
	}
}

func (j *Journal) byKey(a, b int32) int {
	x, y := j.subjects[a].ref, j.subjects[b].ref
	switch {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}

// Stamp returns the highest stamp seen.
func (j *Journal) Stamp() Stamp {
	j.mu.RLock()
	defer j.mu.RUnlock()
	return j.stamp
}

// Len returns the number of entries.
func (j *Journal) Len() int { return len(j.Entries()) }

// Entry returns the entry of that ID, or nil. The caller must not change it.
func (j *Journal) Entry(id string) *Entry {
	j.mu.RLock()
	defer j.mu.RUnlock()
	if at, ok := j.byID[id]; ok {
		return j.ordered[at]
	}
	return nil
}

// Entries returns all entries in the order in which they were added. The
// caller must not change them.
func (j *Journal) Entries() []*Entry {
	j.mu.RLock()
	defer j.mu.RUnlock()
	return j.ordered[:len(j.ordered):len(j.ordered)]
}

// before orders entries by since, stamp and id: the later one wins.
func before(a, b *Entry) bool {
	if a.Since != b.Since {
		return a.Since < b.Since
	}
	return writtenBefore(a, b)
}

// writtenBefore orders entries by stamp and id alone.
func writtenBefore(a, b *Entry) bool {
	if a.Stamp != b.Stamp {
		return a.Stamp < b.Stamp
	}
	return a.ID < b.ID
}
