package drawing

import (
	"dogshore/internal/draw"
)

// Paper is A4; what is drawn keeps to what a US Letter sheet shows as well
// (216 x 279 mm), so that printing without scaling loses nothing on either.
const (
	paperW = 210.0
	paperH = 297.0
	left   = 10.0
	right  = 200.0
	top    = 10.0
	bottom = 270.0
)

// page is one sheet of paper being filled from the top.
type page struct {
	*draw.Drawing
	y float64 // how far down it is filled
}

func newPage(title, desc string) *page {
	return &page{draw.New(paperW, paperH, title, desc), top}
}

// write puts one line of type at x, cut to a width.
func (g *page) write(name string, x, y, size, width float64, text string) {
	g.Text(name, p(x, y), size, draw.Start, draw.Clip(text, size, name == draw.Strong, width))
}

// tickBox draws an empty box.
func (g *page) tickBox(x, y, size float64) { g.Area(draw.Outline, draw.Box(x, y, size, size)...) }

// column is one column of a table to be filled in by hand.
type column struct {
	title string
	part  float64  // of the table's width
	boxes []string // tick boxes in each row, with these letters or words
}

// blanks draws a table with empty rows.
func (g *page) blanks(x, y, width, rowH float64, rows int, cols []column) (end float64) {
	const headH = 3.6
	at := x
	var edges []float64
	for _, c := range cols {
		g.write(draw.Plain, at+0.6, y+headH-1, 2.5, width*c.part-1, c.title)
		edges = append(edges, at)
		at += width * c.part
	}
	y += headH
	end = y + rowH*float64(rows)
	for i := range rows + 1 {
		g.Line(draw.Thin, p(x, y+rowH*float64(i)), p(x+width, y+rowH*float64(i)))
	}
	for _, e := range append(edges, x+width) {
		g.Line(draw.Thin, p(e, y), p(e, end))
	}
	at = x
	for _, c := range cols {
		for k, word := range c.boxes {
			step := width * c.part / float64(len(c.boxes))
			for i := range rows {
				bx, by := at+step*float64(k)+1, y+rowH*float64(i)+(rowH-2.6)/2
				g.tickBox(bx, by, 2.6)
				g.write(draw.Plain, bx+3.1, by+2.1, 2.3, step-4, word)
			}
		}
		at += width * c.part
	}
	return end
}

// titleBlock draws the block along the foot of a sheet.
func (g *page) titleBlock(cells []string) {
	const h = 6.0
	y := bottom - h
	g.Line(draw.Outline, p(left, y), p(right, y))
	w := (right - left) / float64(len(cells))
	for i, c := range cells {
		g.write(draw.Plain, left+w*float64(i)+0.8, y+4, 2.6, w-1.6, c)
		if i > 0 {
			g.Line(draw.Thin, p(left+w*float64(i), y), p(left+w*float64(i), y+h))
		}
	}
}
