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
	walkFoot  = 86  // tables below the columns
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

// walkItem is one thing to do, broken into lines.
type walkItem []string

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
		h += walkLine * float64(len(item))
	}
	if b.later != "" {
		h += walkLine
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
	var out []block
	for _, s := range a.Walk {
		for _, act := range s.Acts {
			asked[act.Subject] = true
		}
		out = append(out, stopBlock(s, name, l, numbers))
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

func stopBlock(s visit.Stop, name func(record.Ref) string, l limit, numbers map[record.Ref]int) block {
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
	acts, more := l.soonest(slices.DeleteFunc(slices.Clone(s.Acts), func(a desk.Act) bool { return a.Subject.Kind() != "step" && numbers[a.Subject] > 0 }))
	for _, act := range acts {
		b.lines = append(b.lines, item(says(act)))
	}
	if more > 0 {
		b.later = fmt.Sprintf("and %d later, in the program", more)
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

func item(text string) walkItem { return draw.Wrap(text, walkText, false, columnW-5) }

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
	most := end // above the line that counts what is left over
	if g.fits(blocks) {
		most += walkLine
	}
	column, y := 0, start
	var over []string
	for _, b := range blocks {
		if y > start && y+b.height() > most {
			column, y = column+1, start
		}
		if column > 1 || y+b.height() > most {
			over = append(over, b.title)
			continue
		}
		g.block(b, left+float64(column)*(columnW+walkSplit), y)
		y += b.height()
	}
	if over != nil {
		g.write(draw.Strong, left, end+1.6, walkText, right-left,
			fmt.Sprintf("And %d more in the program: %s", len(over), strings.Join(over, ", ")))
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
		for k, l := range item {
			y += walkLine
			if k == 0 {
				g.tickBox(x+0.6, y-2.3, 2.4)
			}
			g.write(draw.Plain, x+4.4, y, walkText, columnW-4.4, l)
		}
	}
	g.write(draw.Faint, x+4.4, y+walkLine, 2.5, columnW-4.4, b.later)
}

// Rows of the table of what is measured, and those of them left blank.
const (
	measureRows  = 8
	measureBlank = 2
)

// measures lists what is to be measured, in walking order and with its number,
// then what was out of tolerance, and leaves rows for the rest.
func (g *page) measures(a visit.Answer, name func(record.Ref) string) {
	const rowH, width = 4.7, right - left
	rows := measured(a, name)
	g.write(draw.Strong, left, g.y+2, 3.2, 95, "Measured")
	if more := len(rows) - (measureRows - measureBlank); more > 0 {
		rows = rows[:measureRows-measureBlank]
		g.write(draw.Plain, left+18, g.y+2, 2.7, 150, fmt.Sprintf("and %d more to be measured, in the program", more))
	}
	cols := []column{{title: "what, from where to where, bare or finished", part: 0.5}, {title: "should be, and how far it may be off", part: 0.26}, {title: "is", part: 0.12}, {title: "with what", part: 0.12}}
	end := g.blanks(left, g.y+2.6, right-left, rowH, measureRows, cols)
	y := end - rowH*measureRows
	for _, r := range rows {
		at := left + 0.8
		if r.number > 0 {
			g.write(draw.Strong, at, y+3.4, 2.3, 6, fmt.Sprintf("M%d", r.number))
			at += 5.6
		}
		g.write(draw.Plain, at, y+3.4, walkText, left+width*0.5-0.8-at, r.what)
		g.write(draw.Plain, left+width*0.5+0.8, y+3.4, walkText, width*0.26-1.6, r.should)
		y += rowH
	}
	g.y = end + 4.6
}

// measuredRow is one row of the table of what is measured.
type measuredRow struct {
	number       int // 0 for one that is not numbered
	what, should string
}

func measured(a visit.Answer, name func(record.Ref) string) []measuredRow {
	checks := map[record.Ref]visit.Check{}
	for _, c := range a.Checks {
		checks[c.Self] = c
	}
	readings := map[record.Ref]visit.Measurement{}
	for _, m := range a.Measurements {
		readings[m.Self] = m
	}
	var out []measuredRow
	numbered := map[record.Ref]bool{}
	for _, r := range visit.Rows(a) {
		if r.Steps() {
			continue
		}
		numbered[r.Of] = true
		if c, ok := checks[r.Of]; ok {
			out = append(out, checkRow(r.Number, c))
		} else if m, ok := readings[r.Of]; ok {
			out = append(out, readingRow(r.Number, m, name))
		}
	}
	for _, m := range a.Measurements {
		if m.Out && !numbered[m.Self] {
			out = append(out, readingRow(0, m, name))
		}
	}
	return out
}

func checkRow(number int, c visit.Check) measuredRow {
	row := measuredRow{number, c.What, toleranceText(c.Should)}
	if c.Shown() {
		row.what = "Have shown: " + row.what
	}
	if c.State != "" {
		row.what += ", " + c.State
	}
	return row
}

func readingRow(number int, m visit.Measurement, name func(record.Ref) string) measuredRow {
	row := measuredRow{number, m.What, toleranceText(m.Should)}
	if m.Of != "" {
		row.what = name(m.Of) + ": " + row.what
	}
	if m.Should.Known {
		row.should += "; was " + record.KindFor[record.Measurement]().Field("got").Format(record.Encode(m.Got))
	}
	return row
}

func toleranceText(t record.Tolerance) string {
	if !t.Known {
		return ""
	}
	return record.KindFor[record.Measurement]().Field("should").Format(record.Encode(t))
}

// agreements leaves room for what is agreed: with whom, and each number.
func (g *page) agreements() {
	g.write(draw.Strong, left, g.y+0.6, 3.2, 95, "Agreed")
	g.write(draw.Plain, left+18, g.y+0.6, 2.7, 150, "Say it back before you leave. Each number, or: to be told.")
	g.y = g.blanks(left, g.y+1.2, right-left, 5.2, 5, []column{
		{title: "what", part: 0.44}, {title: "with whom", part: 0.18}, {title: "number, or to be told", part: 0.2}, {title: "before which step", part: 0.18}})
}
