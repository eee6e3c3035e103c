package visit

import (
	"fmt"
	"slices"
	"strings"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/figure"
	"dogshore/journal"
	"dogshore/record"
)

// acts turns what was left open into things to do, in the order in which this
// desk reads the record.
func (t *table) acts(a Answer) []desk.Act {
	var out []desk.Act
	for _, x := range a.Loose {
		out = append(out, t.keepWord(t.confirm(x), x.About))
	}
	for _, x := range a.Questions {
		if t.fresh(x) && t.inLetter(x.Self) {
			continue // asked and written at the last visit: the answer is given its time
		}
		out = append(out, t.keepWord(t.question(x), x.Self))
	}
	for _, x := range a.Defects {
		out = append(out, t.keepWord(t.mend(x), x.Self))
	}
	for _, x := range a.Measurements {
		if x.Out || x.Wide() {
			out = append(out, t.measure(x))
		}
		if x.Unlike || x.Other != "" {
			out = append(out, t.whichShould(x))
		}
	}
	for _, x := range a.Checks {
		if x.Got == nil {
			out = append(out, t.toMeasure(x))
		}
	}
	for _, x := range a.Unanswered {
		if x.By.Known() && x.By < t.r.Day {
			out = append(out, t.keepWord(t.remind(x), x.About))
		}
	}
	for _, x := range t.p.Promises {
		if x.State == plan.Unseen && x.When.Known() {
			out = append(out, t.kept(x))
		}
	}
	return append(out, t.requirements()...)
}

// act lays the ground of every act: where it stands against its step.
func (t *table) act(do desk.Do, where desk.Where, subject, about, step record.Ref) desk.Act {
	return desk.Act{
		ID: id(do, subject), Do: do, Where: where, Subject: subject,
		On: t.on(about, step), Before: step, Ahead: t.ahead(step), Gone: t.gone(step), By: t.chance(step),
	}
}

// id names an act: its first word, and what it is about. It stays the same
// from review to review while the reason stands.
func id(do desk.Do, subject record.Ref) string {
	word, _, _ := strings.Cut(string(do), " ")
	return word + "/" + string(subject)
}

func (t *table) confirm(x Loose) desk.Act {
	subject, about, gravity := x.About, record.Ref(""), desk.Gravity("")
	day := ""
	if d, ok := journal.Get[record.Decision](t.r, x.About); ok {
		subject, about = d.Point, d.Point // what is left to do is about the point
		day = d.Day.Said()
	} else if g, ok := journal.Get[record.Agreement](t.r, x.About); ok {
		about, day = g.About, g.Day.Said()
	}
	if pt, ok := journal.Get[record.Point](t.r, about); ok {
		gravity = desk.Gravity(pt.Gravity)
	}
	a := t.act(desk.Confirm, desk.ToYard, subject, about, x.Before)
	a.Gravity = gravity
	a.Say = "Get it in writing: " + desk.Sentence(x.Says)
	if a.Gone {
		a.Say = "Ask for a record of what was built: " + desk.Sentence(x.Says)
	}
	why := t.typed(x.About, "says", "what was agreed")
	why.Says = "agreed on " + day + ": " + x.Why
	if with := t.name(x.With); with != "" {
		why.Says = "agreed with " + with + " on " + day + ": " + x.Why
	}
	a.Why = []figure.Figure{why}
	a.How = t.whoMay()
	a.Missed = "What was only told can be built another way, and afterwards nobody can say who was right."
	return a
}

// whoMay names those whose yes counts.
func (t *table) whoMay() []string {
	var names []string
	for _, p := range journal.All[record.Person](t.r) {
		if p.MayInstruct == record.Yes && p.Role != "owner" {
			names = append(names, p.Name)
		}
	}
	if names == nil {
		return nil
	}
	return []string{"May instruct: " + strings.Join(names, ", ") + "."}
}

// question is put at the visit while it was not asked, and by letter after.
func (t *table) question(x Question) desk.Act {
	where, say := desk.AtVisit, "Ask"
	switch {
	case t.fresh(x):
		where, say = desk.ToYard, "Put it in the letter, to get an answer on file from"
		if t.name(x.To) == "" {
			say += " the yard"
		}
	case x.Asked.Known() || x.Visit != "":
		where, say = desk.ToYard, "Ask again"
	}
	if who := t.name(x.To); who != "" {
		say += " " + who
	}
	a := t.act(desk.Ask, where, x.Self, x.About, t.stepOf(x.Before, x.About))
	a.Say = say + ": " + desk.Sentence(x.Text)
	why := t.typed(x.Self, "text", "no answer is on file")
	switch {
	case x.Overdue:
		why.Says = "the day by which the answer was due is past"
	case x.Asked.Known():
		why.Says = "asked on " + x.Asked.Said() + ", no answer is on file"
	}
	a.Why = []figure.Figure{why}
	return a
}

// fresh reports whether a question was put at the last visit or since: it is
// not asked again, it goes into the letter.
func (t *table) fresh(x Question) bool {
	last := t.r.Day
	if len(t.held) > 0 {
		last = t.held[len(t.held)-1].Day
	}
	return x.Asked.Known() && x.Asked >= last && !x.Overdue
}

func (t *table) inLetter(about record.Ref) bool {
	return slices.ContainsFunc(t.lines, func(l sent) bool { return l.About == about })
}

// mend has the yard put a defect right; once it was told, or says that it has,
// the next visit sees for itself.
func (t *table) mend(x Defect) desk.Act {
	told := x.Told
	for _, l := range t.lines {
		told = told || l.About == x.Self
	}
	do, where, say := desk.Mend, desk.ToYard, "Have it put right: "
	if told {
		do, where, say = desk.Look, desk.AtVisit, "See whether it was put right: "
	}
	a := t.act(do, where, x.Self, x.Self, x.Before)
	a.Say = say + desk.Sentence(x.What)
	a.Gravity = desk.Gravity(x.Gravity)
	if x.Snag == record.Yes && a.Gravity == "" {
		a.Gravity = desk.Finish
	}
	why := t.typed(x.Self, "what", "found, and not seen put right since")
	switch {
	case x.Told && x.State != "":
		why.Says = "said to be " + x.State + ", not seen"
	case x.State != "":
		why.Says = "last found " + x.State
	}
	a.Why = []figure.Figure{why}
	if a.Gone {
		a.Say = "Ask how it was put right before it was covered: " + desk.Sentence(x.What)
		a.Do, a.Where, a.ID = desk.Ask, desk.ToYard, id(desk.Ask, x.Self)
	}
	if x.Before != "" {
		a.Missed = "Afterwards it can only be reached by opening up what lies over it."
	}
	if a.Gravity == desk.Structure || a.Gravity == desk.Safety {
		a.Caution = structural
	}
	return a
}

// structural is the caution beside acts on structure and safety.
const structural = "This notes what was seen. Whether the structure will do is for the designer or a licensed surveyor to say."

// remind asks again for the answer to a letter's line.
func (t *table) remind(x LetterLine) desk.Act {
	subject := x.About
	if subject == "" {
		subject = x.Line
	}
	a := t.act(desk.Ask, desk.ToYard, subject, x.About, t.stepOf("", x.About))
	a.Say = fmt.Sprintf("Ask again for the answer to line %d: %s", x.Number, desk.Sentence(x.Text))
	a.Why = []figure.Figure{desk.Typed(t.r, x.Line, "by", "answer asked for by")}
	return a
}

// kept looks whether a promise that is due was kept.
func (t *table) kept(x plan.Promise) desk.Act {
	a := t.act(desk.Look, desk.AtVisit, x.About, x.About, "")
	a.ID = "kept/" + string(x.Self)
	a.Ahead = 0
	what := x.What
	if what == "" {
		what = "is done"
	}
	a.Say = fmt.Sprintf("See whether it was kept: %s %s by %s.", t.name(x.About), what, desk.Coarse(x.When.Last, t.r.Day))
	if who := t.name(x.By); who != "" {
		a.Say = fmt.Sprintf("See whether it was kept: %s said that %s %s by %s.", who, t.name(x.About), what, desk.Coarse(x.When.Last, t.r.Day))
	}
	a.Why = []figure.Figure{desk.Typed(t.r, x.Self, "when", "said on "+x.On.Said())}
	a.Gravity = desk.Finish // nothing is lost but knowledge
	return a
}

// requirements brings the lines of the specification that nothing on file
// shows to be met.
func (t *table) requirements() []desk.Act {
	var out []desk.Act
	for _, x := range journal.All[record.Requirement](t.r) {
		if x.Withdrawn == record.Yes || t.shown[x.Self] || x.Before == "" {
			continue
		}
		a := t.act(desk.Look, desk.AtVisit, x.Self, x.Self, x.Before)
		a.Say = "Have it shown: " + desk.Sentence(x.Says)
		if a.Gone {
			a.Do, a.Where, a.ID = desk.Ask, desk.ToYard, id(desk.Ask, x.Self)
			a.Say = "Ask for the record that shows it: " + desk.Sentence(x.Says)
		}
		if x.ShownBy != "" {
			a.How = []string{"Shown by: " + desk.Sentence(x.ShownBy)}
		}
		why := t.typed(x.Self, "says", "required, and nothing on file shows it")
		if x.Source != "" {
			why.Says += " (" + x.Source + ")"
		}
		a.Why = []figure.Figure{why}
		out = append(out, a)
	}
	return out
}

// typed is a reason in words that rests on one field: what was entered stays
// in its working.
func (t *table) typed(self record.Ref, field, says string) figure.Figure {
	f := desk.Typed(t.r, self, field, says)
	f.Text = ""
	return f
}
