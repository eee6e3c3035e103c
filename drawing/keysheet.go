package drawing

import (
	"fmt"
	"slices"
	"strings"

	"dogshore/internal/draw"
	"dogshore/record"
)

// KeySheets draws the picture key of stages for paper, a dozen to the page.
func KeySheets() []*draw.Drawing {
	const perPage, perRow, cellW, cellH = 12, 3, 64.0, 60.0
	pages := (len(record.Stages) + perPage - 1) / perPage
	var out []*draw.Drawing
	for chunk := range slices.Chunk(record.Stages, perPage) {
		g := newPage("Picture key of stages", "What one sees at each stage, what not to touch, and what usually comes next.")
		g.write(draw.Strong, left, g.y+2, 5, 120, "Picture key of stages")
		g.write(draw.Plain, left+70, g.y+2, 2.7, 120, "Which picture looks like what you see? Our own drawings; the order is a usual one, no source.")
		for i, s := range chunk {
			g.keyCell(s, left+cellW*float64(i%perRow), g.y+6+cellH*float64(i/perRow), cellW-4)
		}
		out = append(out, g.Drawing)
		g.titleBlock([]string{"Picture key", "To any build", fmt.Sprintf("Sheet %d of %d", len(out), pages)})
	}
	return out
}

// keyCell draws one stage: picture, name and what to know.
func (g *page) keyCell(s record.Stage, x, y, w float64) {
	const scale = 0.82
	g.Put(Key(s.Slug), x, y, scale)
	g.Area(draw.Paper, draw.Box(x, y+keyH*scale, w, 1)...)
	y += keyH*scale + 4
	g.write(draw.Strong, x, y, 3.3, w, s.Name)
	for _, text := range []string{capital(s.Sees) + ".", "Leave alone: " + s.Leave + ".", "Then: " + s.Next + "."} {
		for _, l := range draw.Wrap(text, 2.6, false, w) {
			y += 3
			g.write(draw.Plain, x, y, 2.6, w, l)
		}
	}
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
