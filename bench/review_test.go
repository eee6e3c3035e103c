package bench

import (
	"context"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/demo"
	"dogshore/journal"
	"dogshore/review"
	"dogshore/store"
)

// BenchmarkReview is the review of the full demo as a page asks for it after
// something was written: no record and no review is remembered.
func BenchmarkReview(b *testing.B) {
	f, day := fullDemo(b)
	b.ReportAllocs()
	var memo review.Memo                          // as a running program has it
	for known := journal.Now; b.Loop(); known-- { // another "known by" each time: no record is remembered
		if _, err := memo.Read(context.Background(), f, day, known); err != nil {
			b.Fatal(err)
		}
	}
}

func fullDemo(b *testing.B) (*store.Folder, calendar.Day) {
	b.Helper()
	dir := b.TempDir()
	if err := demo.Make(context.Background(), dir, demo.Full); err != nil {
		b.Fatal(err)
	}
	f, err := store.Open(context.Background(), dir, time.Now)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = f.Close() })
	day, err := demo.Today(demo.Full)
	if err != nil {
		b.Fatal(err)
	}
	return f, day
}
