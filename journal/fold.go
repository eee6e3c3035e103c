package journal

import (
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
	j.mu.Lock()
	defer j.mu.Unlock()
	j.sortKinds()
	r := &Record{
		Day: day, Known: known, j: j,
		entries: j.ordered[:len(j.ordered):len(j.ordered)],
		struck:  j.struck(known),
		win:     make([]said, len(j.slots)),
		there:   make([]bool, len(j.subjects)),
		refs:    map[string][]record.Ref{},
	}
	for i := range j.slots {
		s := &j.slots[i]
		r.win[i] = said{none, none}
		if s.more == nil {
			if r.counts(s.first) {
				r.win[i] = s.first
				r.there[s.subject] = true
			}
			continue
		}
		for k := len(s.more) - 1; k >= 0; k-- {
			if r.counts(s.more[k]) {
				r.win[i] = s.more[k]
				r.there[s.subject] = true
				break
			}
		}
	}
	for _, at := range j.newer {
		if r.counts(said{entry: at}) {
			r.newer++
		}
	}
	return r
}

// counts reports whether a fact holds by the record's day, had arrived, and is
// not struck.
func (r *Record) counts(s said) bool {
	return r.j.since[s.entry] <= r.Day && r.arrived(s) && (r.struck == nil || !r.struck[s.entry])
}

// arrived reports whether a fact had arrived, as far as the record knows:
// entries added behind the record's back had not.
func (r *Record) arrived(s said) bool {
	return int(s.entry) < len(r.entries) && r.j.arrival[s.entry] <= r.Known
}
