package dxf_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dogshore/dxf"
	"dogshore/internal/test"
)

func fixture(t testing.TB, name string) []byte {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("testdata", name+".dxf"))
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

func read(t testing.TB, name string, opt dxf.Options) *dxf.Drawing {
	t.Helper()
	d, err := dxf.Read(fixture(t, name), opt)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// told is what ezdxf says of one thing in a drawing.
type told struct {
	Sort   string       `json:"sort"`
	Layer  string       `json:"layer"`
	Closed bool         `json:"closed"`
	Length float64      `json:"length_m"`
	Area   float64      `json:"area_m2"`
	Points [][3]float64 `json:"points_m"`
}

func allTold(t testing.TB) (by string, of map[string][]told) {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("testdata", "points.json"))
	if err != nil {
		t.Fatal(err)
	}
	var x struct {
		By       string
		Drawings map[string][]told
	}
	if err := json.Unmarshal(raw, &x); err != nil {
		t.Fatal(err)
	}
	return "general-purpose library " + x.By + ", input in dxf/testdata/make.py [computed]", x.Drawings
}

func length(s dxf.Shape) float64 {
	sum := 0.0
	for i := range s.Points {
		if i > 0 {
			sum += apart(s.Points[i-1], s.Points[i])
		}
	}
	if s.Closed {
		sum += apart(s.Points[len(s.Points)-1], s.Points[0])
	}
	return sum
}

func area(s dxf.Shape) float64 {
	sum := 0.0
	for i, p := range s.Points {
		q := s.Points[(i+1)%len(s.Points)]
		sum += p.X*q.Y - p.Y*q.X
	}
	return math.Abs(sum / 2)
}

func apart(p, q dxf.Point) float64 {
	return math.Sqrt((p.X-q.X)*(p.X-q.X) + (p.Y-q.Y)*(p.Y-q.Y) + (p.Z-q.Z)*(p.Z-q.Z))
}

// beside is how far a point lies from the nearest of shapes.
func beside(p dxf.Point, shapes []dxf.Shape) float64 {
	best := math.Inf(1)
	for _, s := range shapes {
		n := len(s.Points)
		for i := range s.Points {
			a, b := s.Points[i], s.Points[(i+1)%n]
			if i == n-1 && !s.Closed {
				b = a
			}
			d := dxf.Point{X: b.X - a.X, Y: b.Y - a.Y, Z: b.Z - a.Z}
			l, along := d.X*d.X+d.Y*d.Y+d.Z*d.Z, 0.0
			if l > 0 {
				along = min(max(((p.X-a.X)*d.X+(p.Y-a.Y)*d.Y+(p.Z-a.Z)*d.Z)/l, 0), 1)
			}
			best = min(best, apart(p, dxf.Point{X: a.X + along*d.X, Y: a.Y + along*d.Y, Z: a.Z + along*d.Z}))
		}
	}
	return best
}

// Every point that another program puts on the drawing lies within the stated
// tolerance of what is read, whatever the tolerance, the unit and the form of
// the file; and the drawing has as much length as there.
func TestPointsOfAnotherProgram(t *testing.T) {
	by, of := allTold(t)
	for _, name := range []string{"deck", "deck-binary", "deck-2000", "deck-inches"} {
		for _, chord := range []float64{0.05, 0.002, 0.0001} {
			d := read(t, name, dxf.Options{Chord: chord})
			worst := 0.0
			for _, x := range of["deck"] {
				for _, p := range x.Points {
					worst = max(worst, beside(dxf.Point{X: p[0], Y: p[1], Z: p[2]}, d.Shapes))
				}
			}
			if worst > chord+1e-6 {
				t.Errorf("%s: a point lies %.6f m off, at a tolerance of %g m", name, worst, chord)
			}
			if chord == dxf.DefaultChord {
				test.Check(t, "a point's distance from what is read of "+name+", m, within the 2 mm stated", by, 0, worst, dxf.DefaultChord)
			}
		}
	}
}

// Lengths and areas, layer by layer, with chords so fine that they make no
// difference to the digits shown.
func TestLengthsAndAreasOfAnotherProgram(t *testing.T) {
	by, of := allTold(t)
	d := read(t, "deck", dxf.Options{Chord: 1e-6})
	lengths, areas := map[string]float64{}, map[string]float64{}
	for _, s := range d.Shapes {
		lengths[s.Layer] += length(s)
		if s.Closed && !strings.Contains(s.Of, ",") { // joined runs are closed only here
			areas[s.Layer] += area(s)
		}
	}
	wantL, wantA := map[string]float64{}, map[string]float64{}
	for _, x := range of["deck"] {
		layer := x.Layer
		if layer == "0" { // ezdxf leaves it to the reader where things on layer 0 of a block lie
			layer = "CLEATS"
		}
		wantL[layer] += x.Length
		if x.Closed {
			wantA[layer] += x.Area
		}
	}
	for layer, want := range wantL {
		test.Check(t, "length drawn on layer "+layer+", m", by, want, lengths[layer], 2e-4)
	}
	for _, layer := range []string{"SIDE DECK", "HATCHES", "COCKPIT"} {
		test.Check(t, "area of the closed outlines on layer "+layer+", m2", by, wantA[layer], areas[layer], 2e-5)
	}
}

// What is drawn of pieces that meet is one run; what is not read is counted by
// sort and layer; layers that are off are said.
func TestWhatComesOut(t *testing.T) {
	d := read(t, "deck", dxf.Options{})
	if d.Unit != "millimetres" || d.Metre != 0.001 || d.Cut || d.Coarse != 0 || d.Twice != 0 {
		t.Errorf("unit %q, %g m; cut %v, coarse %d, twice %d", d.Unit, d.Metre, d.Cut, d.Coarse, d.Twice)
	}
	count := map[string]int{}
	for _, s := range d.Shapes {
		count[s.Layer]++
		switch s.Layer {
		case "COACHROOF":
			if !s.Closed || s.Of != "2 ARC, 2 LINE" {
				t.Errorf("the coachroof is closed: %v, of %s", s.Closed, s.Of)
			}
			// Two straight sides, half a circle of 0.8 m and one of 1 m: a trapezium between them.
			test.Check(t, "area of a run joined of two lines and two half circles, m2", "exact: 4 (1+0.8) + pi/2 (1 + 0.64)", 4*1.8+math.Pi/2*1.64, area(s), 0.002*length(s))
		case "CLEATS":
			if s.Block != "CLEAT" || s.Insert == 0 {
				t.Errorf("a cleat was inserted with the block %q", s.Block)
			}
		case "OLD":
			if !s.Hidden || s.Points[1].Z != 1.2 {
				t.Errorf("%+v", s)
			}
		}
	}
	want := map[string]int{"COACHROOF": 1, "SIDE DECK": 2, "EDGE": 1, "COCKPIT": 2, "HATCHES": 9, "CLEATS": 12, "OLD": 1, "NOTES": 1, "Größe": 1}
	if fmt.Sprint(count) != fmt.Sprint(want) {
		t.Errorf("runs by layer %v, want %v", count, want)
	}
	said := map[string]int{}
	for _, u := range d.Unread {
		said[u.Layer+" "+u.Sort] += u.Count
	}
	if fmt.Sprint(said) != fmt.Sprint(map[string]int{"NOTES TEXT": 2, "NOTES MTEXT": 1, "NOTES SOLID": 1, "NOTES LINE": 1, "COACHROOF HATCH": 1}) {
		t.Errorf("not read: %v", d.Unread)
	}
}

// The oldest form has no unit: the answer is in the drawing's own, until
// somebody says what it is. Names in a code page are read.
func TestUnitIsAskedFor(t *testing.T) {
	d := read(t, "oldest", dxf.Options{})
	if d.Unit != "" || d.Metre != 0 {
		t.Fatalf("unit %q, %g", d.Unit, d.Metre)
	}
	if low, high := dxf.Extent(d.Shapes); low.X > -0.1 || high.X != 6 {
		t.Errorf("from %v to %v, in its own unit", low, high)
	}
	d = read(t, "oldest", dxf.Options{Metre: 0.3048})
	if d.Metre != 0.3048 || len(d.Shapes) != 2 {
		t.Fatalf("%+v", d)
	}
	if s := d.Shapes[0]; s.Layer != "Plicht-Süll" || !s.Closed {
		t.Errorf("%s, closed %v", s.Layer, s.Closed)
	}
	if s := d.Shapes[1]; s.Closed || len(s.Points) != 3 || s.Of != "2 LINE" || math.Abs(length(s)-0.3048*(4+math.Sqrt(5))) > 1e-9 {
		t.Errorf("two lines, the second drawn from its far end: %+v", s)
	}
	by, of := allTold(t)
	fine := read(t, "oldest", dxf.Options{Metre: 1, Chord: 1e-6})
	test.Check(t, "area of a polyline of vertices with bulges, m2", by, of["oldest"][0].Area, area(fine.Shapes[0]), 1e-5)
	if d := read(t, "deck-unitless", dxf.Options{Metre: 1}); math.Abs(length(d.Shapes[0])-length(read(t, "deck", dxf.Options{}).Shapes[0])) > 1e-6 {
		t.Error("the same plan without a unit is another one")
	}
}

// text builds a drawing of what stands in its section of entities.
func text(entities string) []byte {
	return []byte("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n6\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + strings.ReplaceAll(strings.TrimSpace(entities), " ", "\n") + "\n0\nENDSEC\n0\nEOF\n")
}

// Closed forms: a bulge is the tangent of a quarter of the included angle.
func TestBulge(t *testing.T) {
	for _, deg := range []float64{10, 90, 180, 270, 350} {
		a := deg * math.Pi / 180
		b := math.Tan(a / 4)
		d, err := dxf.Read(text(fmt.Sprintf("0 LWPOLYLINE 8 A 70 0 10 0 20 0 42 %.15g 10 2 20 0", b)), dxf.Options{Chord: 1e-5})
		if err != nil {
			t.Fatal(err)
		}
		r := 1 / math.Sin(a/2) // half the chord of 2 m over the sine of half the angle
		s := d.Shapes[0]
		test.Check(t, fmt.Sprintf("length of an arc of %g degrees given by its bulge, m", deg), "exact: r a, with bulge = tan(a/4)", r*a, length(s), 1e-4*a)
		test.Check(t, fmt.Sprintf("area under an arc of %g degrees given by its bulge, m2", deg), "exact: r2 (a - sin a)/2", r*r*(a-math.Sin(a))/2, area(s), 1e-5*r*a)
		low, _ := dxf.Extent(d.Shapes)
		if low.Y > -0.01 && deg < 350 || low.Y >= 0 { // anti-clockwise from left to right passes below
			t.Errorf("%g degrees: the arc lies on the wrong side, from y = %g", deg, low.Y)
		}
	}
}

// A chord lies within the tolerance, and no more chords are made than it takes.
func TestChordsOfACircle(t *testing.T) {
	for _, r := range []float64{0.001, 0.05, 1, 20} {
		d, err := dxf.Read(text(fmt.Sprintf("0 CIRCLE 8 A 10 3 20 4 40 %g", r)), dxf.Options{})
		if err != nil {
			t.Fatal(err)
		}
		n := float64(len(d.Shapes[0].Points))
		off := r * (1 - math.Cos(math.Pi/n))
		coarser := r * (1 - math.Cos(math.Pi/(n-1)))
		if off > dxf.DefaultChord || n > 4 && coarser < dxf.DefaultChord {
			t.Errorf("r = %g m: %g chords lie %g m off", r, n, off)
		}
	}
}

// Ends that meet are joined whatever their order; where three meet nothing is;
// what is drawn twice counts once.
func TestJoining(t *testing.T) {
	line := func(x1, y1, x2, y2 float64) string {
		return fmt.Sprintf("0 LINE 8 A 10 %g 20 %g 11 %g 21 %g ", x1, y1, x2, y2)
	}
	square := []string{line(0, 0, 1, 0), line(1, 1, 1, 0.0005), line(1, 1, 0, 1), line(0, 0.0004, 0, 1)}
	for _, order := range [][]int{{0, 1, 2, 3}, {3, 1, 0, 2}, {2, 0, 3, 1}} {
		src := ""
		for _, i := range order {
			src += square[i]
		}
		d, err := dxf.Read(text(src+line(1, 0, 0, 0)), dxf.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(d.Shapes) != 1 || !d.Shapes[0].Closed || len(d.Shapes[0].Points) != 4 || d.Twice != 1 || d.Shapes[0].Of != "4 LINE" {
			t.Errorf("order %v: %+v, %d twice", order, d.Shapes, d.Twice)
		}
	}
	d, err := dxf.Read(text(line(0, 0, 1, 0)+line(1, 0, 2, 1)+line(1, 0, 2, -1)+strings.ReplaceAll(line(2, 1, 3, 3), "8 A", "8 B")), dxf.Options{})
	if err != nil || len(d.Shapes) != 4 {
		t.Errorf("a fork and another layer: %v, %+v", err, d.Shapes)
	}
}

// What is something else is refused with what would be right.
func TestOtherFiles(t *testing.T) {
	for name, x := range map[string]struct{ raw, says string }{
		"nothing":       {"", "nothing in it"},
		"another form":  {"AC1027\x00\x00\x00", "saved as DXF"},
		"a PDF":         {"%PDF-1.7\n", "trace a picture"},
		"a text":        {"hello\nworld\n", "group code"},
		"wide text":     {"\xff\xfe0\x00", "UTF-16"},
		"no entities":   {"0\nSECTION\n2\nHEADER\n0\nENDSEC\n0\nEOF\n", "no section of entities"},
		"a packed file": {"PK\x03\x04....", "unpack"},
	} {
		_, err := dxf.Read([]byte(x.raw), dxf.Options{})
		if !errors.Is(err, dxf.ErrKind) || !strings.Contains(err.Error(), x.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
	whole := fixture(t, "deck-2000")
	d, err := dxf.Read(whole[:len(whole)-20], dxf.Options{})
	if err != nil || !d.Cut {
		t.Errorf("a file without its end: %v", err)
	}
}
