package dxf

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// sentinel is how a binary drawing begins, behind a maker's name.
const sentinel = " Binary DXF\r\n\x1a\x00"

// asText spells a binary drawing as the text that it stands for; a text comes
// back as it is.
func asText(raw []byte) ([]byte, error) {
	i := bytes.Index(raw[:min(len(raw), 40)], []byte(sentinel))
	if i < 0 {
		return raw, nil
	}
	b := &binaryReader{rest: raw[i+len(sentinel):]}
	b.wide = len(b.rest) > 1 && b.rest[0] == 0 && b.rest[1] == 0
	for !b.ended {
		if err := b.pair(); err != nil {
			return nil, err
		}
	}
	return b.out.Bytes(), nil
}

// binaryReader spells group codes and values one after the other.
type binaryReader struct {
	rest  []byte
	wide  bool // group codes of two bytes; older files have one
	out   bytes.Buffer
	pairs int
	ended bool
}

func (b *binaryReader) take(n int) ([]byte, bool) {
	if n > len(b.rest) {
		b.ended = true // cut: what is there is read, and said to be cut
		return nil, false
	}
	x := b.rest[:n]
	b.rest = b.rest[n:]
	return x, true
}

func (b *binaryReader) code() (int, bool) {
	if b.wide {
		x, ok := b.take(2)
		if !ok {
			return 0, false
		}
		return int(int16(binary.LittleEndian.Uint16(x))), true
	}
	x, ok := b.take(1)
	if !ok || x[0] != 255 {
		return int(append(x, 0)[0]), ok
	}
	if x, ok = b.take(2); !ok {
		return 0, false
	}
	return int(int16(binary.LittleEndian.Uint16(x))), true
}

func (b *binaryReader) pair() error {
	code, ok := b.code()
	if !ok {
		return nil
	}
	value, ok := b.value(code)
	if !ok {
		return nil
	}
	if b.pairs++; b.pairs > maxPairs || b.out.Len() > 8*MaxBytes {
		return fmt.Errorf("%w: it has more than %d values: save the deck's outlines alone", ErrSize, maxPairs)
	}
	fmt.Fprintf(&b.out, "%d\n%s\n", code, strings.NewReplacer("\r", " ", "\n", " ").Replace(value))
	b.ended = b.ended || code == 0 && value == "EOF"
	return nil
}

// value reads a value of the form that its code has.
func (b *binaryReader) value(code int) (string, bool) {
	switch form := formOf(code); form {
	case 's':
		i := bytes.IndexByte(b.rest, 0)
		if i < 0 {
			b.ended = true
			return "", false
		}
		s := string(b.rest[:i])
		b.rest = b.rest[i+1:]
		return s, true
	case 'b': // a chunk, passed over
		n, ok := b.take(1)
		if !ok {
			return "", false
		}
		_, ok = b.take(int(n[0]))
		return "", ok
	default:
		return b.number(form)
	}
}

// number reads a value of 1, 2, 4 or 8 bytes, or a double.
func (b *binaryReader) number(form rune) (string, bool) {
	x, ok := b.take(map[rune]int{'1': 1, '2': 2, '4': 4, '8': 8, 'd': 8}[form])
	if !ok {
		return "", false
	}
	var wide [8]byte
	copy(wide[:], x)
	u := binary.LittleEndian.Uint64(wide[:])
	switch form {
	case 'd':
		return strconv.FormatFloat(math.Float64frombits(u), 'g', -1, 64), true
	case '2':
		return strconv.Itoa(int(int16(u))), true
	case '4':
		return strconv.Itoa(int(int32(u))), true
	}
	return strconv.FormatInt(int64(u), 10), true
}

// forms are the ranges of group codes whose values are no strings: whole
// numbers of 1, 2, 4 and 8 bytes, doubles, and chunks of bytes.
var forms = []struct {
	from, to int
	form     rune
}{
	{10, 59, 'd'}, {60, 79, '2'}, {90, 99, '4'}, {110, 149, 'd'}, {160, 169, '8'}, {170, 179, '2'}, {210, 239, 'd'},
	{270, 289, '2'}, {290, 299, '1'}, {310, 319, 'b'}, {370, 389, '2'}, {400, 409, '2'}, {420, 429, '4'}, {440, 459, '4'},
	{460, 469, 'd'}, {1004, 1004, 'b'}, {1010, 1059, 'd'}, {1060, 1070, '2'}, {1071, 1071, '4'},
}

func formOf(code int) rune {
	for _, f := range forms {
		if f.from <= code && code <= f.to {
			return f.form
		}
	}
	return 's'
}
