package journal_test

import (
	"fmt"
	"sync"
	"testing"

	"dogshore/internal/reference"
	"dogshore/journal"
	"dogshore/record"
)

// Records are read by several goroutines while entries are added, and do not
// change. Run it with -race too.
func TestRecordsHoldWhileEntriesAreAdded(t *testing.T) {
	const n = 60
	var j journal.Journal
	add := func(i int) {
		j.Add(journal.Entry{ID: fmt.Sprint("e", i), Stamp: journal.Stamp(i + 1), Since: reference.FirstDay, Author: "owner",
			Grounds: record.Told, Version: journal.Version, Arrival: int64(i + 1), Facts: []journal.Fact{
				{Kind: "part", Key: "deck", Field: "name", Value: record.Encode(fmt.Sprint("Deck ", i))},
				{Kind: "part", Key: fmt.Sprint("p", i), Field: "name", Value: record.Encode("Part")},
				{Kind: "part", Key: fmt.Sprint("p", i), Field: "within", Value: record.Encode(record.Ref("part/deck"))},
			}})
	}
	add(0)
	var wait sync.WaitGroup
	for range 3 {
		wait.Go(func() {
			for range n {
				r := j.As(reference.FirstDay, journal.Now)
				want := len(r.Refs("part"))
				deck, _ := journal.Get[record.Part](r, "part/deck")
				for range 5 {
					parts := journal.All[record.Part](r)
					again, ok := journal.Get[record.Part](r, "part/deck")
					if len(parts) != want || !ok || again.Name != deck.Name || r.Has(record.R("part", fmt.Sprint("p", want-1))) {
						t.Errorf("%d parts, then %d; the deck %q, then %q", want, len(parts), deck.Name, again.Name)
					}
					r.Doubts()
					j.History("part/deck")
				}
			}
		})
	}
	for i := 1; i < n; i++ {
		add(i)
	}
	wait.Wait()
}
