package intake_test

import (
	"bytes"
	"maps"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/journal"
	"dogshore/record"
)

// plan is the drawing that dxf's tests read.
func plan(t testing.TB, name string) intake.File {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "dxf", "testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return intake.File{Name: name, Data: bytes.NewReader(raw), Size: int64(len(raw))}
}

// asksOf lists the questions of a reading by ID.
func asksOf(r *intake.Reading) map[string]intake.Ask {
	out := map[string]intake.Ask{}
	for _, a := range r.Asks {
		out[a.ID] = a
	}
	return out
}

var deckAnswers = map[string]string{
	"deck.dxf axes": "x forward, y to port", "deck.dxf zero": "at its zero",
	"deck.dxf, layer COACHROOF": "deck level", "deck.dxf, layer COACHROOF height": "1,6 m",
	"deck.dxf, layer SIDE DECK": "each by itself", "deck.dxf, layer SIDE DECK, run 1": "deck level", "deck.dxf, layer SIDE DECK, run 1 height": "as drawn",
	"deck.dxf, layer SIDE DECK, run 2": "leave it out",
	"deck.dxf, layer EDGE":             "deck edge", "deck.dxf, layer EDGE height": "1.1 to 1.3 m", "deck.dxf, layer EDGE rail": "0 m",
	"deck.dxf, block CLEAT": "obstacle: cleat", "deck.dxf, layer NOTES": "leave it out",
	"deck.dxf, layer Größe": "swept region: other",
}

// A drawing is listed and asked about; nothing is written before its axes, its
// zero and what its runs are have been said. The same file twice is nothing.
func TestDrawing(t *testing.T) {
	s := newShed(t)
	first := s.read(intake.Options{}, plan(t, "deck.dxf"))
	if len(first.Reads) != 0 || len(first.Refuses) != 0 {
		t.Fatalf("before anything is answered: %s", printed(t, first))
	}
	asks := asksOf(first)
	for id, guess := range map[string]string{"deck.dxf, layer COACHROOF": "deck level", "deck.dxf, block CLEAT": "obstacle: cleat", "deck.dxf, layer EDGE": "deck edge", "deck.dxf, layer NOTES": "leave it out"} {
		if a := asks[id]; a.Readings == nil || a.Readings[0] != guess || !strings.Contains(a.Question, "perhaps") {
			t.Errorf("%s: %+v", id, a)
		}
	}
	if all := printed(t, first); !strings.Contains(all, "1 HATCH: not a sort that is read") || !strings.Contains(all, "switched off") || !strings.Contains(all, "curves as chords within 2 mm") {
		t.Error(all)
	}
	r := s.read(intake.Options{Answers: deckAnswers}, plan(t, "deck.dxf"))
	done := s.accept(r)
	if done.Entries != 9 {
		t.Fatalf("%d entries: %s", done.Entries, printed(t, r))
	}
	rec := s.record()
	roof, _ := journal.Get[record.Level](rec, "level/coachroof")
	side, _ := journal.Get[record.Level](rec, "level/side-deck-1")
	edge, _ := journal.Get[record.Edge](rec, "edge/edge")
	cleat, _ := journal.Get[record.Obstacle](rec, "obstacle/cleat-1")
	if roof.Height.SI != 1.6 || side.Height.SI != 1.15 || edge.Height.Low != 1.1 || edge.Height.High != 1.3 || !edge.Rail.Known || cleat.Sort != "cleat" {
		t.Errorf("%+v\n%+v\n%+v\n%+v", roof.Height, side.Height, edge, cleat)
	}
	// The run of two lines and two half circles: 4 (1+0.8) + pi/2 (1+0.64), less what its chords cut off.
	if a := areaOf(roof.Plan); math.Abs(a-(7.2+math.Pi/2*1.64)) > 0.02 {
		t.Errorf("the coachroof has %g m2", a)
	}
	if h, _ := rec.Held("level/coachroof", "plan"); h.Entry.Grounds != record.Written || h.Entry.Since != journal.Always || !strings.HasPrefix(h.Entry.Origin, "deck.dxf, layer COACHROOF") {
		t.Errorf("%+v", h.Entry)
	}
	again := s.read(intake.Options{Answers: deckAnswers}, plan(t, "deck.dxf"))
	if len(again.Reads) != 0 || again.Same == 0 {
		t.Errorf("the same drawing again: %s", printed(t, again))
	}
	if done := s.accept(again); done != (intake.Accepted{}) {
		t.Errorf("%+v", done)
	}
}

func areaOf(o record.Outline) float64 {
	sum := 0.0
	for i, p := range o {
		q := o[(i+1)%len(o)]
		sum += p[0]*q[1] - p[1]*q[0]
	}
	return math.Abs(sum / 2)
}

// A drawing with the bow the other way, measured from the bow, lies on the
// boat as one drawn by the boat's own axes does; one seen from below is
// mirrored.
func TestDrawingLiesOnTheBoat(t *testing.T) {
	outline := func(axes, zero string) record.Outline {
		s := newShed(t)
		answers := maps.Clone(deckAnswers)
		answers["deck.dxf axes"], answers["deck.dxf zero"] = axes, zero
		s.accept(s.read(intake.Options{Answers: answers}, plan(t, "deck.dxf")))
		side, ok := journal.Get[record.Level](s.record(), "level/side-deck-1")
		if !ok {
			t.Fatalf("%s, %s: nothing was taken", axes, zero)
		}
		return side.Plan
	}
	own := outline("x forward, y to port", "0; 0")
	for _, x := range []struct {
		axes, zero string
		want       func(x, y float64) (float64, float64)
	}{
		{"x aft, y to starboard", "9,6; 0", func(x, y float64) (float64, float64) { return 9.6 - x, -y }},
		{"y forward, x to starboard", "1 0.5", func(x, y float64) (float64, float64) { return y - 0.5, 1 - x }},
		{"y aft, x to port", "0 0", func(x, y float64) (float64, float64) { return -y, x }},
		{"x forward, y to starboard", "0 0", func(x, y float64) (float64, float64) { return x, -y }},
	} {
		got := outline(x.axes, x.zero)
		for i, p := range own {
			if wx, wy := x.want(p[0], p[1]); math.Abs(got[i][0]-wx) > 2e-4 || math.Abs(got[i][1]-wy) > 2e-4 {
				t.Fatalf("%s: %v became %v", x.axes, p, got[i])
			}
		}
	}
}

// What differs from the record is asked about, and waits for the day from
// which it holds; a name that was changed since stays.
func TestDrawingAgainstTheRecord(t *testing.T) {
	s := newShed(t)
	s.accept(s.read(intake.Options{Answers: deckAnswers}, plan(t, "deck.dxf")))
	e := s.Draft("owner", journal.Always, record.Told)
	e.Facts = journal.Facts("level/coachroof", record.Values(record.Level{Name: "Roof"}))
	if _, err := s.Accept(t.Context(), e); err != nil {
		t.Fatal(err)
	}
	answers := maps.Clone(deckAnswers)
	answers["deck.dxf, layer COACHROOF height"] = "1.7 m"
	r := s.read(intake.Options{Answers: answers}, plan(t, "deck.dxf"))
	id := "deck.dxf, layer COACHROOF height change"
	if len(r.Reads) != 0 || asksOf(r)[id].Question == "" {
		t.Fatal(printed(t, r))
	}
	answers[id] = "what the file says"
	if r = s.read(intake.Options{Answers: answers}, plan(t, "deck.dxf")); len(r.Reads) != 0 || asksOf(r)["since"].ID == "" {
		t.Fatal(printed(t, r))
	}
	answers["since"] = "they put right what was wrong"
	s.accept(s.read(intake.Options{Answers: answers}, plan(t, "deck.dxf")))
	if s.says("level/coachroof", "height") != "1.7 m" || s.says("level/coachroof", "name") != "Roof" {
		t.Errorf("%s, %s", s.says("level/coachroof", "height"), s.says("level/coachroof", "name"))
	}
	answers[id] = "what the record says"
	answers["deck.dxf, layer COACHROOF height"] = "1.8 m"
	if r = s.read(intake.Options{Answers: answers}, plan(t, "deck.dxf")); len(r.Reads) != 0 || asksOf(r)[id].ID != "" {
		t.Error(printed(t, r))
	}
}

// A drawing without a unit, or of a size that no deck has, is asked about.
func TestDrawingsUnit(t *testing.T) {
	s := newShed(t)
	for _, name := range []string{"oldest.dxf", "deck-unitless.dxf"} {
		r := s.read(intake.Options{}, plan(t, name))
		if a := asksOf(r)[name+" unit"]; a.ID == "" || len(r.Asks) != 1 {
			t.Errorf("%s: %+v", name, r.Asks)
		}
		r = s.read(intake.Options{Answers: map[string]string{name + " unit": "feet"}}, plan(t, name))
		if asksOf(r)[name+" unit"].ID != "" || len(r.Asks) < 2 {
			t.Errorf("%s, in feet: %+v", name, r.Asks)
		}
	}
	raw, _ := os.ReadFile(filepath.Join("..", "dxf", "testdata", "deck.dxf"))
	at := bytes.Index(raw, []byte("$INSUNITS"))
	wrong := append(bytes.Clone(raw[:at]), bytes.Replace(raw[at:], []byte("\n4\n"), []byte("\n2\n"), 1)...)
	r := s.read(intake.Options{}, intake.File{Name: "deck.dxf", Data: bytes.NewReader(wrong), Size: int64(len(wrong))})
	if a := asksOf(r)["deck.dxf unit"]; !strings.Contains(a.Question, "says feet") {
		t.Errorf("a deck of 2.9 km: %+v", r.Asks)
	}
}

// Lists of points are written as people write them.
func TestListOfPoints(t *testing.T) {
	for name, text := range map[string]string{
		"commas":    "Outline;x mm;y mm;z mm\nSide deck;0;1200,5;1150\nSide deck;4000;1900,25;1150\nSide deck;9000;1100;1150\n",
		"points":    "layer,X [m],Y [m],Z [m]\nSide deck,0,1.2005,1.15\n,4,1.90025,1.15\n,9.0,1.10,1.15\n",
		"unit rows": "survey of the deck\n\nname\tx\ty\tz\n\tmm\tmm\tmm\nSide deck\t0\t1200.5\t1150\nSide deck\t4000\t1900.25\t1150\nSide deck\t9000\t1100\t1150\n",
		"in cells":  "name;x;y;z\nSide deck;0 m;1200,5 mm;1,15 m\nSide deck;4 m;1900,25 mm;1,15 m\nSide deck;9 m;1100 mm;1150 mm\n",
	} {
		answers := map[string]string{"points.csv axes": "x forward, y to port", "points.csv zero": "at its zero", "points.csv, outline Side deck": "level", "points.csv, outline Side deck open": "close it straight", "points.csv, outline Side deck height": "as drawn"}
		s := newShed(t)
		r := s.read(intake.Options{Answers: answers}, file("points.csv", text))
		if len(r.Asks) != 0 {
			t.Errorf("%s: %s", name, printed(t, r))
			continue
		}
		s.accept(r)
		if got := s.says("level/side-deck", "plan"); got != "0 1.2005; 4 1.9003; 9 1.1" {
			t.Errorf("%s: %s", name, got)
		}
		if s.says("level/side-deck", "height") != "1.15 m" {
			t.Errorf("%s: height %s", name, s.says("level/side-deck", "height"))
		}
	}
}

// What has two readings is asked, as is the unit; blank rows part runs where
// no column names them; what is no number is refused with its cell.
func TestListOfPointsAsks(t *testing.T) {
	s := newShed(t)
	r := s.read(intake.Options{}, file("edge.csv", "x mm;y mm\n1.200;0\n2.400;5\n"))
	if a := asksOf(r)["edge.csv decimal mark"]; a.Text != "2 numbers, as 1.200" {
		t.Errorf("%+v", r.Asks)
	}
	text := "x,y\n0,0\n8.5,0\n8.5,bow\n\n1,1\n2,2\n"
	r = s.read(intake.Options{}, file("edge.csv", text))
	if len(asksOf(r)["edge.csv unit"].Readings) == 0 || len(r.Refuses) != 1 || r.Refuses[0].At.String() != "edge.csv, B4" {
		t.Errorf("%s", printed(t, r))
	}
	r = s.read(intake.Options{Answers: map[string]string{"edge.csv unit": "metres", "edge.csv, B4": "0.5"}}, file("edge.csv", text))
	if len(r.Refuses) != 0 || asksOf(r)["edge.csv, outline edge 1"].ID == "" || asksOf(r)["edge.csv, outline edge 2"].ID == "" {
		t.Errorf("%s", printed(t, r))
	}
}

// What is no drawing is refused, and says what would be right.
func TestNoDrawing(t *testing.T) {
	s := newShed(t)
	for name, text := range map[string]string{"a.dxf": "hello", "b.dwg": "AC1032\x00\x00", "c.dxf": ""} {
		r := s.read(intake.Options{}, file(name, text))
		if len(r.Refuses) != 1 || r.Refuses[0].Why == "" {
			t.Errorf("%s: %s", name, printed(t, r))
		}
	}
}

// Whatever stands in a drawing or a list of points, and whatever is answered,
// what would be written passes the door.
func FuzzOutlines(f *testing.F) {
	for _, name := range []string{"deck-2000.dxf", "oldest.dxf"} {
		raw, err := os.ReadFile(filepath.Join("..", "dxf", "testdata", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(true, raw, uint8(0))
	}
	f.Add(false, []byte("name;x mm;y mm;z\nA;0;1.200,5;1\nA;4000;1900;1\nB;9000;1100;\n"), uint8(3))
	f.Fuzz(func(t *testing.T, drawing bool, raw []byte, turn uint8) {
		name := map[bool]string{true: "p.dxf", false: "p.csv"}[drawing]
		answers := map[string]string{}
		for range 6 {
			r := intake.Read([]intake.File{{Name: name, Data: bytes.NewReader(raw), Size: int64(len(raw))}}, boat(t), intake.Options{Today: today, Answers: answers})
			stamp := journal.Stamp(1000)
			for _, e := range r.Entries(func(author string, since calendar.Day, grounds record.Grounds) journal.Entry {
				stamp++
				return journal.Entry{Stamp: stamp, Since: since, Author: author, Grounds: grounds, Version: journal.Version, Wall: time.Unix(0, 0)}
			}) {
				if _, err := journal.Check(e); err != nil {
					t.Fatalf("%s: refused at the door: %v", e.Origin, err)
				}
			}
			for i, a := range r.Asks {
				answers[a.ID] = "1.2 m"
				if n := len(a.Readings); n > 0 {
					answers[a.ID] = a.Readings[(i+int(turn))%n]
				}
			}
		}
	})
}
