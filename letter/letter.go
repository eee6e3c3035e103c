// Package letter writes the letter after a visit, and reads what the yard
// answers to it.
//
// A letter is a numbered page of plain text that can be pasted into a mail or
// a messenger. Its numbers are stable: a line that is repeated in the next
// letter keeps its number, and no number is used twice.
package letter

import (
	"fmt"
	"slices"
	"strings"

	"dogshore/calendar"
	"dogshore/desk/visit"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// most is how many numbered points a letter carries; the rest is its annex.
// A yard answers ten questions and files twenty.
const most = 10

// Letter is a letter before it is sent.
type Letter struct {
	To     record.Ref // whom it goes to; empty if the record knows nobody
	Visit  record.Ref
	Day    calendar.Day
	Lines  []visit.LetterLine // at most ten
	Annex  []visit.LetterLine
	Opens  string // the sentence before the points
	Closes string // the sentence behind them
}

// Draft drafts the letter after the last visit from what the visit desk put
// together. It is addressed to the first person who may instruct, else to the
// yard's lead. day is the letter's own date.
func Draft(r *journal.Record, a visit.Answer, day calendar.Day) Letter {
	l := Letter{To: addressee(r), Day: day, Visit: a.Last.Self}
	l.Lines = slices.Clone(a.Letter)
	for i, x := range l.Lines {
		if x.By < day { // asked before: the day has passed, the question has not
			l.Lines[i].By = 0
		}
	}
	if len(l.Lines) > most {
		l.Lines, l.Annex = l.Lines[:most], l.Lines[most:]
	}
	l.Opens = "Here are our points. The numbers stay the same from letter to letter, so an answer like \"2 yes, 4 Thursday\" is enough."
	if a.Last.Day.Known() {
		l.Opens = opening(a.Last) + " " + l.Opens
	}
	l.Closes = "If we have understood something wrongly, please say so. Nothing here accepts or changes the work; it notes what we saw and what we understood."
	return l
}

func opening(v record.Visit) string {
	day := v.Day.Said()
	switch v.By {
	case "pictures":
		return "Thank you for the pictures of " + day + "."
	case "call":
		return "Thank you for the call on " + day + "."
	case "surveyor":
		return "Thank you for receiving our surveyor on " + day + "."
	}
	return "Thank you for having us at the yard on " + day + "."
}

func addressee(r *journal.Record) record.Ref {
	var lead record.Ref
	for _, p := range journal.All[record.Person](r) {
		if p.Role == "owner" || p.Role == "surveyor" || p.Role == "broker" || p.Role == "supplier" {
			continue
		}
		if p.MayInstruct == record.Yes {
			return p.Self
		}
		if lead == "" && (p.Role == "yard lead" || p.Role == "builder") {
			lead = p.Self
		}
	}
	return lead
}

// Text prints the letter as plain text, a paragraph to a line, to be pasted.
func (l Letter) Text(r *journal.Record) string {
	var b strings.Builder
	build, _ := journal.Get[record.Build](r, record.R("build", "build"))
	fmt.Fprintf(&b, "%s: points of %s\n\n", l.subject(build), l.Day.Said())
	if l.To != "" {
		fmt.Fprintf(&b, "Dear %s,\n\n", r.Name(l.To))
	}
	fmt.Fprintf(&b, "%s\n\n", l.Opens)
	l.lines(&b, r, l.Lines)
	if len(l.Annex) > 0 {
		b.WriteString("Annex: less urgent, for your list\n\n")
		l.lines(&b, r, l.Annex)
	}
	fmt.Fprintf(&b, "%s\n\nKind regards\n", l.Closes)
	return b.String()
}

// lines writes the points; where the glossary has words for what a point is
// about, they stand in brackets behind it.
func (l Letter) lines(b *strings.Builder, r *journal.Record, all []visit.LetterLine) {
	g := Words(r)
	for _, x := range points(r, all) {
		fmt.Fprintf(b, "%d. %s", x.Number, x.Text)
		if x.By.Known() {
			fmt.Fprintf(b, " Please answer by %s.", x.By.Said())
		}
		var words []string
		for _, label := range []string{x.sort, r.Name(x.on), r.Name(x.before)} {
			if other := g.Other(label); label != "" && other != "" {
				words = append(words, g.Both(label))
			}
		}
		if words != nil {
			fmt.Fprintf(b, " (%s)", strings.Join(words, "; "))
		}
		b.WriteString("\n\n")
	}
}

// Facts returns what sending the letter writes into the record: the letter
// with its text and its printed sheet frozen under key, and a line for each
// numbered point. Lines that were sent before are not written again, but for
// the day that they now name where that has moved up.
func (l Letter) Facts(key, text string, sheet record.File) []journal.Fact {
	self := record.R("letter", key)
	facts := journal.Facts(self, record.Values(record.Letter{Visit: l.Visit, To: l.To, Day: l.Day, Text: text, Sheet: sheet}))
	for _, x := range append(append([]visit.LetterLine{}, l.Lines...), l.Annex...) {
		if x.Line != "" {
			if x.Told.Known() && x.By.Known() && x.By < x.Told {
				facts = append(facts, journal.Facts(x.Line, record.Values(record.Line{By: x.By}))...)
			}
			continue
		}
		line := record.Line{Letter: self, Number: unit.Q(float64(x.Number), unit.Number), Text: x.Text, About: x.About, By: x.By}
		facts = append(facts, journal.Facts(record.R("line", fmt.Sprintf("%s-%d", key, x.Number)), record.Values(line))...)
	}
	return facts
}
