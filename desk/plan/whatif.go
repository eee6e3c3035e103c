package plan

import (
	"context"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
)

// Change is a change of the programme that is tried on in thought.
type Change struct {
	Step      record.Ref
	NotBefore calendar.Day // it does not start before the morning of this day
	More      float64      // working days that it takes more; of a step that lasts by the clock, days of 24 hours
}

// WhatIf answers what the record would say of the programme if the changes
// were so: with the same pace and waiting, and the same draws, so that what
// differs differs by the changes alone. Nothing is written; a change to a step
// that is done, or that the programme does not have, changes nothing.
func WhatIf(r *journal.Record, changes []Change) Answer {
	l, err := programme.Learn(caseOf(r, nil))
	if err != nil {
		return readIf(r, changes, programme.Pass, runForecast)
	}
	return whatIf(context.Background(), r, l, changes)
}

// whatIf is WhatIf with what was learned from the record as it is.
func whatIf(ctx context.Context, r *journal.Record, l programme.Learned, changes []Change) Answer {
	return readIf(r, changes, programme.Pass, func(c programme.ForecastCase) (programme.Learned, programme.Outlook, error) {
		if !l.Enough() {
			return l, programme.Outlook{}, nil
		}
		out, err := programme.Forecast(ctx, c, l, programme.Run{Seed: forecastSeed, Trials: forecastTrials})
		return l, out, err
	})
}

// suppose takes changes into the reading.
func (d *reading) suppose(changes []Change) {
	d.thought = map[record.Ref]Change{}
	for _, c := range changes {
		s := d.steps[c.Step]
		if s == nil {
			continue
		}
		d.thought[c.Step] = c
		switch {
		case s.Work.Known:
			s.Work.Low, s.Work.Mode, s.Work.High = max(0, s.Work.Low+c.More), max(0, s.Work.Mode+c.More), max(0, s.Work.High+c.More)
		case s.Lasts.Known:
			s.Lasts.SI = max(0, s.Lasts.SI+c.More*86400)
		}
	}
}

// startIf is a told start as it would be.
func (d *reading) startIf(s *Step, day calendar.Day) calendar.Day {
	return max(day, d.thought[s.Self].NotBefore)
}

// finishIf is a told end as it would be: as much later as the start, and by
// the days more that it takes.
func (d *reading) finishIf(s *Step, day calendar.Day) calendar.Day {
	c, ok := d.thought[s.Self]
	if !ok {
		return day
	}
	if told, has := d.latest(s.Self, hasDay(starts)); has && c.NotBefore > told.When.First {
		day += c.NotBefore - told.When.First
	}
	if c.More > 0 {
		day = d.on(s.Calendar).LastDay(d.on(s.Calendar).Forward(calendar.At(day+1), c.More))
	}
	return day
}
