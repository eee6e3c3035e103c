package plan

import (
	"fmt"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
)

// readHolds finds the steps that wait for a release or are announced. A hold
// binds only with the contract's clause and somebody named who may release
// it; without them the look before is advice.
//
// Contracts read a hold two ways: the step may not begin before its release,
// or the work may not go on past it. Here both are in order: a hold is passed
// over only when a step that comes after it was begun without a release by
// somebody who may.
func (d *reading) readHolds() {
	releases := map[record.Ref][]record.Release{}
	for _, r := range journal.All[record.Release](d.r) {
		releases[r.Step] = append(releases[r.Step], r)
	}
	for _, ref := range d.live {
		s := d.steps[ref]
		if s.Point != "hold" && s.Point != "witness" {
			continue
		}
		h := Hold{Step: ref, Kind: s.Point, Binding: s.Point == "hold" && s.Clause != "" && s.Releaser != ""}
		for _, r := range releases[ref] {
			right := d.mayRelease(s, r.By)
			if h.Released == nil || right && !h.ByRight || right == h.ByRight && d.laterRelease(r, *h.Released) {
				h.Released, h.ByRight = &r, right
			}
		}
		h.Next, h.Passed = d.heldBack(s)
		if h.Binding {
			h.Passed = d.begunDay(ref)
		}
		if h.Released != nil {
			d.doubtRelease(s, h)
		}
		d.a.Holds = append(d.a.Holds, h)
	}
}

func (d *reading) laterRelease(a, b record.Release) bool {
	return a.Day > b.Day || a.Day == b.Day && a.Self > b.Self
}

// mayRelease reports whether a person may release a step: the one it names,
// or, where it names nobody, anyone who may release at all.
func (d *reading) mayRelease(s *Step, who record.Ref) bool {
	if s.Releaser != "" {
		return who == s.Releaser && d.people[who].MayRelease != record.No
	}
	return d.people[who].MayRelease == record.Yes
}

// heldBack returns the first step that comes after a hold, and the day by
// which any such step was firmly known to have begun.
func (d *reading) heldBack(s *Step) (next record.Ref, passed calendar.Day) {
	for _, l := range d.out[s.Self] {
		if l.typ != programme.FS {
			continue
		}
		if next == "" || d.aheadOf(l.to) < d.aheadOf(next) {
			next = l.to
		}
		if by := d.begunDay(l.to); by != 0 && (passed == 0 || by < passed) {
			next, passed = l.to, by
		}
	}
	return next, passed
}

// doubtRelease notes a release that does not fit what was seen.
func (d *reading) doubtRelease(s *Step, h Hold) {
	about, day := []record.Ref{s.Self, h.Released.Self}, h.Released.Day
	if !h.ByRight {
		d.doubt(Power, fmt.Sprintf("%s was released by %s, who is not on record as one who may.", desk.Capital(desk.The(s.Name)), d.name(h.Released.By)),
			about, "released by "+d.name(h.Released.By), "may release: "+d.releaser(s))
	}
	if h.Binding && h.Passed != 0 && day > h.Passed {
		d.doubt(Released, fmt.Sprintf("%s was released on %s, after it had begun.", desk.Capital(desk.The(s.Name)), d.short(day)),
			about, "released "+d.short(day), "begun by "+d.short(h.Passed))
	}
	for _, l := range d.in[s.Self] {
		if e := d.happenedToStep(l.from, isDone); l.typ == programme.FS && e.from > day {
			d.doubt(Premature, fmt.Sprintf("%s was released on %s, when %s was not done.", desk.Capital(desk.The(s.Name)), d.short(day), desk.The(d.name(l.from))),
				append(about, l.from), "released "+d.short(day), fmt.Sprintf("%s not done on %s", d.name(l.from), d.short(e.from)))
		}
	}
}

func (d *reading) releaser(s *Step) string {
	if s.Releaser == "" {
		return "nobody named"
	}
	return d.name(s.Releaser)
}
