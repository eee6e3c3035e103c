package programme

import (
	"context"
	"math"
	"math/bits"
	"reflect"
	"slices"

	"dogshore/calendar"
)

// Group is one kind of reason why a launch moves.
type Group string

// The groups, in the order in which they are told.
const (
	ByTime      Group = "time without news"
	BySightings Group = "sightings"
	ByPace      Group = "pace"
	ByPlan      Group = "edits of the plan"
	ByBoughtIn  Group = "bought-in items"
)

var groups = [...]Group{ByTime, BySightings, ByPace, ByPlan, ByBoughtIn}

// Bits of a mixture: which groups are taken from the later case.
const (
	bitTime = 1 << iota
	bitSightings
	bitPace
	bitPlan
	bitBoughtIn
	bitAll = 1<<iota - 1
)

// Movement is what moved the launch from one forecast to a later one, in days
// of 24 hours of its even chance (P50); more than 0 is later.
type Movement struct {
	Before    calendar.Moment `json:"before"`
	After     calendar.Moment `json:"after"`
	Days      float64         `json:"days"`
	Band      float64         `json:"band_days"` // a move smaller than this is none that can be told
	None      bool            `json:"none"`
	Parts     []Moved         `json:"parts"`     // every group, in the order of groups
	Remainder float64         `json:"remainder"` // Days less the parts
	Steps     []MovedStep     `json:"steps,omitempty"`
	Rest      float64         `json:"rest_days"` // the part of sightings less Steps: what they do only together with other groups
}

// Moved is the part of one group.
type Moved struct {
	Group Group   `json:"group"`
	Days  float64 `json:"days"`
}

// MovedStep is the part that sightings of one step have.
type MovedStep struct {
	ID   string  `json:"id"`
	Days float64 `json:"days"`
}

// Known is a case and what was learned by its data date.
type Known struct {
	Case    ForecastCase
	Learned Learned
}

const movedTrials = 2000

// leastBand is the least move that is told, in days: starts and finishes are
// seen as days.
const leastBand = 1

// WhatMoved says what moved the launch between two states, each forecast with
// the same draws:
//
//	part of g = sum over sets S of the other groups of
//	            |S|! (4-|S|)! / 5! (launch(S and g later) - launch(S later))
//
// so that the parts add up to the whole whatever the groups do to each other
// (L. Shapley, A value for n-person games, 1953, from memory). In a mixture,
// sightings later than its data date count as made on that day, and work told
// to be left is counted on, or back, by the working days between.
//
// Within the sightings each step's part is the mean of two orders, that of the
// network and its reverse, with all other groups later; these add up to the
// whole of that, and Rest is what is left to the group's part.
//
// The band is two standard errors of the difference, of 16 parts of the
// trials, and a day at the least.
func WhatMoved(ctx context.Context, before, after Known, run Run) (Movement, error) {
	if run.Trials == 0 {
		run.Trials = movedTrials
	}
	run.Progress = nil
	x := &mover{ctx: ctx, before: &before, after: &after, run: run, at: make(map[int]Outlook)}
	x.findSame()
	var out Movement
	first, last := x.outlook(0), x.outlook(bitAll)
	if x.err != nil {
		return out, x.err
	}
	out.Before, out.After = launchOf(first), launchOf(last)
	if out.Before == 0 || out.After == 0 {
		return out, nil
	}
	out.Days = between(out.Before, out.After)
	out.Band = max(leastBand, 2*standardError(first, last))
	out.None = math.Abs(out.Days) < out.Band
	out.Remainder = out.Days
	for g, name := range groups {
		part := x.part(g)
		out.Parts = append(out.Parts, Moved{Group: name, Days: part})
		out.Remainder -= part
	}
	x.steps(&out)
	return out, x.err
}

func between(a, b calendar.Moment) float64 { return float64(b-a) / secondsADay }

// launchOf is the moment shown for a launch; 0 if it has none.
func launchOf(o Outlook) calendar.Moment {
	if o.Launch.Actual != 0 {
		return o.Launch.Actual
	}
	return o.Launch.P50
}

// standardError is that of the difference of two medians with common draws.
func standardError(a, b Outlook) float64 {
	const parts = 16
	n := min(len(a.samples), len(b.samples)) / parts
	if n == 0 {
		return 0
	}
	var d [parts]float64
	mean := 0.0
	for k := range d {
		x, y := slices.Clone(a.samples[k*n:(k+1)*n]), slices.Clone(b.samples[k*n:(k+1)*n])
		slices.Sort(x)
		slices.Sort(y)
		d[k] = float64(sample(y, 0.5)-sample(x, 0.5)) / secondsADay
		mean += d[k] / parts
	}
	v := 0.0
	for _, x := range d {
		v += (x - mean) * (x - mean) / (parts - 1)
	}
	return math.Sqrt(v / parts)
}

// mover forecasts mixtures of two states.
type mover struct {
	ctx           context.Context
	before, after *Known
	run           Run
	same          int // groups that do not differ
	at            map[int]Outlook
	err           error
}

// findSame finds the groups that make no difference, whose part is nothing.
func (x *mover) findSame() {
	for g := range groups {
		bit := 1 << g
		switch {
		case bit == bitTime && x.before.Case.DataDate == x.after.Case.DataDate,
			bit == bitPace && reflect.DeepEqual(x.before.Learned, x.after.Learned),
			bit != bitTime && bit != bitPace && reflect.DeepEqual(x.mix(0, nil), x.mix(bit, nil)) && reflect.DeepEqual(x.mix(bitAll, nil), x.mix(bitAll&^bit, nil)):
			x.same |= bit
		}
	}
}

// outlook forecasts the mixture that takes groups from the later state.
func (x *mover) outlook(later int) Outlook {
	later &^= x.same
	if o, ok := x.at[later]; ok {
		return o
	}
	o := x.forecast(x.mix(later, nil), later)
	x.at[later] = o
	return o
}

func (x *mover) forecast(c ForecastCase, later int) Outlook {
	if x.err != nil {
		return Outlook{}
	}
	l := x.before.Learned
	if later&bitPace != 0 {
		l = x.after.Learned
	}
	o, err := Forecast(x.ctx, c, l, x.run)
	x.err = err
	return o
}

// part is the Shapley value of group g.
func (x *mover) part(g int) float64 {
	const n = len(groups)
	weight := [n]float64{1. / 5, 1. / 20, 1. / 30, 1. / 20, 1. / 5} // |S|! (n-1-|S|)! / n!
	bit, sum := 1<<g, 0.0
	if x.same&bit != 0 {
		return 0
	}
	for s := range 1 << n {
		if s&bit != 0 || x.err != nil {
			continue
		}
		a, b := launchOf(x.outlook(s)), launchOf(x.outlook(s|bit))
		sum += weight[bits.OnesCount(uint(s))] * between(a, b)
	}
	return sum
}

// steps shares out what sightings did, step by step.
func (x *mover) steps(out *Movement) {
	if x.same&bitSightings != 0 || x.err != nil {
		return
	}
	var changed []string
	was := stepsByID(&x.before.Case)
	for i := range x.after.Case.Steps {
		s := &x.after.Case.Steps[i]
		if b := was[s.ID]; b != nil && !s.Supplier && !(reflect.DeepEqual(b.Seen, s.Seen) && reflect.DeepEqual(b.Left, s.Left)) {
			changed = append(changed, s.ID)
		}
	}
	parts := make(map[string]float64)
	none := launchOf(x.outlook(bitAll &^ bitSightings))
	for range 2 {
		only := make(map[string]bool)
		at := none
		for k, id := range changed {
			only[id] = true
			next := launchOf(x.outlook(bitAll))
			if k < len(changed)-1 {
				next = launchOf(x.forecast(x.mix(bitAll, only), bitAll))
			}
			parts[id] += between(at, next) / 2
			at = next
		}
		slices.Reverse(changed)
	}
	out.Rest = out.Parts[1].Days
	for _, id := range changed {
		out.Steps = append(out.Steps, MovedStep{ID: id, Days: parts[id]})
		out.Rest -= parts[id]
	}
}

func stepsByID(c *ForecastCase) map[string]*ForecastStep {
	out := make(map[string]*ForecastStep, len(c.Steps))
	for i := range c.Steps {
		out[c.Steps[i].ID] = &c.Steps[i]
	}
	return out
}
