package store_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"dogshore/record"
	"dogshore/store"
)

// Whatever is changed behind the program's back, Verify finds, and says where.
func TestVerifyFindsTheFirstChange(t *testing.T) {
	ctx := context.Background()
	for _, c := range []struct {
		change  string
		arrival int64
	}{
		{`UPDATE fact SET value = '"Other"' WHERE entry = 3`, 3},
		{`UPDATE fact SET over = 'x' WHERE entry = 4`, 4},
		{`UPDATE fact SET key = 'keel' WHERE entry = 2`, 2},
		{`UPDATE entry SET author = 'somebody else' WHERE arrival = 5`, 5},
		{`UPDATE entry SET since = '2027-01-01' WHERE arrival = 1`, 1},
		{`UPDATE entry SET stamp = stamp + 1 WHERE arrival = 6`, 6},
		{`INSERT INTO fact VALUES (3, 1, 'part', 'p3', 'side', '"port"', '')`, 3},
		{`DELETE FROM fact WHERE entry = 3`, 3},
		{`DELETE FROM fact WHERE entry = 3; DELETE FROM entry WHERE arrival = 3`, 3},
		{`UPDATE entry SET checksum = x'00' WHERE arrival = 4`, 4},
	} {
		t.Run(c.change, func(t *testing.T) {
			f := create(t)
			for i := 1; i <= 6; i++ {
				accept(t, f, named(f, fmt.Sprint("p", i), "Part"))
			}
			if err := f.Verify(ctx); err != nil {
				t.Fatalf("before anything was changed: %v", err)
			}
			if _, err := raw(t, f.Dir()).Exec(c.change); err != nil {
				t.Fatal(err)
			}
			var broken *store.BrokenError
			if err := f.Verify(ctx); !errors.As(err, &broken) || broken.Arrival != c.arrival {
				t.Errorf("Verify = %v, want broken at %d", err, c.arrival)
			}
		})
	}
}

func TestVerifyOfNothing(t *testing.T) {
	if err := create(t).Verify(context.Background()); err != nil {
		t.Error(err)
	}
}

// What is taken out is gone from the folder's database, here and in another
// open folder; its hash and the reason stay, and the chain holds.
func TestExpungeText(t *testing.T) {
	ctx := context.Background()
	f := create(t)
	g := reopen(t, f)
	e := named(f, "deck", "Deck")
	e.Facts[0].Kind, e.Facts[0].Field, e.Facts[0].Value = "person", "contact", record.Encode("zanzibar 0815 4711")
	accept(t, f, e, named(f, "hull", "Hull"))
	if h, ok := asOfToday(t, g).Held("person/deck", "contact"); !ok || h.Value != `"zanzibar 0815 4711"` {
		t.Fatalf("held %v", h)
	}
	if err := f.ExpungeText(ctx, e.ID, "person/deck", "contact", "owner", "asked for on 12 April"); err != nil {
		t.Fatal(err)
	}
	const left = `"(taken out on 2027-04-12 by owner: asked for on 12 April)"`
	for _, x := range []*store.Folder{f, g, reopen(t, f)} {
		if h, ok := asOfToday(t, x).Held("person/deck", "contact"); !ok || h.Value != left {
			t.Errorf("held %v", h)
		}
		if err := x.Verify(ctx); err != nil {
			t.Error(err)
		}
	}
	accept(t, g, named(g, "keel", "Keel"))
	if err := g.Verify(ctx); err != nil {
		t.Error(err)
	}
	if found := inFolder(t, f.Dir(), "zanzibar"); found != "" {
		t.Errorf("%s still has it", found)
	}
	for _, bad := range []error{
		f.ExpungeText(ctx, e.ID, "person/deck", "contact", "owner", "again"),
		f.ExpungeText(ctx, "no such entry", "person/deck", "contact", "owner", "why"),
		f.ExpungeText(ctx, e.ID, "person/deck", "may_accept", "owner", "no text"),
		f.ExpungeText(ctx, e.ID, "person/deck", "contact", "owner", " "),
	} {
		if bad == nil {
			t.Error("was done")
		}
	}
	// Something else taken out and put back by hand is found.
	if _, err := raw(t, f.Dir()).Exec(`UPDATE fact SET value = '"x"' WHERE entry = 2`); err != nil {
		t.Fatal(err)
	}
	var broken *store.BrokenError
	if err := f.Verify(ctx); !errors.As(err, &broken) || broken.Arrival != 2 {
		t.Errorf("Verify = %v", err)
	}
}
