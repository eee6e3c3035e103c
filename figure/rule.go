package figure

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"unicode"
)

// evaluator reads a rule from left to right:
//
//	rule   = name "=" sum
//	sum    = product { ("+" | "-") product }
//	product = factor { ("*" | "/") factor }
//	factor = "-" factor | number | name | name "(" sum { "," sum } ")" | "(" sum ")"
type evaluator struct {
	values map[string]float64
	fns    map[string]func(...float64) float64
	text   []rune
	at     int
	depth  int
}

// deepest bounds parentheses within parentheses.
const deepest = 200

func (e *evaluator) rule(text string) (name string, value float64, err error) {
	e.text, e.at = []rune(text), 0
	name = e.name()
	if name == "" || !e.take('=') {
		return "", 0, errors.New(`it does not begin with "SYMBOL ="`)
	}
	value, err = e.sum()
	if err != nil {
		return "", 0, err
	}
	if e.space(); e.at < len(e.text) {
		return "", 0, fmt.Errorf("%q is left over", string(e.text[e.at:]))
	}
	return name, value, nil
}

func (e *evaluator) sum() (float64, error) {
	v, err := e.product()
	for err == nil {
		var w float64
		switch {
		case e.take('+'):
			w, err = e.product()
			v += w
		case e.take('-'), e.take('−'):
			w, err = e.product()
			v -= w
		default:
			return v, nil
		}
	}
	return 0, err
}

func (e *evaluator) product() (float64, error) {
	v, err := e.factor()
	for err == nil {
		var w float64
		switch {
		case e.take('*'), e.take('×'):
			w, err = e.factor()
			v *= w
		case e.take('/'):
			w, err = e.factor()
			v /= w
		default:
			return v, nil
		}
	}
	return 0, err
}

func (e *evaluator) factor() (float64, error) {
	if e.depth++; e.depth > deepest {
		return 0, errors.New("it is nested too deep")
	}
	defer func() { e.depth-- }()
	switch {
	case e.take('-'), e.take('−'):
		v, err := e.factor()
		return -v, err
	case e.take('('):
		v, err := e.sum()
		if err == nil && !e.take(')') {
			err = errors.New("a parenthesis is not closed")
		}
		return v, err
	}
	if name := e.name(); name != "" {
		if e.take('(') {
			return e.call(name)
		}
		v, ok := e.values[name]
		if !ok {
			return 0, fmt.Errorf("%s is not among the inputs shown", name)
		}
		return v, nil
	}
	return e.number()
}

func (e *evaluator) call(name string) (float64, error) {
	var args []float64
	for {
		v, err := e.sum()
		if err != nil {
			return 0, err
		}
		args = append(args, v)
		if e.take(')') {
			break
		}
		if !e.take(',') {
			return 0, fmt.Errorf("the call of %s is not closed", name)
		}
	}
	switch fn := e.fns[name]; {
	case fn != nil:
		return fn(args...), nil
	case name == "max" || name == "min":
		v := args[0]
		for _, a := range args[1:] {
			if name == "max" {
				v = math.Max(v, a)
			} else {
				v = math.Min(v, a)
			}
		}
		return v, nil
	}
	return 0, fmt.Errorf("there is no function %s", name)
}

func (e *evaluator) space() {
	for e.at < len(e.text) && unicode.IsSpace(e.text[e.at]) {
		e.at++
	}
}

// take steps over r if it is next.
func (e *evaluator) take(r rune) bool {
	e.space()
	if e.at < len(e.text) && e.text[e.at] == r {
		e.at++
		return true
	}
	return false
}

// name reads a letter and the letters, digits and _ after it, or nothing.
func (e *evaluator) name() string {
	e.space()
	from := e.at
	for e.at < len(e.text) {
		r := e.text[e.at]
		if !unicode.IsLetter(r) && (e.at == from || r != '_' && !unicode.IsDigit(r)) {
			break
		}
		e.at++
	}
	return string(e.text[from:e.at])
}

func (e *evaluator) number() (float64, error) {
	from := e.at
	for e.at < len(e.text) && (e.text[e.at] >= '0' && e.text[e.at] <= '9' || e.text[e.at] == '.') {
		e.at++
	}
	v, err := strconv.ParseFloat(string(e.text[from:e.at]), 64)
	if err != nil {
		return 0, fmt.Errorf("a number or symbol is missing at %q", string(e.text[from:]))
	}
	return v, nil
}
