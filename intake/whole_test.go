package intake_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
	"dogshore/workbook"
)

// everything is a record with two subjects of each kind that have every field.
func everything(t *testing.T) *journal.Record {
	t.Helper()
	var j journal.Journal
	for i := range record.Kinds() {
		k := &record.Kinds()[i]
		for _, key := range []string{"one", "two"} {
			if k.Name == "build" {
				key = "build"
			}
			e := journal.Entry{ID: k.Name + key, Stamp: journal.Stamp(j.Len() + 1), Since: journal.Always, Author: "owner", Grounds: record.Written, Version: journal.Version, Arrival: int64(j.Len() + 1)}
			for n := range k.Fields {
				f := &k.Fields[n]
				v, err := f.Check(record.Encode(example(f, key)))
				if err != nil {
					t.Fatal(err)
				}
				e.Facts = append(e.Facts, journal.Fact{Kind: k.Name, Key: key, Field: f.Name, Value: v})
			}
			j.Add(e)
		}
	}
	return j.As(today, journal.Now)
}

// example is a value of a field that is awkward for a spreadsheet.
func example(f *record.Field, key string) any {
	dim := f.Dim
	if dim == unit.Any {
		dim = unit.Temperature
	}
	switch f.Type {
	case record.DayType:
		return calendar.Date(2026, 2, 3) + calendar.Day(len(key))
	case record.SpanType:
		return calendar.Span{First: calendar.Date(2026, 5, 21), Last: calendar.Date(2026, 5, 31), As: "end of May"}
	case record.FlagType:
		return record.No
	case record.ChoiceType:
		return f.Of[len(f.Of)-1]
	case record.RefType:
		if f.Of[0] == "build" {
			return record.Ref("build/build")
		}
		return record.R(f.Of[len(f.Of)-1], map[bool]string{true: "build", false: "two"}[f.Of[len(f.Of)-1] == "build"])
	case record.QuantityType:
		return unit.Quantity{Known: true, SI: 0.1234, Low: 0.1, High: 1.0 / 3, Dim: dim, About: true}
	case record.MoneyType:
		return unit.Money{Minor: -1234567, Currency: "BHD"}
	case record.ThreePointType:
		return record.ThreePoint{Known: true, Low: 1.2, Mode: 3, High: 1234.567, Dim: dim}
	case record.ToleranceType:
		return record.Tolerance{Known: true, Value: 298.15, Minus: 0.7, Plus: 0, Dim: dim}
	case record.SpotType:
		return record.Spot{Known: true, X: 1.234, Y: -2, Z: 1e-9}
	case record.OutlineType:
		return record.Outline{{0, 0}, {1.234, 0}, {1.234, -5.5}}
	case record.FileType:
		return record.File{SHA256: strings.Repeat("0f", 32), Name: "a picture, of two things.jpg"}
	}
	text := "=1+1 \"" + key + "\"; 1.200, 3/4 <b> & _x0041_\nüö €"
	if f.Long {
		text += strings.Repeat(" 🛥 long", 9000)
	}
	return text
}

// Every field of every kind comes back from a workbook as it went out, and so
// says nothing; the same from a workbook that a spreadsheet program saved.
func TestEveryFieldComesBack(t *testing.T) {
	rec := everything(t)
	var b bytes.Buffer
	if err := workbook.Write(&b, rec); err != nil {
		t.Fatal(err)
	}
	fields := 0
	for i := range record.Kinds() {
		n := 2
		if record.Kinds()[i].Name == "build" {
			n = 1
		}
		fields += n * len(record.Kinds()[i].Fields)
	}
	r := intake.Read([]intake.File{{Name: "all.xlsx", Data: bytes.NewReader(b.Bytes()), Size: int64(b.Len())}}, rec, intake.Options{Today: today})
	if len(r.Reads)+len(r.Asks)+len(r.Refuses) != 0 || r.Same != fields {
		t.Errorf("%d of %d fields came back the same:\n%s", r.Same, fields, printed(t, r))
	}
}

// Without the hidden sheet, the texts alone say the same.
func TestTextsAloneSayTheSame(t *testing.T) {
	rec := everything(t)
	var b, bare bytes.Buffer
	if err := workbook.Write(&b, rec); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.DeleteSheet("as exported"); err != nil {
		t.Fatal(err)
	}
	if err := f.Write(&bare); err != nil {
		t.Fatal(err)
	}
	r := intake.Read([]intake.File{{Name: "all.xlsx", Data: bytes.NewReader(bare.Bytes()), Size: int64(bare.Len())}}, rec, intake.Options{Today: today})
	for _, a := range r.Asks {
		if !strings.Contains(a.Text, "long") { // cut off, for a cell holds no more
			t.Errorf("asked: %+v", a)
		}
	}
	if len(r.Reads)+len(r.Refuses) != 0 {
		t.Error(printed(t, r))
	}
}

// A text that was too long for its cell is never replaced by its beginning.
func TestCutTextIsKeptWhole(t *testing.T) {
	rec := everything(t)
	var b bytes.Buffer
	if err := workbook.Write(&b, rec); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.SetCellStr("Notes", "B2", "changed"); err != nil {
		t.Fatal(err)
	}
	r := intake.Read([]intake.File{asFile(t, f, "all.xlsx")}, rec, intake.Options{Today: today, Correct: true})
	if len(r.Reads) != 0 || len(r.Refuses) != 1 || !strings.Contains(r.Refuses[0].Why, "on its own page") {
		t.Error(printed(t, r))
	}
}

// Cells that hold no value that can be read.
func TestFormulasWithoutValues(t *testing.T) {
	f := excelize.NewFile()
	set := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	set(f.SetSheetName("Sheet1", "People"))
	set(f.SetSheetRow("People", "A1", &[]any{"name", "may instruct", "clause", "trade"}))
	set(f.SetSheetRow("People", "A2", &[]any{"Olga", true, nil, "x"}))
	set(f.SetCellFormula("People", "C2", "1+1"))
	r := intake.Read([]intake.File{asFile(t, f, "people.xlsx")}, boat(t), intake.Options{Today: today})
	if got, _, _ := says(r, "person/olga", "may_instruct"); got != "yes" {
		t.Errorf("true is %q", got)
	}
	if a := asked(r, "people.xlsx, People, C2"); a == nil || !strings.Contains(a.Question, "never computed") {
		t.Errorf("a formula without a value:\n%s", printed(t, r))
	}
}
