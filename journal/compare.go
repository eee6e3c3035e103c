package journal

import (
	"slices"

	"dogshore/record"
)

// Change is a field whose value differs between two records.
type Change struct {
	Self  record.Ref
	Field string
	// Was and Is are zero where nobody had said anything, and record.Clear
	// with its entry where somebody took the value away.
	Was, Is  Held
	WasThere bool // the earlier record knew the subject at all
}

// Compare returns the fields in which now differs from then, in the order of
// kinds, keys and fields: apart what happened since (it holds from a day after
// then's), and what was only learned since of the days before, which counts
// what was struck or taken back too. A value said again is no change.
//
// For "since the last visit" let then be the record as of that visit's day,
// known by what had arrived on it.
func Compare(then, now *Record) (happened, learned []Change) {
	for i := range record.Kinds() {
		k := &record.Kinds()[i]
		refs := slices.Concat(then.Refs(k.Name), now.Refs(k.Name))
		slices.Sort(refs)
		for _, self := range slices.Compact(refs) {
			for n := range k.Fields {
				f := &k.Fields[n]
				was, had := then.Held(self, f.Name)
				is, has := now.Held(self, f.Name)
				if had == has && (!has || f.Same(was.Value, is.Value)) {
					continue
				}
				c := Change{Self: self, Field: f.Name, Was: was, Is: is, WasThere: then.Has(self)}
				if is.Entry != nil && is.Entry.Since > then.Day {
					happened = append(happened, c)
				} else {
					learned = append(learned, c)
				}
			}
		}
	}
	return happened, learned
}
