package store_test

import (
	"bufio"
	"context"
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
)

// writerFolder is set for this test binary when it runs as a writer.
const writerFolder = "DOGSHORE_TEST_WRITER"

func TestMain(m *testing.M) {
	if dir := os.Getenv(writerFolder); dir != "" {
		if err := writeForEver(dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

// writeForEver accepts entry after entry and prints the id of each as soon as
// Accept has returned.
func writeForEver(dir string) error {
	ctx := context.Background()
	f, err := store.Open(ctx, dir, time.Now)
	if err != nil {
		return err
	}
	for i := 0; ; i++ {
		e := f.Draft("writer", journal.Always, record.Told)
		e.Facts = []journal.Fact{
			{Kind: "note", Key: e.ID, Field: "text", Value: record.Encode(fmt.Sprint("note ", i))},
			{Kind: "note", Key: e.ID, Field: "about", Value: record.Encode(record.Ref("build/build"))},
		}
		if _, err := f.Accept(ctx, e); err != nil {
			return err
		}
		if _, err := fmt.Println(e.ID); err != nil {
			return err
		}
	}
}

// Writers are killed at random moments within a thousand writes. Whatever they
// had acknowledged is there afterwards, the file is sound and the chain whole.
func TestKilledWriterLosesNothing(t *testing.T) {
	if testing.Short() {
		t.Skip("a thousand writes, each to the disk")
	}
	const writes = 1000
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	f := create(t)
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	var acknowledged []string
	rounds := 0
	for ; len(acknowledged) < writes; rounds++ {
		done := make(chan []string, 2)
		writers := 1 + rounds%2 // every other time two processes write at once
		for range writers {
			after, wait := 1+rnd.IntN(80), time.Duration(rnd.IntN(4000))*time.Microsecond
			go func() { done <- killWriter(t, f.Dir(), after, wait) }()
		}
		for range writers {
			acknowledged = append(acknowledged, <-done...)
		}
		if t.Failed() {
			return
		}
		allThere(t, f.Dir(), acknowledged)
	}
	t.Logf("%d writes acknowledged, killed in %d rounds", len(acknowledged), rounds)
}

// killWriter starts a writer, kills it a while after it has acknowledged some
// entries, and returns all that it acknowledged.
func killWriter(t *testing.T, dir string, after int, wait time.Duration) []string {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), writerFolder+"="+dir)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Error(err)
		return nil
	}
	var ids []string
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		ids = append(ids, lines.Text())
		if len(ids) == after {
			go func() {
				time.Sleep(wait)
				_ = cmd.Process.Kill() // SIGKILL; Wait tells
			}()
		}
	}
	if err := cmd.Wait(); err == nil || len(ids) < after {
		t.Errorf("the writer ended by itself after %d entries: %v", len(ids), err)
	}
	return ids
}

func allThere(t *testing.T, dir string, ids []string) {
	t.Helper()
	ctx := context.Background()
	f, err := store.Open(ctx, dir, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	r, err := f.As(ctx, today, journal.Now)
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range ids {
		e, err := f.Entry(ctx, id)
		if err != nil || e == nil || len(e.Facts) != 2 {
			t.Fatalf("entry %s was acknowledged and is not there whole: %v, %v", id, e, err)
		}
		if !r.Has(record.R("note", id)) {
			t.Fatalf("the note of entry %s is not in the record", id)
		}
	}
	if err := f.Verify(ctx); err != nil {
		t.Fatal(err)
	}
	var says string
	if err := raw(t, dir).QueryRow(`PRAGMA integrity_check`).Scan(&says); err != nil || says != "ok" {
		t.Fatalf("integrity_check: %s, %v", says, err)
	}
}

// raw opens the database as any SQLite program would.
func raw(t *testing.T, dir string) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(dir, "build.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() })
	return db
}
