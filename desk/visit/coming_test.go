package visit

import (
	"slices"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

const journal0 = calendar.Day(18263) // 1 January 1950, from which structure always held

func TestJournalAlways(t *testing.T) {
	if journal.Always != journal0 {
		t.Fatalf("Always is day %d", journal.Always)
	}
}

// foredeck is a build with two looks that can't be had later, one of a deck
// two steps from now and one of a hull that comes next.
func foredeck(t *testing.T) (*build, plan.Answer) {
	b := &build{t: t}
	deck, hull := b.part("deck", "deck"), b.part("hull", "port hull")
	core := b.step(deck, "deck-core", "deck core", "not started", 2)
	skin := b.step(hull, "hull-skin", "port hull inner skin", "not started", 0)
	c1 := put(b, journal0, record.Written, "c1", record.Cover{Step: core.Self, Hides: "the inserts"})
	c2 := put(b, journal0, record.Written, "c2", record.Cover{Step: skin.Self, Hides: "the core joints", Evidence: "a picture of each insert with a tape"})
	p := plan.Answer{Steps: []plan.Step{core, skin}}
	p.Acts = []desk.Act{look(c1, deck, core.Self, 2, 0), look(c2, hull, skin.Self, 0, 0)}
	return b, p
}

// Without dates one comes before the nearest step, and asks when that is.
func TestComingByEvent(t *testing.T) {
	b, p := foredeck(t)
	got := Read(b.as(day(8)), p).Next
	if got.Day.Known() || !strings.HasPrefix(got.Why, "The last look before the port hull inner skin: it hides the core joints.") || !strings.Contains(got.Why, "ask the yard") {
		t.Errorf("by event: %+v", got)
	}
	want := []string{"port hull, the core joints: a picture of each insert with a tape", "deck, the inserts: one from afar, one close by with a tape and a label in it"}
	if !slices.Equal(got.Pictures, want) {
		t.Errorf("pictures %q", got.Pictures)
	}
}

// With dates one comes at the earliest last look; a day that is fixed already
// is held against it.
func TestComingByDate(t *testing.T) {
	for fixed, words := range map[int]string{0: "", 15: "comes in time", 20: "comes after it"} {
		b, p := foredeck(t)
		p.Acts[0].By = desk.When{Day: day(16)}
		if fixed > 0 {
			put(b, day(8), record.Written, "build", record.Build{Name: "Petrel", NextVisit: day(fixed)})
		}
		got := Read(b.as(day(8)), p).Next
		if got.Day.Day != day(16) || !strings.HasPrefix(got.Why, "The last look before the deck core") || !strings.Contains(got.Why, words) {
			t.Errorf("fixed for the %d: %+v", fixed, got)
		}
	}
}

// A date that is past gives way to one that is still to come.
func TestComingOverdue(t *testing.T) {
	b, p := foredeck(t)
	p.Acts[0].By, p.Acts[1].By = desk.When{Day: day(16)}, desk.When{Day: day(3)}
	if got := Read(b.as(day(8)), p).Next; got.Day.Day != day(16) {
		t.Errorf("come by %s", got.Day.Day)
	}
	if got := Read(b.as(day(20)), p).Next; got.Day.Known() || !strings.HasPrefix(got.Why, "Come now. ") {
		t.Errorf("all overdue: come by %s: %s", got.Day.Day, got.Why)
	}
}

// What was begun is no reason to come, nor what was waived.
func TestComingForNothing(t *testing.T) {
	b, p := foredeck(t)
	p.Acts[0].Gone = true
	put(b, day(8), record.Written, "w", record.Ruling{Act: p.Acts[1].ID, Says: "waive", Day: day(8)})
	if got := Read(b.as(day(8)), p).Next; got.Day.Known() || len(got.Pictures) != 0 || got.Why == "" {
		t.Errorf("nothing left to look at: %+v", got)
	}
}

func TestWhomToSend(t *testing.T) {
	b := &build{t: t}
	if got := Read(b.as(day(8)), plan.Answer{}).Next.Who; !strings.Contains(got, "nobody is on record") {
		t.Errorf("send %q", got)
	}
	b.person("s", "Mara", "surveyor", "")
	if got := Read(b.as(day(8)), plan.Answer{}).Next.Who; got != "Mara (surveyor)" {
		t.Errorf("send %q", got)
	}
}

// A planned visit whose day has passed was missed: it raises no alarm, and is
// no visit.
func TestMissedVisit(t *testing.T) {
	b := &build{t: t}
	v1, v2 := b.visit("v1", day(1), "owner"), b.visit("v2", day(3), "pictures")
	b.visit("v3", day(4), "call")
	put(b, day(1), record.Written, "v4", record.Visit{Day: day(5), By: "owner", Planned: record.Yes})
	put(b, day(1), record.Written, "v5", record.Visit{Day: day(12), By: "owner", Planned: record.Yes})
	got := Read(b.as(day(8)), plan.Answer{})
	if got.Last.Self != v2 || got.Before.Self != v1 {
		t.Errorf("last %s, before %s", got.Last.Self, got.Before.Self)
	}
	if got.Next.Fixed != day(12) || len(got.Acts) != 0 {
		t.Errorf("next %+v, acts %v", got.Next, ids(got.Acts))
	}
}
