package dxf

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Bounds of what is read. Each is many times what a deck plan has.
const (
	MaxBytes    = 32 << 20 // of a file
	maxPairs    = 4_000_000
	maxEntities = 200_000 // drawn, insertions of blocks counted as often as they are drawn
	maxPoints   = 500_000 // that come out
	maxNesting  = 16      // blocks in blocks
	maxChords   = 2_000   // of one curve, or of one bulge
	maxFaults   = 200     // different lines of Unread
	farthest    = 1e9     // coordinates beyond this are taken for nonsense, in the drawing's unit
)

// Options are what Read has to know beside the file. The zero value reads with
// the drawing's own unit and the usual tolerances.
type Options struct {
	Metre float64 // metres that one unit of the drawing is; 0 takes what the drawing says
	Chord float64 // how far a chord may lie from its curve, m; 0 is 2 mm
	Join  float64 // how far apart two ends may lie that meet, m; 0 is 1 mm
}

// The usual tolerances, in metres.
const (
	DefaultChord = 0.002
	DefaultJoin  = 0.001
)

// Point is a place in the drawing, in metres, by the drawing's own axes.
type Point struct{ X, Y, Z float64 }

// Shape is a run of points: open, closed (the last is then joined to the
// first, and not said twice), or a single one.
type Shape struct {
	Layer  string
	Block  string // the named block that it was inserted with, the outermost one; "" if none
	Insert int    // the number of that insertion, from 1; what is inserted together is one thing
	Points []Point
	Closed bool
	Of     string // what it was made of: "LWPOLYLINE", "3 LINE, 2 ARC"
	Hidden bool   // its layer is off or frozen
}

// Unread is what was passed over: how many things of a sort on a layer, and
// why.
type Unread struct {
	Sort, Layer, Why string
	Count            int
}

// Drawing is what was read.
type Drawing struct {
	Unit   string  // what the drawing says of its unit: "millimetres"; "" if it says nothing
	Metre  float64 // metres that one unit was taken for; 0 if nobody has said: then Points are in the drawing's unit, and curves have coarse chords
	Shapes []Shape
	Unread []Unread
	Twice  int // pieces that lay on an equal one, and were left out
	Coarse int // curves that had to be drawn coarser than Options.Chord
	Cut    bool
}

// The errors that Read's errors wrap.
var (
	ErrKind = errors.New("this is no DXF file")     // something else, or broken
	ErrSize = errors.New("this drawing is too big") // one of the bounds
)

// Read reads a drawing. Its errors wrap ErrKind or ErrSize and say where the
// file is wrong and what would be right. The same bytes give the same answer.
//
// A drawing that says nothing of its unit, read without Options.Metre, comes
// back with Metre 0 and its points in its own unit: enough to ask the person
// who knows.
func Read(raw []byte, opt Options) (*Drawing, error) {
	if len(raw) > MaxBytes {
		return nil, fmt.Errorf("%w: it has %d MB, and at most %d MB are read: save the deck's outlines alone", ErrSize, len(raw)>>20, MaxBytes>>20)
	}
	f, err := open(raw)
	if err != nil {
		return nil, err
	}
	d := &Drawing{Cut: f.cut}
	d.Unit, d.Metre = f.unit()
	if opt.Metre > 0 {
		d.Metre = opt.Metre
	}
	chord, join := opt.Chord, opt.Join
	if chord <= 0 {
		chord = DefaultChord
	}
	if join <= 0 {
		join = DefaultJoin
	}
	r := &drawer{file: f, unread: map[Unread]int{}}
	if d.Metre > 0 {
		r.chord, r.join = chord/d.Metre, join/d.Metre
	}
	if err := r.all(f.entities, at{m: identity, layer: ""}); err != nil {
		return nil, err
	}
	if r.join == 0 {
		r.join = 1e-6 * r.extent()
	}
	d.Shapes, d.Twice = joined(r.pieces, r.join)
	d.Coarse = r.coarse
	if d.Metre > 0 {
		d.scale(d.Metre)
	}
	for i := range d.Shapes {
		d.Shapes[i].Hidden = f.hidden[strings.ToLower(d.Shapes[i].Layer)]
	}
	d.Unread = r.said()
	return d, nil
}

func (d *Drawing) scale(k float64) {
	for _, s := range d.Shapes {
		for i, p := range s.Points {
			s.Points[i] = Point{k * p.X, k * p.Y, k * p.Z}
		}
	}
}

// Extent returns the corners of the box around shapes; both are zero where
// there is nothing.
func Extent(shapes []Shape) (low, high Point) {
	low, high = Point{math.Inf(1), math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for _, s := range shapes {
		for _, p := range s.Points {
			low = Point{min(low.X, p.X), min(low.Y, p.Y), min(low.Z, p.Z)}
			high = Point{max(high.X, p.X), max(high.Y, p.Y), max(high.Z, p.Z)}
		}
	}
	if low.X > high.X {
		return Point{}, Point{}
	}
	return low, high
}

// said lists what was passed over, in the order of layers and sorts.
func (r *drawer) said() []Unread {
	out := make([]Unread, 0, len(r.unread))
	for u, n := range r.unread {
		u.Count = n
		out = append(out, u)
	}
	slices.SortFunc(out, func(a, b Unread) int {
		return strings.Compare(a.Layer+"\x00"+a.Sort+"\x00"+a.Why, b.Layer+"\x00"+b.Sort+"\x00"+b.Why)
	})
	return out
}
