package dxf

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// file is a drawing parted into what is drawn and the blocks it is made of.
type file struct {
	entities []entity
	blocks   map[string]*block // by lower-case name
	hidden   map[string]bool   // layers that are off or frozen, by lower-case name
	units    int               // $INSUNITS; -1 if it is not there
	utf8     bool
	page     *charmap.Charmap
	cut      bool
}

type block struct {
	name     string
	base     Point
	outside  bool // drawn in another file, which is not here
	entities []entity
}

// entity is one thing that is drawn, with its values as they stand in the
// file. Sub are a polyline's vertices.
type entity struct {
	sort  string
	pairs []pair
	sub   []entity
}

// open reads the sections that matter.
func open(raw []byte) (*file, error) {
	if err := otherKind(raw); err != nil {
		return nil, err
	}
	raw, err := asText(raw)
	if err != nil {
		return nil, err
	}
	pairs, cut, err := scan(raw)
	if err != nil {
		return nil, err
	}
	f := &file{blocks: map[string]*block{}, hidden: map[string]bool{}, units: -1, cut: cut}
	drawn := false
	for i := 0; i+1 < len(pairs); i++ {
		if pairs[i].code != 0 || pairs[i].word() != "SECTION" || pairs[i+1].code != 2 {
			continue
		}
		end := i + 2
		for end < len(pairs) && (pairs[end].code != 0 || pairs[end].word() != "ENDSEC") {
			end++
		}
		body := pairs[i+2 : end]
		switch pairs[i+1].word() {
		case "HEADER":
			f.header(body)
		case "TABLES":
			f.layers(body)
		case "BLOCKS":
			f.readBlocks(body)
		case "ENTITIES":
			f.entities, drawn = append(f.entities, entities(body)...), true
		}
		i = end
	}
	if !drawn {
		return nil, fmt.Errorf("%w: it has no section of entities, where what is drawn stands", ErrKind)
	}
	return f, nil
}

// otherKind refuses files that are known to be something else.
func otherKind(raw []byte) error {
	head := raw[:min(len(raw), 64)]
	says := ""
	switch {
	case len(bytes.TrimSpace(head)) == 0:
		says = "there is nothing in it"
	case len(head) > 6 && bytes.HasPrefix(head, []byte("AC10")) && head[4] >= '0' && head[4] <= '9':
		says = "it is a drawing in its program's own form (DWG): ask for it saved as DXF"
	case bytes.HasPrefix(head, []byte("%PDF")):
		says = "it is a PDF: ask for the drawing saved as DXF, or trace a picture of it"
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		says = "it is packed (ZIP): unpack it first"
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")):
		says = "it is written in UTF-16; DXF is in UTF-8 or a code page"
	}
	if says == "" {
		return nil
	}
	return fmt.Errorf("%w: %s", ErrKind, says)
}

func (f *file) header(pairs []pair) {
	for i := 0; i+1 < len(pairs); i++ {
		if pairs[i].code != 9 {
			continue
		}
		value := pairs[i+1]
		switch pairs[i].word() {
		case "$INSUNITS":
			f.units = value.whole()
		case "$ACADVER": // from AC1021 on, texts are UTF-8
			n, _ := strconv.Atoi(strings.TrimPrefix(value.word(), "AC"))
			f.utf8 = n >= 1021
		case "$DWGCODEPAGE":
			f.page = pages[strings.TrimPrefix(value.word(), "ANSI_")]
		}
	}
}

var pages = map[string]*charmap.Charmap{
	"874": charmap.Windows874, "1250": charmap.Windows1250, "1251": charmap.Windows1251, "1252": charmap.Windows1252,
	"1253": charmap.Windows1253, "1254": charmap.Windows1254, "1255": charmap.Windows1255, "1256": charmap.Windows1256,
	"1257": charmap.Windows1257, "1258": charmap.Windows1258,
}

// text reads a name: in UTF-8 or the file's code page, with \U+00E9 for what
// that has not.
func (f *file) text(s string) string {
	if !f.utf8 || !utf8.ValidString(s) {
		page := f.page
		if page == nil {
			page = charmap.Windows1252
		}
		if f.page != nil || !utf8.ValidString(s) {
			if t, err := page.NewDecoder().String(s); err == nil {
				s = t
			}
		}
	}
	for from := 0; ; {
		i := strings.Index(s[from:], `\U+`)
		if i < 0 || from+i+7 > len(s) {
			break
		}
		i += from
		if n, err := strconv.ParseUint(s[i+3:i+7], 16, 32); err == nil && utf8.ValidRune(rune(n)) {
			s = s[:i] + string(rune(n)) + s[i+7:]
		}
		from = i + 1
	}
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == utf8.RuneError {
			return -1
		}
		return r
	}, s)
	return longestName(strings.TrimSpace(s))
}

// longestName bounds a name at 255 characters, as the format does.
func longestName(s string) string {
	if r := []rune(s); len(r) > 255 {
		return string(r[:255])
	}
	return s
}

// layers notes which layers are off (colour below zero) or frozen.
func (f *file) layers(pairs []pair) {
	for _, e := range entities(pairs) {
		if e.sort != "LAYER" {
			continue
		}
		if e.whole(70)&1 != 0 || e.whole(62) < 0 {
			f.hidden[strings.ToLower(f.text(e.text(2)))] = true
		}
	}
}

func (f *file) readBlocks(pairs []pair) {
	var b *block
	for _, e := range entities(pairs) {
		switch e.sort {
		case "BLOCK":
			base, _ := e.point(10)
			b = &block{name: f.text(e.text(2)), base: base, outside: e.whole(70)&4 != 0}
			if _, there := f.blocks[strings.ToLower(b.name)]; !there {
				f.blocks[strings.ToLower(b.name)] = b
			}
		case "ENDBLK":
			b = nil
		default:
			if b != nil {
				b.entities = append(b.entities, e)
			}
		}
	}
}

// entities parts pairs at each 0, and puts vertices under their polyline and
// attributes under their insertion.
func entities(pairs []pair) []entity {
	var out []entity
	within := false
	for i := 0; i < len(pairs); {
		if pairs[i].code != 0 {
			i++
			continue
		}
		end := i + 1
		for end < len(pairs) && pairs[end].code != 0 {
			end++
		}
		e := entity{sort: pairs[i].word(), pairs: pairs[i+1 : end]}
		i = end
		switch {
		case e.sort == "SEQEND":
			within = false
		case within && (e.sort == "VERTEX" || e.sort == "ATTRIB"):
			last := &out[len(out)-1]
			last.sub = append(last.sub, e)
		default:
			within = e.sort == "POLYLINE" || e.sort == "INSERT" && e.whole(66) != 0
			out = append(out, e)
		}
	}
	return out
}

// text is the first value of a code.
func (e *entity) text(code int) string {
	for _, p := range e.pairs {
		if p.code == code {
			return p.text
		}
	}
	return ""
}

func (e *entity) whole(code int) int {
	for _, p := range e.pairs {
		if p.code == code {
			return p.whole()
		}
	}
	return 0
}

// number is the first value of a code, or otherwise if it is not there. ok is
// false if it is there and no number.
func (e *entity) number(code int, otherwise float64) (v float64, ok bool) {
	for _, p := range e.pairs {
		if p.code == code {
			return p.number()
		}
	}
	return otherwise, true
}

// point reads the codes n, n+10, n+20.
func (e *entity) point(n int) (Point, bool) {
	x, okX := e.number(n, 0)
	y, okY := e.number(n+10, 0)
	z, okZ := e.number(n+20, 0)
	return Point{x, y, z}, okX && okY && okZ
}

// has says whether a code is there.
func (e *entity) has(code int) bool {
	for _, p := range e.pairs {
		if p.code == code {
			return true
		}
	}
	return false
}
