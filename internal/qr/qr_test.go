package qr_test

import (
	"image"
	"image/color"
	"regexp"
	"strconv"
	"strings"
	"testing"

	goqr "github.com/piglig/go-qr"

	"dogshore/internal/qr"
)

// scale is how many pixels of the tests' pictures a module takes.
const scale = 6

const address = "https://192.168.0.7:4643/"

// What is drawn, on a page and in a terminal of either kind, reads as what was
// encoded.
func TestWhatIsDrawnCanBeRead(t *testing.T) {
	for _, text := range []string{address, "https://[fd00::2]:4643/", "http://shed-computer.local:4643/trust?" + strings.Repeat("long", 60)} {
		c, err := qr.Of(text)
		if err != nil {
			t.Fatal(err)
		}
		for name, picture := range map[string]image.Image{"svg": ofSVG(t, string(c.SVG())), "plain text": ofText(t, c.Text(false), false), "coloured text": ofText(t, c.Text(true), true)} {
			if got, err := goqr.Decode(picture); err != nil || got != text {
				t.Errorf("%s: %q, %v; want %q", name, got, err, text)
			}
		}
	}
}

func TestTooLongForACode(t *testing.T) {
	if _, err := qr.Of(strings.Repeat("x", 4000)); err == nil {
		t.Error("4000 letters were taken; ISO/IEC 18004 holds 2331 bytes at this level, from memory")
	}
}

// The corner patterns stand where ISO/IEC 18004 puts them, behind an empty edge
// of four modules (from memory).
func TestCornersAndEdge(t *testing.T) {
	c, err := qr.Of(address)
	if err != nil {
		t.Fatal(err)
	}
	n := c.Width()
	finder := []string{"#######", "#.....#", "#.###.#", "#.###.#", "#.###.#", "#.....#", "#######"}
	for _, corner := range [][2]int{{4, 4}, {n - 11, 4}, {4, n - 11}} {
		for y, row := range finder {
			for x, want := range row {
				if c.Dark(corner[0]+x, corner[1]+y) != (want == '#') {
					t.Errorf("module %d, %d of the pattern at %v", x, y, corner)
				}
			}
		}
	}
	for i := range n {
		for e := range 4 {
			if c.Dark(i, e) || c.Dark(e, i) || c.Dark(i, n-1-e) || c.Dark(n-1-e, i) {
				t.Fatalf("the edge is not empty at %d, %d", i, e)
			}
		}
	}
}

func blank(w, h int) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, w*scale, h*scale))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	return m
}

func fill(m *image.Gray, x, y, w int) {
	for j := y * scale; j < (y+1)*scale; j++ {
		for i := x * scale; i < (x+w)*scale; i++ {
			m.SetGray(i, j, color.Gray{})
		}
	}
}

// ofSVG paints the picture again from what its text says.
func ofSVG(t *testing.T, svg string) image.Image {
	t.Helper()
	number := func(s string) int {
		n, err := strconv.Atoi(s)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	n := number(regexp.MustCompile(`viewBox="0 0 (\d+)`).FindStringSubmatch(svg)[1])
	m := blank(n, n)
	for _, run := range regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-(\d+)z`).FindAllStringSubmatch(svg, -1) {
		if run[3] != run[4] {
			t.Errorf("a run is not closed: %s", run[0])
		}
		fill(m, number(run[1]), number(run[2]), number(run[3]))
	}
	return m
}

// ofText paints the picture again from half blocks: ink is what a block
// covers, and on a dark terminal ink is light.
func ofText(t *testing.T, text string, inkIsDark bool) image.Image {
	t.Helper()
	text = regexp.MustCompile("\x1b\\[[0-9;]*m").ReplaceAllString(text, "")
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	m := blank(len([]rune(lines[0])), 2*len(lines))
	for y, line := range lines {
		for x, r := range []rune(line) {
			upper, lower := r == '█' || r == '▀', r == '█' || r == '▄'
			if upper == inkIsDark {
				fill(m, x, 2*y, 1)
			}
			if lower == inkIsDark {
				fill(m, x, 2*y+1, 1)
			}
		}
	}
	return m
}
