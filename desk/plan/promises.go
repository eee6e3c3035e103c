package plan

import (
	"fmt"
	"sort"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// What a statement says is going to happen, as the record's choices have it.
const (
	starts   = "starts"
	isDone   = "is done"
	arrives  = "arrives"
	ordered  = "is ordered"
	launch   = "launch"
	handOver = "hand-over"
	answered = "is answered"
)

// gatherSaid reads what was said, oldest first for each subject. Where the
// words leave no choice what is meant, what happens then is filled in.
func (d *reading) gatherSaid() {
	d.said = map[record.Ref][]Promise{}
	for _, s := range journal.All[record.Statement](d.r) {
		if s.On > d.day || s.About == "" {
			continue
		}
		if s.What == "" {
			s.What = onlyMeaning(s.About.Kind())
		}
		if s.What == "" && s.When.Known() {
			d.doubt(Meaning, fmt.Sprintf("A date was said of %s on %s, but not whether it starts or is done then.", desk.The(d.name(s.About)), d.short(s.On)), []record.Ref{s.Self})
		}
		d.said[s.About] = append(d.said[s.About], Promise{Statement: s})
	}
	for _, all := range d.said {
		sort.Slice(all, func(i, k int) bool { return d.saidBefore(&all[i], &all[k]) })
	}
}

func onlyMeaning(kind string) string {
	switch kind {
	case "item":
		return arrives
	case "point", "question":
		return answered
	case "defect":
		return isDone
	}
	return ""
}

func (d *reading) saidBefore(a, b *Promise) bool {
	if a.On != b.On {
		return a.On < b.On
	}
	x, y := d.r.From(a.Self), d.r.From(b.Self)
	if x.Stamp != y.Stamp {
		return x.Stamp < y.Stamp
	}
	return a.Self < b.Self
}

// latest returns the last thing said about a subject that ok accepts.
func (d *reading) latest(about record.Ref, ok func(*Promise) bool) (Promise, bool) {
	all := d.said[about]
	for i := len(all) - 1; i >= 0; i-- {
		if ok(&all[i]) {
			return all[i], true
		}
	}
	return Promise{}, false
}

// hasDay accepts promises that something happens on a day.
func hasDay(what string) func(*Promise) bool {
	return func(p *Promise) bool { return p.What == what && p.When.Known() }
}

// judgePromises says of each dated statement what became of it, and counts by
// person. A promise is judged by what was seen, by whatever day it was seen,
// never by the word of who gave it.
func (d *reading) judgePromises() {
	abouts := make([]record.Ref, 0, len(d.said))
	for about := range d.said {
		if !d.leftOut(about) {
			abouts = append(abouts, about)
		}
	}
	sort.Slice(abouts, func(i, k int) bool { return abouts[i] < abouts[k] })
	for _, about := range abouts {
		all := d.said[about]
		for i := range all {
			if all[i].When.Known() && all[i].What != "" {
				d.judge(&all[i], all[i+1:])
				d.a.Promises = append(d.a.Promises, all[i])
			}
		}
		if s := d.steps[about]; s != nil {
			s.Said = latestFirst(all)
		}
	}
	sort.SliceStable(d.a.Promises, func(i, k int) bool { return d.saidBefore(&d.a.Promises[i], &d.a.Promises[k]) })
	d.countKeepers()
}

// leftOut reports whether a subject is no part of this boat any more: nobody
// has to keep a word on it.
func (d *reading) leftOut(about record.Ref) bool {
	if _, ok := d.left[about]; ok {
		return true
	}
	h, ok := d.r.Held(about, "withdrawn")
	return ok && h.Value == record.Encode(record.Yes)
}

func latestFirst(all []Promise) []Promise {
	out := make([]Promise, 0, len(all))
	for i := len(all) - 1; i >= 0; i-- {
		out = append(out, all[i])
	}
	return out
}

// judge settles one promise, later being what was said of the same thing
// afterwards.
func (d *reading) judge(p *Promise, later []Promise) {
	due := p.When.Last
	var next *Promise
	for i := range later {
		if later[i].What != p.What || !later[i].When.Known() {
			continue
		}
		if sameSpan(later[i].When, p.When) {
			p.Again = true
			continue
		}
		next = &later[i]
		p.Replaced = next.Self
		break
	}
	e := d.happened(p.About, p.What)
	switch {
	case e.by != 0 && e.from > e.by:
		p.State = EitherWay // the sightings contradict each other
	case e.by != 0 && e.by <= due:
		p.State, p.SeenOn = Kept, e.by
	case next != nil && next.On <= due:
		p.State = Moved
	case e.from > due:
		p.State, p.SeenOn, p.Late, p.Within = Broken, e.from, int(e.from-due), e.from != e.by
	case next != nil && next.When.First > due:
		p.State, p.Late, p.Within = Broken, int(next.On-due), true // on their own later word
	case e.by != 0:
		p.State, p.SeenOn, p.Within = EitherWay, e.by, true
	case d.day <= due:
		p.State = Pending
	default:
		p.State = Unseen
	}
}

func sameSpan(a, b calendar.Span) bool { return a.First == b.First && a.Last == b.Last }

// countKeepers counts promises by person. What was said again in the same
// words counts once.
func (d *reading) countKeepers() {
	count := map[record.Ref]*Keeper{}
	var order []record.Ref
	for _, p := range d.a.Promises {
		if p.Again {
			continue
		}
		k := count[p.Statement.By]
		if k == nil {
			k = &Keeper{Who: p.Statement.By}
			count[p.Statement.By] = k
			order = append(order, p.Statement.By)
		}
		switch p.State {
		case Kept:
			k.Kept++
		case Broken:
			k.Broken++
		case Moved:
			k.Moved++
		case EitherWay:
			k.Unclear++
		default:
			k.Open++
		}
	}
	sort.Slice(order, func(i, k int) bool { return order[i] < order[k] })
	for _, who := range order {
		d.a.Keepers = append(d.a.Keepers, *count[who])
	}
}
