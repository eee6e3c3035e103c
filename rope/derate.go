package rope

import (
	"errors"
	"fmt"

	"dogshore/source"
)

// Factor is one thing that takes strength away: what is left of 1, between Low
// and High.
type Factor struct {
	Key       string
	Low, High float64
	Source    source.Source
}

const cordage = "Cordage Institute, new rope, slow pull, quoted in a magazine's rope test"

// factors is section 3.1 of the reference sheet.
var factors = []Factor{
	{"eye splice", 0.90, 0.90, read("a magazine's rope test: polyester, nylon")},
	{"splice in HMPE", 0.90, 1.00, read("study of HMPE single braid, 2010")},
	{"knot in HMPE", 0.55, 0.60, read("study of HMPE single braid, 2010; it may also slip")},
	{"bowline", 0.67, 0.75, read(cordage)},
	{"two half hitches", 0.60, 0.70, read(cordage)},
	{"sheet bend", 0.48, 0.58, read(cordage)},
	{"square knot", 0.43, 0.47, read(cordage)},
	{"sewn loop, amateur", 0.50, 0.50, read("a tester on nylon webbing: rarely more")},
	{"HMPE over a pin", 0.80, 1.00, read("supplier's guide: pin of five diameters; falling fast below")},
	{"tested whole", 1, 1, derived("the breaking load is that of the line as it is made up, ends in it")},
	{"wet nylon", 0.80, 0.90, read("notes on rope")},
}

// Factors lists what takes strength away.
func Factors() []Factor { return append([]Factor(nil), factors...) }

// ErrFactor is the error of a factor that there is not.
var ErrFactor = errors.New("not in the table of factors")

// Sun returns what years in the open leave of a fibre's strength, as a band:
// straight from new to the time that was tested, level behind it. ok is false
// where nothing was found.
//
// Polyester webbing kept some 0.70 after 12 months, then levels; nylon webbing
// 0.40 to 0.50 after 36 months; bare HMPE some 0.60 after 4 to 5 years in
// north-west Europe, worse in a high sun [read: exposure tests of a trade
// association, a tester's blog, a magazine]. The straight line is ours.
func Sun(f Fibre, years float64) (low, high float64, ok bool) {
	left := func(after, keeps float64) float64 { return 1 - (1-keeps)*min(max(years, 0)/after, 1) }
	switch f {
	case Polyester:
		return left(1, 0.70), left(1, 0.70), true
	case Nylon:
		return left(3, 0.40), left(3, 0.50), true
	case HMPE:
		return left(4, 0.60), left(5, 0.60), true
	case Wire:
		return 1, 1, true
	}
	return 0, 0, false
}

// Derate returns what is left of a breaking load, N, after the factors of the
// table that are named; they multiply.
func Derate(mblLow, mblHigh float64, keys []string) (low, high float64, err error) {
	low, high = mblLow, mblHigh
next:
	for _, key := range keys {
		for _, f := range factors {
			if f.Key == key {
				low, high = low*f.Low, high*f.High
				continue next
			}
		}
		return 0, 0, fmt.Errorf("%q: %w: there is eye splice, bowline, wet nylon and more", key, ErrFactor)
	}
	return low, high, nil
}

// Working returns the load that a derated line may be asked to hold, N: its
// breaking load over the design factor.
func Working(mbl, designFactor float64, left ...float64) float64 {
	for _, f := range left {
		mbl *= f
	}
	return mbl / designFactor
}

// Needed returns the breaking load that a new line needs, N, for a tension with
// a design factor and what will be left of it.
func Needed(tension, designFactor float64, left ...float64) float64 {
	need := tension * designFactor
	for _, f := range left {
		need /= f
	}
	return need
}

// DesignFactor returns the factor on a computed peak load: 2 for wire, 3 for
// whatever has textile in it (a national code on lifelines; a textile sheet's 5
// to 15 are for loads that nobody computed).
func DesignFactor(textile bool) float64 {
	if textile {
		return 3
	}
	return 2
}
