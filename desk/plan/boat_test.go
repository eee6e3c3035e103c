package plan

import (
	"fmt"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// boat builds small records for tests, an entry for each subject.
type boat struct {
	entries []journal.Entry
	day     calendar.Day
}

func on(text string) calendar.Day {
	d, err := calendar.ParseISO(text)
	if err != nil {
		panic(err)
	}
	return d
}

// newBoat is an empty record as of a day, with a yard lead who may instruct, a
// laminator who may not, and a surveyor who may release.
func newBoat(day string) *boat {
	b := &boat{day: on(day)}
	put(b, "", "lead", record.Person{Name: "Yard lead", Role: "yard lead", MayInstruct: record.Yes, MayRelease: record.No})
	put(b, "", "hand", record.Person{Name: "Laminator", Role: "yard hand", MayInstruct: record.No})
	put(b, "", "surveyor", record.Person{Name: "Surveyor", Role: "surveyor", MayRelease: record.Yes})
	put(b, "", "deck", record.Part{Name: "deck"})
	put(b, "", "hull", record.Part{Name: "hull"})
	return b
}

// put adds a subject. since "" is always; grounds follow the kind.
func put[T any](b *boat, since, key string, subject T) { putAs(b, since, key, groundsOf[T](), subject) }

func groundsOf[T any]() record.Grounds {
	switch record.KindFor[T]().Name {
	case "sighting", "arrival", "remedy", "evidence":
		return record.Seen
	case "measurement":
		return record.Measured
	case "statement", "agreement", "decision":
		return record.Told
	}
	return record.Written
}

func putAs[T any](b *boat, since, key string, grounds record.Grounds, subject T) {
	kind := record.KindFor[T]().Name
	e := journal.Entry{
		ID: fmt.Sprintf("%s-%s", kind, key), Stamp: journal.Stamp(len(b.entries) + 1), Since: journal.Always,
		Wall: time.Unix(0, 0).UTC(), Received: time.Unix(0, 0).UTC(), Author: "owner", Grounds: grounds, Version: journal.Version,
		Arrival: int64(len(b.entries) + 1),
	}
	if since != "" {
		e.Since = on(since)
	}
	for _, f := range record.KindOf(kind).Fields {
		if v, ok := record.Values(subject)[f.Name]; ok {
			e.Facts = append(e.Facts, journal.Fact{Kind: kind, Key: key, Field: f.Name, Value: v})
		}
	}
	checked, err := journal.Check(e)
	if err != nil {
		panic(err)
	}
	b.entries = append(b.entries, checked)
}

// chain lays steps on a part, each waiting for the one before.
func (b *boat) chain(part string, stages ...string) {
	for i, s := range stages {
		key := part + "-" + s
		put(b, "", key, record.Step{Name: part + " " + s, Part: record.R("part", part), Stage: s, Rank: unit.Q(float64(10*i+10), unit.Number)})
		if i > 0 {
			b.link(part+"-"+stages[i-1], key, "FS")
		}
	}
}

func (b *boat) link(from, to, typ string) {
	put(b, "", from+"-"+to, record.Link{From: record.R("step", from), To: record.R("step", to), Type: typ})
}

// see adds a visit by owner on a day (once) and a sighting at it.
func (b *boat) see(day, step, state string) { b.seeAs(day, "owner", step, state) }

func (b *boat) seeAs(day, by, step, state string) {
	visit := "v-" + day + "-" + by
	b.visit(day, by)
	g := map[string]record.Grounds{"owner": record.Seen, "surveyor": record.Seen, "pictures": record.Shown, "call": record.Told}[by]
	putAs(b, day, visit+"-"+step, g, record.Sighting{Visit: record.R("visit", visit), Step: record.R("step", step), State: state})
}

func (b *boat) visit(day, by string) {
	key := "v-" + day + "-" + by
	for _, e := range b.entries {
		if e.ID == "visit-"+key {
			return
		}
	}
	put(b, day, key, record.Visit{Day: on(day), By: by})
}

// says adds a statement by the yard lead.
func (b *boat) says(key, day, about, what, first, last string) {
	put(b, day, key, record.Statement{About: record.Ref(about), What: what, When: calendar.Span{First: on(first), Last: on(last)}, By: "person/lead", On: on(day)})
}

func (b *boat) record() *journal.Record {
	var j journal.Journal
	j.Add(b.entries...)
	return j.As(b.day, journal.Now)
}

func (b *boat) read() Answer { return Read(b.record()) }

// without returns the boat less the entries of some ids.
func (b *boat) without(ids ...string) *boat {
	out := &boat{day: b.day}
next:
	for _, e := range b.entries {
		for _, id := range ids {
			if e.ID == id {
				continue next
			}
		}
		out.entries = append(out.entries, e)
	}
	return out
}

func wd(days float64) unit.Quantity { return unit.Q(days, unit.Work) }

func work(days float64) record.ThreePoint {
	return record.ThreePoint{Known: true, Low: days, Mode: days, High: days, Dim: unit.Work, As: fmt.Sprintf("%g d", days)}
}

func act(t *testing.T, a Answer, id string) desk.Act {
	t.Helper()
	if x := find(a, id); x != nil {
		return *x
	}
	var ids []string
	for _, x := range a.Acts {
		ids = append(ids, x.ID)
	}
	t.Fatalf("no act %q among %v", id, ids)
	return desk.Act{}
}

func find(a Answer, id string) *desk.Act {
	for i := range a.Acts {
		if a.Acts[i].ID == id {
			return &a.Acts[i]
		}
	}
	return nil
}

func noAct(t *testing.T, a Answer, id string) {
	t.Helper()
	if x := find(a, id); x != nil {
		t.Errorf("act %q: %s", id, x.Say)
	}
}

func step(t *testing.T, a Answer, key string) Step {
	t.Helper()
	if s := a.Step(record.R("step", key)); s != nil {
		return *s
	}
	t.Fatalf("no step %q", key)
	return Step{}
}

func hours(h float64) unit.Quantity { return unit.Q(h*3600, unit.Time) }
