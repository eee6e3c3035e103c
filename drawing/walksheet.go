package drawing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dogshore/desk"
	"dogshore/desk/visit"
	"dogshore/internal/draw"
	"dogshore/record"
)

// Sizes of the walking sheet, in millimetres.
const (
	walkText  = 2.8 // type
	walkLine  = 3.5 // line to line
	walkGap   = 1.8 // between stops
	walkFoot  = 72  // tables below the columns
	walkSplit = 6   // between the columns
)

// WalkSheet draws the page to take along to the yard: the stops in walking
// order with boxes for the stages most likely to be seen and what to do there,
// then room for measurements and agreements. What does not fit is counted and
// named, never dropped in silence. name is how a person calls a subject. The
// rows have the numbers of visit.Rows, and number is that of the sheet: with it
// the page where it is typed in lays the same rows.
func WalkSheet(b record.Build, a visit.Answer, name func(record.Ref) string, number int64) *draw.Drawing {
	g := newPage("Walking sheet", "What to look at, ask and measure at the visit, in walking order, with room for what is found and agreed.")
	g.walkHead(b, a)
	var blocks []block
	for _, l := range []limit{{everything, everything}, {6, 5}, {4, 4}, {3, 3}, {3, 2}, {2, 2}, {1, 3}, {1, 1}, {0, 1}} {
		blocks = walkBlocks(a, name, l)
		if g.fits(blocks) {
			break
		}
	}
	if !g.fits(blocks) {
		slices.SortStableFunc(blocks, func(a, b block) int { return cmp.Compare(a.rank(), b.rank()) })
	}
	g.flow(blocks)
	g.y = bottom - 6 - walkFoot
	g.measures(a, name)
	g.agreements()
	g.titleBlock([]string{b.Name, "Walking sheet", fmt.Sprintf("No. %d, of %s", number, a.Day), "Sheet 1 of 1"})
	return g.Drawing
}

func (g *page) walkHead(b record.Build, a visit.Answer) {
	g.write(draw.Strong, left, g.y+4, 5.6, 90, "Walking sheet: "+b.Name)
	for i, label := range []string{"Day", "Who", "With whom at the yard"} {
		x := 104 + []float64{0, 24, 58}[i]
		w := []float64{22, 32, 38}[i]
		g.write(draw.Plain, x, g.y+1.2, 2.5, w, label)
		g.Line(draw.Thin, p(x, g.y+7), p(x+w, g.y+7))
	}
	if a.Next.Fixed.Known() {
		g.write(draw.Plain, 104, g.y+6, 2.8, 22, a.Next.Fixed.String())
	}
	g.y += 10.6
	lines := draw.Wrap(a.Next.Why, walkText, false, right-left)
	if b.Notice != "" {
		lines = append(lines, draw.Clip(b.Notice, walkText, false, right-left))
	}
	for _, l := range lines {
		g.write(draw.Plain, left, g.y, walkText, right-left, l)
		g.y += walkLine
	}
	g.y += 0.6
}

// limit says which acts a stop shows: those whose step is at most so many
// steps ahead, and at most so many of them.
type limit struct{ ahead, most int }

const everything = 1 << 20

// soonest returns the acts of a stop within the limit, those that can be
// missed soonest first, and how many are left out.
func (l limit) soonest(acts []desk.Act) (shown []desk.Act, more int) {
	far := func(a desk.Act) int {
		if a.Ahead < 0 {
			return everything - 1
		}
		return a.Ahead
	}
	sorted := slices.Clone(acts)
	slices.SortStableFunc(sorted, func(a, b desk.Act) int { return cmp.Compare(far(a), far(b)) })
	for _, a := range sorted {
		if far(a) <= l.ahead && len(shown) < l.most {
			shown = append(shown, a)
		}
	}
	return shown, len(acts) - len(shown)
}

// block is one stop on its way into a column.
type block struct {
	title string
	likes []like
	lines []walkItem
	later string // what is left out
}

type like struct {
	number    int
	step, was string
}

// walkItem is one thing to do, broken into lines; what is measured has a
// number, and a line to write the value on.
type walkItem struct {
	number int
	lines  []string
}

// rank orders blocks when not all find room: what is asked comes before
// stages to tick, and those before stops where all that is asked comes later.
func (b block) rank() int {
	switch {
	case len(b.lines) > 0:
		return 0
	case len(b.likes) > 0:
		return 1
	}
	return 2
}

func (b block) height() float64 {
	h := walkGap + walkLine + walkLine*1.15*float64(len(b.likes))
	for _, item := range b.lines {
		h += item.height()
	}
	if b.later != "" {
		h += walkLine
	}
	return h
}

// height leaves room above a value for the hand that writes it.
func (i walkItem) height() float64 {
	h := walkLine * float64(len(i.lines))
	if i.number > 0 {
		h += 0.9
	}
	return h
}

const columnW = (right - left - walkSplit) / 2

// walkBlocks makes a block of each stop, with the acts within a limit, and one
// of the questions that stand at no stop.
func walkBlocks(a visit.Answer, name func(record.Ref) string, l limit) []block {
	asked := map[record.Ref]bool{}
	numbers := map[record.Ref]int{}
	for _, r := range visit.Rows(a) {
		numbers[r.Of] = r.Number
	}
	should := map[record.Ref]string{}
	k := record.KindFor[record.Check]().Field("should")
	for _, c := range a.Checks {
		should[c.Self] = c.What
		if c.Should.Known {
			should[c.Self] += ", " + k.Format(record.Encode(c.Should))
		}
		if c.State != "" {
			should[c.Self] += ", " + c.State
		}
		if c.Shown() {
			should[c.Self] = "Have shown: " + should[c.Self]
		}
	}
	var out []block
	for _, s := range a.Walk {
		for _, act := range s.Acts {
			asked[act.Subject] = true
		}
		out = append(out, stopBlock(s, name, l, numbers, should))
	}
	ask := block{title: "Ask"}
	for _, q := range a.Questions {
		if asked[q.Self] {
			continue
		}
		text := q.Text
		if q.To != "" {
			text = name(q.To) + ": " + text
		}
		ask.lines = append(ask.lines, item(text))
	}
	if len(ask.lines) > 0 {
		out = append(out, ask)
	}
	return out
}

func stopBlock(s visit.Stop, name func(record.Ref) string, l limit, numbers map[record.Ref]int, should map[record.Ref]string) block {
	b := block{title: "Anywhere"}
	if s.Part != "" {
		b.title = name(s.Part)
	}
	seen := map[record.Ref]bool{}
	for _, x := range s.Steps {
		if !seen[x.Step] {
			seen[x.Step] = true
			b.likes = append(b.likes, like{numbers[x.Step], name(x.Step), x.State})
		}
	}
	acts, more := l.soonest(s.Acts)
	for _, act := range acts {
		if n := numbers[act.Subject]; n > 0 && act.Subject.Kind() != "step" {
			text := should[act.Subject]
			if text == "" {
				text = act.Say
			}
			b.lines = append(b.lines, walkItem{n, draw.Wrap(text, walkText, false, columnW*valueAt-7)})
			continue
		}
		b.lines = append(b.lines, item(says(act)))
	}
	if more > 0 {
		b.later = fmt.Sprintf("%d later, on the page", more)
	}
	return b
}

// says is an act in a sentence, with its date and whose word it rests on.
func says(act desk.Act) string {
	text := act.Say
	if act.By.Known() {
		text += " By " + act.By.Day.Said() + ", " + act.By.Said + "."
	}
	return text
}

func item(text string) walkItem {
	return walkItem{lines: draw.Wrap(text, walkText, false, columnW-5)}
}

// valueAt is where in a column the line for a value begins.
const valueAt = 0.76

// fits reports whether all blocks find room in the two columns.
func (g *page) fits(blocks []block) bool {
	high := bottom - 6 - walkFoot - g.y
	column, y := 0, 0.0
	for _, b := range blocks {
		if y > 0 && y+b.height() > high {
			column, y = column+1, 0
		}
		y += b.height()
		if y > high {
			return false
		}
	}
	return column < 2
}

// flow sets the blocks into two columns and counts what is left over.
func (g *page) flow(blocks []block) {
	start, end := g.y, bottom-6-walkFoot-walkLine
	column, y := 0, start
	var over []string
	for _, b := range blocks {
		if y > start && y+b.height() > end+walkLine {
			column, y = column+1, start
		}
		if column > 1 || y+b.height() > end+walkLine {
			over = append(over, b.title)
			continue
		}
		g.block(b, left+float64(column)*(columnW+walkSplit), y)
		y += b.height()
	}
	if over != nil {
		g.write(draw.Strong, left, end+1.6, walkText, right-left,
			fmt.Sprintf("%d more on the page: %s", len(over), strings.Join(over, ", ")))
	}
}

func (g *page) block(b block, x, y float64) {
	g.Line(draw.Thin, p(x, y), p(x+columnW, y))
	y += walkLine
	g.write(draw.Strong, x, y, 3, columnW*0.52, b.title)
	words := []string{"begun", "done", "not seen", "not sure"}
	const boxes = 0.56 // of the column, where the boxes begin
	step := columnW * (1 - boxes) / float64(len(words))
	if len(b.likes) > 0 {
		for k, w := range words {
			g.write(draw.Faint, x+columnW*boxes+step*float64(k), y, 2.3, step, w)
		}
	}
	for _, l := range b.likes {
		y += walkLine * 1.15
		text := l.step
		if l.was == "under way" {
			text += " (was under way)"
		}
		g.write(draw.Faint, x, y, 2.3, 5, fmt.Sprint(l.number))
		g.write(draw.Plain, x+4.4, y, walkText, columnW*boxes-5, text)
		for k := range words {
			g.tickBox(x+columnW*boxes+step*float64(k), y-2.5, 2.7)
		}
	}
	for _, item := range b.lines {
		y = g.item(item, x, y)
	}
	g.write(draw.Faint, x+4.4, y+walkLine, 2.5, columnW-4.4, b.later)
}

// item writes one thing to do, and returns how far down it reaches.
func (g *page) item(item walkItem, x, y float64) float64 {
	y += item.height() - walkLine*float64(len(item.lines))
	for k, l := range item.lines {
		y += walkLine
		switch {
		case k == 0 && item.number > 0:
			g.write(draw.Strong, x, y, 2.3, 6, fmt.Sprintf("M%d", item.number))
		case k == 0:
			g.tickBox(x+0.6, y-2.3, 2.4)
		}
		at := x + 4.4
		if item.number > 0 {
			at = x + 6
		}
		g.write(draw.Plain, at, y, walkText, x+columnW-at, l)
	}
	if item.number > 0 {
		g.Line(draw.Thin, p(x+columnW*valueAt, y+0.6), p(x+columnW, y+0.6))
	}
	return y
}

// measures lists what was out of tolerance and leaves rows for the rest.
func (g *page) measures(a visit.Answer, name func(record.Ref) string) {
	const rows, rowH, width = 5, 4.7, right - left
	g.write(draw.Strong, left, g.y+2, 3.2, 95, "Measured")
	cols := []column{{title: "what, from where to where, bare or finished", part: 0.5}, {title: "should be, and how far it may be off", part: 0.26}, {title: "is", part: 0.12}, {title: "with what", part: 0.12}}
	end := g.blanks(left, g.y+2.6, right-left, rowH, rows, cols)
	y := end - rowH*rows
	k := record.KindFor[record.Measurement]()
	should, got := k.Field("should"), k.Field("got")
	for _, m := range a.Measurements {
		if !m.Out || y >= end-1 {
			continue
		}
		what := m.What
		if m.Of != "" {
			what = name(m.Of) + ": " + what
		}
		g.write(draw.Plain, left+0.8, y+3.4, walkText, width*0.5-1.6, what)
		if m.Should.Known {
			g.write(draw.Plain, left+width*0.5+0.8, y+3.4, walkText, width*0.26-1.6,
				should.Format(record.Encode(m.Should))+"; was "+got.Format(record.Encode(m.Got)))
		}
		y += rowH
	}
	g.y = end + 4.6
}

// agreements leaves room for what is agreed: with whom, and each number.
func (g *page) agreements() {
	g.write(draw.Strong, left, g.y+0.6, 3.2, 95, "Agreed")
	g.write(draw.Plain, left+18, g.y+0.6, 2.7, 150, "Say it back before you leave. Each number, or: to be told.")
	g.y = g.blanks(left, g.y+1.2, right-left, 5.2, 5, []column{
		{title: "what", part: 0.44}, {title: "with whom", part: 0.18}, {title: "number, or to be told", part: 0.2}, {title: "before which step", part: 0.18}})
}
