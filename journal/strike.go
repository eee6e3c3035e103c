package journal

import "slices"

// struck finds the entries that are skipped: those that a strike names which
// is not itself skipped. A strike counts only against entries written before
// it (stamp, id), so that the answer never runs in a circle; and on every day,
// for a mistake was one from the start.
//
// The answer has one place for each entry, or is nil if none is struck.
func (j *Journal) struck(known int64) []bool {
	if len(j.strikes) == 0 {
		return nil
	}
	latest := slices.Clone(j.strikes)
	slices.SortFunc(latest, func(a, b int32) int {
		if writtenBefore(j.ordered[a], j.ordered[b]) {
			return 1
		}
		return -1
	})
	out := make([]bool, len(j.ordered))
	for _, at := range latest {
		s := j.ordered[at]
		if out[at] || s.Arrival > known {
			continue
		}
		for _, f := range s.Facts {
			if f.Kind != EntryKind {
				continue
			}
			if e, ok := j.byID[f.Key]; ok && writtenBefore(j.ordered[e], s) {
				out[e] = true
			}
		}
	}
	return out
}

// Struck returns the entries that the fold skips, in the order in which they
// were added.
func (j *Journal) Struck() []*Entry {
	j.mu.RLock()
	defer j.mu.RUnlock()
	var out []*Entry
	for at, struck := range j.struck(Now) {
		if struck {
			out = append(out, j.ordered[at])
		}
	}
	return out
}
