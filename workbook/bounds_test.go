package workbook_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"dogshore/workbook"
)

// memory is what reading any file may take.
const memory = 500 << 20

// within runs read and fails if the memory held by the program goes above the
// bound meanwhile.
func within(t *testing.T, read func()) {
	t.Helper()
	debug.FreeOSMemory()
	old := debug.SetMemoryLimit(memory)
	defer debug.SetMemoryLimit(old)
	var peak atomic.Uint64
	done, gone := make(chan bool), make(chan bool)
	go func() {
		defer close(gone)
		var m runtime.MemStats
		for {
			runtime.ReadMemStats(&m)
			peak.Store(max(peak.Load(), m.Sys-m.HeapReleased))
			select {
			case <-done:
				return
			case <-time.After(20 * time.Millisecond):
			}
		}
	}()
	read()
	close(done)
	<-gone
	if p := peak.Load(); p > memory {
		t.Errorf("%d MB were held; at most %d may be", p>>20, memory>>20)
	}
}

// packed writes an XLSX of one sheet whose XML the caller writes, to a file,
// so that the file itself takes no memory.
func packed(t *testing.T, method uint16, extra map[string]string, sheet func(w io.Writer)) (*os.File, int64) {
	t.Helper()
	f, err := os.Create(filepath.Join(t.TempDir(), "made.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	z := zip.NewWriter(f)
	part := func(name string) io.Writer {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: method})
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	fmt.Fprint(part("xl/workbook.xml"), `<workbook xmlns:r="r"><sheets><sheet name="Parts" sheetId="1" r:id="rId1"/></sheets></workbook>`)
	fmt.Fprint(part("xl/_rels/workbook.xml.rels"), `<Relationships><Relationship Id="rId1" Target="worksheets/sheet1.xml"/></Relationships>`)
	for name, text := range extra {
		fmt.Fprint(part(name), text)
	}
	sheet(part("xl/worksheets/sheet1.xml"))
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	info, err := f.Stat()
	if err != nil {
		t.Fatal(err)
	}
	return f, info.Size()
}

func cells(b *workbook.Book) (n int) {
	for _, s := range b.Sheets {
		for _, r := range s.Rows {
			n += len(r.Cells)
		}
	}
	return n
}

func notes(b *workbook.Book) string {
	out := strings.Join(b.Notes, "; ")
	for _, s := range b.Sheets {
		out += "; " + strings.Join(s.Notes, "; ")
	}
	return out
}

// A workbook of 50 MB that does not pack any smaller is read whole, or up to a
// bound that is said.
func TestFiftyMegabytes(t *testing.T) {
	if testing.Short() {
		t.Skip("writes 50 MB")
	}
	random := rand.New(rand.NewPCG(1, 2))
	line := make([]byte, 1200)
	const rows = 45_000
	f, size := packed(t, zip.Store, nil, func(w io.Writer) {
		fmt.Fprint(w, `<worksheet><sheetData>`)
		for i := range rows {
			for k := range line {
				line[k] = 'a' + byte(random.IntN(26))
			}
			fmt.Fprintf(w, `<row r="%d"><c r="A%d" t="inlineStr"><is><t>%s</t></is></c></row>`, i+1, i+1, line)
		}
		fmt.Fprint(w, `</sheetData></worksheet>`)
	})
	if size < 50<<20 {
		t.Fatalf("the file has only %d MB", size>>20)
	}
	within(t, func() {
		b, err := workbook.Read("made.xlsx", f, size)
		if err != nil || cells(b) != rows {
			t.Errorf("%d cells, %v: %s", cells(b), err, notes(b))
		}
	})
}

// A workbook with more cells than are kept ends at the bound, and says so.
func TestMoreCellsThanAreRead(t *testing.T) {
	f, size := packed(t, zip.Deflate, nil, func(w io.Writer) {
		fmt.Fprint(w, `<worksheet><sheetData>`)
		for i := range 60_000 {
			fmt.Fprintf(w, `<row r="%d">%s</row>`, i+1, strings.Repeat(`<c><v>1</v></c>`, 10))
		}
		fmt.Fprint(w, `</sheetData></worksheet>`)
	})
	within(t, func() {
		b, err := workbook.Read("made.xlsx", f, size)
		if err != nil || cells(b) != 400_000 || !strings.Contains(notes(b), "reading ended at row 40000: at most 400000 cells") {
			t.Errorf("%d cells, %v: %s", cells(b), err, notes(b))
		}
	})
}

// A zip bomb: little packed, much unpacked. Whatever it holds, no more than
// the bound is unpacked.
func TestZipBomb(t *testing.T) {
	for name, bomb := range map[string]struct {
		write func(w io.Writer)
		note  string // in the notes, or
		fails string // in the error
	}{
		"one text without end": {func(w io.Writer) {
			fmt.Fprint(w, `<worksheet><sheetData><row r="1"><c t="inlineStr"><is><t>`)
			repeat(w, strings.Repeat("0", 1<<20), 600)
		}, "", "longer than"},
		"one comment without end": {func(w io.Writer) {
			fmt.Fprint(w, `<worksheet><!-- `)
			repeat(w, strings.Repeat("<>", 1<<19), 600)
		}, "", "longer than"},
		"empty tags": {func(w io.Writer) {
			fmt.Fprint(w, `<worksheet><sheetData>`)
			repeat(w, strings.Repeat("<x/>", 1<<18), 600)
		}, "more is packed into it than is read of one file", ""},
		"blank rows of blank cells": {func(w io.Writer) {
			fmt.Fprint(w, `<worksheet><sheetData>`)
			repeat(w, "<row>"+strings.Repeat("<c/>", 1<<18)+"</row>", 600)
		}, "more is packed into it than is read of one file", ""},
	} {
		t.Run(name, func(t *testing.T) {
			f, size := packed(t, zip.Deflate, nil, bomb.write)
			if size > 4<<20 {
				t.Fatalf("no bomb: it has %d MB", size>>20)
			}
			within(t, func() {
				b, err := workbook.Read("made.xlsx", f, size)
				switch {
				case bomb.fails != "":
					if !errors.Is(err, workbook.ErrKind) || !strings.Contains(err.Error(), bomb.fails) {
						t.Errorf("%v, want an error that says %q", err, bomb.fails)
					}
				case err != nil || !strings.Contains(notes(b), bomb.note):
					t.Errorf("%v: notes %q, want %q", err, notes(b), bomb.note)
				}
			})
		})
	}
}

func repeat(w io.Writer, s string, n int) {
	for range n {
		_, _ = io.WriteString(w, s)
	}
}

// A bomb among the shared texts: the texts up to the bound are kept.
func TestBombOfTexts(t *testing.T) {
	texts := "<sst><si><t>name</t></si>" + strings.Repeat("<si><t>"+strings.Repeat("x", 1000)+"</t></si>", 120_000)
	f, size := packed(t, zip.Deflate, map[string]string{"xl/sharedStrings.xml": texts}, func(w io.Writer) {
		fmt.Fprint(w, `<worksheet><sheetData><row r="1"><c t="s"><v>0</v></c></row></sheetData></worksheet>`)
	})
	texts = ""
	within(t, func() {
		b, err := workbook.Read("made.xlsx", f, size)
		if err != nil || !strings.Contains(notes(b), "what lies beyond was not read") {
			t.Errorf("%v: %s", err, notes(b))
		}
	})
}

// A million blank rows: reading ends long before, and says where. What stands
// above them is read.
func TestMillionBlankRows(t *testing.T) {
	f, size := packed(t, zip.Deflate, nil, func(w io.Writer) {
		fmt.Fprint(w, `<worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>name</t></is></c></row>`)
		for i := 2; i <= 1_000_000; i++ {
			fmt.Fprintf(w, `<row r="%d" spans="1:3" ht="15"><c r="A%d" s="3"/></row>`, i, i)
		}
		fmt.Fprint(w, `</sheetData></worksheet>`)
	})
	within(t, func() {
		b, err := workbook.Read("made.xlsx", f, size)
		if err != nil || cells(b) != 1 || !strings.Contains(notes(b), "reading ended at row 5001, after 5000 blank rows") {
			t.Errorf("%d cells, %v: %s", cells(b), err, notes(b))
		}
	})
	text := "name;side\n" + strings.Repeat(";\n", 1_000_000)
	within(t, func() {
		b, err := workbook.Read("made.csv", strings.NewReader(text), int64(len(text)))
		if err != nil || cells(b) != 2 || !strings.Contains(notes(b), "after 5000 blank lines") {
			t.Errorf("%d cells, %v: %s", cells(b), err, notes(b))
		}
	})
}

func TestHostileFiles(t *testing.T) {
	deep, deepSize := packed(t, zip.Deflate, nil, func(w io.Writer) {
		fmt.Fprint(w, "<worksheet>")
		repeat(w, "<a>", 2_000_000)
	})
	lol, lolSize := packed(t, zip.Deflate, nil, func(w io.Writer) {
		fmt.Fprint(w, `<!DOCTYPE w [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><worksheet><sheetData><row><c t="inlineStr"><is><t>&b;</t></is></c></row></sheetData></worksheet>`)
	})
	many := func(w io.Writer) {
		fmt.Fprint(w, `<worksheet/>`)
	}
	extra := map[string]string{}
	for i := range 10_001 {
		extra[fmt.Sprintf("x/%d", i)] = ""
	}
	parts, partsSize := packed(t, zip.Store, extra, many)
	none, noneSize := packed(t, zip.Store, nil, many)
	quote := `name,side` + "\n" + `"` + strings.Repeat("never closed ", 100_000)
	for _, c := range []struct {
		what, name string
		data       io.ReaderAt
		size       int64
		says       string
	}{
		{"tags in tags without end", "a.xlsx", deep, deepSize, "64 deep"},
		{"texts that stand for texts", "a.xlsx", lol, lolSize, "entity"},
		{"ten thousand parts", "a.xlsx", parts, partsSize, "10000"},
		{"cut off in the middle", "a.xlsx", io.NewSectionReader(none, 0, noneSize/2), noneSize / 2, "cut off or damaged"},
		{"a zip that is no workbook", "a.xlsx", strings.NewReader(emptyZip), int64(len(emptyZip)), "no sheets"},
		{"nothing", "a.csv", strings.NewReader(""), 0, "nothing in it"},
		{"larger than is read", "a.csv", strings.NewReader(""), workbook.MaxFile + 1, "split it"},
		{"a quote that is never closed", "a.csv", strings.NewReader(quote), int64(len(quote)), "quote may be missing"},
		{"a picture", "a.csv", strings.NewReader("\x89PNG\r\n\x1a\n\x00\x00"), 10, "neither a workbook nor text"},
		{"a name that lies", "a.xlsx", strings.NewReader("name,side\n"), 10, "something else"},
	} {
		within(t, func() {
			b, err := workbook.Read(c.name, c.data, c.size)
			if !errors.Is(err, workbook.ErrKind) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%s: %v, %+v; want an error that says %q", c.what, err, b, c.says)
			}
		})
	}
}

// emptyZip is a zip with one empty part.
var emptyZip = func() string {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	if _, err := z.Create("a"); err != nil {
		panic(err)
	}
	if err := z.Close(); err != nil {
		panic(err)
	}
	return b.String()
}()
