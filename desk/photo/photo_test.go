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

// spots is a shed with outlines: a deck of 10 x 4 m at 1.0 to 1.2 m above the
// water, with a foredeck on it, and a hull below.
func spots(t *testing.T) *build {
	b := shed(t)
	box := func(x0, y0, x1, y1 float64) record.Outline {
		return record.Outline{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
	}
	put(b, journal.Always, "deck", record.Part{Plan: box(0, -2, 10, 2), Profile: box(0, 1, 10, 1.2)})
	put(b, journal.Always, "hull", record.Part{Plan: box(0, -2, 10, 2), Profile: box(0, -0.5, 10, 1)})
	put(b, journal.Always, "foredeck", record.Place{Plan: box(7, -2, 10, 2)})
	return b
}

// What lies at a tapped place is what holds it in each outline that can say
// so; what the tap does not say comes from the outline of the smallest.
func TestHere(t *testing.T) {
	r := spots(t).j.As(day(23), journal.Now)
	for _, c := range []struct {
		name string
		tap  Tap
		want string
		spot record.Spot
		from record.Ref
	}{
		{"from above, on the foredeck", Tap{X: 8, Y: 1, NoZ: true}, "[place/foredeck part/deck part/hull]", record.Spot{Known: true, X: 8, Y: 1, Z: 1.1}, "part/deck"},
		{"from above, aft", Tap{X: 2, Y: -1, NoZ: true}, "[part/deck part/hull]", record.Spot{Known: true, X: 2, Y: -1, Z: 1.1}, "part/deck"},
		{"from the side, in the hull", Tap{X: 2, Z: 0.2, NoY: true}, "[part/hull]", record.Spot{Known: true, X: 2, Z: 0.2}, "part/hull"},
		{"all three", Tap{X: 2, Y: 1, Z: 0.2}, "[part/hull]", record.Spot{Known: true, X: 2, Y: 1, Z: 0.2}, ""},
		{"beside her", Tap{X: 2, Y: 3, NoZ: true}, "[]", record.Spot{}, ""},
	} {
		if got := fmt.Sprint(Here(r, c.tap)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		spot, from, ok := Whole(r, c.tap)
		if spot != c.spot || from != c.from || ok != c.spot.Known {
			t.Errorf("%s: %+v from %q, %v", c.name, spot, from, ok)
		}
	}
}

// Behind a tapped place stand the pictures near it and those of no spot that
// are of what lies there; one with its spot elsewhere does not, and the order
// of before and after is kept.
func TestBehindATap(t *testing.T) {
	b := spots(t)
	at := func(x, y float64) record.Spot { return record.Spot{Known: true, X: x, Y: y, Z: 1.1} }
	b.photo("near", 1, record.Photo{Part: "part/deck", Spot: at(8.3, 0.7)})
	b.photo("far", 1, record.Photo{Part: "part/deck", Spot: at(2, 0)})
	b.photo("no-spot", 8, record.Photo{Part: "part/deck"})
	b.photo("near-unsorted", 8, record.Photo{Spot: at(8, 0.2)})
	b.photo("near-after", 22, record.Photo{Spot: at(8, 0.9)})
	b.photo("at-place", 1, record.Photo{Place: "place/foredeck"})
	b.photo("hull", 1, record.Photo{Part: "part/hull"})
	r := b.j.As(day(23), journal.Now)
	here, layers := Read(r).At(r, plan.Read(r), Tap{X: 8, Y: 1, NoZ: true})
	if len(here) != 3 || len(layers) != 2 || layers[0].Step != "step/core" {
		t.Fatalf("here %v, layers %+v", here, layers)
	}
	if got, want := names(layers[0].Photos), "near-unsorted no-spot at-place near "; got != want {
		t.Errorf("behind the core: %q, want %q", got, want)
	}
	_, aft := Read(r).At(r, plan.Read(r), Tap{X: 2, Y: 0, Z: 1.1})
	if got, want := names(aft[0].Photos), "no-spot far "; got != want {
		t.Errorf("behind the core, aft: %q, want %q", got, want)
	}
}

// Each word of the field has its direction, of length 1, all different.
func TestTowards(t *testing.T) {
	seen := map[[3]float64]string{}
	for _, w := range record.KindFor[record.Photo]().Field("facing").Of {
		d := Towards(w)
		if l := d[0]*d[0] + d[1]*d[1] + d[2]*d[2]; l < 0.999 || l > 1.001 || seen[d] != "" {
			t.Errorf("%s: %v (as %q)", w, d, seen[d])
		}
		seen[d] = w
	}
}
