package journal_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"dogshore/calendar"
	"dogshore/internal/reference"
	"dogshore/journal"
	"dogshore/record"
)

// seen is everything that can be asked of a record, in a form to compare.
type seen struct {
	Values map[record.Ref]map[string]reference.Value
	Doubts []journal.Doubt
}

func look(r *journal.Record) seen {
	out := seen{Values: map[record.Ref]map[string]reference.Value{}, Doubts: r.Doubts()}
	for _, k := range record.Kinds() {
		for _, self := range r.Refs(k.Name) {
			m := map[string]reference.Value{}
			for _, f := range k.Fields {
				if h, ok := r.Held(self, f.Name); ok {
					m[f.Name] = reference.Value{Value: h.Value, Entry: h.Entry.ID}
				}
			}
			out.Values[self] = m
		}
	}
	return out
}

// expected is look for the record made the slow way.
func expected(entries []journal.Entry, day calendar.Day, known int64) seen {
	r := reference.Fold(entries, day, known)
	out := seen{Values: map[record.Ref]map[string]reference.Value{}, Doubts: r.Doubts}
	for self, fields := range r.Values {
		m := map[string]reference.Value{}
		for name, v := range fields {
			if v.Value != record.Clear {
				m[name] = v
			}
		}
		out.Values[self] = m
	}
	return out
}

func days(t *rapid.T) calendar.Day {
	return reference.FirstDay + calendar.Day(rapid.IntRange(-1, reference.Days).Draw(t, "day"))
}

func diff(t *rapid.T, what string, want, got seen) {
	t.Helper()
	if want.Doubts == nil {
		want.Doubts = got.Doubts[:0]
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Fatalf("%s (-want +got):\n%s", what, d)
	}
}

// The quick fold says what the slow one says, on any day, known by any
// arrival. Second method: package reference.
func TestFoldAsTheSlowOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := reference.Number(reference.Entries(25).Draw(t, "entries"))
		var j journal.Journal
		j.Add(entries...)
		day := days(t)
		known := int64(rapid.IntRange(0, len(entries)).Draw(t, "known"))
		diff(t, "as of a day, all known", expected(entries, day, journal.Now), look(j.As(day, journal.Now)))
		diff(t, "as of a day, known by an arrival", expected(entries, day, known), look(j.As(day, known)))
	})
}

// The record does not depend on the order in which entries arrived, how often,
// or in how many deliveries; and a record in hand does not change while more
// arrive, even if nobody has looked at it before.
func TestAnyOrderOfArrivalEndsInTheSameRecord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := reference.Entries(20).Draw(t, "entries")
		day := days(t)
		var once journal.Journal
		once.Add(reference.Number(entries)...)
		want := look(once.As(day, journal.Now))

		mixed := rapid.Permutation(slices.Concat(entries, entries[:rapid.IntRange(0, len(entries)).Draw(t, "doubled")])).Draw(t, "order")
		var j journal.Journal
		var early []*journal.Record
		var arrived []journal.Entry
		var then []seen
		for len(mixed) > 0 {
			n := rapid.IntRange(1, len(mixed)).Draw(t, "delivery")
			delivery := slices.Clone(mixed[:n])
			for i := range delivery {
				delivery[i].Arrival = int64(j.Len() + i + 1)
			}
			mixed = mixed[n:]
			j.Add(delivery...)
			arrived = append(arrived, delivery...)
			early = append(early, j.As(day, journal.Now))
			then = append(then, expected(arrived, day, journal.Now))
		}
		diff(t, "another order", want, look(j.As(day, journal.Now)))
		for i, r := range early {
			diff(t, fmt.Sprintf("the record after delivery %d", i+1), then[i], look(r))
		}
	})
}

// Striking the entries of an import, and striking that strike, are an undo and
// its undo.
func TestStrikesUndo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := reference.Entries(12).Draw(t, "entries")
		more := reference.Entries(6).Draw(t, "import")
		last := slices.MaxFunc(slices.Concat(entries, more), func(a, b journal.Entry) int { return int(a.Stamp - b.Stamp) }).Stamp
		var j journal.Journal
		j.Add(reference.Number(entries)...)
		day := days(t)
		before := look(j.As(day, journal.Now))

		undo := journal.Entry{ID: "undo", Stamp: last + 1, Since: day, Author: "owner", Grounds: record.Told, Version: journal.Version}
		for i := range more {
			more[i].ID = "import-" + more[i].ID
			more[i].Facts = slices.DeleteFunc(more[i].Facts, func(f journal.Fact) bool { return f.Kind == journal.EntryKind })
			for k := range more[i].Facts {
				more[i].Facts[k].Over = ""
			}
			undo.Facts = append(undo.Facts, journal.Strike(more[i].ID))
		}
		j.Add(more...)
		with := look(j.As(day, journal.Now))
		j.Add(undo)
		diff(t, "after the undo", before, look(j.As(day, journal.Now)))
		j.Add(journal.Entry{ID: "redo", Stamp: last + 2, Since: day, Author: "owner", Grounds: record.Told, Version: journal.Version,
			Facts: []journal.Fact{journal.Strike("undo")}})
		diff(t, "after the undo of the undo", with, look(j.As(day, journal.Now)))
	})
}

// What All returns is the caller's own, though it is decoded once; and it is what
// Get says, one by one, of any record.
func TestAllIsTheCallersOwn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var j journal.Journal
		j.Add(reference.Number(reference.Entries(25).Draw(t, "entries"))...)
		r := j.As(days(t), journal.Now)
		first := journal.All[record.Part](r)
		for i := range first {
			first[i].Name += " changed"
		}
		for i, p := range journal.All[record.Part](r) {
			if want, ok := journal.Get[record.Part](r, p.Self); !ok || !cmp.Equal(p, want) {
				t.Fatalf("part %d: %+v, by itself %+v", i, p, want)
			}
		}
	})
}
