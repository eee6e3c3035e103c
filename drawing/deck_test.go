package drawing_test

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"dogshore/desk/deck"
	"dogshore/drawing"
	"dogshore/internal/draw"
	"dogshore/jackstay"
	"dogshore/plane"
	"dogshore/record"
	"dogshore/unit"
)

// smallDeck is a deck of 9 by 2.8 m with one line on it, and an eye whose demand
// is known.
func smallDeck() (deck.Plan, *deck.Arrangement) {
	plan := deck.Plan{
		Off:    0.05,
		Levels: []record.Level{{Name: "Deck", Plan: record.Outline{{0, -1.4}, {9, -1}, {9, 1}, {0, 1.4}}}},
		Edges:  []record.Edge{{Subject: record.Subject{Self: "edge/port"}, Name: "Port <side>", Path: record.Outline{{0, 1.4}, {9, 1}}, Rail: unit.Q(0.6, unit.Length)}},
	}
	fitting := func(key, name string, x, y float64) record.Fitting {
		return record.Fitting{Subject: record.Subject{Self: record.R("fitting", key)}, Name: name, Spot: record.Spot{Known: true, X: x, Y: y, Z: 1}, Clip: record.Yes, Before: "step/core", Bolts: unit.Q(4, unit.Number), BoltSize: unit.Q(0.0137, unit.Length)}
	}
	x := &deck.Arrangement{
		Name:     "Two eyes & a line",
		Lines:    []record.Jackstay{{Subject: record.Subject{Self: "jackstay/line"}, Name: "Port line"}},
		Fittings: []record.Fitting{fitting("fore", "Fore eye", 8, 0.5), fitting("after", "After eye", 1, -0.5)},
		Tasks:    []deck.Task{{Task: record.Task{Subject: record.Subject{Self: "task/bow"}, Name: "Go to the bow", Way: record.Outline{{1, 0}, {7.5, 0}}}}},
	}
	x.Case.Lines = []jackstay.Line{{ID: "jackstay/line", Supports: []jackstay.Support{{ID: "fitting/after", At: jackstay.Spot{X: 1, Y: -0.5, Z: 1}}, {ID: "fitting/fore", At: jackstay.Spot{X: 8, Y: 0.5, Z: 1}}}}}
	x.Result.Lines = []jackstay.LineResult{{ID: "jackstay/line", Reaches: []jackstay.Reach{{Leg: 2, Soft: [][]plane.Point{{{X: -9, Y: -9}, {X: 19, Y: -9}, {X: 5, Y: 9}}}}}}}
	return plan, x
}

func svgText(t *testing.T, d *draw.Drawing) string {
	t.Helper()
	svg := string(d.SVG())
	dec := xml.NewDecoder(strings.NewReader(svg))
	for {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			return svg
		} else if err != nil {
			t.Fatalf("%v in %s", err, svg)
		}
	}
}

// Bow up and bow to the right are one drawing: the same handles, the same
// numbers, and places that come back as they were.
func TestDeckBothWaysRound(t *testing.T) {
	plan, x := smallDeck()
	flat, up := drawing.Deck(plan, x, drawing.DeckView{}), drawing.Deck(plan, x, drawing.DeckView{Up: true})
	svgText(t, flat.Drawing)
	svgText(t, up.Drawing)
	if len(flat.Handles) != 2 || len(up.Handles) != 2 || len(flat.Rows) != 2 || len(up.Rows) != 2 {
		t.Fatalf("handles %d and %d, numbers %d and %d", len(flat.Handles), len(up.Handles), len(flat.Rows), len(up.Rows))
	}
	a, b := up.Handles[0].At, up.Handles[1].At // after eye to starboard, fore eye to port
	if b.Y >= a.Y || b.X >= a.X {
		t.Errorf("bow up, the fore eye to port lies at %v, the after one to starboard at %v", b, a)
	}
	if math.Abs(b.Y-a.Y+7*up.View.Scale) > 1e-9 {
		t.Errorf("7 m apart they lie %g mm apart at %g mm to the metre", a.Y-b.Y, up.View.Scale)
	}
	if up.W >= flat.W || up.H <= up.W {
		t.Errorf("bow up the sheet is %g by %g", up.W, up.H)
	}
}

// Numbers of things that lie together do not lie on each other.
func TestDeckNumbersAreApart(t *testing.T) {
	plan, x := smallDeck()
	for i := range 12 {
		x.Case.Points = append(x.Case.Points, jackstay.ClipPoint{ID: "fitting/e" + string(rune('a'+i)), At: jackstay.Spot{X: 4 + 0.05*float64(i), Y: 0.3, Z: 1}})
	}
	svg := svgText(t, drawing.Deck(plan, x, drawing.DeckView{}).Drawing)
	type at struct{ x, y float64 }
	var numbers []at
	for _, m := range regexp.MustCompile(`<text class="label" x="([-0-9.]+)" y="([-0-9.]+)"[^>]*>[0-9]+</text>`).FindAllStringSubmatch(svg, -1) {
		px, _ := strconv.ParseFloat(m[1], 64)
		py, _ := strconv.ParseFloat(m[2], 64)
		for _, o := range numbers {
			if math.Abs(o.x-px) < 2.5 && math.Abs(o.y-py) < 3.8 {
				t.Errorf("a number at %g, %g lies on one at %g, %g", px, py, o.x, o.y)
			}
		}
		numbers = append(numbers, at{px, py})
	}
	if len(numbers) < 14 {
		t.Errorf("%d numbers", len(numbers))
	}
}

// However far a reach goes, the drawing keeps its scale: what a hand moves must
// not move the drawing under it.
func TestDeckKeepsItsScale(t *testing.T) {
	plan, x := smallDeck()
	before := drawing.Deck(plan, x, drawing.DeckView{}).View
	x.Result.Lines[0].Reaches[0].Soft[0][0] = plane.Point{X: -30, Y: 40}
	x.Case.Lines[0].Supports[0].At.X = 2
	if after := drawing.Deck(plan, x, drawing.DeckView{}).View; after != before {
		t.Errorf("%v became %v", before, after)
	}
}

// Of a task shown alone the reach of the line that it hangs on is drawn, of one
// that hangs on nothing no reach at all.
func TestDeckShowsOneAlone(t *testing.T) {
	plan, x := smallDeck()
	apart := `<g class="apart" data-layer="reach"`
	if svg := svgText(t, drawing.Deck(plan, x, drawing.DeckView{}).Drawing); strings.Contains(svg, apart) {
		t.Error("a reach is out of sight though nothing is shown alone")
	}
	if svg := svgText(t, drawing.Deck(plan, x, drawing.DeckView{Only: "task/bow"}).Drawing); !strings.Contains(svg, apart) {
		t.Error("the reach of a line that the task does not use is in sight")
	}
	x.Tasks[0].Walked.Parts = []jackstay.Part{{On: "jackstay/line, part 1"}}
	if svg := svgText(t, drawing.Deck(plan, x, drawing.DeckView{Only: "task/bow"}).Drawing); strings.Contains(svg, apart) {
		t.Error("the reach of the line that the task hangs on is out of sight")
	}
}

// The request says where, how near, what for, of which drawing, and nothing of
// holes; the numbers of the drawing are those of the table.
func TestDeckRequest(t *testing.T) {
	plan, x := smallDeck()
	plan.Tracing = &record.Tracing{Name: "deck plan, sheet 4, revision C"}
	ask := drawing.DeckPaper{Build: record.Build{Name: "Demo"}, Day: "today", Question: "Where do they end?", Due: "before the core", Plan: plan, X: x, Steps: map[record.Ref]string{"step/core": "Deck core"}}
	sheets := drawing.DeckRequest(ask)
	if len(sheets) != 1 {
		t.Fatalf("%d sheets", len(sheets))
	}
	svg := svgText(t, sheets[0])
	for _, says := range []string{
		"Request for the designer’s check", "deck plan, sheet 4, revision C", "within ± 50 mm", "Datum A", "Datum B", "1 : ", ">8000<", ">−500<", ">± 50<", "Deck core", "approves no anchorage", "Where do they end?", "Two eyes &amp; a line",
	} {
		if !strings.Contains(svg, says) {
			t.Errorf("the request does not say %q", says)
		}
	}
	for _, bad := range []string{"13.7", "14 mm", "hole of", "drill "} {
		if strings.Contains(svg, bad) {
			t.Errorf("the request speaks of holes or bolts: %q", bad)
		}
	}
	if at := strings.Index(svg, ">After eye<"); at < 0 || at > strings.Index(svg, ">Fore eye<") {
		t.Error("the fittings are not numbered from aft")
	}
	for _, d := range sheets {
		low, high := d.Reach()
		if low.X < 0 || low.Y < 0 || high.X > d.W || high.Y > d.H {
			t.Errorf("something lies outside the sheet: %v to %v", low, high)
		}
	}
}

// A long list of fittings goes on to further sheets and loses none.
func TestDeckRequestOfMany(t *testing.T) {
	plan, x := smallDeck()
	for i := range 60 {
		x.Fittings = append(x.Fittings, record.Fitting{Subject: record.Subject{Self: record.R("fitting", string(rune('a'+i%26))+string(rune('a'+i/26)))}, Name: "Eye", Spot: record.Spot{Known: true, X: 0.1 * float64(i), Y: 0.2}})
	}
	sheets := drawing.DeckRequest(drawing.DeckPaper{Build: record.Build{Name: "Demo"}, Plan: plan, X: x})
	n := 0
	for _, d := range sheets {
		n += strings.Count(svgText(t, d), "please say what must lie under it")
	}
	if n != 62 || len(sheets) < 2 {
		t.Errorf("%d of 62 fittings on %d sheets", n, len(sheets))
	}
}
