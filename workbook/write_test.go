package workbook_test

import (
	"bytes"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"dogshore/calendar"
	"dogshore/internal/test"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
	"dogshore/workbook"
)

func sample(t *testing.T) *journal.Record {
	t.Helper()
	var j journal.Journal
	add := func(id string, ref record.Ref, values map[string]record.Value) {
		e := journal.Entry{ID: id, Stamp: journal.Stamp(len(id) + j.Len()), Since: journal.Always, Author: "owner", Grounds: record.Written, Version: journal.Version, Arrival: int64(j.Len() + 1)}
		k := record.KindOf(ref.Kind())
		for i := range k.Fields {
			if v, ok := values[k.Fields[i].Name]; ok {
				e.Facts = append(e.Facts, journal.Fact{Kind: ref.Kind(), Key: ref.Key(), Field: k.Fields[i].Name, Value: v})
			}
		}
		c, err := journal.Check(e)
		if err != nil {
			t.Fatal(err)
		}
		j.Add(c)
	}
	kg, err := unit.ParseQuantity("12,5 kg", unit.Mass, unit.Habit{})
	if err != nil {
		t.Fatal(err)
	}
	add("b", "build/build", record.Values(record.Build{Name: "Nobody's Boat", ContractDay: calendar.Date(2026, 1, 12), Currency: "EUR", Length: unit.Q(14.9, unit.Length)}))
	add("p1", "part/deck", record.Values(record.Part{Name: "Deck"}))
	add("p2", "part/port-hatch", record.Values(record.Part{Name: "Hatch", Within: "part/deck", Side: "port"}))
	add("p3", "part/starboard-hatch", record.Values(record.Part{Name: "Hatch", Within: "part/deck", Side: "starboard"}))
	add("s1", "step/deck-core", record.Values(record.Step{Name: "Deck core", Part: "part/deck", Work: record.ThreePoint{Known: true, Low: 3, Mode: 5, High: 9, Dim: unit.Work, As: "3/5/9 wd"}}))
	add("o1", "point/hatches", record.Values(record.Point{Question: "=SUM(A1) or two hatches?", Part: "part/port-hatch", CoveredBy: "step/deck-core"}))
	add("op", "option/two", record.Values(record.Option{Point: "point/hatches", Name: "+two", Weight: kg, Price: unit.Money{Minor: 125000, Currency: "EUR"}}))
	return j.As(calendar.Date(2026, 6, 1), journal.Now)
}

func written(t *testing.T, write func(io.Writer, *journal.Record) error) *bytes.Reader {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b, sample(t)); err != nil {
		t.Fatal(err)
	}
	return bytes.NewReader(b.Bytes())
}

func TestWorkbookHasASheetForEachKind(t *testing.T) {
	raw := written(t, workbook.Write)
	b, err := workbook.Read("build.xlsx", raw, raw.Size())
	if err != nil {
		t.Fatal(err)
	}
	sheets := map[string]*workbook.Sheet{}
	for i := range b.Sheets {
		sheets[b.Sheets[i].Name] = &b.Sheets[i]
	}
	for _, k := range record.Kinds() {
		s := sheets[k.Plural]
		if s == nil {
			t.Errorf("no sheet %q", k.Plural)
			continue
		}
		if got := s.Rows[0].At(1).Text; got != "key" {
			t.Errorf("%s begins with %q", k.Plural, got)
		}
		for i := range k.Fields {
			if got := s.Rows[0].At(i + 2).Text; got != k.Fields[i].Title {
				t.Errorf("%s: column %d is %q, want %q", k.Plural, i+2, got, k.Fields[i].Title)
			}
		}
	}
	for at, want := range map[[2]string]string{
		{"Parts", "C3"}:   "Deck",                     // a name that one part has
		{"Options", "B2"}: "=SUM(A1) or two hatches?", // a text that begins like a formula
		{"Options", "F2"}: "12,5 kg",                  // as it was typed
		{"Build", "M2"}:   "2026-01-12",
	} {
		s := sheets[at[0]]
		row, column := int(at[1][1]-'0'), int(at[1][0]-'A')+1
		if got := s.Rows[row-1].At(column).Text; got != want {
			t.Errorf("%s %s is %q, want %q", at[0], at[1], got, want)
		}
	}
	if s := sheets["Open points"]; s.Rows[1].At(3).Text != "port-hatch" {
		t.Errorf("of two hatches one is named %q; its key is wanted", s.Rows[1].At(3).Text)
	}
	if !workbook.IsGuide(&b.Sheets[0]) || len(b.Sheets[0].Rows) != 5 {
		t.Errorf("the first sheet is %+v", b.Sheets[0])
	}
	e := b.Exported()
	x, ok := e.Field("option/two", "weight")
	if !ok || x.Text != "12,5 kg" || x.Entry != "op" || len(e.Refs()) != 7 {
		t.Errorf("as exported: %+v, %d subjects", x, len(e.Refs()))
	}
}

// What is typed stays as it is typed, and nothing that was written is a
// formula, whatever sign it begins with.
func TestWrittenCellsAreTexts(t *testing.T) {
	f, err := excelize.OpenReader(written(t, workbook.Write))
	if err != nil {
		t.Fatal(err)
	}
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range rows {
			for k := range row {
				at := workbook.Letters(k+1) + strconv.Itoa(i+1)
				if formula, _ := f.GetCellFormula(sheet, at); formula != "" {
					t.Errorf("%s %s is the formula %q", sheet, at, formula)
				}
			}
		}
	}
	for _, at := range []string{"C2", "F2", "C40"} { // C40 is yet to be filled in
		id, err := f.GetCellStyle("Options", at)
		if err != nil {
			t.Fatal(err)
		}
		if at == "C40" {
			if id, err = f.GetColStyle("Options", "C"); err != nil {
				t.Fatal(err)
			}
		}
		style, err := f.GetStyle(id)
		if err != nil || style.NumFmt != 49 {
			t.Errorf("%s has number format %d, %v; want 49, text", at, style.NumFmt, err)
		}
	}
}

func TestChoicesAreOffered(t *testing.T) {
	f, err := excelize.OpenReader(written(t, workbook.Write))
	if err != nil {
		t.Fatal(err)
	}
	rules, err := f.GetDataValidations("Parts")
	if err != nil {
		t.Fatal(err)
	}
	offered := map[string]string{}
	for _, r := range rules {
		offered[strings.TrimRight(strings.SplitN(r.Sqref, ":", 2)[0], "0123456789")] = r.Formula1
	}
	if got := offered["E"]; got != `"port,starboard,middle,both"` {
		t.Errorf("sides offered: %s", got)
	}
	cells := strings.ReplaceAll(strings.TrimPrefix(offered["C"], "'names to choose'!"), "$", "")
	from, to, _ := strings.Cut(cells, ":")
	var names []string
	for row := 1; ; row++ {
		at := strings.TrimRight(from, "0123456789") + strconv.Itoa(row)
		v, err := f.GetCellValue("names to choose", at)
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, v)
		if at == to {
			break
		}
	}
	if got := strings.Join(names, "|"); got != "Deck|port-hatch|starboard-hatch" {
		t.Errorf("parts offered: %s", got)
	}
	for _, hidden := range []string{"names to choose", "as exported"} {
		if visible, err := f.GetSheetVisible(hidden); visible || err != nil {
			t.Errorf("%s is shown, %v", hidden, err)
		}
	}
	notes, err := f.GetComments("Parts")
	if err != nil || len(notes) < 10 {
		t.Errorf("%d of the titles explain themselves, %v", len(notes), err)
	}
	panes, err := f.GetPanes("Parts")
	if err != nil || !panes.Freeze || panes.YSplit != 1 {
		t.Errorf("the header is not frozen: %+v, %v", panes, err)
	}
}

// The same record gives the same sheets.
func TestWritingTwiceIsTheSame(t *testing.T) {
	one, two := written(t, workbook.Write), written(t, workbook.Write)
	a, err := workbook.Read("a.xlsx", one, one.Size())
	if err != nil {
		t.Fatal(err)
	}
	b, err := workbook.Read("b.xlsx", two, two.Size())
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(a, b); d != "" {
		t.Error(d)
	}
}

func TestStartSheetIsOnePage(t *testing.T) {
	f, err := excelize.OpenReader(written(t, workbook.StartSheet))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := f.GetRows(workbook.StartName)
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) > 50 {
		t.Errorf("the start sheet has %d rows", len(rows))
	}
	props, err := f.GetSheetProps(workbook.StartName)
	if err != nil || props.FitToPage == nil || !*props.FitToPage {
		t.Errorf("it is not fitted to one page: %v", err)
	}
	rules, err := f.GetDataValidations(workbook.StartName)
	if err != nil || len(rules) < 10 {
		t.Errorf("%d lists to choose from, %v", len(rules), err)
	}
	fill := 0
	for _, b := range workbook.StartBlocks {
		fill += b.Rows
	}
	if fill < 14 || fill > 20 { // and a row for each of up to 16 parts
		t.Errorf("%d rows to fill in beside the stages", fill)
	}
}

func TestSerial(t *testing.T) {
	const src = "ECMA-376 part 1, 18.17.4.1, from memory: serial numbers of both date systems"
	for _, c := range []struct {
		serial float64
		from04 bool
		want   calendar.Day
	}{
		{36526, false, calendar.Date(2000, 1, 1)},
		{35064, true, calendar.Date(2000, 1, 1)}, // 1462 days less
		{46127.75, false, calendar.Date(2026, 4, 15)},
	} {
		d, ok := workbook.Serial(c.serial, c.from04)
		if !ok {
			t.Errorf("%v is no day", c.serial)
		}
		test.Check(t, "day number of spreadsheet serial "+strconv.FormatFloat(c.serial, 'f', -1, 64), src, float64(c.want), float64(d), 0)
	}
	for _, bad := range []float64{-1, 0, 17, 300_000, math.NaN(), math.Inf(1)} {
		if d, ok := workbook.Serial(bad, false); ok {
			t.Errorf("%v is %s", bad, d)
		}
	}
}
