package unit

import (
	"fmt"
	"strings"
)

// ParseGuesses reads three guesses of a duration or amount, least first:
// "3/5/9 wd", "3-5-9". One number is all three; two ends alone are asked
// about, for the likeliest lies somewhere between them.
func ParseGuesses(text string, dim Dimension, h Habit) (low, mode, high Quantity, err error) {
	if a := SaysNothing(text); a != nil {
		return low, mode, high, a
	}
	if len(text) > longestNumber {
		return low, mode, high, fmt.Errorf("three numbers are asked for, not %d characters", len(text))
	}
	type three [3]Quantity
	got, err := settle(text, h, func(s *scanner) (three, error) {
		s.noParts = true
		var t three
		var err error
		t[0], t[1], t[2], err = s.guesses(dim)
		return t, err
	}, func(a, b three) bool { return a[0].SI == b[0].SI && a[1].SI == b[1].SI && a[2].SI == b[2].SI })
	return got[0], got[1], got[2], err
}

func (s *scanner) guesses(dim Dimension) (low, mode, high Quantity, err error) {
	about := s.word(abouts...)
	var a []amount
	for len(a) == 0 || len(a) < 3 && s.word("/", "-", ";", "to ", "..") {
		x, err := s.amount(dim)
		if err != nil {
			return low, mode, high, err
		}
		a = append(a, x)
	}
	about = s.word("?") || about
	if !s.end() {
		return low, mode, high, s.leftover(dim)
	}
	var written []*measure
	for _, x := range a {
		written = append(written, x.unit)
	}
	unit, err := s.whose(dim, written...)
	if err != nil {
		return low, mode, high, err
	}
	if len(a) == 2 {
		return low, mode, high, s.between(a[0], a[1], unit)
	}
	q := make([]Quantity, len(a))
	for i, x := range a {
		if x.unit == nil {
			x.unit = unit
		}
		q[i] = Q(x.si(), dim)
		q[i].About = about
		if q[i], err = s.finish(q[i], unit); err != nil {
			return low, mode, high, err
		}
		q[i].As = strings.TrimSpace(s.text)
		if s.unit != "" {
			q[i].As += " " + s.unit
		}
	}
	if len(q) == 1 {
		return q[0], q[0], q[0], nil
	}
	if q[0].SI > q[1].SI || q[1].SI > q[2].SI {
		return low, mode, high, fmt.Errorf("%q: the three guesses must grow, as in 3/5/9", s.text)
	}
	return q[0], q[1], q[2], nil
}

// between asks which number between two ends is the likeliest.
func (s *scanner) between(a, b amount, unit *measure) error {
	name := ""
	if unit != nil {
		name = " " + unit.names[0]
	}
	if a.x > b.x {
		return fmt.Errorf("%q: the first is greater than the second", s.text)
	}
	l, m, h := Decimal(a.x), Decimal(a.x+(b.x-a.x)/2), Decimal(b.x)
	return &Ambiguous{Text: s.text, Readings: []string{
		l + "/" + m + "/" + h + name, l + "/" + l + "/" + h + name, l + "/" + h + "/" + h + name,
	}}
}

// ParseTolerance reads a value and how far it may be off: "25 mm ±0.5",
// "25 +0,5/-0 mm", "24-26 mm". A value alone may be off by nothing.
func ParseTolerance(text string, dim Dimension, h Habit) (value Quantity, minus, plus float64, err error) {
	if a := SaysNothing(text); a != nil {
		return value, 0, 0, a
	}
	if len(text) > longestNumber {
		return value, 0, 0, fmt.Errorf("a value and its tolerance are asked for, not %d characters", len(text))
	}
	type tolerance struct {
		value       Quantity
		minus, plus float64
	}
	got, err := settle(text, h, func(s *scanner) (t tolerance, err error) {
		t.value, t.minus, t.plus, err = s.tolerance(dim)
		return t, err
	}, func(a, b tolerance) bool {
		return a.value.SI == b.value.SI && a.minus == b.minus && a.plus == b.plus
	})
	return got.value, got.minus, got.plus, err
}

func (s *scanner) tolerance(dim Dimension) (value Quantity, minus, plus float64, err error) {
	if s.word("<", ">", "≤", "≥", "max", "min", "at least", "at most") {
		return value, 0, 0, fmt.Errorf("%q is a bound: write the value and how far it may be off, as in 25 +2/-0 mm", s.text)
	}
	a, err := s.amount(dim)
	if err != nil {
		return value, 0, 0, err
	}
	var up, down, high amount
	twoEnds := false
	switch {
	case s.word("±", "+/-", "+-", "+ -", "+ / -"):
		up, err = s.amount(dim)
		down = up
	case s.word("+"):
		if up, err = s.amount(dim); err == nil {
			s.word("/", ";", ",")
			if s.word("-") {
				down, err = s.amount(dim)
			}
		}
	case s.minusPlus():
		if down, err = s.amount(dim); err == nil {
			s.word("/", ";", ",")
			s.word("+")
			up, err = s.amount(dim)
		}
	case s.word("to ", "..", "-"):
		twoEnds = true
		high, err = s.amount(dim)
	}
	if err != nil {
		return value, 0, 0, err
	}
	if !s.end() {
		return value, 0, 0, s.leftover(dim)
	}
	unit, err := s.whose(dim, a.unit, up.unit, down.unit, high.unit)
	if err != nil {
		return value, 0, 0, err
	}
	if a.unit == nil {
		a.unit = unit
	}
	value = Q(a.si(), dim)
	minus, plus = spread(down, unit), spread(up, unit)
	if twoEnds {
		if high.unit == nil {
			high.unit = unit
		}
		minus = (high.si() - a.si()) / 2
		plus = minus
		value = Q(a.si()+minus, dim)
	}
	if minus < 0 || plus < 0 {
		return value, 0, 0, fmt.Errorf("%q: a tolerance can't be less than nothing", s.text)
	}
	value.As = strings.TrimSpace(s.text)
	value, err = s.finish(value, unit)
	return value, minus, plus, err
}

// minusPlus takes the minus of "25 -0/+0,5", and leaves the dash of "24-26".
func (s *scanner) minusPlus() bool {
	r := strings.TrimLeft(s.rest(), " ")
	if !strings.HasPrefix(r, "-") || !strings.Contains(r, "+") {
		return false
	}
	return s.word("-")
}
