package drawing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dogshore/internal/draw"
	"dogshore/record"
)

// startRow is one part of the start sheet with its stages in the usual order.
type startRow struct {
	number int
	name   string
	stages []string
}

// Rows of stages that fit on the first page and on each further one.
const (
	firstRows   = 16
	furtherRows = 34
	stageRowH   = 5.8
)

// StartSheet draws the sheet to fill in by hand at the first visit: the stage
// that each part has reached, open points, dates said, people, cut-offs,
// bought-in items and a sister hull. A build as the template lays it fits on
// one page; more parts run on to further pages.
func StartSheet(b record.Build, parts []record.Part, steps []record.Step) []*draw.Drawing {
	rows := startRows(parts, steps)
	first := newPage("Start sheet", "To fill in by hand at the first visit.")
	pages := []*page{first}
	rest := rows[min(len(rows), firstRows):]
	first.startHead(b)
	first.stageTable(rows[:min(len(rows), firstRows)])
	first.startTables()
	for chunk := range slices.Chunk(rest, furtherRows) {
		g := newPage("Start sheet, more parts", "To fill in by hand at the first visit.")
		g.write(draw.Strong, left, g.y+4, 5, 120, "Start sheet, more parts")
		g.y += 8
		g.stageTable(chunk)
		pages = append(pages, g)
	}
	out := make([]*draw.Drawing, len(pages))
	for i, g := range pages {
		g.titleBlock([]string{b.Name, "Start sheet", "Level: order. Usual order, no source", fmt.Sprintf("Sheet %d of %d", i+1, len(pages))})
		out[i] = g.Drawing
	}
	return out
}

// startRows lists the parts that have steps, in the order in which their work
// usually begins.
func startRows(parts []record.Part, steps []record.Step) []startRow {
	steps = slices.Clone(steps)
	slices.SortStableFunc(steps, func(a, b record.Step) int { return cmp.Compare(a.Rank.SI, b.Rank.SI) })
	names := map[record.Ref]string{}
	for _, x := range parts {
		if x.Withdrawn != record.Yes {
			names[x.Self] = called(x)
		}
	}
	var rows []startRow
	index := map[record.Ref]int{}
	for _, s := range steps {
		name, ok := names[s.Part]
		if !ok || s.NotDone == record.Yes || s.Withdrawn == record.Yes {
			continue
		}
		i, ok := index[s.Part]
		if !ok {
			i = len(rows)
			index[s.Part] = i
			rows = append(rows, startRow{number: i + 1, name: name})
		}
		word := strings.ReplaceAll(s.Stage, "-", " ")
		if word == "" {
			word = s.Name
		}
		rows[i].stages = append(rows[i].stages, word)
	}
	return rows
}

func (g *page) startHead(b record.Build) {
	g.write(draw.Strong, left, g.y+4, 5.6, 90, "Start sheet: "+b.Name)
	for i, label := range []string{"Day", "Who looked", "How: eyes, picture, told"} {
		x := 104 + []float64{0, 24, 58}[i]
		w := []float64{22, 32, 38}[i]
		g.write(draw.Plain, x, g.y+1.2, 2.5, w, label)
		g.Line(draw.Thin, p(x, g.y+7), p(x+w, g.y+7))
	}
	var who []string
	for _, s := range []string{b.HullNumber, b.Yard, b.Country} {
		if s != "" {
			who = append(who, s)
		}
	}
	g.write(draw.Faint, left, g.y+8, 2.7, 90, strings.Join(who, ", "))
	if b.Notice != "" {
		g.write(draw.Faint, left, g.y+11.4, 2.7, right-left, b.Notice)
	}
	g.y += 11.5
	g.write(draw.Strong, left, g.y+2.4, 3.2, 60, "1  Where she stands")
	g.write(draw.Plain, left+38, g.y+2.4, 2.7, 152, "Tick the last stage that is done. Strike out a stage that the yard does not do. What you leave open is not known.")
	g.y += 4
}

// stageTable draws a row of boxes for each part.
func (g *page) stageTable(rows []startRow) {
	const nameW, tailW = 38.0, 9.6
	tail := []string{"yard does not do this", "could not see", "not sure"}
	stagesW := right - left - nameW - tailW*float64(len(tail))
	x0 := left + nameW + stagesW
	for i, w := range tail {
		lines := draw.Wrap(w, 2, false, tailW-0.6)
		for k, l := range lines {
			g.write(draw.Plain, x0+tailW*float64(i)+0.6, g.y+6.4-2.1*float64(len(lines)-1-k), 2, tailW, l)
		}
	}
	g.y += 7.2
	for _, r := range rows {
		g.Line(draw.Thin, p(left, g.y), p(right, g.y))
		name := draw.Wrap(r.name, 2.6, false, nameW-6)
		for k, l := range name[:min(2, len(name))] {
			g.write(draw.Plain, left+5, g.y+2.5+float64(k)*2.5, 2.6, nameW-5, l)
		}
		g.write(draw.Faint, left+0.5, g.y+2.5, 2.4, 4, fmt.Sprint(r.number))
		w := min(12.4, stagesW/float64(max(len(r.stages), 1)))
		for k, s := range r.stages {
			x := left + nameW + w*float64(k)
			g.tickBox(x, g.y+0.5, 2.5)
			g.write(draw.Plain, x, g.y+4.95, 2.2, w-0.4, s)
		}
		for k := range tail {
			g.tickBox(x0+tailW*float64(k)+2.6, g.y+1.5, 2.6)
		}
		g.y += stageRowH
	}
	g.Line(draw.Thin, p(left, g.y), p(right, g.y))
}

// startTables draws the tables below the stages.
func (g *page) startTables() {
	const rowH, gap = 4.6, 4.4
	width := right - left
	head := func(x, y float64, text string) { g.write(draw.Strong, x, y, 3.2, 95, text) }
	g.y += gap
	head(left, g.y, "2  Open points")
	g.y = g.blanks(left, g.y+0.6, width, rowH, 10, []column{
		{title: "what is to be settled", part: 0.46}, {title: "before which step", part: 0.22}, {title: "what is built if nobody says anything", part: 0.32}})
	g.y += gap
	head(left, g.y, "3  Dates that were said")
	g.y = g.blanks(left, g.y+0.6, width, rowH, 4, []column{
		{title: "what: step, arrival, launch, hand-over", part: 0.4}, {title: "when, as said: 14 April, W34, end of May", part: 0.28}, {title: "by whom", part: 0.18}, {title: "on which day", part: 0.14}})
	half := (width - 4) / 2
	g.y += gap
	head(left, g.y, "4  People, and what their word counts for")
	head(left+half+4, g.y, "5  Cut-offs in the contract")
	end := g.blanks(left, g.y+0.6, half, rowH, 4, []column{
		{title: "name", part: 0.26}, {title: "role", part: 0.18}, {title: "may", part: 0.44, boxes: []string{"instruct", "release", "accept"}}, {title: "clause", part: 0.12}})
	g.blanks(left+half+4, g.y+0.6, half, rowH, 4, []column{
		{title: "what ends then", part: 0.56}, {title: "day", part: 0.26}, {title: "clause", part: 0.18}})
	g.y = end + gap
	head(left, g.y, "6  Bought in")
	head(left+half+4, g.y, "7  A sister hull ahead of ours")
	g.blanks(left, g.y+0.6, half, rowH, 4, []column{
		{title: "what", part: 0.3}, {title: "bought by", part: 0.26, boxes: []string{"us", "yard"}}, {title: "there", part: 0.14, boxes: []string{"yes"}}, {title: "needed by which step", part: 0.3}})
	g.blanks(left+half+4, g.y+0.6, half, rowH, 4, []column{
		{title: "number or name", part: 0.24}, {title: "weeks ahead", part: 0.18}, {title: "what differs, what was seen there", part: 0.58}})
}
