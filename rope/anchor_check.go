package rope

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// AnchorError is the error of an anchor that can't be reckoned. It holds all
// that is wrong, each with its field, and what would be right.
type AnchorError struct {
	Problems []string
}

func (e *AnchorError) Error() string { return "rope: anchor: " + strings.Join(e.Problems, "; ") }

// What can lie under a foot.
const (
	UnderSolid  = "solid laminate"
	UnderInsert = "insert"
	UnderFoam   = "foam core"
	UnderBalsa  = "balsa core"
)

// What can spread the pull of bolts.
const (
	BackingNone      = "none"
	BackingWashers   = "washers"
	BackingStainless = "stainless plate"
	BackingAluminium = "aluminium plate"
	BackingGlass     = "glass plate"
)

// Bounds of what is believed of an entry: a length in metres, a force, strength
// or factor in N, Pa or 1.
const (
	shortest  = 1e-5
	weakest   = 1e-3
	longest   = 10
	strongest = 1e12
)

// check returns an *AnchorError unless the case can be reckoned.
func (c *AnchorCase) check() error {
	e := &AnchorError{}
	add := func(format string, args ...any) { e.Problems = append(e.Problems, fmt.Sprintf(format, args...)) }
	number := func(field string, x, least, most float64) {
		if x != 0 && !(x >= least && x <= most) {
			add("%s is %g: a number from %g to %g belongs there, or 0 if it is not known", field, x, least, most)
		}
	}
	for _, x := range c.lengths() {
		number(x.field, x.value, shortest, longest)
	}
	for _, x := range c.strengths() {
		number(x.field, x.value, weakest, strongest)
	}
	word := func(field, value string, words ...string) {
		if value != "" && !slices.Contains(words, value) {
			add("%s is %q: one of %s, or nothing, belongs there", field, value, strings.Join(words, ", "))
		}
	}
	word("under.sort", c.Under.Sort, UnderSolid, UnderInsert, UnderFoam, UnderBalsa)
	word("backing.sort", c.Backing.Sort, BackingNone, BackingWashers, BackingStainless, BackingAluminium, BackingGlass)
	for _, a := range c.Assumed {
		word("assumed", string(a), "bolts", "plate", "laminate", "core", "eye", "line")
	}
	c.checkPlaces(add)
	c.checkLoads(add)
	if len(e.Problems) > 0 {
		return e
	}
	return nil
}

type named struct {
	field string
	value float64
}

func (c *AnchorCase) lengths() []named {
	return []named{
		{"foot_long_m", c.Long}, {"foot_wide_m", c.Wide}, {"bolts.size_m", c.Bolts.Size},
		{"backing.thick_m", c.Backing.Thick}, {"backing.long_m", c.Backing.Long}, {"backing.wide_m", c.Backing.Wide},
		{"under.solid_m", c.Under.Solid}, {"under.long_m", c.Under.Long}, {"under.wide_m", c.Under.Wide}, {"under.edge_m", c.Under.Edge},
		{"under.outer_skin_m", c.Under.Outer}, {"under.core_m", c.Under.Core}, {"under.inner_skin_m", c.Under.Inner},
	}
}

func (c *AnchorCase) strengths() []named {
	return []named{
		{"rated_n", c.Rated}, {"aside_n", c.Aside}, {"bolts.clamp_n", c.Bolts.Clamp}, {"ending.holds_n", c.Ending.Holds},
		{"under.bearing_pa", c.Under.Bearing}, {"under.shear_pa", c.Under.Shear},
		{"under.core_shear_pa", c.Under.CoreShear}, {"under.core_crush_pa", c.Under.CoreCrush},
		{"factors.eye", c.Factors.Eye}, {"factors.bolt", c.Factors.Bolt}, {"factors.bearing", c.Factors.Bearing},
		{"factors.punch", c.Factors.Punch}, {"factors.core", c.Factors.Core}, {"factors.line", c.Factors.Line},
	}
}

func (c *AnchorCase) checkPlaces(add func(string, ...any)) {
	place := func(field string, values ...float64) {
		for _, v := range values {
			if !(math.Abs(v) <= longest) {
				add("%s has %g: a number from -%d to %d belongs there", field, v, longest, longest)
			}
		}
	}
	place("normal", c.Normal.X, c.Normal.Y, c.Normal.Z)
	place("heading_rad", c.Heading)
	place("stands_m", c.Stands)
	if c.Stands < 0 {
		add("stands_m is %g: the pull is at or above the underside of the foot", c.Stands)
	}
	place("offset", c.Offset.Along, c.Offset.Across)
	if n := r3.Norm(r3.Vec(c.Normal)); n > 0 && n < 1e-6 {
		add("normal is too short to have a direction: give a vector of about 1, or leave it out for straight up")
	}
	if len(c.Bolts.At) > maxBolts {
		add("bolts.at holds %d bolts: at most %d are reckoned", len(c.Bolts.At), maxBolts)
		return
	}
	for i, p := range c.Bolts.At {
		place(fmt.Sprintf("bolts.at %d", i+1), p.Along, p.Across)
		if c.Long > 0 && c.Wide > 0 && (math.Abs(p.Along) > c.Long/2+1e-9 || math.Abs(p.Across) > c.Wide/2+1e-9) {
			add("bolts.at %d lies off the foot: it reaches %.4g m along and %.4g m across from its middle", i+1, c.Long/2, c.Wide/2)
		}
	}
}

func (c *AnchorCase) checkLoads(add func(string, ...any)) {
	if len(c.Loads) == 0 {
		add("loads is empty: give at least one")
	}
	if len(c.Loads) > maxLoads {
		add("loads holds %d: at most %d are reckoned", len(c.Loads), maxLoads)
		return
	}
	for i, l := range c.Loads {
		size := math.Abs(l.Force.X) + math.Abs(l.Force.Y) + math.Abs(l.Force.Z)
		if !(size >= 1e-3 && size <= 1e9) {
			add("loads %d (%s) is %g N: a pull from 0.001 to 1e9 N belongs there", i+1, l.Name, size)
		}
	}
}
