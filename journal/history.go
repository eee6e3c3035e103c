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
// too, oldest first: by since, stamp and id.
func (j *Journal) History(self record.Ref) []Said {
	struck := j.struck(Now)
	var out []Said
	for _, e := range j.ordered {
		for _, f := range e.Facts {
			if f.Ref() == self {
				out = append(out, Said{e, f, struck[e.ID]})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Said) int {
		switch {
		case before(a.Entry, b.Entry):
			return -1
		case before(b.Entry, a.Entry):
			return 1
		}
		return 0
	})
	return out
}
