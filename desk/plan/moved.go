package plan

import (
	"context"

	"dogshore/journal"
	"dogshore/programme"
)

// Known is a record with what its answer learned from it.
type Known struct {
	Record  *journal.Record
	Learned programme.Learned
}

// movedTrials are fewer than a forecast has: what moved takes dozens of them.
const movedTrials = 1000

// caseOf is what a record hands to the forecast, with changes in thought.
func caseOf(r *journal.Record, changes []Change) programme.ForecastCase {
	d := gather(r)
	d.suppose(changes)
	d.network(programme.Pass)
	return d.makeForecast()
}

// LaunchMoved says what moved the launch between two records, by groups that
// add up to the whole. ok is false where either has learned too little for
// chances, or can't be worked out.
func LaunchMoved(ctx context.Context, before, after Known) (m programme.Movement, ok bool) {
	if !before.Learned.Enough() || !after.Learned.Enough() {
		return m, false
	}
	m, err := programme.WhatMoved(ctx,
		programme.Known{Case: caseOf(before.Record, nil), Learned: before.Learned},
		programme.Known{Case: caseOf(after.Record, nil), Learned: after.Learned},
		programme.Run{Seed: forecastSeed, Trials: movedTrials})
	return m, err == nil && m.Before.Known() && m.After.Known()
}
