package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"dogshore/desk/deck"
	"dogshore/internal/draw"
	"dogshore/record"
)

// DeckPaper is what a request for the designer's check is made of.
type DeckPaper struct {
	Build    record.Build
	Day      string // as of which day, in words
	Question string // the open point that the arrangement would settle; "" for what stands in every one
	Due      string // before which step, and by when
	Plan     deck.Plan
	X        *deck.Arrangement
	Steps    map[record.Ref]string // names of the steps before which something must be in
}

// DeckRequest draws the arrangement to a round scale, with the place of every
// fitting in millimetres from marked datums and what is asked for under it, as
// a request for the designer's check. It gives no sizes of holes: these are the
// designer's to give. The fittings keep their numbers over all sheets.
func DeckRequest(r DeckPaper) []*draw.Drawing {
	rows, numbers := r.rows()
	g := newPage("Request for the designer's check: "+r.X.Name, "The deck to scale with the places of its fittings, and what is asked for under each.")
	r.head(g)
	if sheet, any := deckPaper(r.Plan, r.X, numbers); any {
		g.deck(sheet)
	}
	out := []*draw.Drawing{g.Drawing}
	for len(rows) > 0 {
		rows = g.requestTable(rows)
		if len(rows) > 0 {
			g = newPage("Request for the designer's check, continued", "The places of further fittings.")
			g.write(draw.Strong, left, g.y+4, 4.4, right-left, "Request for the designer’s check: "+r.Build.Name+", continued")
			g.y += 8
			out = append(out, g.Drawing)
		}
	}
	for i, d := range out {
		foot := &page{d, bottom - 6 - 2*lineHeight(2.6)}
		foot.para(draw.Faint, requestCaution, 2.6)
		foot.titleBlock([]string{r.Build.Name, "Deck, " + r.X.Name, r.Day, "mm from the datums", fmt.Sprintf("Sheet %d of %d", i+1, len(out))})
	}
	return out
}

const requestCaution = "An estimate by the owner for the designer to check: it approves no anchorage, line or laminate for carrying a life, and nothing is to be drilled or cut by it. Bolts and their holes are the designer’s to give."

// head says what is asked, of which drawing and how near its places are.
func (r DeckPaper) head(g *page) {
	g.y += 1
	g.para(draw.Strong, "Request for the designer’s check: "+r.Build.Name, 5.4)
	what := r.X.Name + "."
	if r.Question != "" {
		what = "“" + r.Question + "” " + what
	}
	g.para(draw.Plain, what, 3.4)
	drawn := "Drawing: none is named; the deck was traced by the owner."
	if t := r.Plan.Tracing; t != nil && t.Name != "" {
		drawn = "Drawing: " + t.Name + "."
	}
	g.para(draw.Plain, drawn+fmt.Sprintf(" Every place is within ± %.0f mm.", 1000*r.Plan.Off), 3.2)
	ask := "Please check each numbered fitting with what is asked for under it, and answer by its number"
	if r.Due != "" {
		ask += "; " + r.Due
	}
	g.para(draw.Plain, ask+".", 3.2)
	g.y += 3
}

// deck lays the drawing on the sheet to a round scale, with its datums.
func (g *page) deck(sheet DeckSheet) {
	ratio := scaleOf(sheet)
	k := 1000 / ratio / sheet.View.Scale
	x := left + (right-left-sheet.W*k)/2
	g.Put(sheet.Drawing, x, g.y, k)
	zero := sheet.View.At(0, 0)
	at := p(x+k*zero.X, g.y+k*zero.Y)
	low, high := g.y+margin*k, g.y+(sheet.H-deckFoot-margin)*k
	if at.X > x && at.X < x+sheet.W*k {
		g.Line(draw.Centre, p(at.X, low), p(at.X, high))
		g.datum("A", p(at.X, low-1.5))
	}
	if at.Y > low && at.Y < high {
		g.Line(draw.Centre, p(x+margin*k-3, at.Y), p(x+(sheet.W-margin)*k+3, at.Y))
		g.datum("B", p(x+margin*k-6, at.Y))
	}
	g.y += sheet.H*k + 1
	g.write(draw.Strong, left, g.y+2, 3.2, right-left, fmt.Sprintf("Scale 1 : %.0f where this sheet is printed without scaling.", ratio))
	g.y += 3
	g.para(draw.Plain, "Datum A: the after end of the design waterline; forward is plus. Datum B: the centreline; port is plus, starboard minus. Up: from the design waterline. Held to: the greatest load reckoned on the fitting, doubled.", 2.8)
	g.y += 2
}

// datum marks where places are measured from, with its letter in a box.
func (g *page) datum(letter string, at draw.Point) {
	g.Area(draw.Outline, draw.Box(at.X-2, at.Y-2, 4, 4)...)
	g.Text(draw.Strong, p(at.X, at.Y+1.1), 3, draw.Middle, letter)
}

// scaleOf is the least round scale at which the deck fits the page's width.
func scaleOf(sheet DeckSheet) float64 {
	for _, n := range []float64{10, 20, 25, 40, 50, 75, 80, 100, 125, 150, 200, 250} {
		if (sheet.W-2*margin)*1000/n/sheet.View.Scale <= right-left-8 {
			return n
		}
	}
	return 500
}

// requestRow is one fitting of the table.
type requestRow struct {
	number                   int
	name, x, y, z, off, load string
	asks                     []string
}

// rows lists the fittings from aft, port before starboard, and the number of
// each.
func (r DeckPaper) rows() ([]requestRow, map[record.Ref]int) {
	mm := func(v float64) string { return strings.Replace(strconv.Itoa(int(math.Round(1000*v))), "-", "−", 1) }
	anchors := map[record.Ref]deck.Anchor{}
	for _, a := range r.X.Anchors {
		anchors[a.Self] = a
	}
	fittings := slices.DeleteFunc(slices.Clone(r.X.Fittings), func(f record.Fitting) bool { return !f.Spot.Known })
	slices.SortStableFunc(fittings, func(a, b record.Fitting) int {
		return cmp.Or(cmp.Compare(a.Spot.X, b.Spot.X), cmp.Compare(b.Spot.Y, a.Spot.Y))
	})
	var out []requestRow
	numbers := map[record.Ref]int{}
	for i, f := range fittings {
		numbers[f.Self] = i + 1
		row := requestRow{number: i + 1, name: f.Name, x: mm(f.Spot.X), y: mm(f.Spot.Y), z: mm(f.Spot.Z), off: "± " + mm(r.Plan.Off), load: "–"}
		asks := "please say what must lie under it"
		if a, ok := anchors[f.Self]; ok {
			row.load = fmt.Sprintf("%.0f", math.Ceil(greatest(a)/1000))
			asks = strings.TrimPrefix(deck.Demanded(a), a.Name+": ")
		}
		if step := r.Steps[f.Before]; step != "" {
			asks = strings.TrimSuffix(asks, ".") + "; in before: " + step + "."
		}
		row.asks = draw.Wrap(asks, 2.6, false, right-requestEdges[7])
		out = append(out, row)
	}
	return out, numbers
}

// greatest is the greatest load that a fitting is held against, in newtons.
func greatest(a deck.Anchor) float64 {
	most := 0.0
	for _, l := range a.Case.Loads {
		most = max(most, math.Sqrt(l.Force.X*l.Force.X+l.Force.Y*l.Force.Y+l.Force.Z*l.Force.Z))
	}
	return most
}

var requestEdges = []float64{left, 16, 60, 72, 84, 95, 106, 122}

// requestTable writes rows until the page is full, and returns what is left.
func (g *page) requestTable(rows []requestRow) []requestRow {
	for i, h := range []string{"", "fitting", "A, fwd", "B, port", "up", "within", "held to, kN", "asked for under it"} {
		g.write(draw.Strong, requestEdges[i], g.y+2.4, 2.6, 60, h)
	}
	g.y += 4
	for i, r := range rows {
		name := draw.Wrap(r.name, 2.6, false, requestEdges[2]-requestEdges[1]-2)
		h := 3.6*float64(max(len(r.asks), len(name), 1)) + 1.4
		if g.y+h > bottom-6-2*lineHeight(2.6)-2 {
			return rows[i:]
		}
		g.Line(draw.Thin, p(left, g.y), p(right, g.y))
		g.write(draw.Strong, requestEdges[0], g.y+3.2, 2.6, 6, strconv.Itoa(r.number))
		for k, text := range []string{r.x, r.y, r.z, r.off, r.load} {
			g.write(draw.Plain, requestEdges[k+2], g.y+3.2, 2.6, requestEdges[k+3]-requestEdges[k+2]-1, text)
		}
		for k, line := range name {
			g.write(draw.Plain, requestEdges[1], g.y+3.2+3.6*float64(k), 2.6, requestEdges[2]-requestEdges[1], line)
		}
		for k, line := range r.asks {
			g.write(draw.Plain, requestEdges[7], g.y+3.2+3.6*float64(k), 2.6, right-requestEdges[7], line)
		}
		g.y += h
	}
	return nil
}
