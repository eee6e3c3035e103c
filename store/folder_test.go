package store_test

import (
	"context"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
)

var today = calendar.Date(2027, 4, 12)

func noon() time.Time { return today.Time().Add(12 * time.Hour) }

func create(t *testing.T) *store.Folder {
	t.Helper()
	f, err := store.Create(context.Background(), t.TempDir(), noon)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	return f
}

func TestWhatIsAcceptedIsThereAgain(t *testing.T) {
	ctx := context.Background()
	f := create(t)
	e := f.Draft("owner", journal.Always, record.Written)
	e.Facts = []journal.Fact{{Kind: "part", Key: "deck", Field: "name", Value: record.Encode("Deck")}}
	if n, err := f.Accept(ctx, e); err != nil || n != 1 {
		t.Fatalf("Accept = %d, %v", n, err)
	}
	if n, err := f.Accept(ctx, e); err != nil || n != 0 {
		t.Fatalf("Accept again = %d, %v", n, err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	g, err := store.Open(ctx, f.Dir(), noon)
	if err != nil {
		t.Fatal(err)
	}
	defer g.Close()
	r, err := g.As(ctx, today, journal.Now)
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Name("part/deck"); got != `"Deck"` && got != "Deck" {
		t.Errorf("name = %q", got)
	}
}
