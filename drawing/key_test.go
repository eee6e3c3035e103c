package drawing_test

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"dogshore/drawing"
	"dogshore/internal/draw"
	"dogshore/record"
)

func wellFormed(t *testing.T, svg string) {
	t.Helper()
	dec := xml.NewDecoder(strings.NewReader(svg))
	for {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Fatalf("%v in %s", err, svg)
		}
	}
}

// inside fails if anything is drawn off the sheet. A bold line may stand out
// by half its width.
func inside(t *testing.T, d *draw.Drawing) {
	t.Helper()
	low, high := d.Reach()
	if low.X < 0 || low.Y < 0 || high.X > d.W || high.Y > d.H {
		t.Errorf("%s: drawn from %v to %v on a sheet of %v by %v", d.Title, low, high, d.W, d.H)
	}
}

func TestKeyHasAPictureOfEveryStage(t *testing.T) {
	seen := map[string]string{}
	for _, s := range record.Stages {
		d := drawing.Key(s.Slug)
		inside(t, d)
		svg := string(d.SVG())
		wellFormed(t, svg)
		if !strings.Contains(svg, "<title>"+s.Name+"</title>") {
			t.Errorf("%s has no title", s.Slug)
		}
		_, shapes, _ := strings.Cut(svg, "</desc>")
		if other, ok := seen[shapes]; ok {
			t.Errorf("%s looks like %s", s.Slug, other)
		}
		seen[shapes] = s.Slug
		if strings.Count(shapes, "<path") < 4 {
			t.Errorf("%s is nearly empty", s.Slug)
		}
	}
}

func TestKeyOfAnUnknownStageIsAnEmptyFrame(t *testing.T) {
	svg := string(drawing.Key("polished <b>").SVG())
	wellFormed(t, svg)
	if !strings.Contains(svg, "<title>polished &lt;b&gt;</title>") || strings.Count(svg, "<path") != 1 {
		t.Errorf("got %s", svg)
	}
}
