package bench

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"sync"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/unit"
)

// manyEntries is far more than one build brings: a visit a week for three
// years with a hundred entries each makes 16,000.
const manyEntries = 200_000

var firstDay = calendar.Date(2026, 1, 5)

const (
	buildDays = 900
	visits    = 300
)

// entries makes n entries of invented data: one in ten lays or edits a
// definition, the rest are observations, with 3.4 facts each on average.
func entries(n int) []journal.Entry {
	rnd := rand.New(rand.NewPCG(1, 2))
	out := make([]journal.Entry, 0, n)
	stamp := journal.Stamp(0)
	began := firstDay.Time()
	last := map[string]string{}
	for i := range n {
		day := firstDay + calendar.Day(i*buildDays/n)
		stamp = stamp.Next(began.Add(time.Duration(i) * time.Minute))
		e := journal.Entry{
			ID:    fmt.Sprintf("0198%04x-%04x-7%03x-8%03x-%012x", i>>16, i&0xffff, rnd.IntN(4096), rnd.IntN(4096), i),
			Stamp: stamp, Since: day, Wall: day.Time(), Author: "owner", Grounds: record.Seen, Version: journal.Version,
			Visit: record.R("visit", fmt.Sprint("v", i*visits/n)), Origin: "visit form",
		}
		e.Facts = facts(rnd, i, n, day, last)
		for k := range e.Facts {
			f := &e.Facts[k]
			slot := f.Kind + "/" + f.Key + "/" + f.Field
			if f.Kind != "part" || rnd.IntN(50) > 0 { // some write without looking
				f.Over = last[slot]
			}
			last[slot] = e.ID
		}
		out = append(out, e)
	}
	return out
}

func facts(rnd *rand.Rand, i, n int, day calendar.Day, last map[string]string) []journal.Fact {
	some := func(kind string, of int) record.Ref { return record.R(kind, fmt.Sprint(kind, rnd.IntN(of))) }
	visit := record.R("visit", fmt.Sprint("v", i*visits/n))
	key := fmt.Sprint("n", i)
	say := func(kind, key string, fv ...any) []journal.Fact {
		var out []journal.Fact
		for k := 0; k < len(fv); k += 2 {
			out = append(out, journal.Fact{Kind: kind, Key: key, Field: fv[k].(string), Value: record.Encode(fv[k+1])})
		}
		return out
	}
	above := func(self record.Ref) record.Ref { // a part of a lower number, so that none lies in itself
		var n int
		if _, err := fmt.Sscanf(self.Key(), "part%d", &n); err != nil {
			panic(err)
		}
		if n == 0 {
			return ""
		}
		return record.R("part", fmt.Sprint("part", n/8))
	}
	mm := func(v float64) unit.Quantity {
		q := unit.Q(v/1000, unit.Length)
		q.As = fmt.Sprintf("%.1f mm", v)
		return q
	}
	parts, steps := n/100, n/20
	part := func(self record.Ref) []journal.Fact {
		return say("part", self.Key(), "name", fmt.Sprint("Part ", rnd.IntN(9), " of ", self.Key()), "within", above(self), "side", "port")
	}
	step := func(self record.Ref) []journal.Fact {
		return say("step", self.Key(), "name", "Core of "+self.Key(), "part", some("part", parts), "stage", "core", "look", "edges bedded, no gaps over the limit in the drawing")
	}
	switch { // the template comes first
	case i < parts:
		return part(record.R("part", fmt.Sprint("part", i)))
	case i < parts+steps:
		return step(record.R("step", fmt.Sprint("step", i-parts)))
	case i < parts+steps+visits:
		return say("visit", fmt.Sprint("v", i-parts-steps), "day", firstDay+calendar.Day((i-parts-steps)*buildDays/visits), "by", "owner")
	}
	switch d := rnd.IntN(100); {
	case d < 3:
		return part(some("part", parts))
	case d < 8:
		return step(some("step", steps))
	case d < 9:
		return say("visit", visit.Key(), "note", "rain, two men off")
	case d < 10:
		self := some("point", n/400)
		return say("point", self.Key(), "question", "Where does "+self.Key()+" go?", "gravity", "structure")
	case d < 60:
		return say("sighting", key, "visit", visit, "step", some("step", steps), "state", "under way", "note", "as drawn")
	case d < 75:
		return say("measurement", key, "visit", visit, "what", "core thickness at frame 4", "of", some("part", parts), "got", mm(20+rnd.Float64()*5))
	case d < 95:
		return say("photo", key, "name", fmt.Sprintf("IMG_%06d.jpg", i), "visit", visit, "part", some("part", parts))
	}
	return say("note", key, "text", "The yard wrote that the foam comes in the second week of the month, and that the bulkheads wait for it.", "about", some("part", parts))
}

// built makes a build folder with all the entries, once for all benchmarks.
func built(b *testing.B) string {
	b.Helper()
	dir, err := builtOnce()
	if err != nil {
		b.Fatal(err)
	}
	runtime.GC()
	return dir
}

var builtDir string

var builtOnce = sync.OnceValues(func() (dir string, err error) {
	if builtDir, err = os.MkdirTemp("", "dogshore-bench-"); err != nil {
		return "", err
	}
	f, err := store.Create(context.Background(), builtDir, clock)
	if err != nil {
		return "", err
	}
	_, err = f.Accept(context.Background(), entries(manyEntries)...)
	return builtDir, errors.Join(err, f.Close())
})

func TestMain(m *testing.M) {
	code := m.Run()
	if builtDir != "" {
		_ = os.RemoveAll(builtDir) // in the system's folder for such things
	}
	os.Exit(code)
}

func clock() time.Time { return (firstDay + buildDays).Time().Add(12 * time.Hour) }

func opened(b *testing.B, dir string) *store.Folder {
	b.Helper()
	f, err := store.Open(context.Background(), dir, clock)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = f.Close() })
	return f
}

// BenchmarkOpen opens the folder: all entries are in memory, ready to be folded.
func BenchmarkOpen(b *testing.B) {
	dir := built(b)
	var used time.Duration
	for b.Loop() {
		before := cpuTime()
		f, err := store.Open(context.Background(), dir, clock)
		if err != nil {
			b.Fatal(err)
		}
		if n, err := f.Last(context.Background()); err != nil || n < manyEntries {
			b.Fatalf("%d entries, %v", n, err)
		}
		b.StopTimer()
		used += cpuTime() - before
		if err := f.Close(); err != nil {
			b.Fatal(err)
		}
		runtime.GC()
		b.StartTimer()
	}
	report(b, used)
}

// report adds the processor time of one round to what is printed.
func report(b *testing.B, used time.Duration) {
	b.ReportMetric(float64(used.Microseconds())/1000/float64(b.N), "cpu-ms/op")
}

// BenchmarkAsOf folds the record of another day each time, and lists the
// subjects of each kind.
func BenchmarkAsOf(b *testing.B) {
	f := opened(b, built(b))
	ctx := context.Background()
	i := 0
	before := cpuTime()
	for b.Loop() {
		i++
		r, err := f.As(ctx, firstDay+calendar.Day(i*37%buildDays), manyEntries+int64(i)) // never one that is remembered
		if err != nil {
			b.Fatal(err)
		}
		for _, k := range record.Kinds() {
			r.Refs(k.Name)
		}
	}
	report(b, cpuTime()-before)
}

// BenchmarkDoubts folds as BenchmarkAsOf does, and judges the record as well.
func BenchmarkDoubts(b *testing.B) {
	f := opened(b, built(b))
	i := 0
	before := cpuTime()
	for b.Loop() {
		i++
		r, err := f.As(context.Background(), firstDay+calendar.Day(i*37%buildDays), manyEntries+int64(i))
		if err != nil {
			b.Fatal(err)
		}
		r.Doubts()
	}
	report(b, cpuTime()-before)
}

// BenchmarkHistory asks for all that was ever said of one part.
func BenchmarkHistory(b *testing.B) {
	f := opened(b, built(b))
	i := 0
	before := cpuTime()
	for b.Loop() {
		i++
		if _, err := f.History(context.Background(), record.R("part", fmt.Sprint("part", i%1000))); err != nil {
			b.Fatal(err)
		}
	}
	report(b, cpuTime()-before)
}

// BenchmarkAccept accepts one entry at a time, each to the disk, with the
// doubts judged anew: onto a build of a year, and onto far too many entries.
func BenchmarkAccept(b *testing.B) {
	year := b.TempDir()
	f, err := store.Create(context.Background(), year, clock)
	if err != nil {
		b.Fatal(err)
	}
	if _, err := f.Accept(context.Background(), entries(5_000)...); err != nil {
		b.Fatal(err)
	}
	if err := f.Close(); err != nil {
		b.Fatal(err)
	}
	for _, on := range []struct{ name, dir string }{{"n=5000", year}, {"n=200000", built(b)}} {
		b.Run(on.name, func(b *testing.B) {
			f := opened(b, on.dir)
			before := cpuTime()
			for b.Loop() {
				e := f.Draft("owner", firstDay+buildDays, record.Seen)
				e.Facts = []journal.Fact{{Kind: "note", Key: e.ID, Field: "text", Value: record.Encode("one more")}}
				if _, err := f.Accept(context.Background(), e); err != nil {
					b.Fatal(err)
				}
			}
			report(b, cpuTime()-before)
		})
	}
}
