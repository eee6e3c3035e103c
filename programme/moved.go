package programme

import (
	"context"
	"fmt"
	"math"
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

// Movement is what moved the launch from one forecast to a later one, in working
// days of its calendar by which its even chance (P50) moved; more than 0 is later.
// A day counts that is worked by the calendar of either forecast: where an even
// chance lies beside a shutdown it comes to rest on either side of it by the luck
// of the draw, and that is no move, while a shutdown that is new is one.
type Movement struct {
	Before    calendar.Moment `json:"before"`
	After     calendar.Moment `json:"after"`
	Days      float64         `json:"work_days"`
	Band      float64         `json:"band_work_days"` // a move smaller than this is none that can be told
	None      bool            `json:"none"`
	Parts     []Moved         `json:"parts"`     // every group, in the order of groups
	Remainder float64         `json:"remainder"` // Days less the parts

	// Steps share out the part of the sightings. Of the mean launch that part is
	// Mean working days, of which Missed are no step's.
	Steps  []MovedStep `json:"steps,omitempty"`
	Mean   float64     `json:"mean_work_days,omitempty"`
	Missed float64     `json:"missed_work_days,omitempty"`
	Rest   float64     `json:"rest_work_days"` // the part of sightings less the Days of Steps
}

// Moved is the part of one group.
type Moved struct {
	Group Group   `json:"group"`
	Days  float64 `json:"work_days"`
}

// MovedStep is the part that sightings of one step have: Mean of the mean, and
// Days of the even chance.
type MovedStep struct {
	ID   string  `json:"id"`
	Mean float64 `json:"mean_work_days"`
	Days float64 `json:"work_days"`
}

// Known is a case and what was learned by its data date.
type Known struct {
	Case    ForecastCase
	Learned Learned
}

const movedTrials = 2048

// leastBand is the least move that is told, in working days: starts and finishes
// are seen as days.
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
// Within the sightings each step has its part of the mean launch by the rule of
// Aumann and Shapley, trial by trial (see stepShares), in the mean over the same
// sets of other groups; so the steps add up to what the sightings do to the
// mean. An even chance can't be shared out so: the steps' parts are scaled to
// the group's where the two go the same way and differ by a factor of two at the
// most, else they stay as they are. Rest is what is left to the group's part.
//
// The band is two standard errors of the difference, of 8 to 16 parts of the
// trials, and a working day at the least.
func WhatMoved(ctx context.Context, before, after Known, run Run) (Movement, error) {
	if run.Trials == 0 {
		run.Trials = movedTrials
	}
	if run.Trials < 1 || run.Trials > mostTrials {
		return Movement{}, fmt.Errorf("programme: %d trials: give 1 to %d", run.Trials, mostTrials)
	}
	for _, l := range []Learned{before.Learned, after.Learned} {
		if !l.Enough() {
			return Movement{}, &TooFew{Visits: l.Visits, Chains: l.Chains}
		}
	}
	x := &mover{before: &before, after: &after, run: run}
	x.findSame()
	if err := x.play(ctx); err != nil {
		return Movement{}, err
	}
	first, last := x.at(0), x.at(bitAll)
	out := Movement{Before: x.launch(0), After: x.launch(bitAll)}
	if out.Before == 0 || out.After == 0 {
		return out, nil
	}
	out.Days = x.between(out.Before, out.After)
	out.Band = max(leastBand, 2*x.standardError(first, last))
	out.None = math.Abs(out.Days) < out.Band
	out.Remainder = out.Days
	for g, name := range groups {
		part := x.part(g)
		out.Parts = append(out.Parts, Moved{Group: name, Days: part})
		out.Remainder -= part
	}
	x.steps(&out)
	return out, nil
}

// between is what is worked from a to b by the calendar of the launch, in days of
// it; of two calendars each day by the one that works more of it.
func (x *mover) between(a, b calendar.Moment) float64 {
	was, is := x.at(0).yard(), x.at(bitAll).yard()
	if x.same&bitPlan != 0 || a == b {
		return is.Between(a, b)
	}
	if b < a {
		return -x.between(b, a)
	}
	sum := 0.0
	for d := a.Day(); d <= b.Day(); d++ {
		from, to := max(a, calendar.At(d)), min(b, calendar.At(d+1))
		sum += max(was.Between(from, to), is.Between(from, to))
	}
	return sum
}

// yard is the calendar of the launch.
func (m *model) yard() *calendar.Calendar {
	if m.c.Launch == "" {
		return m.clocks[0].cal
	}
	return m.clocks[m.clockOf(m.net.nodes[m.byID[m.c.Launch]].cal)].cal
}

// standardError is that of the difference of two medians with common draws, of
// parts of the trials: of as many as hold each draw of the pace once, if that
// leaves eight.
func (x *mover) standardError(first, last *model) float64 {
	a, b := first.last, last.last
	parts := min(max(len(a)/256, 8), 16)
	n := min(len(a), len(b)) / parts
	if n == 0 {
		return 0
	}
	median := func(m *model, of []int64) calendar.Moment {
		of = slices.Clone(of)
		slices.Sort(of)
		return m.zero + calendar.Moment(sample(of, 0.5))
	}
	d, mean := make([]float64, parts), 0.0
	for k := range d {
		d[k] = x.between(median(first, a[k*n:(k+1)*n]), median(last, b[k*n:(k+1)*n]))
		mean += d[k] / float64(parts)
	}
	v := 0.0
	for _, x := range d {
		v += (x - mean) * (x - mean) / float64(parts-1)
	}
	return math.Sqrt(v / float64(parts))
}
