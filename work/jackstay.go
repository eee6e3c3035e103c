package work

import (
	"fmt"

	"dogshore/jackstay"
)

// JackstayCase is a deck with its lines, the ways to be gone on it, and what is
// known for rules and standards.
type JackstayCase struct {
	jackstay.Case
	Ways    []jackstay.Way   `json:"ways,omitempty" says:"tasks: each is gone clipped as well as it can be"`
	Figures []jackstay.Given `json:"figures,omitempty" says:"for rules and standards, line by line; left out: no rules are gone through"`
}

// JackstayResult is what is worked out of it.
type JackstayResult struct {
	jackstay.Result
	Walked []jackstay.Walked `json:"walked,omitempty"`
	Rules  []jackstay.Answer `json:"rules,omitempty"`
}

// mostWays bounds the ways of a case.
const mostWays = 100

func runJackstay(read func(any) error) (any, error) {
	var in JackstayCase
	if err := read(&in); err != nil {
		return nil, err
	}
	if len(in.Ways) > mostWays {
		return nil, fmt.Errorf("the case has %d ways: %d can be gone at once", len(in.Ways), mostWays)
	}
	r, err := jackstay.Deck(in.Case)
	if err != nil {
		return nil, err
	}
	out := JackstayResult{Result: r}
	for _, way := range in.Ways {
		w, err := jackstay.Walk(in.Case, r, way)
		if err != nil {
			return nil, err
		}
		out.Walked = append(out.Walked, w)
	}
	if len(in.Figures) > 0 {
		out.Rules = jackstay.Rules(in.Figures)
	}
	return out, nil
}
