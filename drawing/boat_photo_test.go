package drawing_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"dogshore/drawing"
	"dogshore/journal"
	"dogshore/record"
)

// A picture's mark stands on the side view and on one view from above; its
// wedge is drawn only where its direction lies in the view; what lies on one
// another shares a mark.
func TestPhotosOnTheBoat(t *testing.T) {
	parts := journal.All[record.Part](catamaran(t))
	links := func(marks ...drawing.PhotoMark) string {
		sheet := drawing.Boat(parts, nil, true)
		before := strings.Count(string(sheet.SVG()), "tint")
		sheet.Photos(marks, func(m drawing.PhotoMark) string { return fmt.Sprintf("/behind/at?x=%g", m.X) })
		svg := string(sheet.SVG())
		return fmt.Sprintf("%d one, %d several, %d wedges", strings.Count(svg, `href="/photo/`), strings.Count(svg, `href="/behind/at`), strings.Count(svg, "tint")-before)
	}
	mark := func(x float64, towards [3]float64) drawing.PhotoMark {
		return drawing.PhotoMark{X: x, Y: 2, Z: 0.2, Towards: towards, Href: fmt.Sprintf("/photo/%g", x), Says: "a picture"}
	}
	forward, port := [3]float64{1, 0, 0}, [3]float64{0, 1, 0}
	for _, c := range []struct {
		got, want string
	}{
		{links(), "0 one, 0 several, 0 wedges"},
		{links(mark(5, [3]float64{})), "2 one, 0 several, 0 wedges"},
		{links(mark(5, forward)), "2 one, 0 several, 2 wedges"},
		{links(mark(5, port)), "2 one, 0 several, 1 wedges"},
		{links(mark(5, forward), mark(5.05, forward)), "0 one, 2 several, 0 wedges"},
		{links(mark(5, forward), mark(9, forward)), "4 one, 0 several, 4 wedges"},
	} {
		if c.got != c.want {
			t.Errorf("%s, want %s", c.got, c.want)
		}
	}
}

// The views say where they lie: the corners of the parts that they draw lie
// within them, by their own scale.
func TestViewsSayWhereTheyLie(t *testing.T) {
	parts := journal.All[record.Part](catamaran(t))
	sheet := drawing.Boat(parts, nil, true)
	views := sheet.Views()
	if len(views) != 3 || !views[0].Profile || views[1].Profile || views[2].Profile {
		t.Fatalf("%+v", views)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, x := range parts {
		for _, c := range x.Plan {
			low, high = min(low, views[1].Zero-views[1].Scale*c[1]), max(high, views[1].Zero-views[1].Scale*c[1])
			if at := views[1].Left + views[1].Scale*c[0]; at < 0 || at > sheet.W {
				t.Errorf("%s reaches to %g mm", x.Name, at)
			}
		}
	}
	if math.Abs(low-views[1].Top) > 0.01 || math.Abs(high-views[1].Bottom) > 0.01 {
		t.Errorf("from above %g to %g, says %g to %g", low, high, views[1].Top, views[1].Bottom)
	}
}
