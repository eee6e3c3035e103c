package workbook

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// Bounds of what a spreadsheet holds.
const (
	cellHolds  = 32_000 // characters; a spreadsheet keeps 32,767
	spareRows  = 500    // empty rows below the last that still offer their choices
	longestTip = 255    // characters of choices that fit into a cell's rule
)

// besides are the titles of the columns beside the fields, and what each is for.
var besides = []struct{ title, says string }{
	{"since", "for a row that you change: the day from which it holds"},
	{"how we know", "for a row that you add or change: told, shown, written, seen, measured, weighed, certified"},
	{"by", "for a row that you add or change: who says so"},
}

// Write writes the record as a workbook: a sheet that says how to use it, a
// sheet for each kind, and hidden ones with names to choose from and with each
// value as it was exported. Texts stay texts, whatever sign they begin with.
func Write(w io.Writer, r *journal.Record) error {
	b := newBuilder(r)
	b.guide(
		guideMark,
		"Each sheet is one kind of thing. Add rows, change cells, leave the column \"key\" as it is; a new row needs no key.",
		"Write as you speak: 12,5 kg, 5' 9 1/2\", ca. 12 mm, 12-14 mm, W34, end of May, tbc. Name things by their name or key.",
		"Taking out a row or emptying a cell takes nothing away: you will be asked. For changes, say in \"since\" from which day they hold.",
		"Read it back with: dogshore intake FOLDER this-file.xlsx. You see first what was read, and nothing is written until you accept it.",
	)
	for i := range record.Kinds() {
		b.kind(&record.Kinds()[i])
	}
	b.lists()
	b.exported()
	return b.close(w)
}

// builder writes sheets one behind the other; the first error stays.
type builder struct {
	rec   *journal.Record
	names *Names
	f     *excelize.File
	err   error

	head, text, long, day int // styles

	choices map[string]string // kinds that may be named, to the list that offers them
	columns [][]string        // of the sheet of lists
	kept    [][]any           // rows of the sheet of exported values
}

func newBuilder(r *journal.Record) *builder {
	b := &builder{rec: r, names: NamesOf(r), f: excelize.NewFile(), choices: map[string]string{}}
	style := func(s excelize.Style) int {
		id, err := b.f.NewStyle(&s)
		b.fail(err)
		return id
	}
	iso := "yyyy-mm-dd"
	top := &excelize.Alignment{Vertical: "top"}
	b.head = style(excelize.Style{Font: &excelize.Font{Bold: true, Family: "Arial", Size: 10}, Border: []excelize.Border{{Type: "bottom", Color: "000000", Style: 1}}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}, NumFmt: asText})
	b.text = style(excelize.Style{NumFmt: asText, Alignment: top})
	b.long = style(excelize.Style{NumFmt: asText, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	b.day = style(excelize.Style{CustomNumFmt: &iso, Alignment: top})
	return b
}

// asText is the number format that leaves what is typed as it is: no date is
// made of 12-14, and no formula of a text that begins with =.
const asText = 49

func (b *builder) fail(err error) {
	if b.err == nil {
		b.err = err
	}
}

func (b *builder) close(w io.Writer) error {
	defer func() { _ = b.f.Close() }()
	if b.err != nil {
		return fmt.Errorf("write workbook: %w", b.err)
	}
	b.f.SetActiveSheet(0)
	if err := b.f.Write(w); err != nil {
		return fmt.Errorf("write workbook: %w", err)
	}
	return nil
}

// guide writes the first sheet.
func (b *builder) guide(lines ...string) {
	b.fail(b.f.SetSheetName("Sheet1", guideName))
	b.fail(b.f.SetColWidth(guideName, "A", "A", 120))
	for i, l := range lines {
		at := fmt.Sprintf("A%d", i+1)
		b.fail(b.f.SetCellStr(guideName, at, l))
		b.fail(b.f.SetCellStyle(guideName, at, at, []int{b.long, b.head}[bit(i == 0)]))
	}
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// sheetNames are bounded by spreadsheets, and so are those of kinds.
const longestSheetName = 31

// kind writes the sheet of one kind.
func (b *builder) kind(k *record.Kind) {
	if b.err != nil {
		return
	}
	name := k.Plural[:min(len(k.Plural), longestSheetName)]
	_, err := b.f.NewSheet(name)
	b.fail(err)
	refs := b.rec.Refs(k.Name)
	header := []any{excelize.Cell{StyleID: b.head, Value: "key"}}
	tips := []string{"short name, unique in this sheet; made of the name if left blank"}
	for i := range k.Fields {
		f := &k.Fields[i]
		header = append(header, excelize.Cell{StyleID: b.head, Value: f.Title})
		tips = append(tips, tip(f))
	}
	for _, x := range besides {
		if k.Field(x.title) == nil {
			header = append(header, excelize.Cell{StyleID: b.head, Value: x.title})
			tips = append(tips, x.says)
		}
	}
	b.rules(name, k, len(refs))
	b.tips(name, tips)
	sw, err := b.f.NewStreamWriter(name)
	if err != nil {
		b.fail(err)
		return
	}
	b.shape(sw, k, len(header))
	b.fail(sw.SetRow("A1", header))
	for i, self := range refs {
		b.fail(sw.SetRow(fmt.Sprintf("A%d", i+2), b.row(k, self)))
	}
	b.fail(sw.Flush())
}

// tip is what a column's comment says.
func tip(f *record.Field) string {
	s := f.Says
	switch {
	case f.Type == record.RefType:
		s += " (a " + joinWords(f.Of) + ", by name or key)"
	case f.Need:
		s += " (needed)"
	}
	return s
}

func joinWords(kinds []string) string {
	out := ""
	for i, k := range kinds {
		switch {
		case i == 0:
		case i == len(kinds)-1:
			out += " or "
		default:
			out += ", "
		}
		out += record.KindOf(k).Title
	}
	return out
}

func (b *builder) tips(sheet string, tips []string) {
	for i, t := range tips {
		b.fail(b.f.AddComment(sheet, excelize.Comment{Cell: Letters(i+1) + "1", Author: "dogshore", Text: t, Width: 260, Height: 70}))
	}
}

// shape sets widths and formats, and freezes header and keys.
func (b *builder) shape(sw *excelize.StreamWriter, k *record.Kind, columns int) {
	b.fail(sw.SetPanes(&excelize.Panes{Freeze: true, XSplit: 1, YSplit: 1, TopLeftCell: "B2", ActivePane: "bottomRight"}))
	for c := 1; c <= columns; c++ {
		width, style := 16.0, b.text
		if c == 1 {
			width = 22
		}
		if c > 1 && c-2 < len(k.Fields) {
			switch f := &k.Fields[c-2]; {
			case f.Long:
				width, style = 44, b.long
			case f.Names:
				width = 30
			case f.Type == record.DayType:
				width, style = 12, b.day
			case f.Type == record.FlagType:
				width = 8
			case f.Type == record.OutlineType:
				width = 30
			}
		}
		b.fail(sw.SetColWidth(c, c, width))
		b.fail(sw.SetColStyle(c, c, style))
	}
}

// row writes one subject, and keeps what it wrote for the hidden sheet.
func (b *builder) row(k *record.Kind, self record.Ref) []any {
	out := []any{excelize.Cell{StyleID: b.text, Value: self.Key()}}
	for i := range k.Fields {
		f := &k.Fields[i]
		h, ok := b.rec.Held(self, f.Name)
		if !ok {
			out = append(out, nil)
			continue
		}
		text, cell := b.cell(f, h.Value)
		out = append(out, cell)
		value := string(h.Value)
		if len(value) > cellHolds {
			value = "" // the text as it stands in its cell is compared instead
		}
		b.kept = append(b.kept, []any{self.Kind(), self.Key(), f.Name, h.Entry.ID, text, value})
	}
	return out
}

// cell returns a value's text, as it will be read back, and its cell.
func (b *builder) cell(f *record.Field, v record.Value) (string, excelize.Cell) {
	switch f.Type {
	case record.DayType:
		if d, err := calendar.ParseISO(f.Plain(v)); err == nil && d != 0 {
			return d.String(), excelize.Cell{StyleID: b.day, Value: serialOf(d)}
		}
	case record.RefType:
		text := b.names.Say(record.Ref(f.Plain(v)), f.Of)
		return text, excelize.Cell{StyleID: b.text, Value: text}
	}
	text := f.Format(v)
	if u := utf16.Encode([]rune(text)); len(u) > cellHolds {
		text = strings.TrimSpace(string(utf16.Decode(u[:cellHolds]))) + CutOff
	}
	style := b.text
	if f.Long {
		style = b.long
	}
	return text, excelize.Cell{StyleID: style, Value: text}
}

// CutOff ends a text that is too long for a cell. As long as it is left as it
// is, the whole text stays.
const CutOff = " ... (cut here: too long for a cell; leave it as it is)"

// rules offers the words of choices and flags, and the names of subjects.
// Other texts may be typed all the same: intake asks about them.
func (b *builder) rules(sheet string, k *record.Kind, rows int) {
	for i := range k.Fields {
		f := &k.Fields[i]
		from := ""
		var words []string
		switch f.Type {
		case record.ChoiceType:
			words = f.Of
		case record.FlagType:
			words = []string{string(record.Yes), string(record.No)}
		case record.RefType:
			from = b.list(f.Of)
		}
		b.offer(sheet, fmt.Sprintf("%s2:%s%d", Letters(i+2), Letters(i+2), rows+1+spareRows), words, from)
	}
}

// offer puts a list of choices on cells: words, or a range of the lists.
func (b *builder) offer(sheet, cells string, words []string, from string) {
	dv := excelize.NewDataValidation(true)
	dv.SetSqref(cells)
	switch {
	case from != "":
		dv.SetSqrefDropList(from)
	case words != nil:
		b.fail(dv.SetDropList(words))
	default:
		return
	}
	dv.ShowErrorMessage = false
	b.fail(b.f.AddDataValidation(sheet, dv))
}

// longestList bounds a list of names: nobody looks through more.
const longestList = 3000

// list returns the range that offers the subjects of some kinds, "" if there
// are none.
func (b *builder) list(kinds []string) string {
	id := joinWords(kinds)
	if at, ok := b.choices[id]; ok {
		return at
	}
	var names []string
	for _, k := range kinds {
		for _, self := range b.names.Of(k) {
			names = append(names, b.names.Say(self, kinds))
		}
	}
	slices.Sort(names)
	return b.listOf(id, names)
}

func (b *builder) listOf(id string, names []string) string {
	at := ""
	if len(names) > 0 && len(names) <= longestList {
		b.columns = append(b.columns, names)
		c := Letters(len(b.columns))
		at = fmt.Sprintf("'%s'!$%s$1:$%s$%d", listsName, c, c, len(names))
	}
	b.choices[id] = at
	return at
}

// lists writes the hidden sheet of names.
func (b *builder) lists() {
	rows := 0
	for _, c := range b.columns {
		rows = max(rows, len(c))
	}
	b.hidden(listsName, rows, func(i int) []any {
		row := make([]any, len(b.columns))
		for c, names := range b.columns {
			if i < len(names) {
				row[c] = names[i]
			}
		}
		return row
	})
}

// exported writes the hidden sheet of values as exported.
func (b *builder) exported() {
	b.hidden(exportName, len(b.kept)+1, func(i int) []any {
		if i == 0 {
			return []any{exportMark}
		}
		return b.kept[i-1]
	})
}

func (b *builder) hidden(name string, rows int, row func(i int) []any) {
	if b.err != nil {
		return
	}
	_, err := b.f.NewSheet(name)
	b.fail(err)
	sw, err := b.f.NewStreamWriter(name)
	if err != nil {
		b.fail(err)
		return
	}
	for i := range rows {
		b.fail(sw.SetRow(fmt.Sprintf("A%d", i+1), row(i)))
	}
	b.fail(sw.Flush())
	b.fail(b.f.SetSheetVisible(name, false))
}
