package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
)

// mark is a column of boxes on the printed sheet: the numbers of the rows that
// are ticked there are typed in one go.
type mark struct {
	Word  string // over the column
	State string
	Field string
	Typed string
	Wrong string
}

// marks are the columns as they are printed.
func marks() []mark {
	return []mark{
		{Word: "begun", State: "under way", Field: "rows.begun"}, {Word: "done", State: "done", Field: "rows.done"},
		{Word: "not seen", State: "could not see", Field: "rows.unseen"}, {Word: "not sure", State: "not sure", Field: "rows.unsure"},
	}
}

// ticked reads the numbers typed for each column and ticks the rows. It says
// how many columns hold something else than numbers of rows, or one that is
// ticked twice.
func (p *typedPage) ticked(r *http.Request) (wrong int) {
	rows := map[int]*typedRow{}
	for i := range p.Steps {
		row := &p.Steps[i]
		row.State = r.PostFormValue(row.Field)
		rows[row.Number] = row
	}
	for i := range p.Marks {
		m := &p.Marks[i]
		m.Typed = strings.TrimSpace(r.PostFormValue(m.Field))
		numbers, err := rowNumbers(m.Typed, len(rows))
		for _, n := range numbers {
			row := rows[n]
			switch {
			case row == nil:
				err = fmt.Errorf("the sheet has no row %d", n)
			case row.State != "" && row.State != m.State:
				err = fmt.Errorf("row %d, %s, is ticked twice: %s and %s", n, row.Name, row.State, m.State)
			default:
				row.State = m.State
			}
		}
		if err != nil {
			m.Wrong = "Nothing is written yet: " + err.Error() + "."
			wrong++
		}
	}
	return wrong
}

// rowNumbers reads numbers as people list them: "1, 4 7-9". No row's number is
// higher than most.
func rowNumbers(text string, most int) ([]int, error) {
	var out []int
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '.' || r == '+' || r == '\t' }) {
		first, last, span := strings.Cut(strings.ReplaceAll(word, "–", "-"), "-")
		from, err := strconv.Atoi(first)
		to := from
		if err == nil && span {
			to, err = strconv.Atoi(last)
		}
		if err != nil || from < 1 || to < from {
			return nil, fmt.Errorf("“%.20s” is no number of a row; write them as 1, 4, 7-9", word)
		}
		if to > most {
			return nil, fmt.Errorf("the sheet has no row %d", to)
		}
		for n := from; n <= to; n++ {
			out = append(out, n)
		}
	}
	return out, nil
}
