package plan

import (
	"fmt"
	"strings"

	"dogshore/calendar"
	"dogshore/record"
)

// name returns how a person calls a subject.
func (d *reading) name(ref record.Ref) string {
	switch ref.Kind() {
	case "step":
		if s := d.steps[ref]; s != nil && s.Name != "" {
			return s.Name
		}
		if s := d.left[ref]; s.Name != "" {
			return s.Name
		}
	case "part":
		if p := d.parts[ref]; p.Name != "" {
			return p.Name
		}
	case "person":
		if p := d.people[ref]; p.Name != "" {
			return p.Name
		}
	}
	return d.r.Name(ref)
}

// short prints a day inside a sentence, the year only if it is not this one.
func (d *reading) short(day calendar.Day) string {
	if day == 0 {
		return "a day that nobody noted"
	}
	if day.Time().Year() == d.day.Time().Year() {
		return day.Time().Format("2 January")
	}
	return day.Time().Format("2 January 2006")
}

// onWord says on whose word something stands.
func (d *reading) onWord(s record.Statement) string {
	who := "the yard"
	if s.By != "" {
		who = d.name(s.By)
	}
	if h, ok := d.r.Held(s.Self, "when"); ok && inWriting(h.Entry.Grounds) {
		return fmt.Sprintf("as %s wrote on %s", who, d.short(s.On))
	}
	return fmt.Sprintf("on %s's word of %s", who, d.short(s.On))
}

// byClause says on what a cut-off rests.
func (d *reading) byClause(c record.Cutoff) string {
	switch {
	case c.Clause != "":
		return "by the contract, clause " + strings.TrimPrefix(c.Clause, "clause ")
	case c.By != "":
		return fmt.Sprintf("a cut-off named by %s", d.name(c.By))
	}
	return "a cut-off on record, without a clause"
}

// clause takes a text into a sentence: no full stop at its end.
func clause(s string) string { return strings.TrimRight(strings.TrimSpace(s), ".") }

// inWriting reports whether grounds are a paper's.
func inWriting(g record.Grounds) bool { return g == record.Written || g == record.Certified }

// doubt notes a contradiction.
func (d *reading) doubt(kind DoubtKind, says string, about []record.Ref, sides ...string) {
	d.a.Doubts = append(d.a.Doubts, Doubt{Kind: kind, About: about, Says: says, Sides: sides})
}
