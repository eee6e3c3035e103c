package intake

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"dogshore/record"
	"dogshore/unit"
	"dogshore/workbook"
)

// value reads one cell as its column's field. If it can't, and aloud is set,
// it has asked or refused, and said where.
func (r *reader) value(l *line, c column, aloud bool) (record.Value, bool) {
	cell, at := l.cells[c.n], l.at(c.n)
	ask := func(question string, readings []string) {
		if aloud {
			r.ask(Ask{ID: at.String(), At: at, Text: cell.Text, Question: question, Readings: readings, Free: true})
		}
	}
	refuse := func(format string, a ...any) {
		if aloud {
			r.out.refuse(at, cell.Text, format, a...)
		}
	}
	switch {
	case cell.Form == workbook.NoValue:
		ask("a formula stands here that was never computed: what is its value?", nil)
		return "", false
	case cell.Form == workbook.AsError:
		refuse("the spreadsheet could not compute this cell; put the value itself there")
		return "", false
	case cell.Form == workbook.AsDay && c.field.Dim != "":
		refuse("this is a day; a spreadsheet makes one of texts such as 12-14 or 3/5: format the cell as text and write it again")
		return "", false
	case cell.Form == workbook.AsNumber && (c.field.Type == record.DayType || c.field.Type == record.SpanType):
		if readings := serials(cell.Text); readings != nil {
			ask("a number stands where a day is asked for; is it the spreadsheet's number of this day?", readings)
			return "", false
		}
	case c.field.Type == record.RefType:
		return r.ref(l, c, cell.Text, ask)
	}
	h := l.t.habit
	h.Unit = c.unit
	if cell.Form == workbook.AsNumber {
		h.Decimal = '.'
		if cell.Unit != "" {
			h.Unit = cell.Unit
		}
	}
	v, err := c.field.ParseIn(cell.Text, l.today, h)
	var two *unit.Ambiguous
	var none *unit.Absent
	switch {
	case err == nil:
		return v, true
	case errors.As(err, &two):
		question := "which is meant?"
		if h.Decimal == 0 && markAlone(c.field, cell.Text, l, h) {
			question = "which is meant" + l.t.shows + "?"
			if aloud {
				l.t.doubts++
			}
		}
		ask(question, two.Readings)
	case errors.As(err, &none):
		if aloud {
			r.absent(at, none)
		}
	default:
		refuse("%s", strings.TrimPrefix(err.Error(), c.field.Title+": "))
	}
	return "", false
}

// markAlone reports whether the decimal mark is all that a text leaves open.
func markAlone(f *record.Field, text string, l *line, h unit.Habit) bool {
	h.Decimal = '.'
	_, err := f.ParseIn(text, l.today, h)
	return err == nil
}

// absent lists a cell that says that nothing is known.
func (r *reader) absent(at Cell, a *unit.Absent) {
	if a.Due {
		r.out.skip(at, a.Text, "not known yet, and owed by somebody: nothing is written")
		return
	}
	r.out.skip(at, a.Text, "says that it is not known: nothing is written")
}

// serials returns the days that a spreadsheet's number may stand for.
func serials(text string) []string {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || v < 366 {
		return nil
	}
	var out []string
	for _, from04 := range []bool{false, true} {
		if d, ok := workbook.Serial(v, from04); ok {
			out = append(out, d.Time().Format("2 January 2006"))
		}
	}
	return out
}

// ref finds the subject that a cell names.
func (r *reader) ref(l *line, c column, text string, ask func(string, []string)) (record.Value, bool) {
	if unit.SaysNothing(text) != nil {
		r.absent(l.at(c.n), unit.SaysNothing(text))
		return "", false
	}
	found := r.names.Find(text, c.field.Of, l.today)
	if len(found) == 1 {
		return record.Encode(found[0]), true
	}
	kinds := kindTitles(c.field.Of)
	if len(found) > 1 {
		var readings []string
		for _, f := range found {
			readings = append(readings, string(f))
		}
		ask(fmt.Sprintf("more than one %s is called this; which is meant?", kinds), readings)
		return "", false
	}
	near := r.near(text, c.field.Of)
	if c.field.Of[0] == "person" {
		near = append(near, r.byRole(text)...)
	}
	ask(fmt.Sprintf("no %s is called this; which is meant? A row for it may be missing", kinds), near)
	return "", false
}

// mostNear bounds how many names are compared with texts that name nothing,
// all questions together. Later questions offer no names.
const mostNear = 300_000

func (r *reader) near(text string, kinds []string) []string {
	if r.nears > mostNear {
		return nil
	}
	for _, k := range kinds {
		r.nears += len(r.names.Of(k))
	}
	return r.names.Near(text, kinds)
}

// byRole offers the people who have the role that a text names.
func (r *reader) byRole(text string) []string {
	var out []string
	for _, self := range r.names.Of("person") {
		if h, ok := r.rec.Held(self, "role"); ok && record.Loose(record.KindOf("person").Field("role").Format(h.Value)) == record.Loose(text) {
			out = append(out, r.names.Say(self, []string{"person"}))
		}
	}
	return out
}

func kindTitles(kinds []string) string {
	var out []string
	for _, k := range kinds {
		out = append(out, record.KindOf(k).Title)
	}
	return strings.Join(out, " or ")
}
