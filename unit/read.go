package unit

import (
	"fmt"
	"math"
	"strings"
)

// ParseQuantity reads a quantity of dimension dim as a person writes it:
// "12,5 kg", "5' 9 1/2\"", "18 3/4 in", "ca. 12 mm", "12-14 mm", "25 ±0,5 mm".
//
// Errors are *Ambiguous (two readings, or no unit where one is needed),
// *Absent (the text says that nothing is known), or say what would be right.
func ParseQuantity(text string, dim Dimension, h Habit) (Quantity, error) {
	if a := SaysNothing(text); a != nil {
		return Quantity{}, a
	}
	if len(text) > longestNumber {
		return Quantity{}, fmt.Errorf("a number is asked for, not %d characters", len(text))
	}
	return settle(text, h, func(s *scanner) (Quantity, error) { return s.quantity(dim) }, func(a, b Quantity) bool {
		return a.SI == b.SI && a.Low == b.Low && a.High == b.High
	})
}

// amount is a number, or feet and inches, in the unit it was written in.
type amount struct {
	x    float64  // in unit
	unit *measure // nil if none was written
	more float64  // SI of the smaller units that follow: the 9 1/2 inches
	sign float64
}

func (a amount) si() float64 {
	if a.unit == nil {
		return a.x
	}
	return a.unit.si(a.x) + a.sign*a.more
}

// amount reads 12, 12 kg, 5' 9 1/2", 1 h 30 min.
func (s *scanner) amount(dim Dimension) (amount, error) {
	s.space()
	a := amount{sign: 1}
	negative := strings.HasPrefix(s.rest(), "-")
	x, _, err := s.number()
	if err == errNoNumber {
		return a, fmt.Errorf("%q is no %s: write %s", s.text, dim, example(dim))
	}
	if err != nil {
		return a, err
	}
	a.x = x
	if negative {
		a.sign = -1
	}
	if a.unit, err = s.unitIn(dim); err != nil || a.unit == nil {
		return a, err
	}
	for last := a.unit; ; {
		at := s.i
		s.space()
		if s.i == len(s.s) || !isDigit(s.s[s.i]) {
			s.i = at
			return a, nil
		}
		x, _, err := s.number()
		if err != nil {
			return a, err
		}
		u, err := s.unitIn(last.dim)
		if err != nil {
			return a, err
		}
		if u == nil && last.names[0] == "ft" {
			u = measureOf("in") // 5' 9
		}
		if u == nil || u.zero != 0 || last.zero != 0 || u.num/u.den >= last.num/last.den {
			return a, fmt.Errorf("%q has two numbers: write one, as in %s", s.text, example(dim))
		}
		a.more += u.si(x)
		last = u
	}
}

var abouts = []string{"approximately", "approx.", "approx", "about", "around", "roughly", "circa", "ca.", "ca ", "c.", "env.", "~", "≈"}

func (s *scanner) quantity(dim Dimension) (Quantity, error) {
	q := Quantity{Known: true, Dim: dim, As: strings.TrimSpace(s.text)}
	q.About = s.word(abouts...)
	if s.word("<", ">", "≤", "≥", "max", "min ", "min.", "at least", "at most", "up to", "over ", "under ") {
		return q, fmt.Errorf("%q is a bound: write both ends, as in 12-14, or a value with its tolerance", s.text)
	}
	a, err := s.amount(dim)
	if err != nil {
		return q, err
	}
	low, high, wide := a, a, amount{}
	inner := false // "12 (11 to 14)": the ends stand beside the value
	switch {
	case s.word("(") && a.unit == nil:
		inner = true
		if low, high, err = s.ends(dim); err == nil && !s.word(")") {
			err = fmt.Errorf("%q opens a bracket and does not close it", s.text)
		}
		if err == nil {
			a.unit, err = s.unitIn(dim)
		}
		low.unit, high.unit = a.unit, a.unit
	case s.word("±", "+/-", "+-", "+ -", "+ / -"):
		wide, err = s.amount(dim)
	case s.word("to ", "..", "-"):
		high, err = s.amount(dim)
	}
	if err != nil {
		return q, err
	}
	q.About = s.word("?") || q.About
	if !s.end() {
		return q, s.leftover(dim)
	}
	unit, err := s.whose(dim, a.unit, high.unit, wide.unit)
	if err != nil {
		return q, err
	}
	for _, x := range []*amount{&a, &low, &high} {
		if x.unit == nil {
			x.unit = unit
		}
	}
	q.Low, q.High = low.si(), high.si()
	switch {
	case inner || low == high:
		q.SI = a.si()
	default:
		q.SI = q.Low + (q.High-q.Low)/2
	}
	if wide != (amount{}) {
		if wide.x < 0 {
			return q, fmt.Errorf("%q: a spread can't be less than nothing", s.text)
		}
		d := spread(wide, unit)
		q.Low, q.SI, q.High = a.si()-d, a.si(), a.si()+d
	}
	return s.finish(q, unit)
}

// finish checks a quantity that was read whole and writes down its unit.
func (s *scanner) finish(q Quantity, unit *measure) (Quantity, error) {
	if q.Low > q.High || q.SI < q.Low || q.SI > q.High {
		return q, fmt.Errorf("%q: the first is greater than the second", s.text)
	}
	if math.IsInf(q.Low, 0) || math.IsInf(q.High, 0) || math.IsInf(q.SI, 0) || math.IsNaN(q.SI) {
		return q, fmt.Errorf("%q is too large a number", s.text)
	}
	if q.Dim == Any {
		q.Dim = Number
		if unit != nil {
			q.Dim = unit.dim
		}
	}
	if s.unit != "" {
		q.As += " " + s.unit
	}
	return q, nil
}

// ends reads "11 to 14" inside the bracket.
func (s *scanner) ends(dim Dimension) (low, high amount, err error) {
	if low, err = s.amount(dim); err != nil {
		return low, high, err
	}
	if !s.word("to ") {
		return low, high, fmt.Errorf("%q: write both ends, as in 12 (11 to 14)", s.text)
	}
	high, err = s.amount(dim)
	return low, high, err
}

// spread returns the SI difference that d stands for, in its own unit or in
// that of the value.
func spread(d amount, unit *measure) float64 {
	if d.unit == nil {
		d.unit = unit
	}
	if d.unit == nil {
		return d.x
	}
	return d.unit.wide(d.x) + d.more
}

// whose settles in which unit the numbers without one stand: the one written
// beside another number, else the header's. Numbers and working days need none.
func (s *scanner) whose(dim Dimension, written ...*measure) (*measure, error) {
	var u *measure
	for _, w := range written {
		if w != nil && u != nil && w.dim != u.dim {
			return nil, fmt.Errorf("%q mixes %s and %s", s.text, u.dim, w.dim)
		}
		if u == nil {
			u = w
		}
	}
	if u != nil {
		return u, nil
	}
	if s.h.Unit != "" {
		s.unit = s.h.Unit
		a, n, ok := named(plain(s.h.Unit))
		if !ok || n != len(plain(s.h.Unit)) {
			return nil, fmt.Errorf("%q in the header is no unit of %s: %s", s.h.Unit, dim, unitsOf(dim))
		}
		return resolve(a, dim, strings.TrimSpace(s.text))
	}
	if usual[dim] == nil {
		return nil, nil
	}
	amb := &Ambiguous{Text: s.text}
	for _, n := range usual[dim] {
		amb.Readings = append(amb.Readings, s.spelled()+" "+n)
	}
	return nil, amb
}

func (s *scanner) leftover(dim Dimension) error {
	left := s.rest()
	if isDigit(left[0]) || strings.ContainsRune("-+/.,", rune(left[0])) {
		return fmt.Errorf("%q is no %s: write %s", s.text, dim, example(dim))
	}
	return fmt.Errorf("%q: %q is no unit here: %s", s.text, left, unitsOf(dim))
}

// example is a text of that dimension, to show what would be right.
func example(dim Dimension) string {
	switch dim {
	case Number:
		return "a number, as 12"
	case Work:
		return "working days, as 5 wd"
	case Time:
		return "6 weeks, 3 calendar days or 8 h"
	case Any:
		return "a number and its unit, as 12.5 mm"
	}
	return "a number and its unit, as 12.5 " + usual[dim][0]
}
