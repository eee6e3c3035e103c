package visit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// LinesOnPage is how many lines of a letter stand on its page; what comes
// after them is its annex.
const LinesOnPage = 10

// answerWithin is the time that a draft leaves for an answer where no step and
// no visit says how long there is. (Common practice, no source: the owner
// edits the draft.)
const answerWithin = 14

// sent is a line of a letter that went out.
type sent struct {
	record.Line
	number int
	day    calendar.Day // of its letter
}

func (t *table) sentLines() []sent {
	var out []sent
	for _, l := range journal.All[record.Line](t.r) {
		s := sent{Line: l, number: int(l.Number.SI)}
		if x, ok := journal.Get[record.Letter](t.r, l.Letter); ok {
			s.day = t.dayOf(x.Self, x.Day, x.Visit)
		}
		out = append(out, s)
	}
	slices.SortStableFunc(out, func(a, b sent) int { return cmp.Compare(a.number, b.number) })
	return out
}

// unanswered are the lines of letters sent that wait for an answer: those that
// named a day, or ask about something that is still open. A line whose matter
// was settled some other way waits for nothing.
func (t *table) unanswered(a Answer) []LetterLine {
	open := t.open(a)
	var out []LetterLine
	for _, l := range t.lines {
		if _, ok := t.answers[l.Self]; ok {
			continue
		}
		if l.About == "" && !l.By.Known() || l.About != "" && !open[l.About] {
			continue
		}
		out = append(out, LetterLine{Number: l.number, Text: l.Text, About: l.About, By: l.By, Line: l.Self})
	}
	return out
}

// open holds what can still be asked about.
func (t *table) open(a Answer) map[record.Ref]bool {
	open := map[record.Ref]bool{}
	for _, x := range a.Loose {
		open[x.About] = true
	}
	for _, x := range a.Questions {
		open[x.Self] = true
	}
	for _, x := range a.Defects {
		open[x.Self] = true
	}
	for _, x := range t.p.Points {
		open[x.Self] = true
	}
	for _, c := range t.p.Covers {
		open[c.Self] = len(c.OnFile) == 0
	}
	for _, kind := range []string{"step", "item", "part", "place", "requirement"} {
		for _, ref := range t.r.Refs(kind) {
			open[ref] = !t.shown[ref] && !(kind == "step" && t.steps[ref] != nil && t.steps[ref].State == "done")
		}
	}
	return open
}

// letter drafts the lines of the letter after the last visit: what is needed
// sooner than an earlier letter said, and what is overdue, under the number it
// had; then what was noted; then what was
// understood, decided and found, and what is asked, by what comes first in the
// shed. Nothing of prices, chances or opinions goes in. What was sent before
// and is not overdue is not said again.
func (t *table) letter(a Answer, acts []desk.Act) []LetterLine {
	l := &letter{t: t, sent: map[record.Ref]bool{}, fixed: a.Next.Fixed}
	for _, x := range t.lines {
		l.next = max(l.next, x.number)
		if x.About != "" {
			l.sent[x.About] = true
		}
	}
	l.sooner(a.Unanswered)
	for _, x := range a.Unanswered {
		if x.By.Known() && x.By < t.r.Day {
			l.out = append(l.out, x)
		}
	}
	l.noted(a.Last)
	for _, x := range a.Loose {
		l.loose(x)
	}
	for _, x := range a.Defects {
		l.defect(x)
	}
	for _, x := range a.Questions {
		step := t.stepOf(x.Before, x.About)
		l.add(x.Self, step, l.by(step), "%s%s", desk.Sentence(x.Text), t.needed(" We need the answer", step))
	}
	l.looks(acts)
	return l.numbered()
}

// letter is a draft in the making.
type letter struct {
	t     *table
	sent  map[record.Ref]bool // what an earlier letter spoke of
	next  int                 // the highest number used
	fresh []fresh
	fixed calendar.Day // the next visit, if it is fixed
	out   []LetterLine
}

// fresh is a line without a number yet, and how far off its step is.
type fresh struct {
	LetterLine
	ahead int
}

// add puts a new line about something that hangs on a step, unless an earlier
// letter spoke of it.
func (l *letter) add(about, step record.Ref, by calendar.Day, format string, a ...any) {
	if l.sent[about] {
		return
	}
	f := fresh{LetterLine{Text: fmt.Sprintf(format, a...), About: about, By: by}, far(l.t.ahead(step))}
	if l.t.gone(step) {
		f.ahead = desk.Soon // no longer pressing, and not to be forgotten
	}
	l.fresh = append(l.fresh, f)
}

// numbered gives the new lines their numbers, the nearest first.
func (l *letter) numbered() []LetterLine {
	late := func(f fresh) calendar.Day { return cmp.Or(f.By, 1<<30) }
	slices.SortStableFunc(l.fresh, func(a, b fresh) int {
		return cmp.Or(cmp.Compare(a.ahead, b.ahead), cmp.Compare(late(a), late(b)))
	})
	for _, f := range l.fresh {
		l.number(f.LetterLine)
	}
	return l.out
}

func (l *letter) number(x LetterLine) {
	l.next++
	x.Number = l.next
	l.out = append(l.out, x)
}

// by is the day by which an answer is asked for: before the step starts, and
// by the next visit that is fixed; where neither says, two weeks on.
func (l *letter) by(step record.Ref) calendar.Day {
	var by calendar.Day
	take := func(d calendar.Day) {
		if d > l.t.r.Day && (by == 0 || d < by) {
			by = d
		}
	}
	take(l.t.chance(step).Day)
	take(l.fixed)
	if by == 0 {
		by = l.t.r.Day + answerWithin
	}
	return by
}

// said prints a day in a letter: always in full, since it is kept on file.
func said(d calendar.Day) string { return d.Time().Format("Monday 2 January 2006") }

// needed says before which step something is needed, or nothing.
func (t *table) needed(lead string, step record.Ref) string {
	if step == "" || t.gone(step) {
		return ""
	}
	return lead + " before " + desk.The(t.name(step)) + " starts."
}

// noted says in one line what was seen at a visit.
func (l *letter) noted(v record.Visit) {
	if v.Self == "" || l.sentAfter(v) {
		return
	}
	words := map[string][]string{}
	for _, s := range journal.All[record.Sighting](l.t.r) {
		if s.Visit == v.Self && witnessed(l.t.grounds(s.Self, s.Visit)) {
			words[s.State] = append(words[s.State], l.t.name(s.Step))
		}
	}
	var parts []string
	for _, state := range []string{"done", "under way"} {
		if names := words[state]; names != nil {
			slices.Sort(names)
			parts = append(parts, state+": "+strings.Join(names, ", "))
		}
	}
	if parts == nil {
		return
	}
	from := "At the visit of " + said(v.Day) + " we noted"
	if v.By == "pictures" {
		from = "In the pictures of " + said(v.Day) + " we saw"
	}
	l.number(LetterLine{Text: fmt.Sprintf("%s: %s. Please tell us if any of this is not so.", from, strings.Join(parts, "; "))})
}

// sentAfter reports whether a letter after that visit went out already.
func (l *letter) sentAfter(v record.Visit) bool {
	for _, x := range journal.All[record.Letter](l.t.r) {
		if x.Visit == v.Self {
			return true
		}
	}
	return false
}

// loose asks to confirm an agreement or decision.
func (l *letter) loose(x Loose) {
	t := l.t
	lead, day := "We understood that this was agreed", calendar.Day(0)
	if x.About.Kind() == "decision" {
		d, _ := journal.Get[record.Decision](t.r, x.About)
		lead, day = "We have decided", d.Day
	} else if a, ok := journal.Get[record.Agreement](t.r, x.About); ok {
		day = a.Day
		if x.With != "" {
			lead += " with " + t.name(x.With)
		}
	}
	if day.Known() {
		lead += " on " + said(day)
	}
	ask := "Please confirm this in writing"
	if toBeTold.MatchString(x.Says) {
		ask += ", with what is still to be told"
	}
	l.add(x.About, x.Before, l.by(x.Before), "%s: %s %s.%s", lead, desk.Sentence(x.Says), ask, t.needed(" It matters", x.Before))
}

// defect says what was found, and asks what becomes of it.
func (l *letter) defect(x Defect) {
	t := l.t
	on := t.name(x.Part)
	if on != "" {
		on = " (" + on + ")"
	}
	if x.Told {
		l.add(x.Self, x.Before, l.by(x.Before), "We understood that this has been put right%s: %s Please send a picture of it, or let us see it.%s", on, desk.Sentence(x.What), t.needed(" We would like to have seen it", x.Before))
		return
	}
	l.add(x.Self, x.Before, l.by(x.Before), "We saw%s: %s Please let us know how and when it will be put right.%s", on, desk.Sentence(x.What), t.needed(" It should be right", x.Before))
}

// looks asks for notice of what is about to be covered up, one line a step.
func (l *letter) looks(acts []desk.Act) {
	done := map[record.Ref]bool{}
	for _, a := range lastLooks(acts, l.t.r.Day) {
		if a.Subject.Kind() != "cover" || a.Ahead < 0 || a.Ahead > 1 || done[a.Before] {
			continue
		}
		done[a.Before] = true
		c, _ := journal.Get[record.Cover](l.t.r, a.Subject)
		l.add(a.Subject, a.Before, 0, "Before %s starts we would like to see what it covers: %s. Please tell us some days ahead, or send us pictures of it, from afar and close by with a tape in them.", desk.The(l.t.name(a.Before)), c.Hides)
	}
}
