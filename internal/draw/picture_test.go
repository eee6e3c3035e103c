package draw_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
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
	for text, want := range map[string]bool{"Deck, ½ = 25 mm": true, "größe Größe ńőşž": true, "": true, "甲板": false, "палуба": false} {
		if got := draw.Writes(text); got != want {
			t.Errorf("%q: %v", text, got)
		}
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
