package plan

import (
	"context"
	"errors"
	"fmt"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/figure"
	"dogshore/programme"
	"dogshore/record"
	"dogshore/source"
)

// How a forecast is run at the desk: enough trials that a chance of one in
// ten is known to one in a hundred, few enough that a page waits for nothing.
const (
	forecastTrials = 1024 // each draw of what was learned four times
	forecastSeed   = 1
)

// forecaster is what the desk asks of the engine; tests count its runs.
type forecaster func(programme.ForecastCase) (programme.Learned, programme.Outlook, error)

func runForecast(c programme.ForecastCase) (programme.Learned, programme.Outlook, error) {
	l, err := programme.Learn(c)
	if err != nil || !l.Enough() {
		return l, programme.Outlook{}, err
	}
	out, err := programme.Forecast(context.Background(), c, l, programme.Run{Seed: forecastSeed, Trials: forecastTrials})
	return l, out, err
}

// forecast learns from the sightings and plays the programme forward, if
// there is enough to learn from; else it says what that would need.
func (d *reading) forecast(run forecaster) {
	if run == nil {
		return
	}
	if !d.anyLength() {
		d.a.Forecast.Needs = "Chances need durations: how many working days each step takes, as three guesses."
		return
	}
	f := &d.a.Forecast
	f.asked = d.makeForecast()
	l, out, err := run(f.asked)
	f.Learned = l
	var invalid *programme.Invalid
	switch {
	case errors.As(err, &invalid):
		f.Needs = fmt.Sprintf("The forecast can't be worked out: %v.", err)
		return
	case err != nil:
		f.Needs = fmt.Sprintf("No forecast: %v.", err)
		return
	case !l.Enough():
		f.Needs = fmt.Sprintf("Chances need %d visits and %d chains of steps seen from first to last; there are %d and %d.",
			programme.LeastVisits, programme.LeastChains, l.Visits, l.Chains)
		return
	}
	f.Enough, f.Launch, f.Trials, f.Seed, f.Order = true, out.Launch, out.Trials, out.Seed, out.Order
	for _, s := range out.Steps {
		d.steps[record.R("step", s.ID)].Outlook = s
	}
	d.outlooks = map[record.Ref]programme.PointOutlook{}
	d.readStands(out.Stands)
	for _, p := range out.Points {
		d.outlooks[record.R("point", p.ID)] = p
	}
}

func (d *reading) anyLength() bool {
	for _, ref := range d.live {
		if d.steps[ref].Work.Known {
			return true
		}
	}
	return false
}

// byForecast says what a date by chance rests on.
func (d *reading) byForecast(chance string) string {
	return fmt.Sprintf("%s, by the forecast from what was seen by %s", chance, d.short(d.a.LastVisit.Day))
}

// The chances in words.
const (
	tenth    = "one chance in ten that it is earlier"
	evenOdds = "as likely before as after"
)

// chanceFigure is the working of a date by chance: a share of the trials.
func (d *reading) chanceFigure(says string, day calendar.Day, chance string) figure.Figure {
	l := d.a.Forecast.Learned
	return figure.Figure{
		Says: says + ", " + chance, Value: float64(day), Unit: "day", Text: day.Said(),
		Source: source.Source{How: source.Derived, Text: fmt.Sprintf("%d trials of the programme forward from %s, seed %d; pace and waiting learned from %d chains of steps seen at %d visits",
			d.a.Forecast.Trials, d.day.Said(), d.a.Forecast.Seed, l.Chains, l.Visits)},
		Of: d.learnedFigures(),
	}
}

// learnedFigures are what the forecast learned, each with its spread.
func (d *reading) learnedFigures() []figure.Figure {
	if d.learned == nil {
		l := d.a.Forecast.Learned
		src := source.Source{How: source.Derived, Text: "docs/theory/programme.md: the model, its priors and what it learns from"}
		d.learned = []figure.Figure{
			bandFigure("pace: how much longer steps take than was entered", l.Common, "times", src),
			bandFigure("waiting before a step begins although it could", l.Waiting, "working days", src),
		}
	}
	return d.learned
}

func bandFigure(says string, b programme.Band, unit string, src source.Source) figure.Figure {
	return figure.Figure{Says: says, Value: b.P50, Unit: unit, Source: src,
		Text: fmt.Sprintf("%.2g %s (8 in 10 between %.2g and %.2g)", b.P50, unit, b.P10, b.P90)}
}

// foreseenStart is the start of a step as likely before as after.
func (d *reading) foreseenStart(s *Step) (desk.When, bool) {
	if !s.Outlook.StartDated {
		return desk.When{}, false
	}
	day := d.on(s.Calendar).FirstDay(s.Outlook.Start.P50)
	return desk.When{Day: day, Basis: desk.ByChance, Said: d.byForecast(evenOdds), Work: d.chanceFigure("start of "+desk.The(s.Name), day, evenOdds)}, true
}

// foreseenFinish is its end as likely before as after.
func (d *reading) foreseenFinish(s *Step) (desk.When, bool) {
	if !s.Outlook.Dated {
		return desk.When{}, false
	}
	day := d.on(s.Calendar).LastDay(s.Outlook.Finish.P50)
	return desk.When{Day: day, Basis: desk.ByChance, Said: d.byForecast(evenOdds), Work: d.chanceFigure("end of "+desk.The(s.Name), day, evenOdds)}, true
}

// foreseenBy is the decide-by of a point inside the trials: right nine times
// in ten where structure, safety or cutting hangs on it, even chance for the
// rest.
func (d *reading) foreseenBy(p *Point) (desk.When, bool) {
	o, ok := d.outlooks[p.Self]
	if !ok {
		return desk.When{}, false
	}
	p.Outlook = &o
	if o.Ask || o.Gone || o.NoDate || !o.By.Known() {
		return desk.When{}, false
	}
	chance := evenOdds
	if o.Share < 0.5 {
		chance = "in time nine times in ten"
	}
	return desk.When{Day: o.By, Basis: desk.ByChance, Said: d.byForecast(chance), Work: d.chanceFigure("settle by the end of", o.By, chance)}, true
}

// foreseenLaunch is the spread of the launch, as days.
func (d *reading) foreseenLaunch(s *Step) {
	f := &d.a.Forecast
	if !f.Enough || !f.Launch.Dated || f.Launch.Actual != 0 {
		return
	}
	cal := d.on("")
	if s != nil {
		cal = d.on(s.Calendar)
	}
	on := func(at calendar.Moment, chance string) desk.When {
		day := cal.LastDay(at)
		return desk.When{Day: day, Basis: desk.ByChance, Said: d.byForecast(chance), Work: d.chanceFigure("launch", day, chance)}
	}
	f.Early, f.Even, f.Late = on(f.Launch.P10, tenth), on(f.Launch.P50, evenOdds), on(f.Launch.P80, "4 in 5 by then")
}
