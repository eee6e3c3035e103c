package figure

import (
	"fmt"
	"math"
)

// Check evaluates the rule of f with the inputs shown in f.Of, compares what it
// yields with f.Value, and does the same for every input that has a rule. fns
// are the functions that rules may call by name beside max and min.
//
// A rule is "SYMBOL = expression" of numbers, symbols of inputs, + - * /,
// parentheses and calls. The two values may differ by a relative 1e-12 and an
// absolute 1e-9: what rounding of day numbers to float64 leaves. Check returns
// the first figure that does not hold, by its symbol and words.
func Check(f Figure, fns map[string]func(...float64) float64) error {
	for _, in := range f.Of {
		if err := Check(in, fns); err != nil {
			return err
		}
	}
	if f.Rule == "" {
		return nil
	}
	e := evaluator{fns: fns, values: make(map[string]float64, len(f.Of))}
	for _, in := range f.Of {
		if in.Symbol == "" {
			continue
		}
		if v, twice := e.values[in.Symbol]; twice && v != in.Value {
			return fmt.Errorf("figure %s (%s): two inputs are called %s, %g and %g", f.Symbol, f.Says, in.Symbol, v, in.Value)
		}
		e.values[in.Symbol] = in.Value
	}
	name, got, err := e.rule(f.Rule)
	switch {
	case err != nil:
		return fmt.Errorf("figure %s (%s): rule %q: %w", f.Symbol, f.Says, f.Rule, err)
	case name != f.Symbol:
		return fmt.Errorf("figure %s (%s): rule %q is for %s", f.Symbol, f.Says, f.Rule, name)
	case !(math.Abs(got-f.Value) <= 1e-9+1e-12*math.Abs(f.Value)):
		return fmt.Errorf("figure %s (%s): rule %q yields %.12g, shown is %.12g", f.Symbol, f.Says, f.Rule, got, f.Value)
	}
	return nil
}
