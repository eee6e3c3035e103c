package jackstay

import (
	"fmt"
	"strings"
)

// Rule names what a case must keep to.
type Rule string

// The rules of a case.
const (
	NoID       Rule = "missing id"
	Duplicate  Rule = "duplicate id"
	NotThere   Rule = "names nothing"
	BadPlace   Rule = "bad place"
	BadValue   Rule = "bad value"
	BadStuff   Rule = "bad line"
	TooShort   Rule = "too short"
	TooMuch    Rule = "too much"
	BadOutline Rule = "bad outline"
)

// Problem is one thing that is wrong with a case.
type Problem struct {
	Rule Rule   `json:"rule"`
	Of   string `json:"of,omitempty"` // what it concerns
	Says string `json:"says"`
}

// Invalid is the error of a case that can't be worked. It holds all problems,
// not the first.
type Invalid struct {
	Problems []Problem
}

func (e *Invalid) Error() string {
	says := make([]string, len(e.Problems))
	for i, p := range e.Problems {
		says[i] = p.Says
	}
	return "jackstay: " + strings.Join(says, "; ")
}

func (e *Invalid) add(rule Rule, of, format string, args ...any) {
	e.Problems = append(e.Problems, Problem{Rule: rule, Of: of, Says: fmt.Sprintf(format, args...)})
}

// orNil returns e as an error if it holds anything.
func (e *Invalid) orNil() error {
	if len(e.Problems) == 0 {
		return nil
	}
	return e
}

func bad(rule Rule, of, format string, args ...any) error {
	e := &Invalid{}
	e.add(rule, of, format, args...)
	return e
}
