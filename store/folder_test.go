package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
)

var today = calendar.Date(2027, 4, 12)

func noon() time.Time { return today.Time().Add(12 * time.Hour) }

func create(t testing.TB) *store.Folder {
	t.Helper()
	f, err := store.Create(context.Background(), t.TempDir(), noon)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	return f
}

// reopen opens the folder of f once more, as another process would.
func reopen(t testing.TB, f *store.Folder) *store.Folder {
	t.Helper()
	g, err := store.Open(context.Background(), f.Dir(), noon)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = g.Close() })
	return g
}

// named drafts an entry that names a part.
func named(f *store.Folder, key, name string) journal.Entry {
	e := f.Draft("owner", journal.Always, record.Written)
	e.Facts = []journal.Fact{{Kind: "part", Key: key, Field: "name", Value: record.Encode(name)}}
	return e
}

func accept(t testing.TB, f *store.Folder, entries ...journal.Entry) {
	t.Helper()
	if n, err := f.Accept(context.Background(), entries...); err != nil || n != len(entries) {
		t.Fatalf("%d of %d accepted: %v", n, len(entries), err)
	}
}

func asOfToday(t testing.TB, f *store.Folder) *journal.Record {
	t.Helper()
	r, err := f.As(context.Background(), today, journal.Now)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestWhatIsAcceptedIsThereAgain(t *testing.T) {
	f := create(t)
	e := named(f, "deck", "Deck")
	e.Visit, e.Origin, e.Batch = "visit/v1", "parts.csv, row 3", "import 1"
	e.Wall = e.Wall.In(time.FixedZone("", 2*3600)).Add(time.Nanosecond)
	accept(t, f, e)
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	g := reopen(t, f)
	got, err := g.Entry(context.Background(), e.ID)
	if err != nil || got == nil {
		t.Fatalf("Entry = %v, %v", got, err)
	}
	if !got.Wall.Equal(e.Wall) || !got.Received.Equal(noon()) || got.Arrival != 1 {
		t.Errorf("wall %v, received %v, arrival %d", got.Wall, got.Received, got.Arrival)
	}
	if got.Stamp != e.Stamp || got.Since != e.Since || got.Author != e.Author || got.Visit != e.Visit || got.Grounds != e.Grounds ||
		got.Origin != e.Origin || got.Batch != e.Batch || got.Version != e.Version || len(got.Facts) != 1 || got.Facts[0] != e.Facts[0] {
		t.Errorf("got %+v, want %+v", got, e)
	}
	if name := asOfToday(t, g).Name("part/deck"); name != "Deck" {
		t.Errorf("name = %q", name)
	}
}

func TestFoldersThatCannotBeOpened(t *testing.T) {
	ctx := context.Background()
	if _, err := store.Open(ctx, t.TempDir(), noon); !errors.Is(err, os.ErrNotExist) || !strings.Contains(err.Error(), "holds no build") {
		t.Errorf("an empty folder: %v", err)
	}
	f := create(t)
	if _, err := store.Create(ctx, f.Dir(), noon); err == nil || !strings.Contains(err.Error(), "holds a build already") {
		t.Errorf("a second build in a folder: %v", err)
	}
	other := t.TempDir()
	if err := os.WriteFile(filepath.Join(other, "build.db"), []byte(strings.Repeat("no database ", 100)), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Open(ctx, other, noon); err == nil || !strings.Contains(err.Error(), "build.db is no build's") {
		t.Errorf("a file that is no database: %v", err)
	}
}

func TestNewerSchemaIsRefused(t *testing.T) {
	f := create(t)
	accept(t, f, named(f, "deck", "Deck"))
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	db := raw(t, f.Dir())
	if _, err := db.Exec(`PRAGMA user_version = 99`); err != nil {
		t.Fatal(err)
	}
	_, err := store.Open(context.Background(), f.Dir(), noon)
	if !errors.Is(err, store.ErrNewer) || !strings.Contains(err.Error(), "schema 99") {
		t.Errorf("Open = %v", err)
	}
	if n := table(t, db, `SELECT 'entries', count(*) AS n FROM entry`)["entries"]["n"]; n != int64(1) {
		t.Errorf("%v entries are left of 1", n)
	}
}

// Folder names with marks that mean something in the address of a database.
func TestFolderNames(t *testing.T) {
	for _, name := range []string{"with blank", "50% done?", "a#b&c=d", "bug's;build", "Öl"} {
		dir := filepath.Join(t.TempDir(), name)
		f, err := store.Create(context.Background(), dir, noon)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		accept(t, f, named(f, "deck", "Deck"))
		if err := f.Close(); err != nil {
			t.Error(err)
		}
		if _, err := os.Stat(filepath.Join(dir, "build.db")); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A first start that was interrupted before the tables stood is finished.
func TestUnfinishedStartIsFinished(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "build.db"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	f, err := store.Open(context.Background(), dir, noon)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	accept(t, f, named(f, "deck", "Deck"))
}
