package store_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
)

func TestAllOrNone(t *testing.T) {
	ctx := context.Background()
	f := create(t)
	good, bad := named(f, "deck", "Deck"), named(f, "hull", "Hull")
	bad.Facts[0].Field = "mood"
	bad.Origin = "parts.csv, row 4"
	n, err := f.Accept(ctx, good, bad)
	if n != 0 || !errors.Is(err, store.ErrRefused) || !strings.Contains(err.Error(), "parts.csv, row 4: part/hull") {
		t.Errorf("Accept = %d, %v", n, err)
	}
	if asOfToday(t, f).Has("part/deck") || asOfToday(t, reopen(t, f)).Has("part/deck") {
		t.Error("the good one went in without the bad one")
	}
}

func TestNothingIsWrittenWhenInterrupted(t *testing.T) {
	f := create(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if n, err := f.Accept(ctx, named(f, "deck", "Deck")); n != 0 || !errors.Is(err, context.Canceled) {
		t.Errorf("Accept = %d, %v", n, err)
	}
	accept(t, f, named(f, "hull", "Hull")) // and the folder goes on
	if r := asOfToday(t, f); r.Has("part/deck") || !r.Has("part/hull") {
		t.Error("want the hull alone")
	}
}

func TestTheSameTwiceCountsOnce(t *testing.T) {
	ctx := context.Background()
	f := create(t)
	e := named(f, "deck", "Deck")
	if n, err := f.Accept(ctx, e, e); n != 1 || err != nil {
		t.Errorf("twice at once = %d, %v", n, err)
	}
	again := e
	again.Stamp, again.Wall, again.Author, again.Batch = e.Stamp+9, e.Wall.Add(time.Hour), "surveyor", "another import"
	if n, err := f.Accept(ctx, again); n != 0 || err != nil {
		t.Errorf("brought in by another = %d, %v", n, err)
	}
	other := named(f, "deck", "Upper deck")
	other.ID = e.ID
	n, err := f.Accept(ctx, named(f, "hull", "Hull"), other)
	if n != 0 || !errors.Is(err, store.ErrRefused) || !strings.Contains(err.Error(), e.ID) || !strings.Contains(err.Error(), "something else") {
		t.Errorf("something else under the same id = %d, %v", n, err)
	}
	if last, err := f.Last(ctx); last != 1 || err != nil {
		t.Errorf("Last = %d, %v", last, err)
	}
}

func TestRefusalsAreBounded(t *testing.T) {
	f := create(t)
	var many []journal.Entry
	for i := range 200 {
		e := named(f, fmt.Sprint("p", i), "x")
		e.Facts[0].Value = "7"
		many = append(many, e)
	}
	_, err := f.Accept(context.Background(), many...)
	if err == nil || !strings.Contains(err.Error(), "and 150 entries more") || len(err.Error()) > 10_000 {
		t.Errorf("Accept = %.300v", err)
	}
}

// Each draft's stamp is above every stamp seen, even where the clock stands or
// another writer's clock was ahead.
func TestDraftsAreStampedInOrder(t *testing.T) {
	f := create(t)
	a, b := f.Draft("owner", today, record.Seen), f.Draft("owner", today, record.Seen)
	if a.ID == b.ID || b.Stamp <= a.Stamp {
		t.Errorf("stamps %d, %d", a.Stamp, b.Stamp)
	}
	ahead, err := store.Open(context.Background(), f.Dir(), func() time.Time { return noon().AddDate(0, 1, 0) })
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = ahead.Close() }()
	accept(t, ahead, named(ahead, "deck", "Deck"))
	if name := asOfToday(t, f).Name("part/deck"); name != "Deck" {
		t.Fatalf("name = %q", name)
	}
	accept(t, f, named(f, "deck", "Upper deck")) // written after the other was seen
	if name := asOfToday(t, ahead).Name("part/deck"); name != "Upper deck" {
		t.Errorf("name = %q: a clock that was ahead wins for ever", name)
	}
}

// Two open folders see each other's entries at the next look.
func TestSeveralProcesses(t *testing.T) {
	ctx := context.Background()
	f := create(t)
	g := reopen(t, f)
	accept(t, f, named(f, "deck", "Deck"))
	if last, err := g.Last(ctx); last != 1 || err != nil {
		t.Errorf("Last = %d, %v", last, err)
	}
	accept(t, g, named(g, "hull", "Hull"))
	for _, x := range []*store.Folder{f, g} {
		if r := asOfToday(t, x); !r.Has("part/deck") || !r.Has("part/hull") {
			t.Error("one does not see the other's")
		}
		if err := x.Verify(ctx); err != nil {
			t.Error(err)
		}
	}
}

// Writers and readers of two open folders at once: every acknowledged entry is
// there, records in hand stay as they were, and the chain is whole.
func TestManyAtOnce(t *testing.T) {
	ctx := context.Background()
	f := create(t)
	g := reopen(t, f)
	const writers, each = 4, 15
	var wait sync.WaitGroup
	for w := range writers {
		x := []*store.Folder{f, g}[w%2]
		wait.Go(func() {
			for i := range each {
				if n, err := x.Accept(ctx, named(x, fmt.Sprintf("p%d-%d", w, i), "Part")); n != 1 || err != nil {
					t.Errorf("Accept = %d, %v", n, err)
				}
			}
		})
		wait.Go(func() {
			for range each {
				r, err := x.As(ctx, today, journal.Now)
				if err != nil {
					t.Error(err)
					return
				}
				n := len(r.Refs("part"))
				if parts := journal.All[record.Part](r); len(parts) != n || len(r.Doubts()) != 0 {
					t.Errorf("%d parts, then %d, with doubts %v", n, len(parts), r.Doubts())
				}
			}
		})
	}
	wait.Wait()
	if n := len(asOfToday(t, f).Refs("part")); n != writers*each {
		t.Errorf("%d parts of %d", n, writers*each)
	}
	if err := g.Verify(ctx); err != nil {
		t.Error(err)
	}
}

func TestBatchAndArrived(t *testing.T) {
	ctx := context.Background()
	day := today
	f, err := store.Create(ctx, t.TempDir(), func() time.Time { return day.Time().Add(23 * time.Hour) })
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	for i := range 6 {
		e := named(f, fmt.Sprint("p", i), "Part")
		if i%2 == 0 {
			e.Batch = "import 7"
		}
		accept(t, f, e)
		day++
	}
	got, err := f.Batch(ctx, "import 7")
	if err != nil || len(got) != 3 || got[0].Arrival != 1 || got[2].Arrival != 5 {
		t.Errorf("Batch = %v, %v", got, err)
	}
	if none, err := f.Batch(ctx, ""); err != nil || none != nil {
		t.Errorf("Batch of no name = %v, %v", none, err)
	}
	for d, want := range map[calendar.Day]int64{today - 1: 0, today: 1, today + 2: 3, today + 99: 6} {
		if n, err := f.Arrived(ctx, d); n != want || err != nil {
			t.Errorf("Arrived by %v = %d, %v, want %d", d, n, err, want)
		}
	}
}

func TestHistory(t *testing.T) {
	ctx := context.Background()
	f := create(t)
	wrong, right := named(f, "deck", "Dekc"), named(f, "deck", "Deck")
	strike := f.Draft("owner", today, record.Told)
	strike.Facts = []journal.Fact{journal.Strike(wrong.ID)}
	accept(t, f, wrong, right, strike)
	got, err := reopen(t, f).History(ctx, "part/deck")
	if err != nil || len(got) != 2 || !got[0].Struck || got[1].Struck || got[0].Entry.ID != wrong.ID || got[1].Fact.Value != `"Deck"` {
		t.Errorf("History = %v, %v", got, err)
	}
}
