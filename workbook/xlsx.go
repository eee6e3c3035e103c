package workbook

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"strconv"
	"strings"
)

// part is one sheet as the workbook lists it.
type part struct {
	name, id, path string
	hidden         bool
}

// xlsx is a workbook being read. The names of tags and attributes are those
// of ECMA-376, SpreadsheetML (part 1, section 18).
type xlsx struct {
	*archive
	sheets  []part
	from04  bool // days are counted from 1904
	formats []format
	strings []string
	meter   meter
	notes   []string
}

func readXLSX(r io.ReaderAt, size int64) (*Book, error) {
	a, err := openArchive(r, size)
	if err != nil {
		return nil, err
	}
	if a.parts["mimetype"] != nil && a.parts["content.xml"] != nil {
		return nil, fmt.Errorf("%w: it is an OpenDocument file: save it as XLSX or CSV", ErrKind)
	}
	x := &xlsx{archive: a}
	if err := x.index(); err != nil {
		return nil, err
	}
	if err := x.readFormats(); err != nil {
		return nil, err
	}
	if err := x.readStrings(); err != nil {
		return nil, err
	}
	b := &Book{}
	for _, p := range x.sheets {
		s, err := x.sheet(p)
		if err != nil {
			return nil, fmt.Errorf("sheet %q: %w", p.name, err)
		}
		b.Sheets = append(b.Sheets, s)
	}
	b.Notes = x.notes
	return b, nil
}

// index reads which sheets there are, and where.
func (x *xlsx) index() error {
	const book = "xl/workbook.xml"
	if x.parts[book] == nil {
		return fmt.Errorf("%w: it is packed like a workbook and has no sheets in it; save it as XLSX", ErrKind)
	}
	err := x.each(book, func(s xml.StartElement) error {
		switch s.Name.Local {
		case "workbookPr":
			x.from04 = attr(s, "date1904") == "1" || attr(s, "date1904") == "true"
		case "sheet":
			if len(x.sheets) == maxSheets {
				return fmt.Errorf("%w: it has more than %d sheets", ErrKind, maxSheets)
			}
			state := attr(s, "state")
			x.sheets = append(x.sheets, part{name: attr(s, "name"), id: attr(s, "id"), hidden: state == "hidden" || state == "veryHidden"})
		}
		return nil
	})
	if err != nil {
		return err
	}
	targets := map[string]string{}
	err = x.each("xl/_rels/workbook.xml.rels", func(s xml.StartElement) error {
		if s.Name.Local == "Relationship" {
			to := attr(s, "Target")
			if !strings.HasPrefix(to, "/") {
				to = path.Join("xl", to)
			}
			targets[attr(s, "Id")] = to
		}
		return nil
	})
	for i := range x.sheets {
		x.sheets[i].path = targets[x.sheets[i].id]
	}
	return err
}

// readStrings reads the texts that cells share. Of a cut-off list the texts
// read so far are kept; cells that name others are said to be unreadable.
func (x *xlsx) readStrings() error {
	t, err := x.open("xl/sharedStrings.xml")
	if t == nil {
		return err
	}
	defer t.close()
	for {
		tok, err := t.next()
		if s, ok := tok.(xml.StartElement); ok && s.Name.Local == "si" {
			var text string
			if text, err = t.rich("si"); err == nil {
				x.strings = append(x.strings, text)
			}
		}
		switch {
		case err == io.EOF:
			return nil
		case errors.Is(err, errTooMuch):
			x.notes = append(x.notes, fmt.Sprintf("%v: what lies beyond was not read", errTooMuch))
			return nil
		case err != nil:
			return fmt.Errorf("%w: its texts: %w", ErrKind, err)
		case len(x.strings) > 4*maxCells:
			return fmt.Errorf("%w: it has more than %d texts", ErrKind, 4*maxCells)
		}
	}
}

// rich reads the text up to the closing tag of that name: its runs of letters
// joined, without the marks of pronunciation beside them.
func (t *tags) rich(end string) (string, error) {
	text := ""
	taken, aside := false, 0
	for {
		tok, err := t.next()
		if err != nil {
			return "", err
		}
		switch v := tok.(type) {
		case xml.StartElement:
			taken = v.Name.Local == "t"
			if v.Name.Local == "rPh" {
				aside++
			}
		case xml.EndElement:
			if v.Name.Local == end {
				return text, nil
			}
			if v.Name.Local == "rPh" {
				aside--
			}
			taken = false
		case xml.CharData:
			if taken && aside == 0 && len(text) < maxCellText {
				text += string(v)
			}
		}
	}
}

// plainText reads the text up to the closing tag of that name.
func (t *tags) plainText(end string) (string, error) {
	text := ""
	for {
		tok, err := t.next()
		if err != nil {
			return "", err
		}
		switch v := tok.(type) {
		case xml.EndElement:
			if v.Name.Local == end {
				return text, nil
			}
		case xml.CharData:
			if len(text) < maxCellText {
				text += string(v)
			}
		}
	}
}

func (x *xlsx) shared(index string) (string, bool) {
	i, err := strconv.Atoi(strings.TrimSpace(index))
	if err != nil || i < 0 || i >= len(x.strings) {
		return "", false
	}
	return x.strings[i], true
}
