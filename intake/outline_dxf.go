package intake

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"dogshore/dxf"
)

// drawingPlan is what a drawing is taken for.
const drawingPlan = "drawing"

// isDrawing tells a drawing by its name, or by how it begins.
func isDrawing(f File) bool {
	ext := strings.ToLower(filepath.Ext(f.Name))
	return ext == ".dxf" || ext == ".dwg"
}

// drawing reads the outlines of a DXF file.
func (r *reader) drawing(f File) {
	at := Cell{File: f.Name}
	d, known, err := r.drawn(at, f)
	if err != nil {
		r.out.refuse(at, "", "%v", err)
		return
	}
	r.out.Sources = append(r.out.Sources, Source{At: at, As: drawingPlan, Rows: len(d.Shapes), Count: "run", Notes: append(drawingNotes(d), canBe())})
	for _, u := range d.Unread {
		place := at
		if u.Layer != "" {
			place.Sheet = "layer " + u.Layer
		}
		r.out.skip(place, "", "%d %s: %s", u.Count, u.Sort, u.Why)
	}
	if !known || len(d.Shapes) == 0 {
		return
	}
	p := &plan{at: at, as: drawingPlan}
	for _, s := range d.Shapes {
		p.runs = append(p.runs, outlineRun{group: s.Layer, block: s.Block, insert: s.Insert, points: s.Points, closed: s.Closed, of: s.Of, hidden: s.Hidden})
	}
	r.take(p)
}

// drawn reads the file, in the unit that was said where the drawing says none
// that can be. known is false while that is asked.
func (r *reader) drawn(at Cell, f File) (d *dxf.Drawing, known bool, err error) {
	if f.Size > dxf.MaxBytes {
		return nil, false, fmt.Errorf("it has %d MB, and at most %d MB of a drawing are read: save the deck's outlines alone", f.Size>>20, dxf.MaxBytes>>20)
	}
	raw, err := io.ReadAll(io.NewSectionReader(f.Data, 0, f.Size))
	if err != nil {
		return nil, false, err
	}
	d, err = dxf.Read(raw, dxf.Options{})
	if err != nil || len(d.Shapes) == 0 {
		return d, true, err
	}
	low, high := dxf.Extent(d.Shapes)
	extent := max(high.X-low.X, high.Y-low.Y)
	if d.Metre != 0 { // else the points are in the drawing's own unit
		extent /= d.Metre
	}
	metre, known := r.unitOf(at, d.Unit, d.Metre, extent)
	if metre != d.Metre {
		d, err = dxf.Read(raw, dxf.Options{Metre: metre})
	}
	return d, known, err
}

// drawingNotes say how a drawing was read.
func drawingNotes(d *dxf.Drawing) []string {
	low, high := dxf.Extent(d.Shapes)
	var out []string
	switch {
	case d.Metre == 0:
		out = append(out, fmt.Sprintf("without a unit; x %s to %s, y %s to %s in its own", metresText(low.X), metresText(high.X), metresText(low.Y), metresText(high.Y)))
	default:
		out = append(out, fmt.Sprintf("1 of its unit is %s m; x %s to %s, y %s to %s m; curves as chords within %g mm of them", metreText(d.Metre), metresText(low.X), metresText(high.X), metresText(low.Y), metresText(high.Y), 1000*dxf.DefaultChord))
	}
	if d.Unit != "" {
		out = append(out, "it says that its unit is "+d.Unit)
	}
	if d.Coarse > 0 {
		out = append(out, fmt.Sprintf("%s so large or so turned that its chords lie further off", many(d.Coarse, "curve")))
	}
	if d.Twice > 0 {
		out = append(out, fmt.Sprintf("%s drawn twice, one upon the other, counted once", many(d.Twice, "piece")))
	}
	if d.Cut {
		out = append(out, "the file breaks off before its end: something may be missing")
	}
	return out
}

func metreText(v float64) string { return fmt.Sprintf("%.6g", v) }
