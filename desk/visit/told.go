package visit

import (
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// keepWord keeps an act's date no later than the one that a letter told the
// yard, while the answer is not there: a forecast that slips moves no date that
// somebody was told. An earlier one stands, and the next letter says it first.
func (t *table) keepWord(a desk.Act, about record.Ref) desk.Act {
	for _, l := range t.lines {
		if _, ok := t.answers[l.Self]; ok || about == "" || l.About != about || !l.By.Known() || a.Gone {
			continue
		}
		if a.By.Known() && a.By.Day <= l.By {
			continue
		}
		a.By = desk.When{Day: l.By, Basis: desk.OurLetter, Said: "as our letter of " + l.day.Said() + " has it", Work: desk.Typed(t.r, l.Self, "by", "answer asked for by")}
	}
	return a
}

// sooner are the lines of letters sent whose matter has moved up: the step
// before which it is needed now starts before the day that the letter named.
func (l *letter) sooner(unanswered []LetterLine) {
	for _, x := range unanswered {
		now := l.t.chance(l.t.stepOf(l.t.before(x.About), x.About)).Day
		if !now.Known() || now <= l.t.r.Day || x.By <= now {
			continue
		}
		x.Text = "We need this sooner than we wrote, which was by " + said(x.By) + ". " + x.Text
		x.Told, x.By = x.By, now
		l.out = append(l.out, x)
	}
}

// before is the step before which something asked about is needed, if it names
// one.
func (t *table) before(about record.Ref) record.Ref {
	if x, ok := journal.Get[record.Question](t.r, about); ok {
		return x.Before
	}
	if x, ok := journal.Get[record.Agreement](t.r, about); ok {
		return x.Before
	}
	if x, ok := journal.Get[record.Decision](t.r, about); ok {
		return t.stepOf("", x.Point)
	}
	return ""
}
