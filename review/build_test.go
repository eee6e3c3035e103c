package review

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"sync"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/template"
	"dogshore/unit"
)

// build is a build kept in memory: entries come through the door, received on
// the day that is set. It counts the records it is asked for.
type build struct {
	t     testing.TB
	j     *journal.Journal
	today calendar.Day
	n     int64
	asked int
}

func newBuild(t testing.TB) *build {
	return &build{t: t, j: &journal.Journal{}, today: day(1)}
}

// day counts days of April 2026: the 1st is a Wednesday.
func day(n int) calendar.Day { return calendar.Date(2026, 4, n) }

func (b *build) As(_ context.Context, day calendar.Day, known int64) (*journal.Record, error) {
	b.asked++
	return b.j.As(day, known), nil
}

func (b *build) Arrived(_ context.Context, day calendar.Day) (int64, error) {
	var out int64
	for _, e := range b.j.Entries() {
		if calendar.Of(e.Received) <= day {
			out = max(out, e.Arrival)
		}
	}
	return out, nil
}

// review reviews the build as of a day, with all that is known now.
func (b *build) review(d calendar.Day) Review {
	b.t.Helper()
	v, err := Read(context.Background(), b, d, journal.Now)
	if err != nil {
		b.t.Fatal(err)
	}
	return v
}

func (b *build) draft(g record.Grounds) journal.Entry {
	b.n++
	return journal.Entry{
		ID: fmt.Sprintf("e%05d", b.n), Stamp: journal.Stamp(b.n), Since: b.today, Received: b.today.Time().Add(18 * time.Hour),
		Author: "owner", Grounds: g, Version: journal.Version, Arrival: b.n,
	}
}

func (b *build) add(e journal.Entry) {
	b.t.Helper()
	e, err := journal.Check(e)
	if err != nil {
		b.t.Fatal(err)
	}
	b.j.Add(e)
}

// put writes a subject as one entry that holds from today.
func put[T any](b *build, g record.Grounds, key string, x T) record.Ref {
	b.t.Helper()
	return putSince(b, b.today, g, key, x)
}

// always writes a subject that holds always.
func always[T any](b *build, key string, x T) record.Ref {
	b.t.Helper()
	return putSince(b, journal.Always, record.Written, key, x)
}

func putSince[T any](b *build, from calendar.Day, g record.Grounds, key string, x T) record.Ref {
	b.t.Helper()
	kind := record.KindFor[T]().Name
	e := b.draft(g)
	e.Since = from
	values := record.Values(x)
	for _, field := range slices.Sorted(maps.Keys(values)) {
		e.Facts = append(e.Facts, journal.Fact{Kind: kind, Key: key, Field: field, Value: values[field]})
	}
	b.add(e)
	return record.R(kind, key)
}

// visit puts a visit of today; see notes what was seen at it.
func (b *build) visit(by string) record.Ref {
	return put(b, record.Seen, "v"+b.today.String(), record.Visit{Day: b.today, By: by})
}

func (b *build) see(visit record.Ref, step, state string) {
	put(b, record.Seen, visit.Key()+"-"+step, record.Sighting{Visit: visit, Step: record.R("step", step), State: state})
}

// laid is what a template lays for a sloop, let through the door once.
var laid = sync.OnceValue(func() []journal.Entry {
	b := newBuild(nil)
	entries, err := template.Lay(record.Build{
		Name: "Petrel", Boat: "monohull", Way: "infused sandwich", Hulls: "one piece", Series: "series",
		Length: unit.Q(9.8, unit.Length),
	}, b.draft)
	if err != nil {
		panic(err)
	}
	for i, e := range entries {
		if entries[i], err = journal.Check(e); err != nil {
			panic(err)
		}
	}
	return entries
})

// thin is what somebody has after twenty minutes: a sloop off the template,
// twelve taps, five points, one visit. No date, no duration, no price.
func thin(t testing.TB) *build {
	b := newBuild(t)
	for _, e := range laid() {
		b.n++
		b.j.Add(e)
	}
	v := b.visit("owner")
	for _, done := range []string{"hull-mould", "hull-gelcoat", "hull-skin-coat", "hull-outer-skin", "deck-mould", "deck-gelcoat", "deck-skin-coat", "deck-outer-skin"} {
		b.see(v, done, "done")
	}
	b.see(v, "hull-core", "done")
	b.see(v, "hull-inner-skin", "done")
	b.see(v, "hull-bagged", "under way")
	b.see(v, "deck-core", "under way")
	point := func(key, question, gravity, step string) {
		put(b, record.Told, key, record.Point{Question: question, Gravity: gravity, CoveredBy: record.R("step", step)})
	}
	point("stem-eye", "Where does the stem eye go?", "structure", "deck-inner-skin")
	point("jackstays", "Where do the jackstays end, and on what?", "safety", "deck-inner-skin")
	point("windlass", "Which windlass?", "needs cutting", "deck-inner-skin")
	point("berth", "How long is the aft berth?", "finish", "joinery-fitted")
	point("tanks", "Which tank material?", "needs cutting", "tanks-fitted")
	return b
}

// week is an ISO week of 2026, as the yard says it.
func week(n int) calendar.Span {
	monday := calendar.Date(2025, 12, 29) + calendar.Day(7*(n-1))
	return calendar.Span{First: monday, Last: monday + 6, As: fmt.Sprintf("W%d", n)}
}
