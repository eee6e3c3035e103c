package journal

import (
	"errors"
	"fmt"

	"dogshore/calendar"
	"dogshore/record"
)

// Bounds of an entry, so that no single act of writing can fill the store.
const (
	maxFacts = 2000
	maxKey   = 200
)

// Check looks at an entry alone, as the door does: known kinds and fields,
// values that decode and lie in range, one value per field. It returns the
// entry with its values in canonical form, or every reason why it is refused.
// Whether what it refers to exists is judged by the fold.
//
// Entries of a newer version are let in unread.
func Check(e Entry) (Entry, error) {
	var errs []error
	bad := func(format string, a ...any) { errs = append(errs, fmt.Errorf(format, a...)) }
	if e.ID == "" || len(e.ID) > maxKey {
		bad("an entry needs an id of at most %d characters", maxKey)
	}
	if e.Stamp <= 0 {
		bad("an entry needs a stamp")
	}
	if e.Since < calendar.Date(1950, 1, 1) || e.Since > calendar.Date(2199, 12, 31) {
		bad("since %q is no day between 1950 and 2199", e.Since)
	}
	if e.Grounds.Rank() < 0 {
		bad("%q is no ground: one of %v", e.Grounds, record.AllGrounds)
	}
	if e.Author == "" {
		bad("an entry needs an author")
	}
	if len(e.Facts) == 0 || len(e.Facts) > maxFacts {
		bad("an entry carries 1 to %d facts, this one %d", maxFacts, len(e.Facts))
	}
	if e.Version > Version || errs != nil {
		return e, errors.Join(errs...)
	}
	type slot struct{ kind, key, field string }
	seen := map[slot]bool{}
	facts := make([]Fact, len(e.Facts))
	for i, f := range e.Facts {
		s := slot{f.Kind, f.Key, f.Field}
		if seen[s] {
			bad("%s: %s is said twice", f.Ref(), f.Field)
		}
		seen[s] = true
		if f.Key == "" || len(f.Key) > maxKey {
			bad("%s: a key has 1 to %d characters", f.Kind, maxKey)
		}
		v, err := checkFact(f)
		if err != nil {
			bad("%s: %w", f.Ref(), err)
		}
		f.Value = v
		facts[i] = f
	}
	e.Facts = facts
	return e, errors.Join(errs...)
}

func checkFact(f Fact) (record.Value, error) {
	if f.Kind == EntryKind {
		if f.Field != StruckField || f.Value != record.Encode(record.Yes) {
			return "", fmt.Errorf("of an entry only %s = yes can be said", StruckField)
		}
		return f.Value, nil
	}
	k := record.KindOf(f.Kind)
	if k == nil {
		return "", fmt.Errorf("there is no kind %q", f.Kind)
	}
	d := k.Field(f.Field)
	if d == nil {
		return "", fmt.Errorf("a %s has no field %q", k.Title, f.Field)
	}
	return d.Check(f.Value)
}
