package dxf

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// drawer turns entities into pieces: runs of points, in the drawing's unit.
type drawer struct {
	file        *file
	chord, join float64 // tolerances in the drawing's unit; 0 if the unit is not known
	pieces      []piece
	unread      map[Unread]int
	drawn       int
	points      int
	coarse      int
	insertions  int
}

// piece is what one entity draws at one place.
type piece struct {
	layer, block, sort string
	insertion          int // pieces of different insertions are not joined
	outer              int // the outermost insertion of a named block
	points             []Point
	closed             bool
}

// at is where entities are drawn.
type at struct {
	m         matrix
	layer     string // that things on layer 0 of a block take
	block     string
	insertion int
	outer     int
	within    []*block // the blocks that are being drawn, outermost first
}

func (r *drawer) all(list []entity, at at) error {
	for i := range list {
		e := &list[i]
		if r.drawn++; r.drawn > maxEntities {
			return errTooMany
		}
		if err := r.one(e, at); err != nil {
			return err
		}
		if r.points > maxPoints {
			return fmt.Errorf("%w: more than %d points come out of it: save the deck's outlines alone", ErrSize, maxPoints)
		}
	}
	return nil
}

// one draws one entity, or counts it as unread.
func (r *drawer) one(e *entity, at at) error {
	layer := r.layer(e, at)
	switch {
	case e.sort == "VIEWPORT":
		return nil // a window on paper; it draws nothing
	case e.whole(67) == 1:
		r.miss(e, layer, "on a sheet of paper, not in the drawing itself")
		return nil
	case e.whole(60) == 1:
		r.miss(e, layer, "marked as not to be seen")
		return nil
	case e.sort == "INSERT":
		return r.insert(e, layer, at)
	}
	c := curve{r: r, m: at.m}
	ok := true
	switch e.sort {
	case "LINE":
		ok = c.line(e)
	case "POINT":
		ok = c.point(e)
	case "LWPOLYLINE":
		ok = c.light(e)
	case "POLYLINE":
		ok = c.heavy(e)
	case "ARC", "CIRCLE":
		ok = c.arc(e)
	case "ELLIPSE":
		ok = c.ellipse(e)
	case "SPLINE":
		ok = c.spline(e)
	default:
		c.why = "not a sort that is read"
		ok = false
	}
	if !ok {
		if c.why == "" {
			c.why = "a value in it is missing, no number or out of bounds"
		}
		r.miss(e, layer, c.why)
		return nil
	}
	r.take(piece{layer: layer, block: at.block, sort: e.sort, insertion: at.insertion, outer: at.outer, points: c.points, closed: c.closed}, e)
	return nil
}

// layer is where an entity lies: things on layer 0 of a block lie where the
// block was inserted.
func (r *drawer) layer(e *entity, at at) string {
	name := r.file.text(e.text(8))
	if name == "" {
		name = "0"
	}
	if name == "0" && at.layer != "" {
		return at.layer
	}
	return name
}

// miss counts what is passed over; past a bound of different lines it is
// counted without its layer.
func (r *drawer) miss(e *entity, layer, why string) {
	u := Unread{Sort: longestName(r.file.text(e.sort)), Layer: layer, Why: why}
	if _, there := r.unread[u]; !there && len(r.unread) >= maxFaults {
		u = Unread{Sort: "others", Why: "of further sorts and layers"}
	}
	r.unread[u]++
}

// take keeps a piece without points that lie on each other.
func (r *drawer) take(p piece, e *entity) {
	for _, q := range p.points {
		if !(math.Abs(q.X)+math.Abs(q.Y)+math.Abs(q.Z) <= 3*farthest) { // also where it is no number
			r.miss(e, p.layer, "so scaled that it lies beyond anything that is drawn")
			return
		}
	}
	single := len(p.points) == 1
	p.points = slices.Compact(p.points)
	if n := len(p.points); p.closed && n > 1 && p.points[0] == p.points[n-1] {
		p.points = p.points[:n-1]
	}
	if len(p.points) == 1 && !single || len(p.points) == 0 {
		r.miss(e, p.layer, "of no length")
		return
	}
	if p.closed && len(p.points) < 3 {
		p.closed = false
	}
	r.points += len(p.points)
	r.pieces = append(r.pieces, p)
}

// insert draws a block where it was inserted, once or in rows and columns.
func (r *drawer) insert(e *entity, layer string, at at) error {
	b := r.file.blocks[strings.ToLower(r.file.text(e.text(2)))]
	why := ""
	switch {
	case b == nil:
		why = "its block is not in the file"
	case b.outside:
		why = "its block is drawn in another file"
	case slices.Contains(at.within, b):
		why = "its block contains itself"
	case len(at.within) == maxNesting:
		why = fmt.Sprintf("blocks nested deeper than %d", maxNesting)
	}
	x, ok := e.insertion()
	if why == "" && !ok {
		why = "a value in it is no number or out of bounds"
	}
	if why != "" {
		r.miss(e, layer, why)
		return nil
	}
	if x.columns > maxEntities || x.rows > maxEntities || x.columns*x.rows > maxEntities {
		return fmt.Errorf("%w: a block in it is repeated %d by %d times", ErrSize, x.columns, x.rows)
	}
	in := at
	in.layer, in.within = layer, append(slices.Clip(at.within), b)
	if in.block == "" && !strings.HasPrefix(b.name, "*") {
		in.block = b.name
	}
	for i := range x.columns * x.rows {
		in.m = at.m.times(x.placed(b.base, i%x.columns, i/x.columns))
		r.insertions++
		in.insertion = r.insertions
		if in.outer = at.outer; in.outer == 0 && in.block != "" {
			in.outer = r.insertions
		}
		if r.drawn++; r.drawn > maxEntities {
			return errTooMany
		}
		if err := r.all(b.entities, in); err != nil {
			return err
		}
	}
	return nil
}

var errTooMany = fmt.Errorf("%w: more than %d things are drawn in it, those of blocks counted each time: save the deck's outlines alone", ErrSize, maxEntities)

// extent is the diagonal of the box around what was drawn.
func (r *drawer) extent() float64 {
	shapes := make([]Shape, len(r.pieces))
	for i, p := range r.pieces {
		shapes[i].Points = p.points
	}
	low, high := Extent(shapes)
	return apart(low, high)
}
