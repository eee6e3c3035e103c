package plan

import (
	"dogshore/calendar"
	"dogshore/desk"
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
// were so. Nothing is written; a change to a step that is done, or that the
// programme does not have, changes nothing.
func WhatIf(r *journal.Record, changes []Change) Answer {
	return readIf(r, changes, programme.Pass, runForecast)
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

// Effect is one date as it stands, and as it would be.
type Effect struct {
	About     record.Ref
	Now, Then desk.When
	Days      int  // later, less than nothing: earlier
	Within    bool // the difference lies inside the spread of the date: it can't be told
	Gone      bool // the last day would be over already
}

// Effects compares an answer with the answer to a WhatIf: the launch first,
// then what the changed steps' own dates do, then the last days of open
// points, as they stand in now. What would not move is left out, but for the
// launch.
func Effects(now, then Answer, changed []Change) []Effect {
	var out []Effect
	if e, ok := launchEffect(&now, &then); ok {
		out = append(out, e)
	}
	for _, c := range changed {
		a, b := now.Step(c.Step), then.Step(c.Step)
		if a != nil && b != nil && a.Finish.Known() && b.Finish.Known() {
			out = append(out, effect(c.Step, a.Finish, b.Finish, a.Outlook.Dated, a.Outlook.Finish))
		}
	}
	later := map[record.Ref]*Point{}
	for i := range then.Points {
		later[then.Points[i].Self] = &then.Points[i]
	}
	for i := range now.Points {
		a := &now.Points[i]
		b := later[a.Self]
		if b == nil || !a.Governs().Known() || !b.Governs().Known() || a.Governs().Day == b.Governs().Day {
			continue
		}
		s := now.Step(a.Step)
		spread := s != nil && s.Outlook.StartDated && a.Governs().Basis == desk.ByChance
		e := effect(a.Self, a.Governs(), b.Governs(), spread, programme.Dates{})
		if spread {
			width := s.Outlook.Start.P90.Day() - s.Outlook.Start.P10.Day()
			e.Within = abs(e.Days) <= int(width)
		}
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
		return effect(about, now.Forecast.Even, then.Forecast.Even, true, now.Forecast.Launch.Dates), true
	case now.Launch.Computed.Known() && then.Launch.Computed.Known():
		return effect(about, now.Launch.Computed, then.Launch.Computed, false, programme.Dates{}), true
	}
	return Effect{}, false
}

// effect compares two dates; where the first has a spread, a day within it is
// no difference that can be told.
func effect(about record.Ref, now, then desk.When, spread bool, of programme.Dates) Effect {
	e := Effect{About: about, Now: now, Then: then, Days: int(then.Day - now.Day)}
	e.Within = spread && e.Days != 0 && then.Day >= of.P10.Day() && then.Day <= of.P90.Day()
	return e
}

func abs(n int) int { return max(n, -n) }
