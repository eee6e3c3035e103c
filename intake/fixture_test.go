package intake_test

import (
	"bytes"
	"flag"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"dogshore/intake"
	"dogshore/workbook"
)

var update = flag.Bool("update", false, "convert the fixtures again (needs LibreOffice)")

// The fixtures are sheets as people keep them, described here, and written as
// XLSX by LibreOffice. What it wrote is committed as testdata/*.xlsx, so that
// tests do not need it.

// cell is a cell of a fixture: what attributes it has, and its text.
type cell struct{ attrs, text string }

func s(text string) cell { return cell{`office:value-type="string"`, text} }

func n(value string) cell {
	return cell{`office:value-type="float" office:value="` + value + `"`, value}
}

func day(iso string) cell {
	return cell{`table:style-name="day" office:value-type="date" office:date-value="` + iso + `"`, iso}
}

func kilos(value string) cell {
	return cell{`table:style-name="kilos" office:value-type="float" office:value="` + value + `"`, value + " kg"}
}

func formula(f, value string) cell {
	return cell{`table:formula="of:=` + html.EscapeString(f) + `" office:value-type="float" office:value="` + value + `"`, value}
}

func merged(columns, rows int, c cell) cell {
	c.attrs += fmt.Sprintf(` table:number-columns-spanned="%d" table:number-rows-spanned="%d"`, columns, rows)
	return c
}

// hidden as a row's first cell hides the row.
var hidden = cell{"hidden", ""}

type sheet struct {
	name   string
	hidden bool
	rows   [][]cell
}

type fixture struct {
	null   string // the day from which days are counted
	sheets []sheet
}

var fixtures = map[string]fixture{
	"shed": {"1899-12-30", []sheet{
		{"Parts", false, [][]cell{
			{merged(5, 1, s("Parts of the boat, kept by hand since the spring"))},
			{},
			{merged(1, 2, s("name")), merged(1, 2, s("within")), merged(1, 2, s("side")), merged(2, 1, s("as on the drawing"))},
			{{}, {}, {}, s("number"), s("count")},
			{s("Hull"), {}, {}, s("A1"), n("1")},
			{s("Anchor locker"), s("Deck"), s("middle"), n("12"), formula("1+1", "2")},
		}},
		{"Bought-in items", false, [][]cell{
			{merged(4, 1, s("What is bought in, by whom"))},
			{s("from the list of March")},
			{},
			{s("name"), s("part"), s("bought by"), s("colour")},
			{s("Engines"), merged(1, 3, s("Hull")), s("yard"), s("grey")},
			{s("Shafts"), {}, s("yard")},
			{s("Seacocks"), {}, s("owner")},
			{s("Subtotal, below the water"), {}, {}, n("3")},
			{},
			{s("Note: hatches are still to be chosen")},
			{hidden, s("Old windlass"), s("Deck"), s("owner")},
			{s("Windlass"), s("Deck"), s("owner")},
			{s("Windlass"), s("Deck"), s("yard")},
			{s("Hatches"), s("Dek"), s("owner")},
			{s("Total"), {}, {}, n("7")},
		}},
		{"Options", false, [][]cell{
			{s("point"), s("name"), s("weight [kg]"), s("price"), s("days")},
			{s("Which windlass?"), s("electric"), n("18.5"), s("EUR 1.250,00"), n("2")},
			{s("Which windlass?"), s("by hand"), s("12,5 kg"), s("1 200 €"), s("tbc")},
			{s("Which windlass?"), s("none"), s("1.200"), s("-350,- EUR"), s("2-3")},
			{s("Which windlass?"), s("both"), formula("[.C2]+12.5", "31"), s("$ 400"), s("n/a")},
			{s("Which windlass?"), s("second hand"), kilos("21.25"), s("900 EUR"), s("1")},
		}},
		{"Open points", false, [][]cell{
			{s("question"), s("part"), s("asked")},
			{s("Which windlass?"), s("Deck"), day("2026-04-14")},
		}},
		{"Steps", false, [][]cell{
			{s("name"), s("part"), s("work"), s("lasts")},
			{s("Deck core"), s("Deck"), s("3/5/9 wd"), s("16 h")},
			{s("Deck bagged"), s("Deck"), n("2"), s("2 days")},
		}},
		{"Statements", false, [][]cell{
			{s("about"), s("what"), s("when"), s("on"), s("said")},
			{s("Deck core"), s("starts"), s("W34"), day("2026-04-14"), s("week 34, if the foam comes")},
			{s("Deck core"), s("is done"), day("2026-09-04"), s("14.4.2026"), {}},
			{s("Deck bagged"), s("is done"), s("03/04/2026"), s("12 March 2026"), {}},
			{s("Deck bagged"), s("starts"), s("end of May"), s("25/03/2026"), {}},
		}},
		{"Visits", false, [][]cell{
			{s("day"), s("by")},
			{day("2026-04-14"), s("owner")},
		}},
		{"Measurements", false, [][]cell{
			{s("visit"), s("what"), s("of"), s("got"), s("should")},
			{s("14.4.2026"), s("headroom"), s("Hull"), s(`5' 9 1/2"`), {}},
			{s("14.4.2026"), s("bunk width"), s("Hull"), s("18 3/4 in"), s("19 in ±1/4")},
			{s("14.4.2026"), s("core"), s("Deck core"), s("ca. 12 mm"), s("25 +0,5/-0 mm")},
			{s("14.4.2026"), s("flange"), s("Deck"), s("12-14 mm"), s("12 mm")},
			{s("14.4.2026"), s("vacuum"), s("Deck"), s("0,85 bar"), {}},
		}},
		{"Scratch", false, [][]cell{{s("anything"), s("at all")}, {n("1"), n("2")}}},
		{"Stands", true, [][]cell{{s("name")}, {s("Deck mould")}}},
	}},
	"counted-from-1904": {"1904-01-01", []sheet{
		{"Visits", false, [][]cell{
			{s("day"), s("by"), s("note")},
			{day("2026-04-14"), s("owner"), s("counted from 1904")},
			{day("2027-01-01"), s("call"), {}},
		}},
	}},
	"counted-from-1900": {"1899-12-30", []sheet{
		{"Visits", false, [][]cell{
			{s("day"), s("by"), s("note")},
			{day("2026-04-14"), s("owner"), s("counted from 1900")},
			{n("46127"), s("call"), s("a day shown as a number")},
		}},
	}},
}

// flat writes a fixture as one flat OpenDocument file.
func (f fixture) flat() string {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:number="urn:oasis:names:tc:opendocument:xmlns:datastyle:1.0" xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" office:version="1.3" office:mimetype="application/vnd.oasis.opendocument.spreadsheet">
<office:automatic-styles>
<number:date-style style:name="d"><number:day number:style="long"/><number:text>.</number:text><number:month number:style="long"/><number:text>.</number:text><number:year number:style="long"/></number:date-style>
<number:number-style style:name="k"><number:number number:decimal-places="2" number:min-integer-digits="1"/><number:text> kg</number:text></number:number-style>
<style:style style:name="day" style:family="table-cell" style:data-style-name="d"/>
<style:style style:name="kilos" style:family="table-cell" style:data-style-name="k"/>
<style:style style:name="gone" style:family="table"><style:table-properties table:display="false"/></style:style>
</office:automatic-styles>
<office:body><office:spreadsheet>
`)
	fmt.Fprintf(&b, `<table:calculation-settings><table:null-date table:date-value="%s"/></table:calculation-settings>`+"\n", f.null)
	for _, sh := range f.sheets {
		style := ""
		if sh.hidden {
			style = ` table:style-name="gone"`
		}
		fmt.Fprintf(&b, `<table:table table:name="%s"%s>`+"\n", sh.name, style)
		for _, row := range sh.rows {
			visible := ""
			if len(row) > 0 && row[0] == hidden {
				visible, row = ` table:visibility="collapse"`, row[1:]
			}
			fmt.Fprintf(&b, "<table:table-row%s>", visible)
			if len(row) == 0 {
				b.WriteString("<table:table-cell/>")
			}
			for _, c := range row {
				fmt.Fprintf(&b, "<table:table-cell %s>", c.attrs)
				if c.text != "" {
					fmt.Fprintf(&b, "<text:p>%s</text:p>", html.EscapeString(c.text))
				}
				b.WriteString("</table:table-cell>")
				for range spanned(c) - 1 {
					b.WriteString("<table:covered-table-cell/>")
				}
			}
			b.WriteString("</table:table-row>\n")
		}
		b.WriteString("</table:table>\n")
	}
	b.WriteString("</office:spreadsheet></office:body></office:document>\n")
	return b.String()
}

func spanned(c cell) int {
	var columns int
	if _, after, ok := strings.Cut(c.attrs, `columns-spanned="`); ok {
		fmt.Sscanf(after, "%d", &columns)
	}
	return max(columns, 1)
}

// saved is a workbook of ours that LibreOffice opened and saved.
const saved = "saved.xlsx"

// convert has LibreOffice write every fixture as XLSX, and save a workbook of
// ours again, in one go.
func convert(t *testing.T, soffice string) (dir string) {
	t.Helper()
	dir = t.TempDir()
	args := []string{"-env:UserInstallation=file://" + filepath.Join(dir, "profile"), "--headless", "--convert-to", "xlsx", "--outdir", dir}
	for name, f := range fixtures {
		path := filepath.Join(dir, name+".fods")
		if err := os.WriteFile(path, []byte(f.flat()), 0o644); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	var b bytes.Buffer
	if err := workbook.Write(&b, everything(t)); err != nil {
		t.Fatal(err)
	}
	ours := filepath.Join(dir, "ours")
	if err := os.Mkdir(ours, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(ours, saved), b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	args = append(args, filepath.Join(ours, saved))
	if out, err := exec.Command(soffice, args...).CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v\n%s", err, out)
	}
	return dir
}

// What LibreOffice writes today reads the same as what was committed.
func TestLibreOfficeWritesTheFixtures(t *testing.T) {
	soffice, err := exec.LookPath("soffice")
	if err != nil {
		t.Skip("LibreOffice is not installed")
	}
	if testing.Short() && !*update {
		t.Skip("starting LibreOffice takes long")
	}
	dir := convert(t, soffice)
	for name := range fixtures {
		fresh, err := os.ReadFile(filepath.Join(dir, name+".xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join("testdata", name+".xlsx")
		if *update {
			if err := os.WriteFile(path, fresh, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		kept, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := printed(t, reading(t, name+".xlsx", fresh)), printed(t, reading(t, name+".xlsx", kept)); got != want {
			t.Errorf("%s as converted now reads\n%s\nas committed\n%s", name, got, want)
		}
	}
	fresh, err := os.ReadFile(filepath.Join(dir, saved))
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(filepath.Join("testdata", saved), fresh, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	saysNothing(t, fresh)
}

// A workbook of ours that LibreOffice has saved still says nothing new.
func TestSavedByLibreOffice(t *testing.T) { saysNothing(t, committed(t, saved)) }

func saysNothing(t *testing.T, raw []byte) {
	t.Helper()
	r := intake.Read([]intake.File{{Name: saved, Data: bytes.NewReader(raw), Size: int64(len(raw))}}, everything(t), intake.Options{Today: today})
	if len(r.Reads)+len(r.Asks)+len(r.Refuses) != 0 || r.Same < 300 {
		t.Error(printed(t, r))
	}
}
