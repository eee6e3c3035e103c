package draw_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dogshore/internal/draw"
	"dogshore/internal/test"

	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func sample() *draw.Drawing {
	d := draw.New(60, 40, `A "part" & its place`, "A square < a hull.")
	square := draw.Box(10, 10, 20, 15)
	d.Link("/part/a&b", "part <a>, core", func() {
		d.Area(draw.Outline, square...)
		d.Hatch(0.3, 45, square...)
		d.Area(draw.Outline, square...)
	})
	d.Line(draw.Hidden, draw.Curve(draw.Point{X: 5, Y: 30}, draw.Point{X: 20, Y: 35}, draw.Point{X: 50, Y: 28})...)
	d.Dot(draw.Ink, draw.Point{X: 45.12345, Y: 12}, 2)
	d.Text(draw.Label, draw.Point{X: 20, Y: 18}, 3, draw.Middle, "a < b & c")
	return d
}

func TestSVGGolden(t *testing.T) {
	name := filepath.Join("testdata", "sample.svg")
	got := []byte(sample().SVG())
	if *update {
		if err := os.WriteFile(name, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestSVGIsWellFormedAndCarriesNoColour(t *testing.T) {
	svg := string(sample().SVG())
	dec := xml.NewDecoder(strings.NewReader(svg))
	texts := ""
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if c, ok := tok.(xml.CharData); ok {
			texts += string(c) + "|"
		}
	}
	if want := `A "part" & its place|A square < a hull.|a < b & c|`; !strings.HasPrefix(texts, want) {
		t.Errorf("texts read back as %q, want %q", texts, want)
	}
	for _, bad := range []string{"style=", "rgb", "stroke=", "fill="} {
		if strings.Contains(svg, bad) {
			t.Errorf("the SVG carries %q", bad)
		}
	}
}

func TestPDFIsRepeatable(t *testing.T) {
	a, err := draw.PDF("sample", sample())
	if err != nil {
		t.Fatal(err)
	}
	b, err := draw.PDF("sample", sample())
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a, b) {
		t.Error("two runs gave different bytes")
	}
	if !bytes.HasPrefix(a, []byte("%PDF-")) {
		t.Errorf("begins with %q", a[:8])
	}
}

func TestReach(t *testing.T) {
	d := draw.New(10, 10, "", "")
	d.Line(draw.Thin, draw.Point{X: 1, Y: 2}, draw.Point{X: 3, Y: 4})
	d.Dot(draw.Ink, draw.Point{X: 8, Y: 8}, 1)
	low, high := d.Reach()
	if low != (draw.Point{X: 1, Y: 2}) || high != (draw.Point{X: 9, Y: 9}) {
		t.Errorf("reach %v to %v", low, high)
	}
}

// The hatching of a square of side a at 45 degrees with lines a distance g
// apart has a total length near a²/g: each line stands for a strip of width g.
func TestHatchCoversByArea(t *testing.T) {
	for _, density := range []float64{0.2, 0.5, 0.9} {
		length := hatchLength(t, density, 45, draw.Box(3, 3, 80, 80))
		gap := draw.Spacing(density)
		// The strips at the two ends are cut short: at most two lines' worth.
		test.Check(t, "length of hatching on an 80 mm square, mm", "exact: area over spacing, within two lines",
			80*80/gap, length, 2*80*math.Sqrt2)
	}
	if a, b := draw.Spacing(0), draw.Spacing(1); a != 7 || math.Abs(b-0.7) > 1e-12 {
		t.Errorf("spacing runs from %v to %v", a, b)
	}
}

func hatchLength(t *testing.T, density, angle float64, pts []draw.Point) float64 {
	t.Helper()
	d := draw.New(300, 300, "", "")
	d.Hatch(density, angle, pts...)
	total := 0.0
	for _, run := range d.Runs() {
		total += math.Hypot(run[1].X-run[0].X, run[1].Y-run[0].Y)
	}
	return total
}

func TestHatchStaysInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 9).Draw(t, "corners")
		var pts []draw.Point
		for i := range n { // a star around (50, 50), so that it is not crossed by itself
			r := rapid.Float64Range(3, 40).Draw(t, "radius")
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			pts = append(pts, draw.Point{X: 50 + r*c, Y: 50 + r*s})
		}
		d := draw.New(100, 100, "", "")
		d.Hatch(rapid.Float64Range(0.01, 1).Draw(t, "density"), rapid.Float64Range(-90, 90).Draw(t, "angle"), pts...)
		for _, run := range d.Runs() {
			mid := draw.Point{X: (run[0].X + run[1].X) / 2, Y: (run[0].Y + run[1].Y) / 2}
			if !inside(mid, pts) {
				t.Fatalf("%v lies outside %v", mid, pts)
			}
		}
	})
}

// inside counts crossings of a ray to the right: another way than hatch's own.
func inside(p draw.Point, pts []draw.Point) bool {
	in := false
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

func TestFitTurnsUpwardsAndKeepsTheShape(t *testing.T) {
	v := draw.Fit([2]float64{-1, -2}, [2]float64{9, 3}, 5, 5, 100, 100)
	a, b := v.At(-1, -2), v.At(9, 3)
	if math.Abs((b.X-a.X)-100) > 1e-9 || math.Abs((a.Y-b.Y)-50) > 1e-9 {
		t.Errorf("a box of 10 by 5 became %v to %v", a, b)
	}
	if math.Abs((a.Y+b.Y)/2-55) > 1e-9 || a.X != 5 {
		t.Errorf("not in the middle: %v to %v", a, b)
	}
}

// With x up the sheet, forward lies above aft, and port to the left.
func TestFitUp(t *testing.T) {
	v := draw.FitUp([2]float64{-1, -2}, [2]float64{9, 3}, 5, 5, 50, 100)
	for _, c := range []struct{ x, y, wantX, wantY float64 }{{-1, -2, 55, 105}, {9, 3, 5, 5}, {0, 0, 35, 95}} {
		if p := v.At(c.x, c.y); math.Abs(p.X-c.wantX) > 1e-9 || math.Abs(p.Y-c.wantY) > 1e-9 {
			t.Errorf("(%g, %g) lies at %v, want %g, %g", c.x, c.y, p, c.wantX, c.wantY)
		}
	}
}

// A layer is one group that says what it is and what it belongs to; one that
// is apart is not on paper.
func TestLayers(t *testing.T) {
	sheet := func(apart bool) *draw.Drawing {
		d := draw.New(20, 20, "t", "d")
		d.Layer(draw.Layer{Name: "reach", Of: []string{"line/<a>", "task/b"}, Apart: apart}, func() { d.Line(draw.Bold, draw.Point{X: 1, Y: 1}, draw.Point{X: 9, Y: 9}) })
		return d
	}
	if svg := string(sheet(true).SVG()); !strings.Contains(svg, `<g class="apart" data-layer="reach" data-of="line/&lt;a&gt; task/b"><path`) || !strings.Contains(svg, "/></g>") {
		t.Errorf("got %s", svg)
	}
	seen, err := draw.PDF("t", sheet(false))
	if err != nil {
		t.Fatal(err)
	}
	unseen, err := draw.PDF("t", sheet(true))
	if err != nil {
		t.Fatal(err)
	}
	if len(unseen) >= len(seen) {
		t.Errorf("what is apart is on paper: %d bytes, %d without it", len(unseen), len(seen))
	}
}

func TestWrap(t *testing.T) {
	text := "Look at every insert before the inner skin goes down; thesuperlongwordthatnobodywouldbreak stays whole in letters."
	for _, width := range []float64{8, 20, 50, 300} {
		lines := draw.Wrap(text, 3, false, width)
		for _, l := range lines {
			if w := draw.Width(l, 3, false); w > width {
				t.Errorf("%q is %.1f mm wide, more than %v", l, w, width)
			}
		}
		if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != strings.ReplaceAll(text, " ", "") {
			t.Errorf("at %v mm letters were lost: %q", width, got)
		}
	}
	if got := draw.Clip(text, 3, false, 30); draw.Width(got, 3, false) > 30 || !strings.HasSuffix(got, "…") {
		t.Errorf("clipped to %q", got)
	}
}
