package journal

// Strikes returns, for each struck entry, the ids of the strikes that stand
// against it, in the order of arrival. To bring an entry back, each of them
// has to be struck.
func (j *Journal) Strikes() map[string][]string {
	j.mu.RLock()
	defer j.mu.RUnlock()
	struck := j.struck(Now)
	out := map[string][]string{}
	for _, at := range j.strikes {
		s := j.ordered[at]
		if struck[at] {
			continue
		}
		for _, f := range s.Facts {
			if e, ok := j.byID[f.Key]; ok && f.Kind == EntryKind && writtenBefore(j.ordered[e], s) {
				out[f.Key] = append(out[f.Key], s.ID)
			}
		}
	}
	return out
}
