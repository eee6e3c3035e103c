package drawing

import (
	"math"
	"slices"
	"sort"
	"strconv"

	"dogshore/internal/draw"
	"dogshore/record"
)

// Mark is a numbered mark on the plan: where on the boat something is.
type Mark struct {
	Number int
	On     record.Outline // of the part or place, seen from above
}

// Sizes of the plan of marks, in millimetres.
const (
	markR    = 2.5 // radius of a number's circle
	markStep = 5.8 // from one circle to the next
	markBand = 9.0 // above and below the plan, for the circles
)

// Where draws the plan of the boat from its parts' outlines, width
// millimetres wide, with numbered marks around it and an arrow from each to
// the middle of the part or place that it is on. forward is what stands at the
// bow. It is nil if no part has an outline: nothing can be drawn then.
func Where(parts []record.Part, marks []Mark, width float64, forward string) *draw.Drawing {
	var plans []record.Outline
	for _, x := range parts {
		if len(x.Plan) > 2 && x.Withdrawn != record.Yes {
			plans = append(plans, x.Plan)
		}
	}
	if len(plans) == 0 {
		return nil
	}
	low, high := box(plans)
	const side = 3.0
	scale := (width - 2*side) / math.Max(high[0]-low[0], 1e-9)
	height := scale*(high[1]-low[1]) + 2*markBand
	d := draw.New(width, height, "Where on the boat", "Plan of the boat, bow to the right, with numbered marks; each arrow points to the part or place that the point of that number is about.")
	view := draw.View{Scale: scale, Origin: p(side-scale*low[0], markBand+scale*high[1])}
	sort.SliceStable(plans, func(i, k int) bool { return area2(plans[i]) > area2(plans[k]) })
	for _, o := range plans {
		d.Area(draw.Thin, onSheet(view, o)...)
	}
	if low[1] <= 0 && high[1] >= 0 {
		zero := view.At(0, 0)
		d.Line(draw.Centre, p(side/2, zero.Y), p(width-side/2, zero.Y))
	}
	groups := grouped(marks)
	for _, m := range groups {
		pts := onSheet(view, m.on)
		if area2(m.on) < (high[0]-low[0])*(high[1]-low[1]) { // twice half the box: all of it stands out as nothing
			d.Area(draw.Tint, pts...)
		}
		d.Line(draw.Outline, append(pts, pts[0])...)
	}
	d.Text(draw.Faint, p(width-side-6, height-0.8), 2.6, draw.End, forward)
	arrow(d, p(width-side-5, height-1.7), p(width-side, height-1.7))
	placed(d, view, groups, width, height)
	return d
}

// group is one part or place with the numbers of the marks on it.
type group struct {
	on      record.Outline
	numbers []int
	to      draw.Point // where its arrow points
	x       float64    // of its first circle
}

func (g group) wide() float64 { return markStep * float64(len(g.numbers)) }

func grouped(marks []Mark) []group {
	var out []group
	for _, m := range marks {
		if len(m.On) < 3 {
			continue
		}
		i := slices.IndexFunc(out, func(g group) bool { return slices.Equal(g.on, m.On) })
		if i < 0 {
			i, out = len(out), append(out, group{on: m.On})
		}
		out[i].numbers = append(out[i].numbers, m.Number)
	}
	return out
}

// placed puts the circles into the bands above and below the plan, each group
// on its own side of the boat and as near its place as there is room.
func placed(d *draw.Drawing, view draw.View, groups []group, width, height float64) {
	var rows [2][]group
	var used [2]float64
	for _, g := range groups {
		x, y := middle(g.on)
		g.to = view.At(x, y)
		row := 0
		if y < 0 || y == 0 && used[0] > used[1] {
			row = 1
		}
		if used[row]+g.wide() > width && used[1-row] < used[row] {
			row = 1 - row
		}
		used[row] += g.wide()
		rows[row] = append(rows[row], g)
	}
	for i, row := range rows {
		sort.SliceStable(row, func(a, b int) bool { return row[a].to.X < row[b].to.X })
		least := 0.5
		for k := range row { // push to the right where they would touch
			row[k].x = max(row[k].to.X-row[k].wide()/2, least)
			least = row[k].x + row[k].wide()
		}
		most := width - 0.5
		for k := len(row) - 1; k >= 0; k-- { // and back from the edge
			row[k].x = min(row[k].x, most-row[k].wide())
			most = row[k].x
		}
		y := markR + 0.5
		if i == 1 {
			y = height - markR - 3.5
		}
		for _, g := range row {
			arrow(d, p(g.x+g.wide()/2, y), g.to)
			for k, n := range g.numbers {
				number(d, p(g.x+markStep*(float64(k)+0.5), y), n)
			}
		}
	}
}

// number draws a number in its circle.
func number(d *draw.Drawing, at draw.Point, n int) {
	text := strconv.Itoa(n)
	size := 3.2
	if len(text) > 2 {
		size = 2.4
	}
	d.Dot(draw.Outline, at, markR)
	d.Text(draw.Strong, p(at.X, at.Y+size*0.36), size, draw.Middle, text)
}

// arrow draws a line with a filled head at its end.
func arrow(d *draw.Drawing, from, to draw.Point) {
	d.Line(draw.Outline, from, to)
	dx, dy := to.X-from.X, to.Y-from.Y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return
	}
	dx, dy = dx/l, dy/l
	const long, half = 2.4, 0.8
	d.Area(draw.Ink, to, p(to.X-long*dx-half*dy, to.Y-long*dy+half*dx), p(to.X-long*dx+half*dy, to.Y-long*dy-half*dx))
}

// box returns the corners of the box around outlines.
func box(all []record.Outline) (low, high [2]float64) {
	for axis := range 2 {
		low[axis], high[axis] = math.Inf(1), math.Inf(-1)
		for _, o := range all {
			a, b := span(o, axis)
			low[axis], high[axis] = math.Min(low[axis], a), math.Max(high[axis], b)
		}
	}
	return low, high
}
