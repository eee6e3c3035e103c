package drawing

import (
	"fmt"
	"math"
	"slices"

	"dogshore/internal/draw"
)

// Sizes of the pictures behind a letter, in millimetres.
const (
	pictureW = 98.0
	pictureH = 70.0
	pictureG = 6.0
	annexT   = 3.3
)

// annexed are the sheets behind a letter while they are being filled.
type annexed struct {
	l     LetterPaper
	pages []*page
}

// behind draws the sheets behind the page: the points of the annex, then the
// pictures of all points with a mark of where on the boat each was taken for.
func (l LetterPaper) behind(annex []LetterPoint) ([]*page, error) {
	a := &annexed{l: l}
	for _, x := range annex {
		a.point(x)
	}
	for _, x := range slices.Concat(l.Points, l.Annex) {
		for i, ph := range x.Photos {
			if err := a.picture(x, ph, i); err != nil {
				return nil, err
			}
		}
	}
	return a.pages, nil
}

// room returns the page on which h millimetres find room, a new one if need
// be.
func (a *annexed) room(h float64) *page {
	if n := len(a.pages); n > 0 && a.pages[n-1].y+h <= letterFoot {
		return a.pages[n-1]
	}
	g := newPage(a.l.Title+", "+a.l.AnnexHead, "Further points and pictures of a letter to the yard.")
	g.y += 4.5
	g.write(draw.Strong, left, g.y, 4.6, right-left, a.l.AnnexHead+": "+a.l.Title)
	g.y += 2.5
	if a.l.Notice != "" {
		g.write(draw.Faint, left, g.y+2.4, 2.7, right-left, a.l.Notice)
		g.y += 4
	}
	a.pages = append(a.pages, g)
	return g
}

// point writes a point, over several pages if it is that long.
func (a *annexed) point(x LetterPoint) {
	if h := x.height(annexT); h < 120 {
		a.room(h).letterPoint(x, annexT)
		return
	}
	text, _ := x.lines(annexT)
	a.room(20)
	for i, line := range text {
		g := a.room(lineHeight(annexT))
		if i == 0 {
			g.Text(draw.Strong, p(left+letterNumberW-2.4, g.y+annexT), annexT*1.15, draw.End, fmt.Sprint(x.Number))
		}
		g.y += lineHeight(annexT)
		g.Text(draw.Plain, p(left+letterNumberW, g.y-annexT*0.28), annexT, draw.Start, line)
	}
	tail := x
	tail.Text = ""
	_, under := tail.lines(annexT)
	for _, line := range under {
		g := a.room(lineHeight(annexT))
		g.y += lineHeight(annexT)
		g.Text(draw.Faint, p(left+letterNumberW, g.y-annexT*0.24), annexT*0.86, draw.Start, line)
	}
}

// picture puts one picture with its number, and beside it what it shows and
// where on the boat that is.
func (a *annexed) picture(x LetterPoint, ph LetterPhoto, i int) error {
	g := a.room(pictureH + pictureG)
	y := g.y + pictureG/2
	w, h, err := g.Picture(ph.JPEG, ph.Says, left, y, pictureW, pictureH)
	if err != nil {
		return err
	}
	corner := p(left+markR+1, y+markR+1)
	if ph.Marked {
		if ph.Left < 0.25 && ph.Down < 0.3 { // the number would lie on what it points at
			corner = p(left+w-markR-1, y+h-markR-1)
		}
		pointer(g.Drawing, corner, p(left+w*ph.Left, y+h*ph.Down))
	}
	number(g.Drawing, corner, x.Number)
	at := left + pictureW + 5
	if w < pictureW-24 {
		at = left + w + 5
	}
	width := right - at
	g.Text(draw.Strong, p(at, y+4), 4, draw.Start, fmt.Sprintf("%d%s", x.Number, map[bool]string{true: string(rune('a' + i%26))}[len(x.Photos) > 1]))
	down := y + 9
	write := func(name, text string, most int) {
		for k, line := range draw.Wrap(text, 3, false, width) {
			if k == most {
				return
			}
			g.Text(name, p(at, down), 3, draw.Start, line)
			down += 3.9
		}
	}
	write(draw.Plain, ph.Says, 4)
	for _, u := range x.Under {
		write(draw.Faint, u, 2)
	}
	if len(x.On) > 2 {
		for w := width; w >= 36; w -= 4 { // as wide as there is room below the words
			plan := Where(a.l.Parts, []Mark{{x.Number, x.On}}, w, a.l.Forward)
			if plan != nil && down+plan.H <= y+pictureH {
				g.Put(plan, at, y+pictureH-plan.H, 1)
				break
			}
		}
	}
	g.y += pictureH + pictureG
	return nil
}

// pointer draws an arrow that is seen on any picture: white, with an edge.
func pointer(d *draw.Drawing, from, to draw.Point) {
	const shaft, half, long = 0.45, 1.5, 3.6
	dx, dy := to.X-from.X, to.Y-from.Y
	l := math.Hypot(dx, dy)
	if l <= long {
		return
	}
	dx, dy = dx/l, dy/l
	at := func(along, across float64) draw.Point {
		return p(from.X+along*dx-across*dy, from.Y+along*dy+across*dx)
	}
	d.Area(draw.Outline, at(0, shaft), at(l-long, shaft), at(l-long, half), to, at(l-long, -half), at(l-long, -shaft), at(0, -shaft))
}
