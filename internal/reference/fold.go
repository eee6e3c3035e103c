// Package reference is the record made the slow way, for tests to compare
// with, and entries to make it from. It shares no code with the journal: it
// looks at every entry for every question.
package reference

import (
	"slices"
	"strings"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// Value is what holds for a field, and the entry that says so.
type Value struct {
	Value record.Value
	Entry string
}

// Record is what entries say as of a day, known by an arrival.
type Record struct {
	Values map[record.Ref]map[string]Value
	Doubts []journal.Doubt
}

// fold is one look at entries.
type fold struct {
	entries []journal.Entry // each id once
	day     calendar.Day
	known   int64
}

// fact is a fact with its entry.
type fact struct {
	e journal.Entry
	f journal.Fact
}

// Fold makes the record. Entries with an id that came before are passed over.
func Fold(entries []journal.Entry, day calendar.Day, known int64) Record {
	w := fold{day: day, known: known}
	for _, e := range entries {
		if !slices.ContainsFunc(w.entries, func(o journal.Entry) bool { return o.ID == e.ID }) {
			w.entries = append(w.entries, e)
		}
	}
	r := Record{Values: map[record.Ref]map[string]Value{}}
	for _, e := range w.entries {
		for _, f := range e.Facts {
			if f.Kind == journal.EntryKind {
				continue
			}
			if win, ok := w.winner(f.Ref(), f.Field); ok {
				if r.Values[f.Ref()] == nil {
					r.Values[f.Ref()] = map[string]Value{}
				}
				r.Values[f.Ref()][f.Field] = Value{win.f.Value, win.e.ID}
			}
		}
	}
	r.Doubts = w.doubts(r)
	return r
}

// reads reports whether an entry is known and of a version that is read.
func (w fold) reads(e journal.Entry) bool {
	return e.Arrival <= w.known && e.Version <= journal.Version
}

// struck follows the definition: struck is what an entry names that was
// written later and is not itself struck.
func (w fold) struck(e journal.Entry) bool {
	for _, s := range w.entries {
		if !w.reads(s) || !writtenBefore(e, s) {
			continue
		}
		for _, f := range s.Facts {
			if f.Kind == journal.EntryKind && f.Key == e.ID && !w.struck(s) {
				return true
			}
		}
	}
	return false
}

func (w fold) counts(e journal.Entry) bool {
	return w.reads(e) && e.Since <= w.day && !w.struck(e)
}

// about returns every known fact about a field, in the order in which they win.
func (w fold) about(self record.Ref, field string) []fact {
	var out []fact
	for _, e := range w.entries {
		for _, f := range e.Facts {
			if w.reads(e) && f.Kind != journal.EntryKind && f.Ref() == self && f.Field == field {
				out = append(out, fact{e, f})
			}
		}
	}
	slices.SortFunc(out, func(a, b fact) int {
		if a.e.Since != b.e.Since {
			return int(a.e.Since - b.e.Since)
		}
		if writtenBefore(a.e, b.e) {
			return -1
		}
		return 1
	})
	return out
}

func (w fold) winner(self record.Ref, field string) (fact, bool) {
	all := w.about(self, field)
	for i := len(all) - 1; i >= 0; i-- {
		if w.counts(all[i].e) {
			return all[i], true
		}
	}
	return fact{}, false
}

// standing returns the facts that count and that nobody has written over.
func (w fold) standing(self record.Ref, d *record.Field) []fact {
	all := w.about(self, d.Name)
	var out []fact
	for _, x := range all {
		if !w.counts(x.e) {
			continue
		}
		over := slices.ContainsFunc(all, func(by fact) bool {
			return by.e.ID != x.e.ID && w.counts(by.e) && w.writesOver(by, x, all, d)
		})
		if !over {
			out = append(out, x)
		}
	}
	return out
}

// writesOver reports whether by was written over x: one of the facts it
// reaches through Over is x, or says the same as x, which was written before.
func (w fold) writesOver(by, x fact, all []fact, d *record.Field) bool {
	for _, y := range reaches(by, all, map[string]bool{by.e.ID: true}) {
		if y.e.ID == x.e.ID || writtenBefore(x.e, by.e) && d.Same(x.f.Value, y.f.Value) {
			return true
		}
	}
	return false
}

func reaches(from fact, all []fact, seen map[string]bool) []fact {
	var out []fact
	for _, id := range strings.Fields(from.f.Over) {
		for _, y := range all {
			if y.e.ID == id && !seen[id] {
				seen[id] = true
				out = append(append(out, y), reaches(y, all, seen)...)
			}
		}
	}
	return out
}

func writtenBefore(a, b journal.Entry) bool {
	return a.Stamp < b.Stamp || a.Stamp == b.Stamp && a.ID < b.ID
}
