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
// something was written: no record and no review is remembered; with what is kept
// of past visits, as a running program has it, and with all of that made anew, as
// at the first page after a start.
func BenchmarkReview(b *testing.B) {
	f, day := fullDemo(b)
	known := journal.Now // another one each time: no record is remembered
	for _, kept := range []bool{true, false} {
		b.Run(map[bool]string{true: "then=kept", false: "then=anew"}[kept], func(b *testing.B) {
			b.ReportAllocs()
			memo, before := new(review.Memo), cpuTime()
			for b.Loop() {
				if !kept {
					memo = new(review.Memo)
				}
				if _, err := memo.Read(context.Background(), f, day, known); err != nil {
					b.Fatal(err)
				}
				known--
			}
			report(b, cpuTime()-before)
		})
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
