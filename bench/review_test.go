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

// BenchmarkMoved is what moved the launch since the last visit, on top of the
// review: with what had been learned by that visit kept, as after something new
// was written; with the account itself kept; and with nothing, as a command has
// it.
func BenchmarkMoved(b *testing.B) {
	f, day := fullDemo(b)
	ctx := context.Background()
	memo := new(review.Memo)
	now, err := memo.Read(ctx, f, day, journal.Now)
	if err != nil {
		b.Fatal(err)
	}
	earlier, err := memo.Read(ctx, f, day-1, journal.Now) // the same last visit, another account
	if err != nil {
		b.Fatal(err)
	}
	for _, name := range []string{"then=learned", "account=kept", "then=anew"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			before := cpuTime()
			for k := 0; b.Loop(); k++ {
				v := &now
				if name == "then=learned" && k%2 == 1 {
					v = &earlier
				}
				if name == "then=anew" {
					memo = new(review.Memo)
				}
				if m, err := memo.Moved(ctx, f, v); err != nil || m == nil {
					b.Fatal(m, err)
				}
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
