package workbook

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
)

// sheet reads one sheet's rows, up to the bounds.
func (x *xlsx) sheet(p part) (Sheet, error) {
	s := Sheet{Name: p.name, Hidden: p.hidden}
	note := func(format string, a ...any) { s.Notes = append(s.Notes, fmt.Sprintf(format, a...)) }
	if why := x.meter.full(); why != "" {
		note("not read: at most %s are read of one file", why)
		return s, nil
	}
	t, err := x.open(p.path)
	if err != nil || t == nil {
		note("not read: it is a chart, or missing from the file")
		return s, nil
	}
	defer t.close()
	last, blank := 0, 0
	for {
		tok, err := t.next()
		if err == io.EOF {
			return s, nil
		}
		if errors.Is(err, errTooMuch) {
			note("reading ended at row %d: %v", last, errTooMuch)
			return s, nil
		}
		if err != nil {
			return s, fmt.Errorf("%w: row %d: %w", ErrKind, last+1, err)
		}
		start, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		switch start.Name.Local {
		case "mergeCell":
			if len(s.Merged) < maxMerges {
				s.Merged = append(s.Merged, rangeOf(attr(start, "ref")))
			}
		case "col":
			if attr(start, "hidden") == "1" && len(s.Notes) < 20 {
				from, _ := strconv.Atoi(attr(start, "min"))
				note("column %s is hidden, and was read", Letters(min(from, 20_000)))
			}
		case "row":
			row, err := x.row(t, start, last)
			if errors.Is(err, errTooMuch) {
				note("reading ended at row %d: %v", row.Number, errTooMuch)
				return s, nil
			}
			if err != nil {
				return s, fmt.Errorf("%w: row %d: %w", ErrKind, last+1, err)
			}
			blank += row.Number - last
			last = row.Number
			if len(row.Cells) > 0 {
				blank = 0
				s.Rows = append(s.Rows, row)
				x.meter.rows++
				x.meter.cells += len(row.Cells)
			}
			if why := x.meter.full(); why != "" {
				note("reading ended at row %d: at most %s are read of one file", last, why)
				return s, nil
			}
			if blank >= blankRun {
				note("reading ended at row %d, after %d blank rows", last, blank)
				return s, nil
			}
		}
	}
}

func rangeOf(ref string) Range {
	from, to, _ := strings.Cut(ref, ":")
	var r Range
	r.FromRow, r.FromColumn = address(from)
	r.ToRow, r.ToColumn = address(to)
	return r
}

// row reads one row; last is the number of the row before it.
func (x *xlsx) row(t *tags, start xml.StartElement, last int) (Row, error) {
	row := Row{Number: last + 1, Hidden: attr(start, "hidden") == "1" || attr(start, "hidden") == "true"}
	if n, err := strconv.Atoi(attr(start, "r")); err == nil && n > last && n <= 1<<21 {
		row.Number = n
	}
	column := 0
	for {
		tok, err := t.next()
		if err != nil {
			return row, err
		}
		switch v := tok.(type) {
		case xml.EndElement:
			if v.Name.Local == "row" {
				return row, nil
			}
		case xml.StartElement:
			if v.Name.Local != "c" {
				continue
			}
			column++
			if _, c := address(attr(v, "r")); c > 0 {
				column = c
			}
			cell, err := x.cell(t, v)
			if err != nil {
				return row, err
			}
			cell.Column = column
			if (cell.Text != "" || cell.Form == NoValue) && column <= maxColumns {
				row.Cells = append(row.Cells, cell)
			}
		}
	}
}

// cell reads one cell: its value as kept, and what its format makes of it.
func (x *xlsx) cell(t *tags, start xml.StartElement) (Cell, error) {
	kind, style := attr(start, "t"), attr(start, "s")
	var c Cell
	value, has := "", false
	for {
		tok, err := t.next()
		if err != nil {
			return c, err
		}
		switch v := tok.(type) {
		case xml.EndElement:
			if v.Name.Local == "c" {
				return x.shown(c, kind, style, value, has), nil
			}
		case xml.StartElement:
			switch v.Name.Local {
			case "f":
				c.Formula = true
				if _, err := t.plainText("f"); err != nil {
					return c, err
				}
			case "v":
				if value, err = t.plainText("v"); err != nil {
					return c, err
				}
				has = true
			case "is":
				if value, err = t.rich("is"); err != nil {
					return c, err
				}
				has, kind = true, "str"
			}
		}
	}
}

// shown turns a kept value into the text that a person would read.
func (x *xlsx) shown(c Cell, kind, style, value string, has bool) Cell {
	value = strings.TrimSpace(value)
	switch {
	case !has || value == "" && c.Formula && kind != "str":
		if c.Formula {
			c.Form = NoValue
		}
	case kind == "s":
		text, ok := x.shared(value)
		c.Text = strings.TrimSpace(unescaped(text))
		if !ok {
			c.Text, c.Form = "text that was not read", AsError
		}
	case kind == "str" || kind == "inlineStr":
		c.Text = unescaped(value)
	case kind == "b":
		c.Form, c.Text = AsFlag, map[bool]string{true: "yes", false: "no"}[value == "1"]
	case kind == "e":
		c.Form, c.Text = AsError, value
	case kind == "d": // ISO 8601
		c.Form, c.Text = AsDay, strings.TrimSuffix(value, "T00:00:00")
	default:
		f := x.format(style)
		c.Form, c.Unit, c.Text = AsNumber, f.unit, shortest(value)
		if f.day {
			if text, ok := x.day(value); ok {
				c.Form, c.Text = AsDay, text
			}
		}
	}
	return c
}

var escape = regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`)

// unescaped undoes the escapes of characters that XML can't carry: _x000D_ is
// the end of a line. Source: ECMA-376 part 1, section 22.9.2.19, from memory.
func unescaped(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	return escape.ReplaceAllStringFunc(s, func(e string) string {
		n, err := strconv.ParseUint(e[2:6], 16, 16)
		switch {
		case err != nil:
			return e
		case n == '\r':
			return ""
		}
		return string(rune(n))
	})
}

// shortest prints a kept number with the 15 digits that spreadsheets show.
func shortest(value string) string {
	v, err := strconv.ParseFloat(value, 64)
	if err != nil {
		return value
	}
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if len(s) <= 16 {
		return s
	}
	if r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 14, 64), 64); err == nil {
		v = r
	}
	if s = strconv.FormatFloat(v, 'f', -1, 64); len(s) > 40 {
		s = strconv.FormatFloat(v, 'e', -1, 64)
	}
	return s
}
