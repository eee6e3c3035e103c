package plan

import (
	"sort"

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
// The work that a cover hides is that of the last steps, on the part or place
// that is covered, that come before the covering step (hiddenSteps). It was
// looked at when somebody of the owner's side, owner or surveyor, stood there
// and saw each of these steps under way or done before the covering step had
// begun. What follows from a later step never counts, nor does a picture or a
// word; a picture counts when somebody said that it shows it: then it is on
// file.
func (d *reading) readCovers() {
	evidence := d.evidence()
	for _, c := range journal.All[record.Cover](d.r) {
		s := d.steps[c.Step]
		if s == nil || c.Hides == "" && c.Look == "" {
			continue
		}
		out := Cover{Cover: c, Of: d.hiddenSteps(c), Ahead: s.Ahead, Gone: d.begun(c.Step), OnFile: evidence[c.Self]}
		out.Looked = d.lookedAt(out)
		out.File = d.file(out)
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

// file counts what is on file against the usual minimum: for what a hold
// guards or what touches structure or safety, two pictures (wide and close)
// and a number or a paper; for the rest one picture or paper.
//
// The minimum is common practice, no source, and nobody's verdict.
func (d *reading) file(c Cover) File {
	photos, papers := 0, 0
	for _, e := range c.OnFile {
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
func (d *reading) measured(c Cover) bool {
	closed := d.begunDay(c.Step)
	of := map[record.Ref]bool{c.Step: true, c.What: c.What != ""}
	for _, h := range c.Of {
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
	return "what " + desk.The(d.name(c.Step)) + " hides"
}
