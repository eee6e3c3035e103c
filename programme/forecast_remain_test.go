package programme_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat"

	"dogshore/calendar"
	"dogshore/internal/random"
	"dogshore/internal/test"
	"dogshore/programme"
)

// underWay is one step of median 10 days, sigma 0.3, begun between from and to
// days before the data date and seen under way since.
func underWay(t testing.TB, from, to int) programme.ForecastCase {
	c := sure(lines(t, round, "a 10"))
	c.Steps[0].Spread = programme.Spread{Low: 10 * math.Exp(-0.3*1.2815515655), Mode: 10 * math.Exp(-0.09), High: 10 * math.Exp(0.3*1.2815515655)}
	c.Steps[0].Seen = []programme.Sighting{{Day: monday - calendar.Day(from) - 1, State: programme.NotStarted}, {Day: monday - calendar.Day(to), State: programme.UnderWay}, {Day: monday - 1, State: programme.UnderWay}}
	return c
}

// leftAfter is the chance that no more than x days are left, by quadrature:
// the start even over its days, the length longer than what is spent.
func leftAfter(x, least, most float64) float64 {
	s := func(d float64) float64 { return random.Survival(math.Log(d/10) / 0.3) }
	over := func(f func(float64) float64) float64 { return quad.Fixed(f, least, most, 200, nil, 0) }
	return 1 - over(func(e float64) float64 { return s(e + x) })/over(s)
}

func TestRemainingOnTheConditionOfTimeSpent(t *testing.T) {
	const src = "second method: quadrature over the start, D given D > time spent"
	for _, row := range []struct{ from, to int }{{1, 1}, {5, 1}, {12, 8}, {20, 14}, {40, 38}, {121, 120}} {
		c := underWay(t, row.from, row.to)
		o := forecast(t, c, known, programme.Run{Trials: trials})
		least, most := float64(row.to-1), float64(row.from)
		for _, q := range []struct {
			p   float64
			got calendar.Moment
		}{{0.1, o.Launch.P10}, {0.5, o.Launch.P50}, {0.9, o.Launch.P90}} {
			what := fmt.Sprintf("begun %g to %g days ago, chance that the P%g holds", least, most, 100*q.p)
			test.Check(t, what, src, q.p, leftAfter(days(q.got), least, most), four(q.p)+0.002)
		}
	}
}

// Far beyond its law a step still has days left, and more of them the longer
// it is overdue: the mean residual life of a lognormal law grows.
func TestOverdueManyTimes(t *testing.T) {
	last := 0.0
	for _, spent := range []int{30, 120, 400, 2000} {
		o := forecast(t, underWay(t, spent, spent), known, programme.Run{Trials: 2000})
		got := stat.Mean(o.Launches(), nil)
		if !(got > last) || got > float64(spent) {
			t.Errorf("after %d days %g are left, after less %g", spent, got, last)
		}
		last = got
	}
}

// What the yard says is left goes before the law, and its pace has no say.
func TestToldToBeLeft(t *testing.T) {
	c := underWay(t, 40, 38)
	left := 2.0
	c.Steps[0].Left = &left
	o := forecast(t, c, shared(0.5), programme.Run{Trials: trials})
	test.Check(t, "told to have 2 days left, P50, days", "exact: what is told is the median", 2, days(o.Launch.P50), fourOf(0.5, 0.6))
	test.Check(t, "told to have 2 days left, P90, days", "exact: 2 exp(0.3 z90)", 2*math.Exp(0.3*1.281552), days(o.Launch.P90), fourOf(0.9, 0.6))
	left = 0
	if o = forecast(t, c, known, programme.Run{Trials: 10}); days(o.Launch.P90) != 0 {
		t.Errorf("nothing left, and %g days to go", days(o.Launch.P90))
	}
}

// Holds wait for the owner: readiness is even over the week, visits weekly.
func TestHoldsWaitForTheOwner(t *testing.T) {
	const src = "schedule-money sheet, check 32: visits every V days, readiness even: mean V/2, most V [derived]"
	c := sure(lines(t, round, `
		skin 20
		core 0 skin`))
	c.Steps[1].Owner = true
	c.Visits, c.VisitEvery = []calendar.Day{monday}, 5
	even := map[string]quantile{"skin": func(p float64) float64 { return 20 + 50*p }}
	o := by(t, c, known, even)
	free := c
	free.Steps = append([]programme.ForecastStep(nil), c.Steps...)
	free.Steps[1].Owner = false
	before := by(t, free, known, even).Launches()
	most, mean := 0.0, 0.0
	for i, x := range o.Launches() {
		most, mean = math.Max(most, x-before[i]), mean+(x-before[i])/trials
		if math.Mod(x-0.5, 5) != 0 {
			t.Fatalf("released on day %g, no visit", x)
		}
	}
	test.Check(t, "mean wait for the owner, days", src, 2.5, mean, fourOfMean(1.45))
	test.Check(t, "longest wait for the owner, days", src, 5, most, 0.01)
	test.Check(t, "wait charged to the owner, days", src, mean, o.Steps[1].OwnerWait, 1e-6)
	test.Check(t, "wait charged to the owner on the launch, days", src, mean, o.Launch.Owner, 1e-6)
	c.VisitEvery = 0
	if o = by(t, c, known, even); len(o.Launch.Unmet) != 1 || o.Launch.Owner != 0 {
		t.Errorf("no visit after the first: unmet %v, wait %g", o.Launch.Unmet, o.Launch.Owner)
	}
}

// Waiting counts for the launch, not for decide-by; suppliers and cures have
// none, and share no pace.
func TestWaitingAndSuppliers(t *testing.T) {
	c := sure(lines(t, round, `
		skin 10
		core 10 skin
		hatch 30
		cured 0
		launch 0 core, hatch`))
	c.Launch = "core"
	c.Steps[2].Supplier = true
	c.Steps[3].Hours = 240
	for i := range 3 {
		m := c.Steps[i].Work
		c.Steps[i].Spread = programme.Spread{Low: m, Mode: m, High: m}
	}
	c.Points = []programme.Point{{ID: "inserts", Covers: []string{"core"}, Leads: []programme.PointLead{{Says: "make", Days: 4}}}}
	l := programme.Learned{Visits: 9, Chains: 9, Trades: []string{""}, Draws: []programme.Pace{{Trade: []float64{1.5}, Wait: 2}}}
	o := forecast(t, c, l, programme.Run{Trials: trials})
	const src = "exact: two waits of mean 2, exponential; 10 days at pace 1.5"
	mean, sd := stat.MeanStdDev(o.Launches(), nil)
	test.Check(t, "launch with waiting, mean, days", src, 34, mean, fourOfMean(2.83))
	test.Check(t, "launch with waiting, standard deviation, days", src, 2*math.Sqrt2, sd, 2*fourOfSpread(2.83))
	test.Check(t, "decide-by without waiting, days", src, 11, days(o.Points[0].Decide), 0)
	if f := o.Steps[2].Finish; days(f.P10) != 30 || days(f.P90) != 30 {
		t.Errorf("the supplier finishes on day %g to %g, want 30", days(f.P10), days(f.P90))
	}
	if f := o.Steps[3].Finish; days(f.P10) != 10 || days(f.P90) != 10 {
		t.Errorf("a cure of 240 hours takes %g to %g days", days(f.P10), days(f.P90))
	}
}

// Three visits missed: what is known is older, the bands are wider, and nothing
// is contradicted or asked.
func TestMissedVisitsWidenTheBands(t *testing.T) {
	c, l := anyForecast(12)
	spread := func(c programme.ForecastCase) float64 {
		o := forecast(t, c, l, programme.Run{Trials: 20000})
		return float64(o.Launch.P90-o.Launch.P10) / 86400
	}
	c.Steps[0].Seen = []programme.Sighting{{Day: monday - 23, State: programme.NotStarted}, {Day: monday - 16, State: programme.UnderWay}, {Day: monday - 9, State: programme.Done}}
	c.Steps[1].Seen = []programme.Sighting{{Day: monday - 9, State: programme.NotStarted}, {Day: monday - 2, State: programme.UnderWay}}
	c.Steps[2].Seen = []programme.Sighting{{Day: monday - 9, State: programme.NotStarted}, {Day: monday - 2, State: programme.Done}}
	missed := c
	missed.Steps = append([]programme.ForecastStep(nil), c.Steps...)
	for i := range 3 {
		missed.Steps[i].Seen = nil
		for _, s := range c.Steps[i].Seen {
			if s.Day < monday-21 {
				missed.Steps[i].Seen = append(missed.Steps[i].Seen, s)
			}
		}
	}
	if seen, unseen := spread(c), spread(missed); unseen <= seen {
		t.Errorf("the launch is spread over %g days when visited, %g when not", seen, unseen)
	}
	r := pass(t, missed.Case())
	if len(r.Contradictions)+len(r.OutOfOrder) > 0 {
		t.Errorf("missed visits raise %v %v", r.Contradictions, r.OutOfOrder)
	}
}

// Decide-by on a supplier's calendar, by hand, without chance: as DecideBy.
func TestDecideByInTrialsIsDecideBy(t *testing.T) {
	c := sure(templateCase(t))
	c.Visits, c.VisitEvery = []calendar.Day{calendar.Date(2027, 3, 3)}, 7
	leads := []programme.PointLead{{Says: "decide", Days: 3}, {Says: "check", Days: 8}, {Says: "make", Days: 10}}
	c.Points = []programme.Point{
		{ID: "pad", Covers: []string{"DC"}, Leads: leads},
		{ID: "hull side", Covers: []string{"HB", "DJ"}, Leads: leads, CutOff: calendar.Date(2027, 3, 5)},
		{ID: "guess", Covers: []string{"DC"}, Leads: []programme.PointLead{{Says: "make", Days: 9, Guess: true}}, CutOff: calendar.Date(2027, 3, 19)},
		{ID: "two doors", Covers: []string{"BD"}, Doors: []programme.Door{{ID: "cast", Leads: leads}, {ID: "welded", Covers: []string{"DJ"}, Leads: leads[:1]}}},
		{ID: "covered", Covers: []string{"HM"}},
	}
	c.Steps[0].Seen = []programme.Sighting{{Day: monday, State: programme.UnderWay}}
	o, err := programme.Forecast(context.Background(), c, known, programme.Run{Trials: 3})
	if err != nil {
		t.Fatal(err)
	}
	const src = "schedule-money sheet, check 16 [computed]"
	day := func(m calendar.Moment) float64 { return worked(t, templateYard, m) }
	pad, side, guess, doors, covered := o.Points[0], o.Points[1], o.Points[2], o.Points[3], o.Points[4]
	test.Check(t, "deck pad, decide-by in trials, working days", src, 1, day(pad.Decide), 0)
	test.Check(t, "hull side, decide-by in trials, working days", src, 6, day(side.Decide), 0)
	if pad.By != calendar.Date(2027, 3, 1) || pad.Visit != calendar.Date(2027, 3, 31) || pad.LookBy != calendar.Date(2027, 4, 1) {
		t.Errorf("pad: by %s, look by %s at the visit of %s", pad.By, pad.LookBy, pad.Visit)
	}
	if side.Governs != calendar.Date(2027, 3, 5) || side.By != calendar.Date(2027, 3, 8) {
		t.Errorf("hull side: by %s, governed by %s", side.By, side.Governs)
	}
	if !guess.Ask || guess.Decide != 0 || guess.Late != 0 || guess.Governs != guess.CutOff || guess.Look == 0 {
		t.Errorf("a guessed lead: %+v", guess)
	}
	if len(doors.Doors) != 2 || day(doors.Doors[0].Decide) != 33 || day(doors.Doors[1].Decide) != 69 || doors.Decide != doors.Doors[0].Decide {
		t.Errorf("doors: %+v", doors)
	}
	if !covered.Gone || covered.Late != 1 || covered.Decide != 0 {
		t.Errorf("covered up already: %+v", covered)
	}
}

// Snapping the quantile is the quantile of what is snapped: order statistics
// go through any rounding that keeps their order.
func TestQuantilesSnap(t *testing.T) {
	c, l := anyForecast(30)
	o := forecast(t, c, l, programme.Run{Trials: 999})
	p := o.Points[0]
	cal, err := calendar.New(c.Calendars[0].Week, nil)
	if err != nil {
		t.Fatal(err)
	}
	if p.By != cal.ByEndOf(p.Decide) || p.Decide >= p.Look || p.Share != 0.1 {
		t.Errorf("%+v", p)
	}
	if p.Visit > p.LookBy+1 || p.Look < calendar.At(p.Visit) || calendar.At(p.Visit+7)+43200 <= p.Look {
		t.Errorf("the last visit before %s is %s", p.Look, p.Visit)
	}
}

// What was last seen three weeks ago has gone on since: the launch is not later
// for nobody having looked, and the point behind it may be too late already.
func TestNobodyLooked(t *testing.T) {
	c := sure(lines(t, round, `
		skin 10
		core 5 skin
		launch 40 core`))
	for i, m := range []float64{10, 5, 40} {
		c.Steps[i].Spread = programme.Spread{Low: 0.7 * m, Mode: 0.95 * m, High: 1.4 * m}
	}
	c.Steps[0].Seen = []programme.Sighting{{Day: monday - 1, State: programme.NotStarted}}
	c.Points = []programme.Point{{ID: "inserts", Covers: []string{"core"}, Sure: true}}
	c.Visits = []calendar.Day{monday - 1}
	then := forecast(t, c, known, programme.Run{Trials: 5000})
	c.DataDate += 12
	now := forecast(t, c, known, programme.Run{Trials: 5000})
	if now.Launch.Dates != then.Launch.Dates || now.Steps[1] != then.Steps[1] {
		t.Errorf("the launch moved from %+v to %+v though nobody looked", then.Launch.Dates, now.Launch.Dates)
	}
	visited := c
	visited.Visits = append(visited.Visits, c.DataDate-1)
	if o := forecast(t, visited, known, programme.Run{Trials: 5000}); o.Points[0].Late != 0 {
		t.Errorf("the core was not said to have begun yesterday, and has with a chance of %g", o.Points[0].Late)
	}
	if then.Points[0].Late != 0 || now.Points[0].Late < 0.5 {
		t.Errorf("the core has begun with a chance of %g, twelve days before %g", now.Points[0].Late, then.Points[0].Late)
	}
}
