package journal_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"dogshore/calendar"
	"dogshore/internal/reference"
	"dogshore/journal"
	"dogshore/record"
)

// What happened since a visit holds from a later day; what was learned since
// holds from that day or an earlier one, and arrived afterwards.
func TestHappenedAndLearned(t *testing.T) {
	visit := reference.FirstDay
	entry := func(id string, arrival int64, since calendar.Day, facts ...journal.Fact) journal.Entry {
		return journal.Entry{ID: id, Arrival: arrival, Stamp: journal.Stamp(arrival), Since: since, Author: "owner",
			Grounds: record.Told, Version: journal.Version, Facts: facts}
	}
	say := func(kind, key, field, v string) journal.Fact {
		return journal.Fact{Kind: kind, Key: key, Field: field, Value: record.Encode(v)}
	}
	var j journal.Journal
	j.Add(
		entry("a", 1, visit-9, say("part", "deck", "name", "Deck"), say("part", "deck", "side", "port"), say("part", "deck", "number", "12")),
		entry("b", 2, visit-9, say("part", "hull", "name", "Hull")),
		// after the visit
		entry("c", 3, visit+3, say("part", "deck", "name", "Main deck")),
		entry("d", 4, visit-2, say("part", "deck", "side", "starboard")),
		entry("e", 5, visit+1, say("part", "deck", "number", "12")), // said again
		entry("f", 6, visit+1, journal.Strike("b")),
		entry("g", 7, visit+8, say("part", "deck", "name", "later than asked for")),
	)
	happened, learned := journal.Compare(j.As(visit, 2), j.As(visit+7, journal.Now))
	line := func(c journal.Change) [4]string {
		return [4]string{string(c.Self), c.Field, string(c.Was.Value), string(c.Is.Value)}
	}
	var got [2][][4]string
	for i, cs := range [][]journal.Change{happened, learned} {
		for _, c := range cs {
			got[i] = append(got[i], line(c))
		}
	}
	want := [2][][4]string{
		{{"part/deck", "name", `"Deck"`, `"Main deck"`}},
		{{"part/deck", "side", `"port"`, `"starboard"`}, {"part/hull", "name", `"Hull"`, ""}},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
}

// The changes between two records turn the one's values into the other's, and
// there is none between a record and itself.
func TestChangesLeadFromOneRecordToTheOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := reference.Number(reference.Entries(25).Draw(t, "entries"))
		var j journal.Journal
		j.Add(entries...)
		then := j.As(days(t), int64(rapid.IntRange(0, len(entries)).Draw(t, "known")))
		now := j.As(days(t), journal.Now)
		if a, b := journal.Compare(now, now); len(a)+len(b) > 0 {
			t.Fatalf("a record differs from itself: %v %v", a, b)
		}
		type slot struct {
			self  record.Ref
			field string
		}
		values := func(r *journal.Record) map[slot]record.Value {
			m := map[slot]record.Value{}
			for self, fields := range look(r).Values {
				for name, v := range fields {
					m[slot{self, name}] = v.Value
				}
			}
			return m
		}
		got, want := values(then), values(now)
		happened, learned := journal.Compare(then, now)
		for _, c := range append(happened, learned...) {
			s := slot{c.Self, c.Field}
			if c.Was.Entry != nil && c.Was.Value != record.Clear && got[s] != c.Was.Value {
				t.Fatalf("%v was %s, not %s", s, got[s], c.Was.Value)
			}
			delete(got, s)
			if c.Is.Entry != nil && c.Is.Value != record.Clear {
				got[s] = c.Is.Value
			}
		}
		for s, v := range want { // values that say the same in other words are no change
			if f := record.KindOf(s.self.Kind()).Field(s.field); f.Same(got[s], v) {
				got[s] = v
			}
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("-want +got:\n%s", d)
		}
	})
}
