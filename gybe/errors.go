package gybe

import (
	"fmt"
	"math"
	"strings"
)

// Invalid is the error of a case that can't be reckoned. It holds all that is
// wrong, each with its field, and what would be right.
type Invalid struct {
	Problems []string
}

func (e *Invalid) Error() string { return "gybe: " + strings.Join(e.Problems, "; ") }

func (e *Invalid) add(format string, args ...any) {
	e.Problems = append(e.Problems, fmt.Sprintf(format, args...))
}

// number notes a value that is not between two limits.
func (e *Invalid) number(field string, x, least, most float64) {
	if !(x >= least && x <= most) {
		e.add("%s is %g: a number from %g to %g belongs there", field, x, least, most)
	}
}

// known notes a value that is neither 0, for not known, nor between two limits.
func (e *Invalid) known(field string, x, least, most float64) {
	if x != 0 && !(x >= least && x <= most) {
		e.add("%s is %g: a number from %g to %g belongs there, or 0 if it is not known", field, x, least, most)
	}
}

// band notes a band that is not between two limits, or upside down.
func (e *Invalid) band(field string, b Band, least, most float64) {
	e.number(field+".low", b.Low, least, most)
	e.number(field+".high", b.High, least, most)
	if b.top() < b.Low {
		e.add("%s runs from %g to %g: the lower end comes first", field, b.Low, b.High)
	}
}

func (e *Invalid) spot(field string, s Spot) {
	for _, v := range []float64{s.X, s.Y, s.Z} {
		if !(math.Abs(v) <= farthest) {
			e.add("%s has %g: a number from -%d to %d belongs there", field, v, farthest, farthest)
		}
	}
}

// orNil returns e as an error if it holds anything.
func (e *Invalid) orNil() error {
	if len(e.Problems) == 0 {
		return nil
	}
	return e
}

// Bounds of what is believed of an entry, and of how much is read.
const (
	farthest   = 200  // m
	strongest  = 1e9  // N, N m
	fastest    = 100  // m/s
	maxLeads   = 8    //
	maxTurns   = 12   // of one lead
	maxCurve   = 50   // points of a stretch test
	maxBlocked = 200  // obstacles
	maxRun     = 500  // corners of one run
	maxCorners = 2000 // of all obstacles, or all zones, together
	maxSeats   = 200  // stations
	maxZones   = 50   //
	nearest    = 1e-3 // m between two turns
)
