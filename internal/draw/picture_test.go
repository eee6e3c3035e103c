package draw_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"dogshore/internal/draw"
)

// A picture keeps its shape within its box, stands in the PDF as it came, and
// on pages as a frame that says what it shows.
func TestPicture(t *testing.T) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 40, 20)), nil); err != nil {
		t.Fatal(err)
	}
	d := draw.New(100, 100, "t", "d")
	w, h, err := d.Picture(b.Bytes(), `a "gap"`, 10, 10, 50, 50)
	if err != nil || math.Abs(w-50) > 1e-9 || math.Abs(h-25) > 1e-9 {
		t.Errorf("%v by %v, %v; a picture twice as wide as high fills 50 by 25", w, h, err)
	}
	if low, high := d.Reach(); low != (draw.Point{X: 10, Y: 10}) || high != (draw.Point{X: 60, Y: 35}) {
		t.Errorf("it reaches from %v to %v", low, high)
	}
	pdf, err := draw.PDF("t", d)
	if err != nil || !bytes.Contains(pdf, b.Bytes()) {
		t.Errorf("the picture is not in the PDF: %v", err)
	}
	if svg := string(d.SVG()); !strings.Contains(svg, `aria-label="a &#34;gap&#34;"`) {
		t.Errorf("on a page it is %s", svg)
	}
	if _, _, err := d.Picture([]byte("GIF89a"), "x", 0, 0, 1, 1); err == nil {
		t.Error("what is no JPEG was taken")
	}
}

// The type's letters: read from the font's own table.
func TestWrites(t *testing.T) {
	for text, want := range map[string]bool{"Deck, ½ = 25 mm": true, "größe Größe ńőşž": true, "": true, "甲板": false, "палуба": true, "κατάστρωμα": true, "до 5 €": true, "גשר": false, "سطح": false} {
		if got := draw.Writes(text); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}

// What the types have is read back from paper by another program (poppler), in
// fonts that the document carries with it; what they lack stands as a box, said
// at the head of its sheet, and never as a question mark.
func TestLettersOnPaper(t *testing.T) {
	text, err := exec.LookPath("pdftotext")
	fonts, err2 := exec.LookPath("pdffonts")
	if err != nil || err2 != nil {
		t.Skip("poppler's tools are not installed")
	}
	read := func(tool string, d *draw.Drawing, args ...string) string {
		pdf, err := draw.PDF("letters", d)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(t.TempDir(), "letters.pdf")
		if err := os.WriteFile(name, pdf, 0o644); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(tool, append([]string{name}, args...)...).Output()
		if err != nil {
			t.Fatal(err)
		}
		return string(out)
	}
	page := func(says string) *draw.Drawing {
		d := draw.New(210, 297, "t", "d")
		d.Text(draw.Plain, draw.Point{X: 20, Y: 30}, 4, draw.Start, says)
		d.Text(draw.Strong, draw.Point{X: 190, Y: 40}, 4, draw.End, says)
		return d
	}
	for _, says := range []string{"Größe, ½ łódź", "Палуба: ядро 25 mm", "Κατάστρωμα, 3 °"} {
		d := page(says)
		if got := read(text, d, "-layout", "-"); strings.Count(got, says) != 2 || strings.ContainsAny(got, "?□") {
			t.Errorf("%q is read back as %q", says, got)
		}
		if draw.Lacks(d) != "" {
			t.Errorf("%q lacks %q", says, draw.Lacks(d))
		}
		for _, line := range strings.Split(strings.TrimSpace(read(fonts, d)), "\n")[2:] {
			if !regexp.MustCompile(`\syes\s+(yes|no)\s+yes\s`).MatchString(line) { // embedded, and with what its letters are
				t.Errorf("%q in a font that is not in the document: %s", says, line)
			}
		}
	}
	d := page("Deck 甲板, 甲板?")
	if got := draw.Lacks(d); got != "甲板" {
		t.Errorf("lacking are %q", got)
	}
	if got := read(text, d, "-layout", "-"); strings.Count(got, "Deck □□, □□?") != 2 || strings.Count(got, "stands for a sign that can't be printed here") != 1 {
		t.Errorf("what is lacking is read back as %q", got)
	}
}

// Whatever somebody wrote goes onto paper without breaking it.
func TestPDFTakesAnyText(t *testing.T) {
	d := draw.New(210, 297, "t", "d")
	for i, text := range []string{"😀 emoji", "甲板", "\u202eright to left", "bell\x07", "\xff\xfe", "a\u0000b", "\U0010ffff", "İ ﷽", "𝔡eck"} {
		d.Text(draw.Plain, draw.Point{X: 10, Y: float64(10 + 5*i)}, 3, draw.Start, text)
		draw.Wrap(text, 3, false, 1)
		draw.Clip(text, 3, false, 1)
	}
	pdf, err := draw.PDF("t 😀", d)
	if err != nil || !bytes.HasPrefix(pdf, []byte("%PDF-")) {
		t.Errorf("%v", err)
	}
}
