package programme

import (
	"fmt"
	"strings"
)

// Rule names what a case must keep to.
type Rule string

// The rules of a case.
const (
	NoDataDate  Rule = "no data date"
	BadCalendar Rule = "bad calendar"
	NoCalendar  Rule = "unknown calendar"
	NoID        Rule = "missing id"
	Duplicate   Rule = "duplicate id"
	NoStep      Rule = "link to nothing"
	BadLink     Rule = "bad link"
	BadLength   Rule = "bad length"
	BadSighting Rule = "bad sighting"
	Cycle       Rule = "cycle"
	Endless     Rule = "runs too far"
	BadStand    Rule = "bad stand"
	BadPoint    Rule = "bad point"
)

// Problem is one thing that is wrong with a case.
type Problem struct {
	Rule  Rule     `json:"rule"`
	Steps []string `json:"steps,omitempty"` // the steps it concerns; of a cycle, in its order
	Link  int      `json:"link,omitempty"`  // the link's place in the case, counted from 1; 0 if it is none
	Says  string   `json:"says"`
}

// Invalid is the error of a case that can't be passed. It holds all problems,
// not the first.
type Invalid struct {
	Problems []Problem
}

func (e *Invalid) Error() string {
	says := make([]string, len(e.Problems))
	for i, p := range e.Problems {
		says[i] = p.Says
	}
	return "programme: " + strings.Join(says, "; ")
}

func (e *Invalid) add(rule Rule, link int, steps []string, format string, args ...any) {
	e.Problems = append(e.Problems, Problem{Rule: rule, Steps: steps, Link: link, Says: fmt.Sprintf(format, args...)})
}

// orNil returns e as an error if it holds anything.
func (e *Invalid) orNil() error {
	if len(e.Problems) == 0 {
		return nil
	}
	return e
}
