package journal

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"dogshore/calendar"
	"dogshore/record"
)

// Bounds of an entry, so that no single act of writing can fill the store.
const (
	maxFacts = 2000
	maxKey   = 200  // characters of an id, a key, a name
	maxLine  = 1000 // bytes of other lines
	maxValue = 1 << 20
)

// Check looks at an entry alone, as the door does: known kinds and fields,
// values that decode and lie in range, one value per field. It returns the
// entry with its values in canonical form, or every reason why it is refused.
// Whether what it refers to exists is judged by the fold.
//
// Entries of a newer version are let in unread: their values must be JSON, and
// no more is asked.
func Check(e Entry) (Entry, error) {
	var errs []error
	bad := func(format string, a ...any) { errs = append(errs, fmt.Errorf(format, a...)) }
	checkHead(&e, bad)
	seen := map[slotName]bool{}
	facts := make([]Fact, len(e.Facts))
	for i, f := range e.Facts {
		s := slotName{f.Kind, f.Key, f.Field}
		if seen[s] {
			bad("%s: %s is said twice", f.Ref(), f.Field)
		}
		seen[s] = true
		if f.Key == "" {
			bad("%s: a key has 1 to %d characters", f.Kind, maxKey)
		}
		for _, w := range []struct{ name, text string }{{"kind", f.Kind}, {"key", f.Key}, {"field", f.Field}} {
			line(bad, f.Kind+": a "+w.name, w.text, maxKey)
		}
		line(bad, f.Kind+": over", f.Over, maxLine)
		v, err := checkFact(f, e.Version > Version)
		if err != nil {
			bad("%s: %w", f.Ref(), err)
		}
		f.Value = v
		facts[i] = f
	}
	e.Facts = facts
	return e, errors.Join(errs...)
}

type slotName struct{ kind, key, field string }

func checkHead(e *Entry, bad func(format string, a ...any)) {
	if e.ID == "" {
		bad("an entry needs an id")
	}
	if e.Stamp <= 0 {
		bad("an entry needs a stamp")
	}
	if e.Version < 1 {
		bad("an entry needs a version, %d is none", e.Version)
	}
	if e.Since < calendar.Date(1950, 1, 1) || e.Since > calendar.Date(2199, 12, 31) {
		bad("since %q is no day between 1950 and 2199", e.Since)
	}
	if y := e.Wall.Year(); !e.Wall.IsZero() && (y < 1950 || y > 2199) {
		bad("the writer's clock shows the year %d", y)
	}
	if e.Grounds.Rank() < 0 && (e.Version <= Version || e.Grounds == "") {
		bad("%q is no ground: one of %v", e.Grounds, record.AllGrounds)
	}
	if strings.TrimSpace(e.Author) == "" {
		bad("an entry needs an author")
	}
	if len(e.Facts) == 0 || len(e.Facts) > maxFacts {
		bad("an entry carries 1 to %d facts, this one %d", maxFacts, len(e.Facts))
	}
	line(bad, "an id", e.ID, maxKey)
	line(bad, "the grounds", string(e.Grounds), maxKey)
	line(bad, "the author", e.Author, maxLine)
	line(bad, "the visit", string(e.Visit), maxLine)
	line(bad, "the origin", e.Origin, maxLine)
	line(bad, "the batch", e.Batch, maxLine)
}

// line checks a text that is no value: one line, not too long.
func line(bad func(format string, a ...any), what, text string, most int) {
	switch {
	case len(text) > most:
		bad("%s has at most %d characters", what, most)
	case !utf8.ValidString(text):
		bad("%s is no text: %q", what, text)
	case strings.ContainsFunc(text, unicode.IsControl):
		bad("%s is one line without control characters, not %q", what, text)
	}
}

func checkFact(f Fact, newer bool) (record.Value, error) {
	if len(f.Value) > maxValue {
		return "", fmt.Errorf("%s has %d bytes; at most %d are kept", f.Field, len(f.Value), maxValue)
	}
	if newer {
		if !utf8.ValidString(string(f.Value)) || !json.Valid([]byte(f.Value)) {
			return "", fmt.Errorf("%s is no JSON", f.Field)
		}
		return f.Value, nil
	}
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
		return "", fmt.Errorf("%s is no field of the kind %s", f.Field, k.Name)
	}
	return d.Check(f.Value)
}
