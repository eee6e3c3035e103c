package intake

import (
	"path/filepath"
	"strings"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/workbook"
)

// startSheet reads a start sheet's blocks as tables of their kinds. It reports
// whether the sheet is one.
func (r *reader) startSheet(at Cell, g *grid, export *workbook.Export) bool {
	name := at.Sheet
	if name == "" {
		name = strings.TrimSuffix(at.File, filepath.Ext(at.File))
	}
	if record.Loose(name) != record.Loose(workbook.StartName) {
		return false
	}
	starts := map[int]workbook.Block{} // by place in rows
	var places []int
	for i, row := range g.Rows {
		for _, b := range workbook.StartBlocks {
			if record.Loose(row.At(1).Text) == record.Loose(b.Title) && row.At(2).Text == "" || b.Kind == "" && record.Loose(row.At(1).Text) == record.Loose(b.Title) {
				starts[i] = b
				places = append(places, i)
			}
		}
	}
	for n, i := range places {
		end := len(g.Rows)
		if n+1 < len(places) {
			end = places[n+1]
		}
		if i+1 >= end {
			continue
		}
		if b := starts[i]; b.Kind != "" {
			t := r.newTable(at, record.KindOf(b.Kind), g, i+1, end, b.Columns)
			t.export, t.part = export, true
		} else {
			r.stages(at, g, i, end)
		}
	}
	return true
}

// Columns of the block of stages.
const (
	partColumn = iota + 1
	stageColumn
	stateColumn
	groundsColumn
	dayColumn
	noteColumn
)

// stages turns the block of stages into sightings, and the days on which and
// ways in which they were known into visits.
func (r *reader) stages(at Cell, g *grid, heading, end int) {
	sightings := r.synthetic(at, "sighting", g.Rows[heading+1].Number, map[string]int{
		"visit": dayColumn, "step": stageColumn, "state": stateColumn, "note": noteColumn,
	})
	sightings.grounds = groundsColumn
	visits := r.synthetic(at, "visit", sightings.header, map[string]int{"day": dayColumn, "by": groundsColumn})
	made := map[string]bool{}
	day := g.Rows[heading].At(stateColumn) // behind "as of the day:"
	for _, row := range g.Rows[heading+2 : end] {
		if row.At(stageColumn).Text == "" {
			continue
		}
		l := &line{t: sightings, n: row.Number, cells: map[int]workbook.Cell{}, today: r.opt.Today}
		for _, c := range row.Cells {
			l.cells[c.Column] = c
		}
		for n := partColumn; n <= noteColumn; n++ {
			if a, ok := r.answer(l.at(n).String()); ok && a != "" {
				l.cells[n] = workbook.Cell{Column: n, Text: a}
			}
		}
		r.stage(l)
		if l.text(groundsColumn) == "" {
			l.cells[groundsColumn] = workbook.Cell{Column: groundsColumn, Text: string(record.Told)}
		}
		key, by, on := r.visitFor(l, day, g.Rows[heading].Number)
		if key == "" {
			continue
		}
		if !made[key] && !r.rec.Has(record.R("visit", key)) {
			made[key] = true
			v := &line{t: visits, n: row.Number, today: r.opt.Today, given: key, cells: map[int]workbook.Cell{
				dayColumn: {Column: dayColumn, Text: on.String()}, groundsColumn: {Column: groundsColumn, Text: by},
			}}
			visits.lines = append(visits.lines, v)
		}
		l.cells[dayColumn] = workbook.Cell{Column: dayColumn, Text: "visit/" + key}
		sightings.lines = append(sightings.lines, l)
	}
	r.out.Sources = append(r.out.Sources, Source{At: at, As: workbook.StagesTitle, Rows: len(sightings.lines),
		Notes: []string{"rows that do not say how it is known are taken as told"}})
	sightings.source = len(r.out.Sources) - 1
	visits.source = sightings.source
}

// synthetic makes an empty table whose fields stand in given columns.
func (r *reader) synthetic(at Cell, kind string, header int, fields map[string]int) *table {
	k := record.KindOf(kind)
	t := &table{at: at, kind: k, header: header, part: true}
	for i := range k.Fields {
		if n := fields[k.Fields[i].Name]; n != 0 {
			t.columns = append(t.columns, column{n: n, field: &k.Fields[i]})
		}
	}
	r.tables = append(r.tables, t)
	return t
}

// stage finds the step that a part and its stage amount to, and writes it into
// the stage's cell.
func (r *reader) stage(l *line) {
	text := l.text(stageColumn)
	if len(r.names.Find(text, []string{"step"}, 0)) == 1 {
		return
	}
	parts := r.names.Find(l.text(partColumn), []string{"part"}, 0)
	var same, all []string
	for _, step := range journal.All[record.Step](r.rec) {
		if len(parts) != 1 || step.Part != parts[0] {
			continue
		}
		all = append(all, step.Key())
		if record.Loose(workbook.StageOf(step)) == record.Loose(text) || record.Loose(step.Stage) == record.Loose(text) {
			same = append(same, step.Key())
		}
	}
	if len(same) == 1 {
		l.cells[stageColumn] = workbook.Cell{Column: stageColumn, Text: "step/" + same[0]}
		return
	}
	l.held = true
	ask := Ask{ID: l.at(stageColumn).String(), At: l.at(stageColumn), Text: text, Question: "this part has no such stage; which step is it?", Readings: all, Free: true}
	if len(parts) != 1 {
		ask.Question, ask.Readings = "no part, or more than one, is called "+l.text(partColumn)+"; which step is meant?", r.near(l.text(partColumn)+" "+text, []string{"step"})
	}
	r.ask(ask)
}

// visitFor returns the key of the visit at which a stage was known, how that
// visit was made, and its day.
func (r *reader) visitFor(l *line, day workbook.Cell, row int) (key, by string, on calendar.Day) {
	by = map[string]string{"seen": "owner", "measured": "owner", "shown": "pictures"}[l.text(groundsColumn)]
	if by == "" {
		by = "call"
	}
	text, at := l.text(dayColumn), l.at(dayColumn)
	if text == "" {
		at.Row, at.Column = row, stateColumn
		text = day.Text
		if a, ok := r.answer(at.String()); ok {
			text = a
		}
	}
	if text == "" {
		r.ask(Ask{ID: at.String(), At: at, Question: "on which day were the stages so?", Readings: []string{r.opt.Today.String()}, Free: true})
		return "", "", 0
	}
	on, err := calendar.ParseDay(text, r.opt.Today)
	if err != nil {
		r.out.refuse(at, text, "%v", err)
		return "", "", 0
	}
	for _, v := range journal.All[record.Visit](r.rec) {
		if v.Day == on && v.By == by {
			return v.Key(), by, on
		}
	}
	key = on.String()
	if by != "owner" {
		key += "-" + by
	}
	return key, by, on
}
