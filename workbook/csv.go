package workbook

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// readCSV reads separated text: comma, semicolon, tab or bar, whichever parts
// the first lines evenly; UTF-8 or UTF-16 with a byte-order mark, and
// Windows-1252 where it is no UTF-8. Quotes are those of RFC 4180.
func readCSV(r io.Reader) (*Book, error) {
	raw, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("read text: %w", err)
	}
	text, note, err := Decode(raw)
	if err != nil {
		return nil, err
	}
	b := &Book{}
	if note != "" {
		b.Notes = append(b.Notes, note)
	}
	start := 1
	comma := byte(0)
	if rest, ok := bytes.CutPrefix(text, []byte("sep=")); ok && len(rest) > 0 {
		comma = rest[0]
		_, text, _ = bytes.Cut(rest, []byte("\n"))
		start = 2
	}
	if comma == 0 {
		comma = separator(text)
	}
	p := csv{r: bufio.NewReader(bytes.NewReader(text)), comma: comma, line: start}
	s, err := p.sheet()
	if err != nil {
		return nil, err
	}
	b.Sheets = []Sheet{s}
	return b, nil
}

// Decode returns a text as UTF-8 without a byte-order mark, and a note if it had
// to be guessed how it is written.
func Decode(raw []byte) (text []byte, note string, err error) {
	switch {
	case bytes.HasPrefix(raw, []byte("\xef\xbb\xbf")):
		raw = raw[3:]
	case bytes.HasPrefix(raw, []byte("\xff\xfe")):
		return fromUTF16(raw[2:], binary.LittleEndian), "", nil
	case bytes.HasPrefix(raw, []byte("\xfe\xff")):
		return fromUTF16(raw[2:], binary.BigEndian), "", nil
	}
	if bytes.IndexByte(raw, 0) >= 0 {
		return nil, "", fmt.Errorf("%w: it is neither a workbook nor text; save it as XLSX or CSV", ErrKind)
	}
	if utf8.Valid(raw) {
		return raw, "", nil
	}
	var b bytes.Buffer
	b.Grow(len(raw) + len(raw)/8)
	for _, c := range raw {
		b.WriteRune(windows1252(c))
	}
	return b.Bytes(), "the text is not UTF-8 and was read as Windows-1252: look at accents and signs", nil
}

func fromUTF16(raw []byte, order binary.ByteOrder) []byte {
	u := make([]uint16, len(raw)/2)
	for i := range u {
		u[i] = order.Uint16(raw[2*i:])
	}
	return []byte(string(utf16.Decode(u)))
}

// upper1252 is what Windows-1252 has at 0x80 to 0x9f; elsewhere it is Latin-1.
// Source: the mapping table of the Unicode consortium, from memory.
var upper1252 = []rune("€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ")

func windows1252(c byte) rune {
	if c >= 0x80 && c < 0xa0 {
		return upper1252[c-0x80]
	}
	return rune(c)
}

// separator finds what parts the first twenty lines evenly: the mark that
// stands in most of them, and of those the one that stands there oftenest.
func separator(text []byte) byte {
	best, bestLines, bestCount := byte(','), 0, 0
	for _, mark := range []byte{';', '\t', ',', '|'} {
		lines, count := 0, 0
		rest := text
		for range 20 {
			var line []byte
			line, rest, _ = bytes.Cut(rest, []byte("\n"))
			if n := unquoted(line, mark); n > 0 {
				lines++
				count += n
			}
		}
		if lines > bestLines || lines == bestLines && count > bestCount {
			best, bestLines, bestCount = mark, lines, count
		}
	}
	return best
}

func unquoted(line []byte, mark byte) (n int) {
	quoted := false
	for _, c := range line {
		switch {
		case c == '"':
			quoted = !quoted
		case c == mark && !quoted:
			n++
		}
	}
	return n
}

// csv reads records; encoding/csv passes over blank lines without a word, and
// then no row would bear the number that the person sees.
type csv struct {
	r     *bufio.Reader
	comma byte
	line  int
}

func (p *csv) sheet() (Sheet, error) {
	var s Sheet
	var m meter
	blank := 0
	for {
		row := Row{Number: p.line}
		err := p.record(&row)
		if err != nil && err != io.EOF {
			return s, err
		}
		if len(row.Cells) == 0 {
			blank++
		} else {
			blank = 0
			s.Rows = append(s.Rows, row)
			m.rows++
			m.cells += len(row.Cells)
		}
		if err == io.EOF {
			return s, nil
		}
		if blank == blankRun {
			s.Notes = append(s.Notes, fmt.Sprintf("reading ended after %d blank lines, at line %d", blankRun, row.Number))
			return s, nil
		}
		if why := m.full(); why != "" {
			s.Notes = append(s.Notes, fmt.Sprintf("reading ended at line %d: at most %s are read of one file", row.Number, why))
			return s, nil
		}
	}
}

// record reads one record into row. It returns io.EOF with the last one.
func (p *csv) record(row *Row) error {
	var cell strings.Builder
	quoted, wasQuoted := false, false
	column := 1
	flush := func() {
		text := strings.TrimSpace(cell.String())
		if text != "" && column <= maxColumns {
			row.Cells = append(row.Cells, Cell{Column: column, Text: text})
		}
		cell.Reset()
		column++
		wasQuoted = false
	}
	for {
		c, err := p.r.ReadByte()
		if err == io.EOF {
			flush()
			return io.EOF
		}
		if err != nil {
			return err
		}
		if c == '\n' {
			p.line++
		}
		switch {
		case quoted && c == '"':
			if next, _ := p.r.Peek(1); len(next) == 1 && next[0] == '"' {
				_, _ = p.r.ReadByte()
				cell.WriteByte('"')
			} else {
				quoted = false
			}
		case quoted:
			cell.WriteByte(c)
		case c == '"' && strings.TrimSpace(cell.String()) == "" && !wasQuoted:
			cell.Reset()
			quoted, wasQuoted = true, true
		case c == p.comma:
			flush()
		case c == '\n':
			flush()
			return nil
		case c == '\r':
		default:
			cell.WriteByte(c)
		}
		if cell.Len() > maxCellText {
			return fmt.Errorf("%w: line %d, column %s has more than %d characters: a quote may be missing", ErrKind, row.Number, Letters(column), maxCellText)
		}
	}
}
