package visit

import (
	"fmt"
	"testing"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// build makes a record entry by entry, through the door.
type build struct {
	t *testing.T
	j journal.Journal
	n int64
}

// day counts days of April 2026: the 1st is a Wednesday.
func day(n int) calendar.Day { return calendar.Date(2026, 4, n) }

// put writes a subject as one entry that holds from since, and returns its ref.
func put[T any](b *build, since calendar.Day, g record.Grounds, key string, x T) record.Ref {
	b.t.Helper()
	kind := record.KindFor[T]().Name
	b.n++
	e := journal.Entry{
		ID: fmt.Sprintf("e%04d", b.n), Stamp: journal.Stamp(b.n), Since: since, Author: "owner",
		Grounds: g, Version: journal.Version, Arrival: b.n,
	}
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

func (b *build) as(d calendar.Day) *journal.Record { return b.j.As(d, journal.Now) }

// visit puts a visit by the owner, or by whom it says.
func (b *build) visit(key string, d calendar.Day, by string) record.Ref {
	return put(b, d, record.Seen, key, record.Visit{Day: d, By: by})
}

// person puts a person of a role; may says whether their yes changes what is
// built.
func (b *build) person(key, name, role string, may record.Flag) record.Ref {
	return put(b, journal.Always, record.Written, key, record.Person{Name: name, Role: role, MayInstruct: may})
}

func (b *build) part(key, name string) record.Ref {
	return put(b, journal.Always, record.Written, key, record.Part{Name: name})
}

// step puts a step and returns it as the plan would have it.
func (b *build) step(part record.Ref, key, name, state string, ahead int) plan.Step {
	x := record.Step{Name: name, Part: part, Rank: unit.Q(float64(b.n), unit.Number)}
	x.Self = put(b, journal.Always, record.Written, key, x)
	s := plan.Step{Step: x, State: state, Grounds: record.Seen, Ahead: ahead}
	if state == "under way" || state == "done" {
		s.Begun = day(1)
	}
	return s
}

// look is a look before a step, as the plan asks for it.
func look(subject, on, before record.Ref, ahead int, by calendar.Day) desk.Act {
	a := desk.Act{ID: "look/" + string(subject), Do: desk.Look, Where: desk.AtVisit, Subject: subject, On: on, Before: before, Ahead: ahead, Gravity: desk.Structure}
	if by.Known() {
		a.By = desk.When{Day: by, Basis: desk.YardsWord, Said: "on the yard's word"}
	}
	return a
}

func ids(acts []desk.Act) []string {
	out := []string{}
	for _, a := range acts {
		out = append(out, a.ID)
	}
	return out
}

func find(t *testing.T, acts []desk.Act, id string) desk.Act {
	t.Helper()
	for _, a := range acts {
		if a.ID == id {
			return a
		}
	}
	t.Fatalf("no act %q among %v", id, ids(acts))
	return desk.Act{}
}
