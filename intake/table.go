package intake

import (
	"regexp"
	"strings"

	"dogshore/calendar"
	"dogshore/record"
	"dogshore/unit"
	"dogshore/workbook"
)

// table is a sheet, or a block of one, that lists subjects of one kind.
type table struct {
	at      Cell // the sheet
	kind    *record.Kind
	header  int // the number of the header's row
	columns []column
	key     int // the columns beside the fields; 0 if there are none
	since   int
	grounds int
	by      int
	habit   unit.Habit
	lines   []*line
	export  *workbook.Export
	source  int // its place in Reading.Sources
	index   map[record.Ref]*line
	shows   string // which decimal mark other cells show, as a clause
	doubts  int    // cells whose mark has two readings
	part    bool   // a block of a sheet: rows that it lacks are not gone
}

type column struct {
	n     int
	field *record.Field
	unit  string
	title string // as it stands in the header
}

// line is one row of a table.
type line struct {
	t     *table
	n     int
	cells map[int]workbook.Cell
	self  record.Ref
	today calendar.Day // settles days without a year: the row's own day, else the day of reading
	held  bool         // it waits for an answer
	given string       // its key, where the sheet's layout gives it
}

func (l *line) at(column int) Cell {
	c := l.t.at
	c.Row, c.Column = l.n, column
	return c
}

func (l *line) text(column int) string { return l.cells[column].Text }

// field returns the cell of a field; ok is false if the table has no such
// column.
func (l *line) field(name string) (c column, ok bool) {
	for _, c := range l.t.columns {
		if c.field.Name == name {
			return c, true
		}
	}
	return column{}, false
}

// Titles of the columns that stand beside the fields.
const (
	keyTitle     = "key"
	sinceTitle   = "since"
	groundsTitle = "how we know"
	byTitle      = "by"
)

// headerRows is how far down a sheet its header is looked for.
const headerRows = 40

// kindNamed finds the kind that a sheet or file is named by.
func kindNamed(name string) *record.Kind {
	name = strings.TrimLeft(name, "0123456789-_. ")
	for i := range record.Kinds() {
		k := &record.Kinds()[i]
		for _, n := range []string{k.Plural, k.Title, k.Name} {
			if record.Loose(n) == record.Loose(name) {
				return k
			}
		}
	}
	return nil
}

// findHeader returns the place in rows of the row whose titles fit the kind
// best, and how many fit.
func (g *grid) findHeader(k *record.Kind) (at, fit int) {
	at = -1
	for i := range g.Rows[:min(len(g.Rows), headerRows)] {
		known, all := 0, 0
		for _, c := range g.headerCells(i) {
			all++
			if _, _, ok := titled(k, c.Text); ok {
				known++
			}
		}
		if known > fit && 2*known >= all {
			at, fit = i, known
		}
	}
	return at, fit
}

// grid is a sheet with its merged cells looked up.
type grid struct {
	*workbook.Sheet
	fill map[int][]workbook.Cell // by row: what is merged downwards into it
	wide map[[2]int]bool         // row and column of texts merged over more than two columns
}

// mostFilled bounds how many cells are filled from merged ones.
const mostFilled = 100_000

func newGrid(s *workbook.Sheet) *grid {
	g := &grid{s, map[int][]workbook.Cell{}, map[[2]int]bool{}}
	rows := map[int]workbook.Row{}
	for _, r := range s.Rows {
		rows[r.Number] = r
	}
	filled := 0
	for _, m := range s.Merged {
		g.wide[[2]int{m.FromRow, m.FromColumn}] = m.ToColumn > m.FromColumn+1
		c := rows[m.FromRow].At(m.FromColumn)
		if m.FromColumn != m.ToColumn || c.Text == "" {
			continue
		}
		for n := m.FromRow + 1; n <= m.ToRow && filled < mostFilled; n++ {
			g.fill[n] = append(g.fill[n], c)
			filled++
		}
	}
	return g
}

// headerCells returns the cells of a header's row, with those of titles that
// are merged downwards into it.
func (g *grid) headerCells(i int) []workbook.Cell {
	row := g.Rows[i]
	cells := append([]workbook.Cell(nil), row.Cells...)
	for _, c := range g.fill[row.Number] {
		if row.At(c.Column).Text == "" {
			cells = append(cells, c)
		}
	}
	return cells
}

// titled finds the field that a header names, and the unit in it. Of the
// columns beside the fields it returns none.
func titled(k *record.Kind, header string) (f *record.Field, unitIn string, ok bool) {
	plain, u := unit.HeaderUnit(header)
	for _, h := range []struct{ name, unit string }{{header, ""}, {plain, u}} {
		for i := range k.Fields {
			f := &k.Fields[i]
			if record.Loose(h.name) == record.Loose(f.Title) || record.Loose(h.name) == record.Loose(f.Name) {
				return f, h.unit, true
			}
		}
		switch record.Loose(h.name) {
		case record.Loose(keyTitle), record.Loose(sinceTitle), record.Loose(groundsTitle), record.Loose(byTitle):
			return nil, "", true
		}
	}
	return nil, "", false
}

// newTable reads the header at a place of the grid's rows, and the rows below
// it up to before end.
// own gives the fields that a start sheet's titles name; nil elsewhere.
func (r *reader) newTable(at Cell, k *record.Kind, g *grid, header, end int, own []workbook.Entry) *table {
	t := &table{at: at, kind: k, header: g.Rows[header].Number}
	taken := map[string]int{}
	for _, c := range g.headerCells(header) {
		place := at
		place.Row, place.Column = t.header, c.Column
		f, u, ok := titled(k, c.Text)
		for _, e := range own {
			if record.Loose(e.Title) == record.Loose(c.Text) {
				f, ok = k.Field(e.Field), true
			}
		}
		switch {
		case !ok:
			r.unknownColumn(k, place, c.Text)
		case f != nil && taken[f.Name] != 0:
			r.out.refuse(place, c.Text, "column %s has the same title; this one is not read", workbook.Letters(taken[f.Name]))
		case f != nil:
			taken[f.Name] = c.Column
			t.columns = append(t.columns, column{c.Column, f, u, c.Text})
		default:
			t.special(c)
		}
	}
	t.habit.Currency = r.currency
	r.out.Sources = append(r.out.Sources, Source{At: at, As: k.Plural})
	t.source = len(r.out.Sources) - 1
	r.lines(t, g, header, end)
	r.settleHabit(t)
	r.out.Sources[t.source].Rows = len(t.lines)
	r.tables = append(r.tables, t)
	return t
}

// special notes a column beside the fields. A field of the same title wins:
// the "by" of a visit is the visit's.
func (t *table) special(c workbook.Cell) {
	switch record.Loose(c.Text) {
	case record.Loose(keyTitle):
		t.key = c.Column
	case record.Loose(sinceTitle):
		t.since = c.Column
	case record.Loose(groundsTitle):
		t.grounds = c.Column
	case record.Loose(byTitle):
		t.by = c.Column
	}
}

func (r *reader) unknownColumn(k *record.Kind, at Cell, text string) {
	var titles []string
	for i := range k.Fields {
		titles = append(titles, k.Fields[i].Title)
	}
	name, _ := unit.HeaderUnit(text)
	if near := workbook.Nearest(name, titles); near != "" {
		r.out.skip(at, text, "%s have no such column; %q may be meant", k.Plural, near)
		return
	}
	r.out.skip(at, text, "%s have no such column", k.Plural)
}

// lines takes the rows below the header, and passes over what is none.
func (r *reader) lines(t *table, g *grid, header, end int) {
	hidden := Cell{}
	for i := header + 1; i < end; i++ {
		row := g.Rows[i]
		l := &line{t: t, n: row.Number, cells: map[int]workbook.Cell{}, today: r.opt.Today}
		for _, c := range row.Cells {
			l.cells[c.Column] = c
		}
		if why := noLine(l, row, g); why != "" {
			r.out.skip(l.at(0), joined(row), "%s", why)
			continue
		}
		for _, c := range g.fill[row.Number] {
			if l.text(c.Column) == "" {
				l.cells[c.Column] = c
			}
		}
		if row.Hidden && !r.counts(&hidden, l, g.Rows[i-1]) {
			continue
		}
		for _, c := range t.columns {
			if a, ok := r.answer(l.at(c.n).String()); ok && a != "" {
				l.cells[c.n] = workbook.Cell{Column: c.n, Text: a}
			}
		}
		t.lines = append(t.lines, l)
	}
}

// counts asks once for each run of hidden rows whether they count.
func (r *reader) counts(first *Cell, l *line, before workbook.Row) bool {
	if !before.Hidden || first.Row == 0 {
		*first = l.at(0)
	}
	id := first.String() + " hidden"
	answer, answered := r.opt.Answers[id]
	if !answered {
		r.ask(Ask{ID: id, At: *first, Text: joinedLine(l), Question: "this row is hidden, with those below it that are; do they count?", Readings: []string{"yes", "no"}})
	}
	return answered && answer == "yes"
}

var (
	totals = regexp.MustCompile(`(?i)^\W*(grand[ -]?total|sub[ -]?total|total|sum|summe|carried forward)\b`)
	notes  = regexp.MustCompile(`(?i)^\W*(notes?|remarks?|nb|n\.b\.|please note|hint|source)\b\s*[:.–-]|^(\*|#|//)`)
)

const longestUnit = 20

// noLine says why a row is none of the list: a subtotal, a note, a row of
// units, a header again. "" if it is one.
func noLine(l *line, row workbook.Row, g *grid) string {
	first := row.Cells[0].Text
	known, again, units := 0, 0, 0
	for _, c := range l.t.columns {
		text := l.text(c.n)
		if text == "" {
			continue
		}
		known++
		if strings.EqualFold(text, c.title) {
			again++
		}
		if c.field.Dim != "" && len(text) <= longestUnit {
			if _, u := unit.HeaderUnit("x [" + strings.Trim(text, "[]() ") + "]"); u != "" {
				units++
			}
		}
	}
	switch {
	case totals.MatchString(first) && len(strings.Fields(first)) <= 4 && l.text(l.t.key) != first:
		return "a subtotal"
	case notes.MatchString(first) && len(row.Cells) <= 2:
		return "a note"
	case known == 0 && l.text(l.t.key) == "":
		return "nothing in it stands below a title that is read"
	case again > 1 && again == known:
		return "the header again"
	case units > 0 && units == known:
		for i := range l.t.columns {
			if c := &l.t.columns[i]; l.text(c.n) != "" && c.unit == "" {
				c.unit = strings.Trim(l.text(c.n), "[]() ")
			}
		}
		return "units, read for the columns above"
	case len(row.Cells) == 1 && g.wide[[2]int{row.Number, row.Cells[0].Column}] && known == 1:
		return "one text merged over several columns: a heading or a note"
	}
	return ""
}

func joined(row workbook.Row) string {
	var texts []string
	for _, c := range row.Cells {
		texts = append(texts, c.Text)
	}
	return short(strings.Join(texts, " | "))
}

func joinedLine(l *line) string {
	var texts []string
	for _, c := range l.t.columns {
		if t := l.text(c.n); t != "" {
			texts = append(texts, t)
		}
	}
	return short(strings.Join(texts, " | "))
}

// short cuts a text for a list.
func short(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 80 {
		return string(r[:79]) + "…"
	}
	return s
}
