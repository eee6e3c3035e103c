package plan

import (
	"sort"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// File says how much of something is on file.
type File string

// The states of a file. Only a minimum is counted, never whether a picture
// shows what it should.
const (
	Nothing File = "nothing on file"
	Thin    File = "something on file, less than the usual minimum"
	Full    File = "the usual minimum is on file"
)

// readCovers says of each cover whether what it hides was looked at, what of
// it is on file, and whether it is gone.
//
// Looked at means: at one visit by the owner or a surveyor, who stood there,
// a step that the covering step directly waits for (the work that it hides)
// was seen done or under way on the part in question, and the covering step
// had not begun. What follows from a later step never counts, nor does a
// picture or a word.
func (d *reading) readCovers() {
	evidence := d.evidence()
	for _, c := range journal.All[record.Cover](d.r) {
		s := d.steps[c.Step]
		if s == nil || c.Hides == "" && c.Look == "" {
			continue
		}
		out := Cover{Cover: c, Ahead: s.Ahead, Gone: d.begun(c.Step), OnFile: evidence[c.Self]}
		out.Looked = d.lookedAt(c)
		out.File = d.file(c, out.OnFile)
		out.GoneBy = d.begunDay(c.Step)
		if !out.Gone {
			out.Before = d.lastChance(c.Step)
		}
		s.Covers = append(s.Covers, c.Self)
		d.a.Covers = append(d.a.Covers, out)
	}
	sort.SliceStable(d.a.Covers, func(i, k int) bool {
		a, b := &d.a.Covers[i], &d.a.Covers[k]
		if a.Gone != b.Gone {
			return b.Gone
		}
		if a.Ahead != b.Ahead {
			return a.Ahead < b.Ahead
		}
		if x, y := gravityOf(a.Gravity), gravityOf(b.Gravity); x != y {
			return x < y
		}
		return a.Self < b.Self
	})
}

// gravityOf orders gravities, gravest first; what was not said comes last.
func gravityOf(g string) int {
	for i, x := range []desk.Gravity{desk.Structure, desk.Safety, desk.Cutting, desk.Finish} {
		if string(x) == g {
			return i
		}
	}
	return 4
}

// evidence reads what pictures and papers show, by what they show.
func (d *reading) evidence() map[record.Ref][]record.Evidence {
	out := map[record.Ref][]record.Evidence{}
	for _, e := range journal.All[record.Evidence](d.r) {
		if e.Photo != "" && !d.r.Has(e.Photo) || e.Photo == "" && e.What == "" {
			continue // it names no picture and no paper
		}
		out[e.Shows] = append(out[e.Shows], e)
	}
	return out
}

// lookedAt returns the latest visit at which what c hides could be looked at
// and was.
func (d *reading) lookedAt(c record.Cover) record.Ref {
	closed := d.begunDay(c.Step)
	var best record.Ref
	var on calendar.Day
	for _, hidden := range d.hiddenSteps(c) {
		for _, l := range d.looks[hidden] {
			v, ok := d.visits[l.visit]
			if !ok || !l.own() || v.By == "pictures" || v.By == "call" || stage(l.state) < stage(underWay) {
				continue
			}
			if closed != 0 && l.day >= closed {
				continue
			}
			if l.day > on || l.day == on && l.visit > best {
				best, on = l.visit, l.day
			}
		}
	}
	return best
}

// hiddenSteps are the steps whose work c hides: those that the covering step
// directly waits for on the part that is covered, or on the covering step's
// own part where the cover names no part.
func (d *reading) hiddenSteps(c record.Cover) []record.Ref {
	part := d.steps[c.Step].Part
	if c.What.Kind() == "part" {
		part = c.What
	}
	var out []record.Ref
	for _, l := range d.in[c.Step] {
		if d.within(d.steps[l.from].Part, part) {
			out = append(out, l.from)
		}
	}
	return out
}

// within reports whether part is whole or lies in it.
func (d *reading) within(part, whole record.Ref) bool {
	for range len(d.parts) + 1 {
		if part == whole {
			return true
		}
		p, ok := d.parts[part]
		if !ok || p.Within == "" {
			return false
		}
		part = p.Within
	}
	return false
}

// file counts what is on file against the usual minimum: for what a hold
// guards or what touches structure or safety, two pictures (wide and close)
// and a number or a paper; for the rest one picture or paper.
//
// The minimum is common practice, no source, and nobody's verdict.
func (d *reading) file(c record.Cover, all []record.Evidence) File {
	photos, papers := 0, 0
	for _, e := range all {
		if e.Photo != "" {
			photos++
		}
		if e.What != "" {
			papers++
		}
	}
	strict := d.steps[c.Step].Point == "hold" || gravityOf(c.Gravity) <= gravityOf(string(desk.Safety))
	switch {
	case photos+papers == 0:
		return Nothing
	case !strict:
		return Full
	case photos >= 2 && (papers > 0 || d.measured(c)):
		return Full
	}
	return Thin
}

// measured reports whether somebody measured what c hides, before it was
// gone.
func (d *reading) measured(c record.Cover) bool {
	closed := d.begunDay(c.Step)
	of := map[record.Ref]bool{c.Step: true, c.What: c.What != ""}
	for _, h := range d.hiddenSteps(c) {
		of[h] = true
	}
	for _, m := range d.measurements {
		v := d.visits[m.Visit]
		if of[m.Of] && m.Got.Known && (closed == 0 || v.Day != 0 && v.Day < closed) {
			return true
		}
	}
	return false
}

// unseen reports whether c was neither looked at nor anything of it is on
// file.
func (c Cover) unseen() bool { return c.Looked == "" && len(c.OnFile) == 0 }

// hides names what a cover hides, inside a sentence.
func (d *reading) hides(c Cover) string {
	if c.Hides != "" {
		return clause(c.Hides)
	}
	return "what " + the(d.name(c.Step)) + " hides"
}
