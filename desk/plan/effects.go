package plan

import (
	"context"
	"math"

	"dogshore/desk"
	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
)

// Effect is one date as it stands, and as it would be.
type Effect struct {
	About     record.Ref
	Now, Then desk.When
	Days      int  // later; less than nothing: earlier
	None      bool // no difference that can be told
	Gone      bool // it is a last day, and would be over already
}

// leastTold is the least difference of a date by chance that is told, in
// days: a date of the trials is known to a day.
const leastTold = 2

// Effects says what changes would do to the dates that stand in now, the
// answer to the same record: to the launch, to the ends of the changed steps,
// and to the last days of open points. What would not move is left out, but
// for the launch.
func Effects(ctx context.Context, r *journal.Record, now Answer, changes []Change) []Effect {
	then := whatIf(ctx, r, now.Forecast.Learned, changes)
	var out []Effect
	if e, ok := launchEffect(&now, &then); ok {
		if e.Now.Basis == desk.ByChance {
			e.None = e.None || noMove(ctx, &now, &then)
		}
		out = append(out, e)
	}
	for _, c := range changes {
		a, b := now.Step(c.Step), then.Step(c.Step)
		if a != nil && b != nil && c.Step != now.Launch.Step && a.Finish.Known() && b.Finish.Known() {
			out = append(out, effect(c.Step, a.Finish, b.Finish))
		}
	}
	later := map[record.Ref]*Point{}
	for i := range then.Points {
		later[then.Points[i].Self] = &then.Points[i]
	}
	for i := range now.Points {
		a := &now.Points[i]
		b := later[a.Self]
		if b == nil || a.Gone || !a.Governs().Known() || !b.Governs().Known() || a.Governs().Day == b.Governs().Day {
			continue
		}
		e := effect(a.Self, a.Governs(), b.Governs())
		e.Gone = b.Governs().Day < now.DataDate
		out = append(out, e)
	}
	return out
}

func launchEffect(now, then *Answer) (Effect, bool) {
	about := now.Launch.Step
	if about == "" {
		about = "build/build"
	}
	switch {
	case now.Forecast.Even.Known() && then.Forecast.Even.Known():
		return effect(about, now.Forecast.Even, then.Forecast.Even), true
	case now.Launch.Computed.Known() && then.Launch.Computed.Known():
		return effect(about, now.Launch.Computed, then.Launch.Computed), true
	}
	return Effect{}, false
}

// effect compares two dates.
func effect(about record.Ref, now, then desk.When) Effect {
	e := Effect{About: about, Now: now, Then: then, Days: int(then.Day - now.Day)}
	e.None = e.Days == 0 || now.Basis == desk.ByChance && math.Abs(float64(e.Days)) < leastTold
	return e
}

// noMove reports whether the launch's move lies inside the band of the trials.
func noMove(ctx context.Context, now, then *Answer) bool {
	m, err := programme.WhatMoved(ctx, now.Known(), then.Known(), programme.Run{Seed: forecastSeed, Trials: movedTrials})
	return err == nil && m.None
}
