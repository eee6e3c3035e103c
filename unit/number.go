package unit

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// scanner walks over the text of a quantity.
type scanner struct {
	text    string // as it was written
	s       string // spelled plainly
	i       int
	h       Habit
	twoWays bool   // a mark was met that may part thousands or decimals
	noParts bool   // "3/5" is two numbers, not a fraction
	unit    string // the unit that was taken from the header, if any
	marked  []mark
}

// mark is a number whose decimal mark was in doubt, and where it stands in s.
type mark struct {
	from, to int
	value    float64
}

func scan(text string, h Habit) *scanner { return &scanner{text: text, s: plain(text), h: h} }

func (s *scanner) rest() string { return s.s[s.i:] }

func (s *scanner) space() {
	for s.i < len(s.s) && s.s[s.i] == ' ' {
		s.i++
	}
}

// word takes one of words, passing over spaces before it.
func (s *scanner) word(words ...string) bool {
	at := s.i
	s.space()
	for _, w := range words {
		if strings.HasPrefix(strings.ToLower(s.rest()), w) {
			s.i += len(w)
			return true
		}
	}
	s.i = at
	return false
}

// end reports whether nothing is left.
func (s *scanner) end() bool { s.space(); return s.i == len(s.s) }

// spelled returns the text with each doubtful number written so that it has
// one reading, and the unit that stood in the header.
func (s *scanner) spelled() string {
	out, at := "", 0
	for _, m := range s.marked {
		out += s.s[at:m.from] + Decimal(m.value)
		at = m.to
	}
	out += s.s[at:]
	if s.unit != "" {
		out += " " + s.unit
	}
	return out
}

var errNoNumber = errors.New("no number")

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// number reads a number with its sign: 12,5; 1 200; 1'200; 18 3/4; 1.2e3. It
// returns its value and, for amounts of money, its decimal digits.
func (s *scanner) number() (value float64, digits string, err error) {
	s.space()
	at := s.i
	sign := ""
	if strings.HasPrefix(s.rest(), "-") || strings.HasPrefix(s.rest(), "+") {
		sign = strings.TrimPrefix(s.s[s.i:s.i+1], "+")
		s.i++
		s.space()
	}
	from := s.i
	for s.i < len(s.s) && s.inNumber() {
		s.i++
	}
	raw := strings.TrimRight(s.s[from:s.i], ".,' ")
	s.i = from + len(raw)
	if raw == "" || !strings.ContainsAny(raw, "0123456789") {
		s.i = at
		return 0, "", errNoNumber
	}
	digits, doubtful, err := undo(raw, s.h.Decimal)
	if err != nil {
		return 0, "", err
	}
	digits = sign + digits + s.exponent()
	value, err = strconv.ParseFloat(digits, 64)
	if err != nil || math.IsInf(value, 0) {
		return 0, "", fmt.Errorf("%q is too large a number", s.text)
	}
	if doubtful {
		s.twoWays = s.twoWays || s.h.Decimal == 0
		s.marked = append(s.marked, mark{from, s.i, math.Abs(value)})
	}
	if !s.noParts {
		value, err = s.fraction(value, raw, sign)
	}
	return value, digits, err
}

// inNumber reports whether the character at s.i belongs to the number that it
// stands in: a digit, a mark, or what parts groups of three digits.
func (s *scanner) inNumber() bool {
	switch c := s.s[s.i]; c {
	case '.', ',':
		return s.i+1 < len(s.s) && isDigit(s.s[s.i+1])
	case ' ', '\'':
		r := s.s[s.i+1:]
		three := len(r) >= 3 && isDigit(r[0]) && isDigit(r[1]) && isDigit(r[2])
		before := s.i > 0 && isDigit(s.s[s.i-1])
		return before && three && (len(r) == 3 || !isDigit(r[3]) && r[3] != '/')
	default:
		return isDigit(c)
	}
}

// exponent takes e3, E-6.
func (s *scanner) exponent() string {
	r := s.rest()
	if len(r) < 2 || r[0] != 'e' && r[0] != 'E' {
		return ""
	}
	n := 1
	if r[n] == '-' || r[n] == '+' {
		n++
	}
	from := n
	for n < len(r) && isDigit(r[n]) {
		n++
	}
	if n == from || n-from > 4 {
		return ""
	}
	s.i += n
	return r[:n]
}

// undo takes thousands apart from decimals: it returns raw with a point as
// its only mark, and whether the mark has two readings that decimal settled
// (or, if it is 0, that were guessed as a point).
func undo(raw string, decimal rune) (digits string, doubtful bool, err error) {
	wrong := func() (string, bool, error) {
		return "", false, fmt.Errorf("%q is no number: its marks part neither thousands nor decimals", raw)
	}
	spaced := strings.ContainsAny(raw, " '")
	raw2 := raw
	if spaced {
		raw2 = strings.ReplaceAll(strings.ReplaceAll(raw, " ", ""), "'", "")
	}
	points, commas := strings.Count(raw2, "."), strings.Count(raw2, ",")
	last := max(strings.LastIndexByte(raw2, '.'), strings.LastIndexByte(raw2, ','))
	if last < 0 {
		if spaced && !grouped(raw, " '") {
			return wrong()
		}
		return raw2, false, nil
	}
	whole, part := raw2[:last], raw2[last+1:]
	switch {
	case points > 0 && commas > 0: // the last one is the decimal mark
		other := ","
		if raw2[last] == ',' {
			other = "."
		}
		if strings.Count(raw2, raw2[last:last+1]) > 1 || !grouped(whole, other) {
			return wrong()
		}
		return strings.ReplaceAll(whole, other, "") + "." + part, false, nil
	case points+commas > 1: // many of one kind part thousands
		if !grouped(raw2, raw2[last:last+1]) {
			return wrong()
		}
		return strings.ReplaceAll(strings.ReplaceAll(raw2, ".", ""), ",", ""), false, nil
	case spaced: // thousands are parted already
		return whole + "." + part, false, nil
	case len(part) != 3 || len(whole) > 3 || whole == "" || strings.HasPrefix(whole, "0"):
		return whole + "." + part, false, nil
	}
	if decimal != 0 && rune(raw2[last]) != decimal {
		return whole + part, true, nil
	}
	return whole + "." + part, true, nil
}

// grouped reports whether the marks part s into one to three digits and then
// threes.
func grouped(s, marks string) bool {
	groups := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(marks, r) })
	for i, g := range groups {
		if len(g) != 3 && (i > 0 || len(g) > 3) {
			return false
		}
	}
	return len(groups) > 0
}

// fraction takes what follows a whole number: "/4" of 3/4, " 3/4" of 18 3/4.
func (s *scanner) fraction(value float64, raw, sign string) (float64, error) {
	if strings.ContainsAny(raw, ".,") {
		return value, nil
	}
	r := s.rest()
	over, n, ok := leadingInt(strings.TrimPrefix(r, "/"))
	if ok && strings.HasPrefix(r, "/") {
		if over == 0 {
			return 0, fmt.Errorf("%q divides by nothing", s.text)
		}
		s.i += 1 + n
		return value / over, nil
	}
	if !strings.HasPrefix(r, " ") && !strings.HasPrefix(r, "-") {
		return value, nil
	}
	top, n, ok := leadingInt(r[1:])
	if !ok || !strings.HasPrefix(r[1+n:], "/") {
		return value, nil
	}
	under, m, ok := leadingInt(r[1+n+1:])
	if !ok || top >= under {
		return value, nil
	}
	s.i += 1 + n + 1 + m
	if sign == "-" {
		return value - top/under, nil
	}
	return value + top/under, nil
}

func leadingInt(s string) (v float64, n int, ok bool) {
	for n < len(s) && n < 5 && isDigit(s[n]) {
		v = 10*v + float64(s[n]-'0')
		n++
	}
	return v, n, n > 0 && (n == len(s) || !isDigit(s[n]))
}

// Decimal prints x with a decimal point so that it has one reading: never as
// "1.234", which could be a thousand.
func Decimal(x float64) string {
	s := Plain(x)
	if strings.Contains(s, "e") {
		return s
	}
	if _, doubtful, _ := undo(strings.TrimPrefix(s, "-"), 0); doubtful {
		s += "0"
	}
	return s
}

// Plain prints x with a decimal point and no more digits than it takes to
// read the same number back.
func Plain(x float64) string {
	if a := math.Abs(x); a != 0 && (a >= 1e15 || a < 1e-6) {
		return strconv.FormatFloat(x, 'e', -1, 64)
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// DecimalMark returns the decimal mark that a text shows without a doubt: ','
// of "12,5 kg" or "1.250,00", '.' of "12.5" or "1,250.00"; 0 of "1.200" and of
// texts without a mark.
func DecimalMark(text string) rune {
	s := scan(text, Habit{})
	for !s.end() {
		from := s.i
		if !isDigit(s.s[s.i]) {
			s.i++
			continue
		}
		for s.i < len(s.s) && s.inNumber() {
			s.i++
		}
		raw := s.s[from:s.i]
		_, doubtful, err := undo(raw, 0)
		last := max(strings.LastIndexByte(raw, '.'), strings.LastIndexByte(raw, ','))
		if err != nil || doubtful || last < 0 {
			continue
		}
		mark := rune(raw[last])
		if strings.Count(raw, raw[last:last+1]) > 1 { // it parts thousands
			return ',' + '.' - mark
		}
		return mark
	}
	return 0
}
