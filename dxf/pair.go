package dxf

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// pair is a group code and its value, as the file has it.
type pair struct {
	code int
	text string
}

// scan parts a text drawing into its pairs. cut says that the file ended
// between a code and its value.
func scan(raw []byte) (pairs []pair, cut bool, err error) {
	text := string(bytes.TrimPrefix(raw, []byte("\xef\xbb\xbf")))
	line := 0
	next := func() (string, bool) {
		if text == "" {
			return "", false
		}
		line++
		s, rest, _ := strings.Cut(text, "\n")
		text = rest
		return strings.TrimSuffix(s, "\r"), true
	}
	for {
		code, ok := next()
		if !ok {
			return pairs, true, nil // without its end
		}
		c := strings.TrimSpace(code)
		n, err := strconv.Atoi(c)
		if err != nil {
			if c == "" && strings.TrimSpace(text) == "" {
				return pairs, true, nil
			}
			return nil, false, fmt.Errorf("%w: line %d should be a group code, a whole number, and is %q", ErrKind, line, clip(c))
		}
		value, ok := next()
		if !ok {
			return pairs, true, nil
		}
		if n == 999 { // a remark
			continue
		}
		if n == 0 && strings.TrimSpace(value) == "EOF" {
			return pairs, false, nil
		}
		if len(pairs) == maxPairs {
			return nil, false, fmt.Errorf("%w: it has more than %d values: save the deck's outlines alone", ErrSize, maxPairs)
		}
		pairs = append(pairs, pair{n, value})
	}
}

// clip cuts what an error quotes.
func clip(s string) string {
	if r := []rune(strings.ToValidUTF8(s, "?")); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return strings.ToValidUTF8(s, "?")
}

// word is a value that names something in the format itself.
func (p pair) word() string { return strings.ToUpper(strings.TrimSpace(p.text)) }

// number reads a value as a number; ok is false if it is none, or beyond
// anything that can be drawn.
func (p pair) number() (v float64, ok bool) {
	v, err := strconv.ParseFloat(strings.TrimSpace(p.text), 64)
	return v, err == nil && math.Abs(v) <= farthest
}

func (p pair) whole() int {
	v, _ := strconv.Atoi(strings.TrimSpace(p.text))
	return v
}
