// Package template lays the first record of a build: the assemblies that a
// boat of its type and way of building usually has, their stages in the usual
// order, what each stage covers up, and rough outlines to draw them by.
//
// All of it is inferred and says so; nothing has a duration, a date or a mass.
// The tables (hull.go, deck.go, structure.go, inside.go, systems.go, rig.go,
// launch.go) are common practice; a figure in a text names where it comes from
// in brackets behind it.
package template

import (
	"fmt"
	"slices"
	"strings"

	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// Usual is what every step and cover says of where it comes from.
const Usual = "usual order, no source"

// Author is who has written what a template lays.
const Author = "template"

// Origin is the origin of the entries that a template lays.
const Origin = "template: usual order and rough outlines, no source"

// Subject is one subject that the template has something to say of.
type Subject struct {
	Ref    record.Ref
	Fields map[string]record.Value
}

// Lay returns one entry for each subject of the template for a build, and one
// for the build itself. draft makes empty entries: those of the template with
// grounds inferred, that of the build with grounds written.
func Lay(b record.Build, draft func(record.Grounds) journal.Entry) ([]journal.Entry, error) {
	subjects, err := Subjects(b)
	if err != nil {
		return nil, err
	}
	self := draft(record.Written)
	self.Facts = journal.Facts(record.R("build", "build"), record.Values(b))
	out := []journal.Entry{self}
	for _, s := range subjects {
		e := draft(record.Inferred)
		e.Author, e.Since, e.Grounds, e.Origin = Author, journal.Always, record.Inferred, Origin
		e.Facts = journal.Facts(s.Ref, s.Fields)
		out = append(out, e)
	}
	return out, nil
}

// Subjects returns what the template says of a build, in the order: places,
// parts, stands, steps, links, covers. The five choices of the build must be
// made; without a length there are no outlines.
func Subjects(b record.Build) ([]Subject, error) {
	if err := chosen(b); err != nil {
		return nil, err
	}
	l := layOut(b)
	var out []Subject
	out = append(out, l.places()...)
	out = append(out, l.parts()...)
	out = append(out, l.stands()...)
	out = append(out, l.stepSubjects()...)
	out = append(out, l.linkSubjects()...)
	return append(out, l.coverSubjects()...), nil
}

func chosen(b record.Build) error {
	var missing []string
	for _, c := range []struct{ value, field string }{
		{b.Boat, "boat"}, {b.Way, "way"}, {b.Hulls, "hulls"}, {b.Series, "series"},
	} {
		of := record.KindOf("build").Field(c.field).Of
		if !slices.Contains(of, c.value) {
			missing = append(missing, fmt.Sprintf("%s (%s)", c.field, strings.Join(of, " or ")))
		}
	}
	if missing != nil {
		return fmt.Errorf("a template needs to know of the build: %s", strings.Join(missing, ", "))
	}
	return nil
}

// holds reports whether all words of only hold of the build. "" always does.
func holds(b record.Build, only string) bool {
	has := map[string]bool{
		b.Boat: true, b.Series: true,
		"infused":   b.Way == "infused sandwich",
		"hand-laid": b.Way == "hand-laid",
		"halves":    b.Hulls == "in halves",
		"one-piece": b.Hulls == "one piece",
	}
	for _, w := range strings.Fields(only) {
		if !has[w] {
			return false
		}
	}
	return true
}

func number(v float64) unit.Quantity { return unit.Q(v, unit.Number) }

func subject[T any](kind, key string, s T) Subject {
	return Subject{record.R(kind, key), record.Values(s)}
}
