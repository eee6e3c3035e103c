package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"dogshore/desk/deck"
	"dogshore/internal/draw"
	"dogshore/record"
)

// DeckRequest draws the arrangement to a round scale, with the place of every
// fitting in millimetres from marked datums and what is asked for under it, as
// a request for the designer's check. It gives no sizes of holes: these are the
// designer's to give.
func DeckRequest(b record.Build, day string, plan deck.Plan, x *deck.Arrangement) []*draw.Drawing {
	sheet := Deck(plan, x)
	g := newPage("Request for the designer's check: "+x.Name, "The deck to scale with the places of its fittings, and what is asked for under each.")
	g.write(draw.Strong, left, g.y+4, 5.6, right-left, "Request for the designer’s check: "+b.Name)
	g.write(draw.Plain, left, g.y+9, 3.2, right-left, x.Name)
	g.write(draw.Faint, left, g.y+13, 2.8, right-left, requestOf(plan))
	g.y += 16
	ratio := scaleOf(sheet)
	k := 1000 / ratio / sheet.View.Scale
	g.Put(sheet.Drawing, left-margin*k+(right-left-sheet.W*k)/2+margin*k, g.y, k)
	g.datum(sheet, k)
	g.y += sheet.H*k + 3
	g.write(draw.Strong, left, g.y+2, 3.2, 100, fmt.Sprintf("Scale 1 : %.0f where this sheet is printed without scaling", ratio))
	g.y += 6
	out := []*draw.Drawing{g.Drawing}
	rows := requestRows(plan, x)
	for len(rows) > 0 {
		rows = g.requestTable(rows)
		if len(rows) > 0 {
			g = newPage("Request for the designer's check, continued", "The places of further fittings.")
			g.write(draw.Strong, left, g.y+4, 4.4, right-left, "Request for the designer’s check: "+b.Name+", "+x.Name)
			g.y += 8
			out = append(out, g.Drawing)
		}
	}
	for i, d := range out {
		(&page{d, bottom}).titleBlock([]string{b.Name, "Deck, " + x.Name, day, "mm from the datums", fmt.Sprintf("Sheet %d of %d", i+1, len(out))})
	}
	return out
}

func requestOf(plan deck.Plan) string {
	from := "Traced; no drawing is named."
	if plan.Tracing != nil && plan.Tracing.Name != "" {
		from = "From " + plan.Tracing.Name + "."
	}
	return from + fmt.Sprintf(" Places within %.0f mm unless said otherwise. An estimate by the owner, for the designer to check; it approves nothing.", 1000*plan.Off)
}

// scaleOf is the least round scale at which the deck fits the page's width.
func scaleOf(sheet DeckSheet) float64 {
	for _, n := range []float64{10, 20, 25, 40, 50, 75, 80, 100, 125, 150, 200, 250} {
		if sheet.W*1000/n/sheet.View.Scale <= right-left+2*margin {
			return n
		}
	}
	return 500
}

// datum marks where the places are measured from: the after end of the design
// waterline and the centreline.
func (g *page) datum(sheet DeckSheet, k float64) {
	at := func(x, y float64) draw.Point {
		q := sheet.View.At(x, y)
		return p(left-margin*k+(right-left-sheet.W*k)/2+margin*k+k*q.X, g.y+k*q.Y)
	}
	zero := at(0, 0)
	g.Line(draw.Thin, p(zero.X-3, zero.Y), p(zero.X+3, zero.Y))
	g.Line(draw.Thin, p(zero.X, zero.Y-3), p(zero.X, zero.Y+3))
	g.Dot(draw.Thin, zero, 1.4)
	g.Text(draw.Label, p(zero.X+2, zero.Y-2), 2.6, draw.Start, "0, 0")
}

// requestRow is one fitting of the table.
type requestRow struct {
	name, x, y, z, off string
	asks               []string
}

func requestRows(plan deck.Plan, x *deck.Arrangement) []requestRow {
	mm := func(v float64) string { return strconv.Itoa(int(math.Round(1000 * v))) }
	demands := map[record.Ref]string{}
	for _, a := range x.Anchors {
		demands[a.Self] = strings.TrimPrefix(deck.Demanded(a), a.Name+": ")
	}
	var out []requestRow
	for _, f := range x.Fittings {
		if !f.Spot.Known {
			continue
		}
		asks := demands[f.Self]
		if asks == "" {
			asks = "please say what must lie under it"
		}
		out = append(out, requestRow{
			name: f.Name, x: mm(f.Spot.X), y: mm(f.Spot.Y), z: mm(f.Spot.Z), off: "± " + mm(plan.Off),
			asks: draw.Wrap("Please check: "+asks, 2.6, false, 78),
		})
	}
	return out
}

var requestEdges = []float64{left, 16, 66, 79, 92, 105, 118}

// requestTable writes rows until the page is full, and returns what is left.
func (g *page) requestTable(rows []requestRow) []requestRow {
	for i, h := range []string{"", "fitting", "forward", "to port", "up", "within", "asked for under it"} {
		g.write(draw.Strong, requestEdges[i], g.y+2.4, 2.6, 60, h)
	}
	g.y += 4
	for i, r := range rows {
		h := 3.6*float64(max(len(r.asks), 1)) + 1.4
		if g.y+h > bottom-9 {
			return rows[i:]
		}
		g.Line(draw.Thin, p(left, g.y), p(right, g.y))
		for k, text := range []string{strconv.Itoa(i + 1), r.name, r.x, r.y, r.z, r.off} {
			width := 60.0
			if k > 1 {
				width = 12.5
			} else if k == 1 {
				width = requestEdges[2] - requestEdges[1] - 1
			}
			g.write(draw.Plain, requestEdges[k], g.y+3.2, 2.6, width, text)
		}
		for k, line := range r.asks {
			g.write(draw.Plain, requestEdges[6], g.y+3.2+3.6*float64(k), 2.6, right-requestEdges[6], line)
		}
		g.y += h
	}
	return nil
}
