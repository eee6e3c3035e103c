package intake

import (
	"fmt"

	"dogshore/record"
	"dogshore/unit"
	"dogshore/workbook"
)

// This file settles which mark parts decimals on a sheet, or asks.

var marks = map[rune]string{',': "comma", '.': "point"}

// settleHabit takes the decimal mark that a person has named for a sheet. What
// its other cells show is no proof for a doubtful one, for columns are pasted
// together from many hands; it is said with the question.
func (r *reader) settleHabit(t *table) {
	for mark, name := range marks {
		if a, _ := r.answer(t.at.String() + markSuffix); a == name {
			t.habit.Decimal = mark
			return
		}
	}
	seen := map[rune]Cell{}
	for _, l := range t.lines {
		for _, c := range t.columns {
			if c.field.Dim == "" && c.field.Type != record.MoneyType || l.cells[c.n].Form != workbook.AsText {
				continue
			}
			if mark := unit.DecimalMark(l.text(c.n)); mark != 0 && seen[mark].Row == 0 {
				seen[mark] = l.at(c.n)
			}
		}
	}
	if len(seen) != 1 {
		return
	}
	for mark, at := range seen {
		t.shows = fmt.Sprintf("; %s%d has a decimal %s", workbook.Letters(at.Column), at.Row, marks[mark])
	}
}

// markSuffix makes the ID of the question for a whole sheet's decimal mark.
const markSuffix = " decimal mark"

// askMark offers to settle all doubtful marks of a sheet at once.
func (r *reader) askMark(t *table) {
	if t.doubts > 1 {
		r.ask(Ask{ID: t.at.String() + markSuffix, At: t.at, Text: fmt.Sprintf("%d cells", t.doubts),
			Question: "which is the decimal mark of all these numbers" + t.shows + "? Or answer for each cell", Readings: []string{"comma", "point"}})
	}
}
