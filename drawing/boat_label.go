package drawing

import (
	"math"
	"sort"
	"strconv"

	"dogshore/internal/draw"
	"dogshore/record"
)

const labelSize = 3.6

// labels writes each part's number where it hides nothing: within the part,
// off the smaller parts that lie on it and off other numbers. A part without
// such a spot goes without; it still leads to its page.
func (v boatView) labels(d *draw.Drawing, view draw.View) {
	var taken [][2]draw.Point
	for i, x := range v.parts {
		var above [][2]draw.Point
		for _, y := range v.parts[i+1:] {
			above = append(above, bounds(onSheet(view, v.outline(y))))
		}
		text := strconv.Itoa(x.number)
		w := draw.Width(text, labelSize, false)
		for _, at := range spots(onSheet(view, v.outline(x))) {
			box := [2]draw.Point{{X: at.X - w/2, Y: at.Y - labelSize/2}, {X: at.X + w/2, Y: at.Y + labelSize/2}}
			if !meets(box, above) && !meets(box, taken) {
				d.Text(draw.Label, p(at.X, at.Y+labelSize*0.36), labelSize, draw.Middle, text)
				taken = append(taken, box)
				break
			}
		}
	}
}

func onSheet(view draw.View, o record.Outline) []draw.Point {
	out := make([]draw.Point, len(o))
	for i, c := range o {
		out[i] = view.At(c[0], c[1])
	}
	return out
}

func bounds(pts []draw.Point) [2]draw.Point {
	low, high := pts[0], pts[0]
	for _, q := range pts {
		low = draw.Point{X: math.Min(low.X, q.X), Y: math.Min(low.Y, q.Y)}
		high = draw.Point{X: math.Max(high.X, q.X), Y: math.Max(high.Y, q.Y)}
	}
	return [2]draw.Point{low, high}
}

func meets(a [2]draw.Point, others [][2]draw.Point) bool {
	for _, b := range others {
		if a[0].X < b[1].X && b[0].X < a[1].X && a[0].Y < b[1].Y && b[0].Y < a[1].Y {
			return true
		}
	}
	return false
}

// spots returns points within an outline, those near its middle first. An
// outline of less than 3 mm across the sheet has none.
func spots(pts []draw.Point) []draw.Point {
	const across, along = 9, 25
	box := bounds(pts)
	w, h := box[1].X-box[0].X, box[1].Y-box[0].Y
	if w < 3 || h < 3 {
		return nil
	}
	o := make(record.Outline, len(pts))
	for i, q := range pts {
		o[i] = [2]float64{q.X, q.Y}
	}
	x, y := middle(o)
	out := []draw.Point{{X: x, Y: y}}
	for i := range along {
		for k := range across {
			out = append(out, draw.Point{X: box[0].X + w*(float64(i)+0.5)/along, Y: box[0].Y + h*(float64(k)+0.5)/across})
		}
	}
	kept := out[:0]
	for _, q := range out {
		if within(q, pts) {
			kept = append(kept, q)
		}
	}
	sort.SliceStable(kept, func(i, k int) bool {
		return math.Hypot(kept[i].X-x, kept[i].Y-y) < math.Hypot(kept[k].X-x, kept[k].Y-y)
	})
	return kept
}

// within reports whether q lies in the polygon: a ray from it crosses the edge
// an odd number of times.
func within(q draw.Point, pts []draw.Point) bool {
	in := false
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}
