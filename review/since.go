package review

import (
	"cmp"
	"fmt"
	"slices"

	"dogshore/journal"
	"dogshore/record"
)

// since says what is different since the last visit: what happened on the
// boat (as of now against as of then, both with all that is known now), and
// what was learned of the time before (as of then, with all that is known now
// against what was known then). On the first day of a build, when nothing was
// known then, nothing counts as learned.
func since(now *journal.Record, past Past) Change {
	c := Change{Visit: past.Visit}
	if past.Then == nil {
		return c
	}
	c.Happened = differences(now, past.Then)
	if past.Knew != nil && !empty(past.Knew) {
		c.Learned = differences(past.Then, past.Knew)
	}
	return c
}

func empty(r *journal.Record) bool {
	for _, k := range record.Kinds() {
		if len(r.Refs(k.Name)) > 0 {
			return false
		}
	}
	return true
}

// silent are the kinds whose changes say nothing by themselves: how things
// hang together, and what was written about them.
var silent = map[string]bool{
	"link": true, "cover": true, "photo": true, "line": true, "letter": true, "ruling": true,
	"calendar": true, "closure": true, "stand": true, "place": true, "option": true,
}

// mostNew bounds how many new definitions of one kind are named: a template
// lays a hundred steps in one go.
const mostNew = 6

// differences lists what a holds that b does not, in the order of the days on
// which it holds.
func differences(a, b *journal.Record) []Difference {
	var out []Difference
	order := map[string]int{}
	known := sighted(b)
	for i := range record.Kinds() {
		k := &record.Kinds()[i]
		order[k.Name] = i
		if silent[k.Name] {
			continue
		}
		var fresh []Difference
		for _, self := range a.Refs(k.Name) {
			switch x, ok := journal.Get[record.Sighting](a, self); {
			case ok && !b.Has(self) && (!happens[x.State] || known[state{x.Step, x.State}]):
				continue // that nothing had begun, or that it still is as it was
			case !b.Has(self):
				fresh = append(fresh, difference(a, self, appeared(a, k, self)))
			default:
				out = append(out, changes(a, b, k, self)...)
			}
		}
		if !k.Adds && len(fresh) > mostNew {
			last := fresh[len(fresh)-1]
			last.About, last.Says = "", fmt.Sprintf("%d %s were entered", len(fresh), lower(k.Plural))
			fresh = []Difference{last}
		}
		out = append(out, fresh...)
	}
	slices.SortStableFunc(out, func(x, y Difference) int {
		return cmp.Or(cmp.Compare(x.Day, y.Day), cmp.Compare(order[x.About.Kind()], order[y.About.Kind()]), cmp.Compare(x.About, y.About), cmp.Compare(x.Says, y.Says))
	})
	return out
}

// happens are the sightings that say that something did.
var happens = map[string]bool{"under way": true, "done": true}

type state struct {
	step  record.Ref
	state string
}

// sighted are the states that steps were seen in.
func sighted(r *journal.Record) map[state]bool {
	out := map[state]bool{}
	for _, x := range journal.All[record.Sighting](r) {
		out[state{x.Step, x.State}] = true
	}
	return out
}

// difference is a change that came with the entry that first spoke of self.
func difference(r *journal.Record, self record.Ref, says string) Difference {
	d := Difference{About: self, Says: says}
	if e := r.From(self); e != nil {
		d.Entry = e.ID
		if e.Since != journal.Always {
			d.Day = e.Since
		}
	}
	return d
}

// changes lists the fields of a subject that another value holds for now.
func changes(a, b *journal.Record, k *record.Kind, self record.Ref) []Difference {
	var out []Difference
	for i := range k.Fields {
		f := &k.Fields[i]
		if k.Name == "visit" && (f.Name == "closed" || f.Name == "planned") {
			continue // how a visit is kept is nothing that happened
		}
		x, ok := a.Held(self, f.Name)
		y, had := b.Held(self, f.Name)
		if !ok && !had || ok && had && (x.Entry == y.Entry || f.Same(x.Value, y.Value)) {
			continue
		}
		d := Difference{About: self}
		switch {
		case !ok:
			d.Says = fmt.Sprintf("%s: %s is no longer said (was %s)", called(a, self), f.Title, shown(b, f, y.Value))
			out = append(out, d)
			continue
		case f.Name == "withdrawn" && x.Value == record.Encode(record.Yes):
			d.Says = fmt.Sprintf("%s %s was withdrawn", k.Title, quoted(a.Name(self)))
		case !had:
			d.Says = fmt.Sprintf("%s: %s is now %s", called(a, self), f.Title, shown(a, f, x.Value))
		default:
			d.Says = fmt.Sprintf("%s: %s is now %s, was %s", called(a, self), f.Title, shown(a, f, x.Value), shown(b, f, y.Value))
		}
		d.Entry = x.Entry.ID
		if x.Entry.Since != journal.Always {
			d.Day = x.Entry.Since
		}
		out = append(out, d)
	}
	return out
}
