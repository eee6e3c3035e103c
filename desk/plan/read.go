package plan

import (
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
)

// Read answers what the record says of the programme. It passes the network
// once and runs one forecast. The answer is a function of the record alone; its
// day is the record's.
func Read(r *journal.Record) Answer { return read(r, programme.Pass, runForecast) }

// ReadDates is Read without the forecast: dates that were said, named or
// computed from durations. It is for what hangs on the order of steps alone.
func ReadDates(r *journal.Record) Answer { return read(r, programme.Pass, nil) }

func read(r *journal.Record, pass func(programme.Case) (programme.Result, error), run forecaster) Answer {
	return readIf(r, nil, pass, run)
}

// readIf is read with changes in thought.
func readIf(r *journal.Record, changes []Change, pass func(programme.Case) (programme.Result, error), run forecaster) Answer {
	d := gather(r)
	d.suppose(changes)
	d.a.DataDate, d.a.Week = r.Day, d.on("")
	d.network(pass)
	d.settleStates()
	d.countAhead()
	d.forecast(run)
	d.dateSteps()
	for _, ref := range d.live {
		d.steps[ref].Chance = d.lastChance(ref)
	}
	d.judgePromises()
	d.readCovers()
	d.readHolds()
	d.readPoints()
	d.readItems()
	d.readLaunch()
	d.doubtNetwork()
	for _, ref := range d.live {
		d.a.Steps = append(d.a.Steps, *d.steps[ref])
	}
	d.a.Level = d.level()
	d.a.Figures = d.standing()
	d.acts()
	return d.a
}

// level is what the dates in the record allow to be said: by order alone, or
// with dates that somebody said, named or computed from durations.
func (d *reading) level() desk.Level {
	if d.a.Forecast.Enough {
		return desk.ByForecast
	}
	dated := d.a.Launch.Said.Known() || d.a.Launch.Contract.Known() || d.a.Launch.Computed.Known()
	for i := range d.a.Steps {
		dated = dated || d.a.Steps[i].Start.Known() || d.a.Steps[i].Finish.Known()
	}
	for i := range d.a.Points {
		dated = dated || d.a.Points[i].Governs().Known()
	}
	for i := range d.a.Items {
		_, said := d.latest(d.a.Items[i].Self, hasDay(arrives))
		dated = dated || d.a.Items[i].OrderBy.Known() || said
	}
	if dated {
		return desk.ByDates
	}
	return desk.ByOrder
}

// Step returns a step of the answer, or nil.
func (a *Answer) Step(ref record.Ref) *Step {
	for i := range a.Steps {
		if a.Steps[i].Self == ref {
			return &a.Steps[i]
		}
	}
	return nil
}
