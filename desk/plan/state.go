package plan

import (
	"fmt"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/programme"
	"dogshore/record"
)

// settleStates says of each step where it stands and how that is known: what
// was seen of it, else what was told, else what follows from a later step.
func (d *reading) settleStates() {
	over := d.toldOver()
	for _, ref := range d.live {
		s := d.steps[ref]
		seen, told := d.lastLooks(ref)
		if seen != nil {
			s.State, s.Grounds, s.Since = seen.state, seen.grounds, seen.day
		}
		d.weighInferred(s, seen)
		if told != nil {
			d.weighTold(s, told)
		}
		if over[ref] && stage(s.State) < stage(done) && !d.firmlyAfterTold(ref) && (told == nil || told.state != done) {
			s.State, s.Grounds, s.Since, s.NeverSeen = done, record.Inferred, 0, true
		}
		s.Begun = d.begunDay(ref)
	}
}

// lastLooks returns the latest firm look at a step and the latest told one.
func (d *reading) lastLooks(ref record.Ref) (seen, told *look) {
	all := d.looks[ref]
	for i := range all {
		if all[i].firm() {
			seen = &all[i]
		} else {
			told = &all[i]
		}
	}
	return seen, told
}

// weighInferred lets a later step's sighting say more of s than was seen of s
// itself, but never against a look of the same day or later: that is a
// contradiction, which the engine reports.
func (d *reading) weighInferred(s *Step, seen *look) {
	t := s.Times
	if !t.Inferred || stage(string(t.State)) < 0 {
		return
	}
	if seen != nil {
		bound := t.FinishBy
		if t.State == programme.UnderWay {
			bound = t.StartBy
		}
		if stage(string(t.State)) <= stage(seen.state) || seen.day >= bound {
			return
		}
	}
	s.State, s.Grounds, s.Since = string(t.State), record.Inferred, 0
	s.NeverSeen = s.State == done
}

// weighTold lets a word say more than was seen earlier; a word that an equal
// or later look belies is a doubt.
func (d *reading) weighTold(s *Step, told *look) {
	seen, _ := d.lastLooks(s.Self)
	if seen != nil && told.day <= seen.day {
		if stage(told.state) > stage(seen.state) {
			d.doubt(WordAgainstSight, fmt.Sprintf("%s was said to be %s on %s; on %s it was seen %s.",
				desk.Capital(desk.The(s.Name)), told.state, d.short(told.day), d.short(seen.day), seen.state), []record.Ref{s.Self},
				"told: "+told.state+", "+d.short(told.day), string(seen.grounds)+": "+seen.state+", "+d.short(seen.day))
		}
		return
	}
	if stage(told.state) >= stage(s.State) {
		if s.State == told.state && s.Grounds != record.Inferred {
			return
		}
		s.State, s.Grounds, s.Since = told.state, record.Told, told.day
		s.NeverSeen = false
	}
}

// toldOver returns the steps that are over if one believes what was told of
// them, or of a step that waits for their finish.
func (d *reading) toldOver() map[record.Ref]bool {
	if d.over != nil {
		return d.over
	}
	d.over = map[record.Ref]bool{}
	var mark func(s record.Ref)
	mark = func(s record.Ref) {
		if d.over[s] {
			return
		}
		d.over[s] = true
		for _, l := range d.in[s] {
			if l.typ == programme.FS {
				mark(l.from)
			}
		}
	}
	for _, ref := range d.live {
		if _, told := d.lastLooks(ref); told != nil && told.state == done {
			if seen, _ := d.lastLooks(ref); seen == nil || seen.day < told.day {
				mark(ref)
			}
		}
	}
	return d.over
}

// firmlyAfterTold reports whether a step was firmly seen not done: then a
// word on a later step does not make it done.
func (d *reading) firmlyAfterTold(ref record.Ref) bool {
	seen, told := d.lastLooks(ref)
	return seen != nil && seen.state != done && (told == nil || told.day <= seen.day || told.state != done)
}

// begunDay returns by which day a step was firmly known to have begun: by a
// look at it, or because a later step was seen. Zero if it is not known. A
// later look that found it not begun holds against an earlier one.
func (d *reading) begunDay(ref record.Ref) calendar.Day {
	s := d.steps[ref]
	if s == nil {
		return 0
	}
	var day calendar.Day
	for _, l := range d.looks[ref] {
		switch {
		case !l.firm():
		case l.state == notStarted:
			day = 0
		case day == 0:
			day = l.day
		}
	}
	if day == 0 && s.Grounds == record.Inferred && s.Times.Inferred && stage(s.State) >= stage(underWay) {
		day = s.Times.StartBy
	}
	return day
}

// begun reports whether a step was firmly known to have begun.
func (d *reading) begun(ref record.Ref) bool { return d.begunDay(ref) != 0 }
