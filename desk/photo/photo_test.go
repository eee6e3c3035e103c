package photo

import (
	"fmt"
	"testing"

	"dogshore/calendar"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

type build struct {
	t *testing.T
	j journal.Journal
	n int64
}

func day(n int) calendar.Day { return calendar.Date(2026, 4, n) }

func put[T any](b *build, since calendar.Day, key string, x T) record.Ref {
	b.t.Helper()
	kind := record.KindFor[T]().Name
	b.n++
	e := journal.Entry{ID: fmt.Sprintf("e%04d", b.n), Stamp: journal.Stamp(b.n), Since: since, Author: "owner", Grounds: record.Seen, Version: journal.Version, Arrival: b.n}
	for field, v := range record.Values(x) {
		e.Facts = append(e.Facts, journal.Fact{Kind: kind, Key: key, Field: field, Value: v})
	}
	e, err := journal.Check(e)
	if err != nil {
		b.t.Fatal(err)
	}
	b.j.Add(e)
	return record.R(kind, key)
}

// shed is a deck whose core covers its outer skin, seen begun on the 15th, and
// whose inner skin covers the core later.
func shed(t *testing.T) *build {
	b := &build{t: t}
	put(b, journal.Always, "foredeck", record.Place{Name: "Foredeck"})
	put(b, journal.Always, "deck", record.Part{Name: "Deck", Place: "place/foredeck"})
	put(b, journal.Always, "hull", record.Part{Name: "Hull"})
	for i, s := range []string{"skin", "core", "inner"} {
		put(b, journal.Always, s, record.Step{Name: s, Part: "part/deck", Rank: unit.Q(float64(i), unit.Number)})
	}
	put(b, journal.Always, "l1", record.Link{From: "step/skin", To: "step/core", Type: "FS"})
	put(b, journal.Always, "l2", record.Link{From: "step/core", To: "step/inner", Type: "FS"})
	put(b, journal.Always, "plies", record.Cover{Step: "step/core", What: "part/deck", Hides: "the outer plies"})
	put(b, journal.Always, "blocks", record.Cover{Step: "step/inner", What: "part/deck", Hides: "the core"})
	for _, d := range []int{1, 8, 15, 22} {
		put(b, day(d), fmt.Sprintf("v%d", d), record.Visit{Day: day(d), By: "owner"})
	}
	put(b, day(12), "mail", record.Visit{Day: day(12), By: "pictures"})
	put(b, day(15), "s", record.Sighting{Visit: "visit/v15", Step: "step/core", State: "under way"})
	return b
}

func (b *build) photo(key string, d int, p record.Photo) record.Ref {
	p.Name = key
	if p.Visit == "" {
		p.Visit = record.Ref(fmt.Sprintf("visit/v%d", d))
	}
	return put(b, day(d), key, p)
}

func names(of []Photo) string {
	out := ""
	for _, p := range of {
		out += p.Name + " "
	}
	return out
}

// Behind a closed core stand the pictures of the deck from before the day on
// which it was known to have begun; one of that day counts only where somebody
// said so, and one of another part never.
func TestBehindWhatWasClosed(t *testing.T) {
	b := shed(t)
	b.photo("early", 1, record.Photo{Part: "part/deck"})
	b.photo("by-place", 8, record.Photo{Place: "place/foredeck"})
	b.photo("that-day", 15, record.Photo{Part: "part/deck"})
	b.photo("that-day-before", 15, record.Photo{Part: "part/deck", Before: "step/core"})
	shows := b.photo("that-day-shows", 15, record.Photo{Part: "part/deck"})
	b.photo("after", 22, record.Photo{Part: "part/deck"})
	b.photo("hull", 1, record.Photo{Part: "part/hull"})
	b.photo("unsorted", 1, record.Photo{})
	put(b, day(15), "e", record.Evidence{Shows: "cover/plies", Photo: shows})
	r := b.j.As(day(23), journal.Now)
	p := plan.Read(r)
	layers := Read(r).Behind(r, p, "place/foredeck")
	if len(layers) != 2 || layers[0].Step != "step/core" || layers[1].Step != "step/inner" {
		t.Fatalf("layers %+v", layers)
	}
	if got, want := names(layers[0].Photos), "that-day-shows that-day-before by-place early "; got != want {
		t.Errorf("behind the core: %q, want %q", got, want)
	}
	if layers[0].Shown != 1 || layers[0].Closed != day(15) || !layers[0].Begun {
		t.Errorf("%d shown, closed %s", layers[0].Shown, layers[0].Closed)
	}
	if got := len(layers[1].Photos); got != 6 || layers[1].Begun {
		t.Errorf("behind the inner skin, still open: %d pictures", got)
	}
	if got := Read(r).Behind(r, p, "part/hull"); len(got) != 0 {
		t.Errorf("behind the hull, which nothing covers: %+v", got)
	}
}

// Somebody else's picture is shown, not seen.
func TestShownIsNotSeen(t *testing.T) {
	b := shed(t)
	put(b, journal.Always, "kim", record.Person{Name: "Kim"})
	b.photo("mine", 1, record.Photo{})
	b.photo("theirs", 1, record.Photo{By: "person/kim"})
	b.photo("mailed", 12, record.Photo{Visit: "visit/mail"})
	r := b.j.As(day(23), journal.Now)
	want := map[string]record.Grounds{"mine": record.Seen, "theirs": record.Shown, "mailed": record.Shown}
	for _, p := range Read(r).Photos {
		if p.How != want[p.Name] {
			t.Errorf("%s: %s, want %s", p.Name, p.How, want[p.Name])
		}
	}
}

// A picture is likely of what its neighbours were sorted to, and what was seen
// at that visit.
func TestSuggestions(t *testing.T) {
	b := shed(t)
	b.photo("a", 15, record.Photo{Part: "part/hull", Time: "10:00"})
	self := b.photo("b", 15, record.Photo{Time: "10:01"})
	r := b.j.As(day(23), journal.Now)
	a := Read(r)
	one, _ := a.Photo(self)
	got := a.Suggest(r, plan.Read(r), one, 9)
	if len(got) < 2 || got[0] != "part/hull" || got[1] != "part/deck" {
		t.Errorf("suggested %v", got)
	}
	if got := a.Suggest(r, plan.Read(r), one, 1); len(got) != 1 {
		t.Errorf("one was asked for: %v", got)
	}
}

// Pictures of one view stand beside each other, whatever the case it was
// written in, oldest first.
func TestSameView(t *testing.T) {
	b := shed(t)
	b.photo("late", 22, record.Photo{View: "From the bow"})
	b.photo("early", 1, record.Photo{View: "from the bow "})
	b.photo("other", 1, record.Photo{View: "stern"})
	v := Read(b.j.As(day(23), journal.Now)).Views
	if len(v) != 2 || names(v[0].Photos) != "early late " {
		t.Errorf("views %+v", v)
	}
}
