package intake

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"dogshore/dxf"
	"dogshore/record"
	"dogshore/unit"
	"dogshore/workbook"
)

// pointsPlan is what a list of points is taken for.
const pointsPlan = "list of points"

// mostPoints bounds a list of points; a deck has some hundreds.
const mostPoints = 20_000

// pointList is the header of a list of points: the columns, 0 where there is
// none, and their units.
type pointList struct {
	row           int // its place among the grid's rows
	name, closed  int
	x, y, z       int
	unit          [3]string
	marked        rune // the decimal mark that was settled
	waits, points int
	doubt         string // a number of two readings
	own           bool   // each cell has its unit
}

// pointHeader finds the header of a list of points: a row with an x and a y.
func pointHeader(g *grid) *pointList {
	for i := range g.Rows[:min(len(g.Rows), headerRows)] {
		p := &pointList{row: i}
		for _, c := range g.headerCells(i) {
			title, u := pointTitle(c.Text)
			switch title {
			case "x":
				p.x, p.unit[0] = c.Column, u
			case "y":
				p.y, p.unit[1] = c.Column, u
			case "z", "height", "elevation":
				p.z, p.unit[2] = c.Column, u
			case "name", "layer", "outline", "run", "line", "group", "part", "what":
				if p.name == 0 {
					p.name = c.Column
				}
			case "closed":
				p.closed = c.Column
			}
		}
		if p.x != 0 && p.y != 0 {
			return p
		}
	}
	return nil
}

// pointTitle parts a title from its unit: "x mm", "X [m]", "y, in".
func pointTitle(text string) (title, u string) {
	title, u = unit.HeaderUnit(text)
	if u == "" {
		if name, last, ok := strings.Cut(strings.TrimSpace(text), " "); ok {
			title, u = unit.HeaderUnit(name + " [" + strings.TrimSpace(last) + "]")
		}
	}
	return record.Loose(title), u
}

// pointSheet reads a sheet of points. It reports whether the sheet is one.
func (r *reader) pointSheet(at Cell, g *grid) bool {
	p := pointHeader(g)
	if p == nil {
		return false
	}
	for _, row := range g.Rows[:p.row] {
		above := at
		above.Row = row.Number
		r.out.skip(above, joined(row), "above the header")
	}
	p.units(g)
	for mark, name := range marks {
		if a, _ := r.answer(at.String() + markSuffix); a == name {
			p.marked = mark
		}
	}
	runs := r.pointRuns(at, g, p)
	switch {
	case p.waits > 0:
		r.ask(Ask{ID: at.String() + markSuffix, At: at, Text: fmt.Sprintf("%d numbers, as %s", p.waits, p.doubt), Question: "which is the decimal mark of all these numbers?", Readings: []string{"comma", "point"}})
		return true
	case len(runs) == 0:
		r.out.refuse(at, "", "below its titles x and y stands no point")
		return true
	}
	pl := &plan{at: at, as: pointsPlan, runs: runs}
	metre, known := 1.0, true
	if low, high := pl.extent(); p.unit[0] == "" && !p.own {
		metre, known = r.unitOf(at, "", 0, max(high.X-low.X, high.Y-low.Y))
	}
	for _, run := range runs {
		for i, q := range run.points {
			run.points[i] = dxf.Point{X: metre * q.X, Y: metre * q.Y, Z: metre * q.Z}
		}
	}
	r.out.Sources = append(r.out.Sources, Source{At: at, As: pointsPlan, Rows: len(runs), Count: "run", Notes: []string{many(p.points, "point"), canBe()}})
	if known {
		r.take(pl)
	}
	return true
}

// units finds which unit each column is in: that of its title, of the row
// below, or of the x column.
func (p *pointList) units(g *grid) {
	if p.unit[0] == "" {
		p.unitRow(g)
	}
	p.own = p.unit[0] == "" && unitsInCells(g, p)
	for i := 1; i < 3; i++ {
		if p.unit[i] == "" {
			p.unit[i] = p.unit[0]
		}
	}
}

// unitRow takes the units out of the row below the titles.
func (p *pointList) unitRow(g *grid) {
	if p.row+1 >= len(g.Rows) {
		return
	}
	row := g.Rows[p.row+1]
	found := 0
	for i, column := range []int{p.x, p.y, p.z} {
		if _, u := unit.HeaderUnit("x [" + strings.Trim(row.At(column).Text, "[]() ") + "]"); column != 0 && u != "" {
			p.unit[i] = u
			found++
		}
	}
	if found > 0 {
		p.row++
	}
}

// unitsInCells says whether the first point below the titles has its own unit.
func unitsInCells(g *grid, p *pointList) bool {
	for _, row := range g.Rows[p.row+1:] {
		if text := row.At(p.x).Text; text != "" {
			_, err := unit.ParseQuantity(text, unit.Length, unit.Habit{Decimal: '.'})
			_, bare := unit.ParseQuantity(text, unit.Number, unit.Habit{Decimal: '.'})
			return err == nil && bare != nil
		}
	}
	return false
}

// pointRuns parts the rows into runs: by name, or else by the blank rows
// between them. Where a name comes back after another, its run goes on.
func (r *reader) pointRuns(at Cell, g *grid, p *pointList) []outlineRun {
	var runs []outlineRun
	place := map[string]int{}
	name, last := "", 0
	flag := &record.Field{Title: "closed", Type: record.FlagType}
	for _, row := range g.Rows[p.row+1:] {
		cell := at
		cell.Row = row.Number
		if p.name != 0 && row.At(p.name).Text != "" {
			name = longestTitle(row.At(p.name).Text)
		}
		if row.At(p.x).Text == "" && row.At(p.y).Text == "" {
			continue
		}
		if p.name == 0 && (last == 0 || row.Number > last+1) {
			name = fmt.Sprint(len(runs) + 1)
		}
		last = row.Number
		q, ok := r.pointOf(cell, row, p)
		if !ok {
			continue
		}
		if p.points++; p.points > mostPoints {
			r.out.refuse(at, "", "more than %d points: leave in it only what belongs to the deck's outlines", mostPoints)
			return nil
		}
		i, there := place[name]
		if !there {
			i = len(runs)
			place[name] = i
			runs = append(runs, outlineRun{group: name})
		}
		runs[i].points = append(runs[i].points, q)
		if f, err := flag.Parse(row.At(p.closed).Text, 0); p.closed != 0 && err == nil && f == record.Encode(record.Yes) {
			runs[i].closed = true
		}
	}
	return p.finished(at, runs)
}

// finished closes the runs that end where they begin, and names those that
// have no name.
func (p *pointList) finished(at Cell, runs []outlineRun) []outlineRun {
	for i := range runs {
		run := &runs[i]
		switch {
		case p.name == 0 && len(runs) > 1:
			run.group = fileName(at) + " " + run.group
		case p.name == 0 || run.group == "":
			run.group = fileName(at)
		}
		if n := len(run.points); n > 3 && run.points[0] == run.points[n-1] {
			run.closed, run.points = true, run.points[:n-1]
		}
		run.closed = run.closed && len(run.points) > 2
	}
	return runs
}

// fileName is what a list is called that names none of its runs.
func fileName(at Cell) string {
	return longestTitle(strings.TrimSuffix(at.File, filepath.Ext(at.File)))
}

func longestTitle(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 80 {
		return string(r[:80])
	}
	return s
}

// pointOf reads one row's coordinates, in metres, or in the list's unit where
// that is not known.
func (r *reader) pointOf(at Cell, row workbook.Row, p *pointList) (q dxf.Point, ok bool) {
	ok = true
	for i, x := range []struct {
		column int
		into   *float64
	}{{p.x, &q.X}, {p.y, &q.Y}, {p.z, &q.Z}} {
		c := row.At(x.column)
		if x.column == 0 || i == 2 && c.Text == "" {
			continue
		}
		cell := at
		cell.Column = x.column
		h := unit.Habit{Decimal: p.marked, Unit: p.unit[i]}
		if c.Form == workbook.AsNumber {
			h.Decimal = '.'
		}
		dim := unit.Length
		if p.unit[i] == "" && !p.own {
			dim = unit.Number
		}
		text := c.Text
		if a, answered := r.answer(cell.String()); answered && a != "" {
			text = a
		}
		v, err := unit.ParseQuantity(text, dim, h)
		var two *unit.Ambiguous
		switch {
		case errors.As(err, &two) && h.Decimal == 0 && strings.ContainsAny(text, ".,"):
			if p.waits++; p.doubt == "" {
				p.doubt = text
			}
			ok = false
		case err != nil || v.Low != v.High || math.Abs(v.SI) > 1e7:
			r.out.refuse(cell, text, "this is no coordinate; the row is left out")
			return q, false
		default:
			*x.into = v.SI
		}
	}
	return q, ok
}
