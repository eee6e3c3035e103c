package work

import (
	"dogshore/gybe"
	"dogshore/rope"
)

// The cases of these engines are JSON as they stand: SI units, which their
// fields name, and the boat's axes.

func runAnchor(read func(any) error) (any, error) {
	var c rope.AnchorCase
	if err := read(&c); err != nil {
		return nil, err
	}
	return result(rope.CheckAnchor(c))
}

func runGybe(read func(any) error) (any, error) {
	var c gybe.Case
	if err := read(&c); err != nil {
		return nil, err
	}
	return result(gybe.Reckon(c))
}

func runSweep(read func(any) error) (any, error) {
	var c gybe.SweepCase
	if err := read(&c); err != nil {
		return nil, err
	}
	return result(gybe.Sweep(c))
}

// result returns nothing beside an error.
func result[T any](r T, err error) (any, error) {
	if err != nil {
		return nil, err
	}
	return r, nil
}
