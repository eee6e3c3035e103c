package journal

import (
	"slices"

	"dogshore/record"
)

// Said is one fact in a subject's history.
type Said struct {
	Entry  *Entry
	Fact   Fact
	Struck bool // the fold skips it
}

// History returns every fact that was ever said of a subject, struck ones
// too, oldest first: by since, stamp and id. Facts of entries that a newer
// program wrote are not read.
func (j *Journal) History(self record.Ref) []Said {
	j.mu.RLock()
	defer j.mu.RUnlock()
	sub, ok := j.byRef[self]
	if !ok {
		return nil
	}
	var found []said
	for at := j.subjects[sub].slot; at != none; at = j.slots[at].next {
		found = append(found, j.slots[at].all()...)
	}
	slices.SortFunc(found, j.order)
	struck := j.struck(Now)
	out := make([]Said, len(found))
	for i, s := range found {
		e := j.ordered[s.entry]
		out[i] = Said{e, e.Facts[s.fact], struck != nil && struck[s.entry]}
	}
	return out
}
