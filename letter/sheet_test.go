package letter_test

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk/visit"
	"dogshore/internal/test"
	"dogshore/journal"
	"dogshore/letter"
	"dogshore/record"
	"dogshore/unit"
)

// boat is an invented sloop with a glossary and a defect with two pictures, of
// which one can't be read.
func boat(t *testing.T, terms bool) *journal.Record {
	t.Helper()
	var j journal.Journal
	write := func(self record.Ref, values map[string]record.Value) {
		e := journal.Entry{ID: string(self), Stamp: j.Stamp() + 1, Since: journal.Always, Author: "owner", Grounds: record.Written, Version: journal.Version}
		for f, v := range values {
			e.Facts = append(e.Facts, journal.Fact{Kind: self.Kind(), Key: self.Key(), Field: f, Value: v})
		}
		if _, err := journal.Check(e); err != nil {
			t.Fatal(err)
		}
		j.Add(e)
	}
	write("build/build", record.Values(record.Build{Name: "Test sloop", HullNumber: "7", Notice: "Invented."}))
	write("person/ada", record.Values(record.Person{Name: "Ada Quill", Role: "builder", MayInstruct: record.Yes}))
	write("visit/v", record.Values(record.Visit{Day: calendar.Date(2027, 3, 15), By: "owner"}))
	write("place/foredeck", record.Values(record.Place{Name: "Foredeck", Plan: record.Outline{{6, -1}, {6, 1}, {9, 0}}}))
	write("part/hull", record.Values(record.Part{Name: "Hull", Plan: record.Outline{{0, -1}, {0, 1}, {5, 1.6}, {9.8, 0}, {5, -1.6}}}))
	write("part/deck", record.Values(record.Part{Name: "Deck", Place: "place/foredeck"}))
	write("step/core", record.Values(record.Step{Name: "deck core", Part: "part/deck"}))
	write("defect/gap", record.Values(record.Defect{What: "Gap under the core", Part: "part/deck", Before: "step/core"}))
	write("point/eye", record.Values(record.Point{Question: "Where does the stem eye go?", Part: "part/deck", CoveredBy: "step/core"}))
	write("decision/eye", record.Values(record.Decision{Point: "point/eye", Says: "300 mm to port", Day: calendar.Date(2027, 3, 15)}))
	write("evidence/quote", record.Values(record.Evidence{Shows: "point/eye", What: "quotation 4 over EUR 780"}))
	write("evidence/plan", record.Values(record.Evidence{Shows: "point/eye", What: "drawing 12, revision C"}))
	for i, hash := range []string{"a", "b"} {
		key := fmt.Sprintf("p%d", i)
		write(record.R("photo", key), record.Values(record.Photo{Name: key + ".jpg", Note: "sloppy, I think", Part: "part/deck", Visit: "visit/v", File: record.File{SHA256: strings.Repeat(hash, 64), Name: key + ".jpg"}}))
		write(record.R("evidence", key), record.Values(record.Evidence{Shows: "defect/gap", Photo: record.R("photo", key)}))
	}
	if terms {
		for word, other := range map[string]string{"deck": "dek", "deck core": "dekkern", "seen": "gezien", "answer by": "antwoord vóór", "annex": "附件"} {
			write(record.R("term", record.Slug(word)), record.Values(record.Term{Word: word, Other: other}))
		}
	}
	return j.As(calendar.Date(2027, 3, 16), journal.Now)
}

func pictures(f record.File) ([]byte, error) {
	if f.SHA256[0] == 'b' {
		return nil, errors.New("no picture")
	}
	m := image.NewGray(image.Rect(0, 0, 400, 300))
	for x := range 400 {
		m.SetGray(x, x%300, color.Gray{Y: uint8(x / 2)})
	}
	var b bytes.Buffer
	err := jpeg.Encode(&b, m, nil)
	return b.Bytes(), err
}

// written draws a letter and reads it back page by page with poppler.
func written(t *testing.T, l letter.Letter, r *journal.Record) (pages []string, fonts string) {
	t.Helper()
	data, sheets, err := l.PDF(r, pictures)
	if err != nil {
		t.Fatal(err)
	}
	again, _, err := l.PDF(r, pictures)
	if err != nil || !bytes.Equal(data, again) {
		t.Error("the same letter gave other bytes")
	}
	for _, tool := range []string{"pdftotext", "pdffonts"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skip(tool + " is not installed")
		}
	}
	name := filepath.Join(t.TempDir(), "letter.pdf")
	if err := os.WriteFile(name, data, 0o644); err != nil {
		t.Fatal(err)
	}
	text, err := exec.Command("pdftotext", "-layout", name, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdffonts", name).Output()
	if err != nil {
		t.Fatal(err)
	}
	pages = strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
	test.Check(t, "letter: sheets of the PDF", "poppler, pdftotext, read back", float64(len(pages)), float64(sheets), 0)
	return pages, string(out)
}

func lines(n int, text string) []visit.LetterLine {
	out := make([]visit.LetterLine, n)
	for i := range out {
		out[i] = visit.LetterLine{Number: i + 3, Text: fmt.Sprintf("%s (%d)", text, i+3), By: calendar.Date(2027, 3, 26)}
	}
	return out
}

// One page with ten points, their labels in both languages; the rest and the
// pictures behind it; type embedded.
func TestLetterOnPaper(t *testing.T) {
	r := boat(t, true)
	all := lines(13, "We saw (Deck): Gap under the core. Please let us know how and when it will be put right.")
	all[0].About, all[1].About = "defect/gap", "decision/eye"
	day := calendar.Date(2027, 3, 16)
	l := letter.Draft(r, visit.Answer{Last: record.Visit{Subject: record.Subject{Self: "visit/v"}, Day: day - 1, By: "owner"}, Letter: all}, day)
	pages, fonts := written(t, l, r)
	if len(pages) != 2 {
		t.Fatalf("%d pages, want the page and one behind it", len(pages))
	}
	for _, want := range []string{"Test sloop, hull 7", "Ada Quill", "[Seen / gezien]", "On: Deck / dek", "Before: deck core / dekkern", "Answer by / antwoord vóór: 2027-03-26 (Fri 26 March 2027)",
		"drawing 12, revision C", "Picture: annex, 1", "p1.jpg (on file, not printed)", "Nothing here accepts", "Thank you for having us", "Invented.", "Sheet 1 of 2"} {
		if !strings.Contains(squeezed(pages[0]), want) {
			t.Errorf("the page lacks %q:\n%s", want, pages[0])
		}
	}
	for n := 3; n <= 15; n++ {
		on, mark := 0, fmt.Sprintf("(%d)", n)
		if n > 12 {
			on = 1
		}
		if !strings.Contains(squeezed(pages[on]), mark) || strings.Contains(squeezed(pages[1-on]), mark) {
			t.Errorf("point %d is not on sheet %d alone", n, on+1)
		}
	}
	for _, want := range []string{"Annex", "Deck / dek, Mon 15 March 2027, p0.jpg"} {
		if !strings.Contains(squeezed(pages[1]), want) {
			t.Errorf("the annex lacks %q:\n%s", want, pages[1])
		}
	}
	for _, not := range []string{"sloppy", "EUR", "780"} {
		if strings.Contains(pages[0]+pages[1], not) {
			t.Errorf("%q stands in the letter, and nobody added it", not)
		}
	}
	if strings.Contains(pages[0]+pages[1], "附件") {
		t.Error("a word stands on paper that the type can't write")
	}
	for _, row := range strings.Split(strings.TrimSpace(fonts), "\n")[2:] {
		if f := strings.Fields(row); f[len(f)-5] != "yes" {
			t.Errorf("a font is not embedded: %s", row)
		}
	}
}

func squeezed(s string) string { return strings.Join(strings.Fields(s), " ") }

// Points that are too long for one page go behind it, named there, and none is
// lost; neither is a point that is longer than a page.
func TestLetterKeepsToOnePage(t *testing.T) {
	r := boat(t, false)
	long := strings.Repeat("one more word of it ", 60)
	l := letter.Letter{Day: calendar.Date(2027, 3, 16), Opens: "We write.", Closes: "Kind words.", Lines: lines(10, long)}
	l.Annex = lines(1, "")
	l.Annex[0].Number, l.Annex[0].Text = 40, strings.Repeat("a whole page and more ", 700)+" the end"
	pages, _ := written(t, l, r)
	if !strings.Contains(squeezed(pages[0]), "Further points: see the annex.") || !strings.Contains(squeezed(pages[0]), "Kind words.") {
		t.Errorf("the page does not lead on:\n%s", pages[0])
	}
	whole := squeezed(strings.Join(pages, " "))
	for n := 3; n <= 12; n++ {
		if c := strings.Count(whole, fmt.Sprintf("(%d)", n)); c != 1 {
			t.Errorf("point %d stands %d times", n, c)
		}
	}
	if !strings.Contains(whole, "the end") {
		t.Error("the end of a long point is lost")
	}
	sheets, err := l.Sheets(r, pictures)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range sheets {
		low, high := d.Reach()
		if low.X < 6 || low.Y < 6 || high.X > 204 || high.Y > 273 { // as A4 and US Letter both show
			t.Errorf("%s: drawn from %v to %v", d.Title, low, high)
		}
	}
}

func TestGlossary(t *testing.T) {
	g := letter.Words(boat(t, true))
	for label, want := range map[string]string{
		"Deck": "Deck / dek", "DECK  core": "DECK  core / dekkern", "Deck core, port": "Deck core, port / dekkern",
		"decking": "decking", "": "", "seen on deck": "seen on deck / gezien · dek", "annex": "annex / 附件",
	} {
		if got := g.Both(label); got != want {
			t.Errorf("%q is said %q, want %q", label, got, want)
		}
	}
	if got := g.OnPaper().Both("annex"); got != "annex" {
		t.Errorf("on paper stands %q", got)
	}
	if !g.Has("Deck Core") || g.Has("core") {
		t.Error("what the glossary has is not told")
	}
	text := letter.Letter{Day: calendar.Date(2027, 3, 16), Lines: []visit.LetterLine{{Number: 3, Text: "We saw it.", About: "defect/gap"}}}.Text(boat(t, true))
	if !strings.Contains(text, "3. We saw it. (seen / gezien; Deck / dek; deck core / dekkern)\n") {
		t.Errorf("the plain text says\n%s", text)
	}
}

// A mark on a picture is the evidence's: the letter takes it over, and one that
// lies off the picture is none.
func TestPhotosWithTheirMarks(t *testing.T) {
	for _, c := range []struct {
		left, down float64
		marked     bool
	}{{0.4, 0.7, true}, {1.4, 0.7, false}} {
		var j journal.Journal
		for self, values := range map[record.Ref]map[string]record.Value{
			"photo/p":    record.Values(record.Photo{Name: "p.jpg", File: record.File{SHA256: strings.Repeat("a", 64), Name: "p.jpg"}}),
			"defect/d":   record.Values(record.Defect{What: "a gap"}),
			"evidence/e": record.Values(record.Evidence{Shows: "defect/d", Photo: "photo/p", Left: unit.Q(c.left, unit.Number), Down: unit.Q(c.down, unit.Number)}),
		} {
			j.Add(journal.Entry{ID: string(self), Stamp: j.Stamp() + 1, Since: journal.Always, Author: "owner", Grounds: record.Seen, Version: journal.Version, Facts: journal.Facts(self, values)})
		}
		got := letter.Photos(j.As(calendar.Date(2027, 3, 16), journal.Now), []visit.LetterLine{{Number: 1, About: "defect/d"}, {Number: 2}})
		if len(got) != 2 || len(got[0]) != 1 || len(got[1]) != 0 || got[0][0].Marked != c.marked || got[0][0].Left != c.left {
			t.Errorf("%+v", got)
		}
	}
}
