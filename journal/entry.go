// Package journal keeps the entries of a build and folds them into a record.
//
// An entry is one act of writing; it carries facts: kind, key, field, value.
// Entries are never changed. The record as of a day is a function of the set
// of entries alone: the order in which they arrived, how they were batched and
// how often they were delivered makes no difference (Journal.As).
package journal

import (
	"strings"
	"time"

	"dogshore/calendar"
	"dogshore/record"
)

// Version is the version of the kinds that this program writes. Entries of a
// newer version are kept but not folded, and the record says so.
const Version = 1

// Always is the day from which structure holds that was never otherwise:
// names, nesting, links, what a template lays.
var Always = calendar.Date(1950, 1, 1)

// Entry is one act of writing.
type Entry struct {
	ID       string         `json:"id"`       // UUID; of imported rows a hash of what was imported
	Stamp    Stamp          `json:"stamp"`    // orders entries of the same day; never behind any stamp seen
	Since    calendar.Day   `json:"since"`    // from which day its facts hold
	Wall     time.Time      `json:"wall"`     // the writer's clock; shown, never compared
	Received time.Time      `json:"received"` // when it arrived here
	Author   string         `json:"author"`   // who wrote it
	Visit    record.Ref     `json:"visit,omitempty"`
	Grounds  record.Grounds `json:"grounds"`
	Origin   string         `json:"origin,omitempty"` // the form, or file, sheet and cell
	Batch    string         `json:"batch,omitempty"`  // entries accepted together: an import
	Version  int            `json:"version"`
	Facts    []Fact         `json:"facts"`

	Arrival int64 `json:"arrival,omitempty"` // counted here from 1, in the order of arrival
}

// Fact is one field of one subject given a value.
type Fact struct {
	Kind  string       `json:"kind"`
	Key   string       `json:"key"`
	Field string       `json:"field"`
	Value record.Value `json:"value"`
	// Over is the entry whose value the writer was shown, "" if none; several
	// are separated by blanks (Record.Over). A value that nobody has written
	// over stands; two that stand are a conflict.
	Over string `json:"over,omitempty"`
}

// Overs returns the entries that f was written over.
func (f Fact) Overs() []string { return strings.Fields(f.Over) }

// Ref names the fact's subject.
func (f Fact) Ref() record.Ref { return record.R(f.Kind, f.Key) }

// EntryKind is the kind of facts about entries. Its only field is struck: the
// entry whose ID is the fact's key was a mistake, and the fold skips it. A
// strike is an entry like any other and can itself be struck.
const EntryKind = "entry"

// StruckField is the field of EntryKind.
const StruckField = "struck"

// Strike returns the fact that strikes entry id.
func Strike(id string) Fact {
	return Fact{Kind: EntryKind, Key: id, Field: StruckField, Value: record.Encode(record.Yes)}
}

// Stamp is a hybrid clock: milliseconds since 1970 times 2^16, and a counter
// in the low 16 bits. Each writer's next stamp is above every stamp it has
// seen, so that a wrong clock only orders and never loses.
type Stamp int64

// Next returns the stamp that follows s on a clock that shows now. A clock
// more than a day ahead of received stamps is followed all the same: order is
// all that a stamp means.
func (s Stamp) Next(now time.Time) Stamp {
	return max(s+1, Stamp(now.UnixMilli()<<16))
}
