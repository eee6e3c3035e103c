package workbook

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"dogshore/journal"
	"dogshore/record"
)

// StartName is the name of the start sheet, and StagesTitle the heading of its
// block of stages; the other blocks are headed by the plurals of kinds.
const (
	StartName   = "Start sheet"
	StagesTitle = "Stages now"
	SeenOn      = "as of the day:" // beside StagesTitle; the day stands behind it
)

// Block is one part of the start sheet: a heading, a row of titles, and rows
// to fill in.
type Block struct {
	Title   string
	Kind    string  // the kind that its rows are of; "" for the stages
	Columns []Entry // from left to right
	Rows    int     // blank rows; the stages have one for each part that has steps
}

// Entry is one column of a block: its title there, and the field that it
// fills.
type Entry struct{ Title, Field string }

// StartBlocks are the blocks of the start sheet: about 30 rows in all.
var StartBlocks = []Block{
	{"Build", "build", []Entry{{"name", "name"}, {"hull number", "hull_number"}, {"yard", "yard"}, {"country", "country"},
		{"length", "length"}, {"contract day", "contract_day"}, {"next visit", "next_visit"}}, 1},
	{StagesTitle, "", []Entry{{"part", ""}, {"stage reached", ""}, {"state", "state"}, {"how we know", ""}, {"day", ""}, {"a word on it", "note"}}, 0},
	{"Open points", "point", []Entry{{"what is to be settled", "question"}, {"on which part", "part"}, {"before which step", "covered_by"},
		{"built if nothing is said", "default"}, {"whose move", "move"}, {"what it touches", "gravity"}}, 5},
	{"Dates said", "statement", []Entry{{"in their words", "said"}, {"about what", "about"}, {"what happens", "what"}, {"when", "when"},
		{"who said it", "by"}, {"on which day", "on"}}, 3},
	{"People", "person", []Entry{{"name", "name"}, {"role", "role"}, {"may instruct?", "may_instruct"}, {"may release a hold?", "may_release"},
		{"may accept?", "may_accept"}, {"mail, telephone", "contact"}}, 3},
	{"Cut-offs", "cutoff", []Entry{{"what ends then", "name"}, {"day", "day"}, {"for what", "about"}, {"named by", "by"}, {"clause", "clause"}}, 2},
	{"Sister hulls", "sister", []Entry{{"number or name", "name"}, {"how far ahead", "ahead"}, {"what differs", "note"}}, 2},
}

// mostParts bounds the rows of stages, so that the sheet stays one page.
const mostParts = 16

// StartSheet writes the start sheet of a build whose record holds its
// template: one sheet that prints on one page, with the names of its parts and
// steps to choose from.
func StartSheet(w io.Writer, r *journal.Record) error {
	b := newBuilder(r)
	b.fail(b.f.SetSheetName("Sheet1", StartName))
	s := startSheet{builder: b, row: 1}
	s.styles()
	s.line(b.long, "Write in what you know and leave the rest blank: 20 minutes are enough. Lists open on the cells. W34, end of May, ca. and tbc are understood.")
	b.fail(b.f.MergeCell(StartName, "A1", "G1"))
	for _, block := range StartBlocks {
		s.block(block)
	}
	s.page()
	b.lists()
	b.exported()
	return b.close(w)
}

// startSheet is the start sheet being written, row by row.
type startSheet struct {
	*builder
	row int

	heading, titles, textLine, dayLine int // styles
}

// toWriteOn is the height of a row, in points, that a pen can write on.
const toWriteOn = 17

// styles makes the styles of a sheet that is also printed: a line to write on
// below each cell.
func (s *startSheet) styles() {
	style := func(x excelize.Style) int {
		id, err := s.f.NewStyle(&x)
		s.fail(err)
		return id
	}
	iso := "yyyy-mm-dd"
	line := []excelize.Border{{Type: "bottom", Color: "999999", Style: 1}}
	low := &excelize.Alignment{Vertical: "bottom", ShrinkToFit: true}
	s.heading = style(excelize.Style{Font: &excelize.Font{Bold: true, Size: 12, Family: "Arial"}, NumFmt: asText})
	s.titles = style(excelize.Style{Font: &excelize.Font{Italic: true, Size: 9, Family: "Arial"}, NumFmt: asText})
	s.textLine = style(excelize.Style{Font: &excelize.Font{Size: 10, Family: "Arial"}, Border: line, Alignment: low, NumFmt: asText})
	s.dayLine = style(excelize.Style{Font: &excelize.Font{Size: 10, Family: "Arial"}, Border: line, Alignment: low, CustomNumFmt: &iso})
}

func (s *startSheet) line(style int, texts ...string) {
	for i, t := range texts {
		at := fmt.Sprintf("%s%d", Letters(i+1), s.row)
		s.fail(s.f.SetCellStr(StartName, at, t))
		s.fail(s.f.SetCellStyle(StartName, at, at, style))
	}
	s.row++
}

func (s *startSheet) block(b Block) {
	s.row++ // a blank row parts the blocks
	words := []string{b.Title}
	if b.Kind == "" {
		words = append(words, SeenOn, "")
	}
	s.line(s.heading, words...)
	var titles []string
	for _, c := range b.Columns {
		titles = append(titles, c.Title)
	}
	if b.Kind == "" {
		s.fail(s.f.SetCellStyle(StartName, fmt.Sprintf("C%d", s.row-1), fmt.Sprintf("C%d", s.row-1), s.dayLine))
		s.line(s.titles, titles...)
		s.stages()
		return
	}
	k := record.KindOf(b.Kind)
	s.line(s.titles, titles...)
	first := s.row
	for i, c := range b.Columns {
		s.column(k.Field(c.Field), i+1, first, first+b.Rows-1)
	}
	for row := first; row < first+b.Rows; row++ {
		s.fail(s.f.SetRowHeight(StartName, row, toWriteOn))
	}
	if self := record.R(b.Kind, b.Kind); b.Kind == "build" && s.rec.Has(self) {
		s.fill(k, self, b.Columns)
	}
	s.row = first + b.Rows
}

// column sets formats and choices of one field's cells.
func (s *startSheet) column(f *record.Field, column, first, last int) {
	from, to := fmt.Sprintf("%s%d", Letters(column), first), fmt.Sprintf("%s%d", Letters(column), last)
	style := s.textLine
	if f.Type == record.DayType {
		style = s.dayLine
	}
	s.fail(s.f.SetCellStyle(StartName, from, to, style))
	cells := from + ":" + to
	switch f.Type {
	case record.ChoiceType:
		s.offer(StartName, cells, f.Of, "")
	case record.FlagType:
		s.offer(StartName, cells, []string{"yes", "no"}, "")
	case record.RefType:
		s.offer(StartName, cells, nil, s.list(f.Of))
	}
}

// fill writes what the record says of the build already.
func (s *startSheet) fill(k *record.Kind, self record.Ref, columns []Entry) {
	for i, c := range columns {
		name := c.Field
		h, ok := s.rec.Held(self, name)
		if !ok {
			continue
		}
		text, cell := s.cell(k.Field(name), h.Value)
		at := fmt.Sprintf("%s%d", Letters(i+1), s.row)
		s.fail(s.f.SetCellValue(StartName, at, cell.Value))
		s.kept = append(s.kept, []any{self.Kind(), self.Key(), name, h.Entry.ID, text, string(h.Value)})
	}
}

// stages writes a row for each part that has steps, with its own stages to
// choose from, in the order of the first step's rank.
func (s *startSheet) stages() {
	stages := map[record.Ref][]record.Step{}
	var parts []record.Ref
	for _, step := range journal.All[record.Step](s.rec) {
		if step.Part == "" || step.NotDone == record.Yes || step.Withdrawn == record.Yes {
			continue
		}
		if stages[step.Part] == nil {
			parts = append(parts, step.Part)
		}
		stages[step.Part] = append(stages[step.Part], step)
	}
	byRank := func(a, b record.Step) int {
		switch {
		case a.Rank.SI < b.Rank.SI:
			return -1
		case a.Rank.SI > b.Rank.SI:
			return 1
		}
		return strings.Compare(string(a.Self), string(b.Self))
	}
	for _, p := range parts {
		slices.SortFunc(stages[p], byRank)
	}
	slices.SortFunc(parts, func(a, b record.Ref) int { return byRank(stages[a][0], stages[b][0]) })
	parts = parts[:min(len(parts), mostParts)]
	for _, p := range parts {
		var words []string
		for _, st := range stages[p] {
			words = append(words, StageOf(st))
		}
		row := s.row
		s.line(s.textLine, s.names.Say(p, []string{"part"}), "", "", "", "", "")
		s.fail(s.f.SetRowHeight(StartName, row, toWriteOn))
		s.offer(StartName, fmt.Sprintf("B%d", row), nil, s.listOf("stages of "+string(p), words))
		s.fail(s.f.SetCellStyle(StartName, fmt.Sprintf("E%d", row), fmt.Sprintf("E%d", row), s.dayLine))
	}
	if len(parts) > 0 {
		first, last := s.row-len(parts), s.row-1
		s.offer(StartName, fmt.Sprintf("C%d:C%d", first, last), []string{"done", "under way"}, "")
		s.offer(StartName, fmt.Sprintf("D%d:D%d", first, last), []string{"seen", "shown", "told", "written"}, "")
	}
}

// StageOf is what the start sheet calls a step beside its part: its stage, or
// its name if it has none.
func StageOf(s record.Step) string {
	if s.Stage != "" {
		return strings.ReplaceAll(s.Stage, "-", " ")
	}
	return s.Name
}

// page lays the sheet out on one page of A4, across.
func (s *startSheet) page() {
	for i, width := range []float64{34, 22, 22, 22, 16, 16, 14} {
		s.fail(s.f.SetColWidth(StartName, Letters(i+1), Letters(i+1), width))
	}
	a4, across, one := 9, "landscape", 1
	fit := true
	s.fail(s.f.SetSheetProps(StartName, &excelize.SheetPropsOptions{FitToPage: &fit}))
	s.fail(s.f.SetPageLayout(StartName, &excelize.PageLayoutOptions{Size: &a4, Orientation: &across, FitToWidth: &one, FitToHeight: &one}))
	narrow := 0.4
	s.fail(s.f.SetPageMargins(StartName, &excelize.PageLayoutMarginsOptions{Left: &narrow, Right: &narrow, Top: &narrow, Bottom: &narrow}))
}
