package plan

import (
	"context"

	"dogshore/journal"
	"dogshore/programme"
)

// Known is what a forecast was asked, and what was learned by then.
type Known = programme.Known

// movedTrials are those of a page's forecast, so that a move goes from the date
// that was shown to the date that is shown.
const movedTrials = forecastTrials

// caseOf is what a record hands to the forecast, with changes in thought.
func caseOf(r *journal.Record, changes []Change) programme.ForecastCase {
	d := gather(r)
	d.suppose(changes)
	d.network(programme.Pass)
	return d.makeForecast()
}

// Known is what the answer's forecast was asked, and what it had learned.
func (a *Answer) Known() Known { return Known{Case: a.Forecast.asked, Learned: a.Forecast.Learned} }

// Ask is what the forecast of a record would be asked: all that LaunchMoved
// needs of it, with what is learned from that.
func Ask(r *journal.Record) programme.ForecastCase { return caseOf(r, nil) }

// LaunchMoved says what moved the launch between two states, by groups that
// add up to the whole. ok is false where either has learned too little for
// chances, or can't be worked out.
func LaunchMoved(ctx context.Context, before, after Known) (m programme.Movement, ok bool) {
	if !before.Learned.Enough() || !after.Learned.Enough() {
		return m, false
	}
	m, err := programme.WhatMoved(ctx, before, after, programme.Run{Seed: forecastSeed, Trials: movedTrials})
	return m, err == nil && m.Before.Known() && m.After.Known()
}
