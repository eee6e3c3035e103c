package plan

import (
	"fmt"

	"dogshore/journal"
	"dogshore/record"
)

// readHolds finds the steps that wait for a release or are announced. A hold
// binds only with the contract's clause and somebody named who may release
// it; without them the look before is advice.
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
		d.doubtRelease(s, h)
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

// doubtRelease notes releases that do not fit what was seen.
func (d *reading) doubtRelease(s *Step, h Hold) {
	if h.Released == nil {
		return
	}
	if !h.ByRight {
		d.doubt(Power, fmt.Sprintf("%s was released by %s, who is not on record as one who may.", capital(s.Name), d.name(h.Released.By)),
			[]record.Ref{s.Self, h.Released.Self}, "released by "+d.name(h.Released.By), "may release: "+d.releaser(s))
	}
	if begun := d.begunDay(s.Self); begun != 0 && h.Released.Day > begun {
		d.doubt(Released, fmt.Sprintf("%s was released on %s, but seen begun by %s.", capital(s.Name), d.short(h.Released.Day), d.short(begun)),
			[]record.Ref{s.Self, h.Released.Self}, "released "+d.short(h.Released.Day), "begun by "+d.short(begun))
	}
}

func (d *reading) releaser(s *Step) string {
	if s.Releaser == "" {
		return "nobody named"
	}
	return d.name(s.Releaser)
}
