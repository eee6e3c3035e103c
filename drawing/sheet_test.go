package drawing_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"dogshore/drawing"
	"dogshore/internal/draw"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// fitsLetterToo fails if anything lies outside what both A4 and US Letter
// (216 x 279 mm, ANSI/ASME Y14.1 size A, from memory) show, with 6 mm for the
// printer's margin.
func fitsLetterToo(t *testing.T, d *draw.Drawing) {
	t.Helper()
	if d.W != 210 || d.H != 297 {
		t.Errorf("%s: %v by %v is not A4", d.Title, d.W, d.H)
	}
	low, high := d.Reach()
	if low.X < 6 || low.Y < 6 || high.X > 210-6 || high.Y > 279-6 {
		t.Errorf("%s: drawn from %v to %v", d.Title, low, high)
	}
}

func TestStartSheetIsOnePage(t *testing.T) {
	k := record.KindOf("build")
	for _, boat := range k.Field("boat").Of {
		for _, way := range k.Field("way").Of {
			for _, hulls := range k.Field("hulls").Of {
				for _, series := range k.Field("series").Of {
					b := record.Build{Name: strings.Repeat("Example ", 12), Boat: boat, Way: way, Hulls: hulls, Series: series,
						HullNumber: "H 07", Yard: "Example Yard", Notice: "Invented: " + strings.Repeat("all of it ", 30)}
					r := laid(t, b)
					steps := journal.All[record.Step](r)
					pages := drawing.StartSheet(b, journal.All[record.Part](r), steps)
					if len(pages) != 1 {
						t.Fatalf("%d pages", len(pages))
					}
					fitsLetterToo(t, pages[0])
					svg := string(pages[0].SVG())
					wellFormed(t, svg)
					// a box for each step, three for each part, 20 for people and items
					parts := map[record.Ref]bool{}
					for _, s := range steps {
						parts[s.Part] = true
					}
					if got, want := strings.Count(svg, `class="outline closed"`), len(steps)+3*len(parts)+4*3+4*3; got != want {
						t.Errorf("%d boxes, want %d", got, want)
					}
				}
			}
		}
	}
}

func TestStartSheetLeavesOutWhatTheYardDoesNotDo(t *testing.T) {
	part := record.Part{Subject: record.Subject{Self: "part/deck"}, Name: "Deck"}
	step := func(stage string, rank float64, no record.Flag) record.Step {
		return record.Step{Subject: record.Subject{Self: record.R("step", "deck-"+stage)}, Name: "Deck " + stage, Part: "part/deck", Stage: stage, Rank: unit.Q(rank, unit.Number), NotDone: no}
	}
	pages := drawing.StartSheet(record.Build{}, []record.Part{part}, []record.Step{step("core", 20, ""), step("skin-coat", 10, ""), step("gelcoat", 5, record.Yes)})
	svg := string(pages[0].SVG())
	skin, core := strings.Index(svg, ">skin coat<"), strings.Index(svg, ">core<")
	if skin < 0 || core < skin {
		t.Errorf("stages are not in their order: %d, %d", skin, core)
	}
	if strings.Contains(svg, ">gelcoat<") {
		t.Error("a stage that the yard does not do is asked for")
	}
}

func TestStartSheetRunsOnToFurtherPages(t *testing.T) {
	var parts []record.Part
	var steps []record.Step
	for i := range 60 {
		key := fmt.Sprintf("p%02d", i)
		parts = append(parts, record.Part{Subject: record.Subject{Self: record.R("part", key)}, Name: "Part " + key})
		for k := range 14 {
			steps = append(steps, record.Step{Name: "a step with a long name", Part: record.R("part", key), Rank: unit.Q(float64(100*i+k), unit.Number)})
		}
	}
	pages := drawing.StartSheet(record.Build{Name: "Example"}, parts, steps)
	if len(pages) != 3 {
		t.Errorf("%d pages, want 3: 16 parts on the first, 34 on each further one", len(pages))
	}
	all := ""
	for _, g := range pages {
		fitsLetterToo(t, g)
		all += string(g.SVG())
	}
	for _, x := range parts {
		if strings.Count(all, ">"+x.Name+"<") != 1 {
			t.Errorf("%s does not stand once", x.Name)
		}
	}
}

func TestKeySheets(t *testing.T) {
	pages := drawing.KeySheets()
	all := ""
	for _, g := range pages {
		fitsLetterToo(t, g)
		wellFormed(t, string(g.SVG()))
		all += string(g.SVG())
	}
	for _, s := range record.Stages {
		if !strings.Contains(all, ">"+s.Name+"<") {
			t.Errorf("%s is missing", s.Name)
		}
	}
	a, err := draw.PDF("key", pages...)
	if err != nil {
		t.Fatal(err)
	}
	b, _ := draw.PDF("key", drawing.KeySheets()...)
	if !bytes.Equal(a, b) {
		t.Error("two runs gave different bytes")
	}
}

// What is printed can be read back by another program: poppler's pdftotext.
func TestStartSheetReadsBack(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not installed")
	}
	r := catamaran(t)
	b, _ := journal.Get[record.Build](r, "build/build")
	data, err := draw.PDF("Start sheet", drawing.StartSheet(b, journal.All[record.Part](r), journal.All[record.Step](r))...)
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(name, data, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-layout", name, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	text := string(out)
	for _, want := range []string{"Start sheet: Example", "Port hull", "Seacocks, pipes and gas", "inner skin", "yard does", "could not", "not sure",
		"Open points", "Dates that were said", "People, and what their word counts for", "Cut-offs in the contract", "Bought in", "sister hull"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q can't be read back", want)
		}
	}
	if pages := strings.Count(text, "\f"); pages != 1 {
		t.Errorf("%d pages", pages)
	}
}
