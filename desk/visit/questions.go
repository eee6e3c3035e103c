package visit

import (
	"cmp"
	"slices"

	"dogshore/journal"
	"dogshore/record"
)

// questions finds the questions that have no answer yet, soonest first. An
// answer to the letter's line that put the question is an answer to it.
func (t *table) questions() []Question {
	answered := map[record.Ref]bool{}
	due := map[record.Ref]bool{} // an answer was asked for or promised by a day that is past
	for _, l := range t.lines {
		if _, ok := t.answers[l.Self]; ok {
			answered[l.About] = true
		}
		if l.By.Known() && l.By < t.r.Day {
			due[l.About] = true
		}
	}
	for _, s := range journal.All[record.Statement](t.r) {
		if s.About.Kind() == "question" && s.When.Known() && s.When.Last < t.r.Day {
			due[s.About] = true
		}
	}
	var out []Question
	for _, q := range journal.All[record.Question](t.r) {
		if _, ok := t.answers[q.Self]; ok || answered[q.Self] {
			continue
		}
		out = append(out, Question{Question: q, Ahead: t.ahead(t.stepOf(q.Before, q.About)), Overdue: due[q.Self]})
	}
	slices.SortStableFunc(out, func(a, b Question) int { return cmp.Compare(far(a.Ahead), far(b.Ahead)) })
	return out
}
