package programme_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"testing"

	"dogshore/calendar"
	"dogshore/programme"

	"pgregory.net/rapid"
)

// known is a yard of which all is known: every length as planned, no waiting.
var known = programme.Learned{Visits: programme.LeastVisits, Chains: programme.LeastChains, Draws: []programme.Pace{{}}}

// sure makes a forecast's case of one without chance.
func sure(c programme.Case) programme.ForecastCase {
	out := programme.ForecastCase{DataDate: c.DataDate, Calendars: c.Calendars, Links: c.Links}
	for _, s := range c.Steps {
		out.Steps = append(out.Steps, programme.ForecastStep{Step: s})
	}
	return out
}

func forecast(t testing.TB, c programme.ForecastCase, l programme.Learned, run programme.Run) programme.Outlook {
	t.Helper()
	o, err := programme.Forecast(context.Background(), c, l, run)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// Without chance a forecast is the pass: every start and finish, to the
// second, on several calendars, with lags on either clock, loops, moments,
// steps under way and done. All was looked at the day before.
func TestForecastWithoutChanceIsThePass(t *testing.T) {
	cals := []programme.Calendar{
		templateYard, {ID: "half", Week: "Mon-Thu 1, Fri 0.5"}, {ID: "round", Week: "24/7", Closures: []calendar.Closure{{From: monday + 3, To: monday + 4}}},
	}
	rapid.Check(t, func(t *rapid.T) {
		c := anyNetwork(t, cals, true)
		for i := range c.Steps {
			if rapid.IntRange(0, 2).Draw(t, "begun") == 0 {
				if day := rapid.IntRange(0, 9).Draw(t, "not begun"); day > 1 {
					c.Steps[i].Seen = append(c.Steps[i].Seen, programme.Sighting{Day: monday - calendar.Day(day), State: programme.NotStarted})
				}
				c.Steps[i].Seen = append(c.Steps[i].Seen, programme.Sighting{Day: monday - 1, State: rapid.SampledFrom([]programme.State{programme.UnderWay, programme.Done}).Draw(t, "state")})
			} else {
				c.Steps[i].Seen = append(c.Steps[i].Seen, programme.Sighting{Day: monday - 1, State: programme.NotStarted})
			}
		}
		r, err := programme.Pass(c)
		if err != nil {
			t.Skip(err)
		}
		o, err := programme.Forecast(context.Background(), sure(c), known, programme.Run{Trials: 5})
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range r.Steps {
			f := o.Steps[i]
			if f.Dated != (s.Dated && s.State != programme.Done) {
				t.Fatalf("%+v: step %s dated %v", c, s.ID, f.Dated)
			}
			if !f.Dated {
				continue
			}
			if same(f.Start, s.EarlyStart) != nil || same(f.Finish, s.EarlyFinish) != nil {
				t.Fatalf("%+v: step %s runs %+v to %+v, want %s to %s", c, s.ID, f.Start, f.Finish, s.EarlyStart, s.EarlyFinish)
			}
			if f.Critical > 0 && !s.Critical {
				t.Fatalf("%+v: step %s drives the launch, which the pass denies", c, s.ID)
			}
		}
		if o.Launch.Dated && same(o.Launch.Dates, r.Finish) != nil {
			t.Fatalf("%+v: launch %+v, want %s", c, o.Launch, r.Finish)
		}
	})
}

func same(d programme.Dates, m calendar.Moment) error {
	if d != (programme.Dates{P10: m, P50: m, P90: m}) {
		return fmt.Errorf("%+v is not %s", d, m)
	}
	return nil
}

// anyForecast is a network of n steps with spreads, trades, waits, visits and
// points.
func anyForecast(n int) (programme.ForecastCase, programme.Learned) {
	c := programme.ForecastCase{
		DataDate: monday, Calendars: []programme.Calendar{{ID: "yard", Week: "Mon-Thu 1, Fri 0.5"}, {ID: "maker", Week: "Mon-Fri"}},
		Visits: []calendar.Day{monday + 2}, VisitEvery: 7,
	}
	for i := range n {
		m := float64(2 + i*7%9)
		s := programme.ForecastStep{Step: programme.Step{ID: fmt.Sprint("s", i)}, Trade: []string{"lamination", "joinery"}[i%2], Spread: programme.Spread{Low: 0.8 * m, Mode: m, High: 1.7 * m}}
		if i%11 == 5 {
			s.Supplier, s.Calendar = true, "maker"
		}
		s.Owner = i%13 == 7
		if i < 3 {
			s.Seen = []programme.Sighting{{Day: monday - 9, State: programme.NotStarted}, {Day: monday - 5, State: programme.UnderWay}}
		}
		c.Steps = append(c.Steps, s)
		if i >= 3 {
			c.Links = append(c.Links, programme.Link{From: fmt.Sprint("s", i-1-i*5%3), To: s.ID})
			c.Links = append(c.Links, programme.Link{From: fmt.Sprint("s", i-3), To: s.ID, Type: []programme.LinkType{programme.SS, programme.FF, programme.FS}[i%3], Lag: float64(i % 2)})
		}
	}
	c.Points = []programme.Point{
		{ID: "p", Covers: []string{fmt.Sprint("s", n/2)}, Sure: true, Leads: []programme.PointLead{{Says: "decide", Days: 3}, {Says: "make", Calendar: "maker", Spread: programme.Spread{Low: 8, Mode: 10, High: 16}}}},
	}
	l := programme.Learned{Visits: 9, Chains: 9, Trades: []string{"lamination", "joinery"}}
	for k := range 256 {
		x := float64(k) / 256
		l.Draws = append(l.Draws, programme.Pace{Trade: []float64{0.9 + 0.4*x, 1.2 - 0.3*x*x}, Wait: 0.2 + x})
	}
	return c, l
}

func TestSameBitsOnAnyNumberOfWorkers(t *testing.T) {
	c, l := anyForecast(40)
	one := forecast(t, c, l, programme.Run{Seed: 5, Trials: 3000, Workers: 1})
	for _, workers := range []int{2, 8} {
		if got := forecast(t, c, l, programme.Run{Seed: 5, Trials: 3000, Workers: workers}); !reflect.DeepEqual(got, one) {
			t.Errorf("%d workers give another outlook than one", workers)
		}
	}
	if got := forecast(t, c, l, programme.Run{Seed: 6, Trials: 3000}); reflect.DeepEqual(got.Launch, one.Launch) {
		t.Error("another seed gives the same launch")
	}
}

// A step more, that nothing waits for, leaves all others as they were, to the
// second, wherever it stands.
func TestAStepMoreShufflesNothing(t *testing.T) {
	c, l := anyForecast(30)
	c.Launch = "s29"
	was := forecast(t, c, l, programme.Run{Trials: 1000})
	more := c
	more.Steps = append([]programme.ForecastStep{{Step: programme.Step{ID: "shelf"}, Trade: "joinery", Spread: programme.Spread{Low: 1, Mode: 2, High: 5}}}, c.Steps...)
	got := forecast(t, more, l, programme.Run{Trials: 1000})
	if !reflect.DeepEqual(got.Steps[1:], was.Steps) || !reflect.DeepEqual(got.Launch, was.Launch) || !reflect.DeepEqual(got.Points, was.Points) {
		t.Error("a step more moves the others")
	}
}

func TestTooLittleLearned(t *testing.T) {
	c, l := anyForecast(5)
	l.Visits = 3
	_, err := programme.Forecast(context.Background(), c, l, programme.Run{})
	var few *programme.TooFew
	if !errors.As(err, &few) || few.Visits != 3 {
		t.Errorf("three visits: %v", err)
	}
}

// Broken off, it returns what was counted, and says so.
func TestBrokenOff(t *testing.T) {
	c, l := anyForecast(30)
	ctx, stop := context.WithCancel(context.Background())
	told := 0
	o, err := programme.Forecast(ctx, c, l, programme.Run{Trials: 20000, Workers: 2, Progress: func(done, of int) {
		if told = done; done >= 2000 {
			stop()
		}
	}})
	if !errors.Is(err, context.Canceled) || !o.Partial || o.Trials < 2000 || o.Trials >= 20000 || told == 0 {
		t.Fatalf("%d trials, partial %v, %v", o.Trials, o.Partial, err)
	}
	whole := forecast(t, c, l, programme.Run{Trials: o.Trials})
	if whole.Launch.P50 != o.Launch.P50 || whole.Steps[20] != o.Steps[20] {
		t.Error("what was counted is not the first trials of the whole")
	}
	stop()
	if _, err := programme.Forecast(ctx, c, l, programme.Run{}); !errors.Is(err, context.Canceled) {
		t.Errorf("begun when already broken off: %v", err)
	}
}

func TestForecastRefuses(t *testing.T) {
	c, l := anyForecast(5)
	c.Steps[0].Spread = programme.Spread{Low: 5, Mode: 4, High: 9}
	c.Steps[1].Spread = programme.Spread{Low: math.NaN(), Mode: 4, High: 9}
	c.Steps[2].Spread = programme.Spread{Low: 1, Mode: 4, High: 90}
	c.Steps[3].Hours = 8
	c.Launch = "sea"
	c.Stands = []programme.Stand{{ID: "mould", Holdings: []programme.Holding{{First: "s1", Last: "s99"}, {First: "s2", Need: 2}}}}
	c.Points = append(c.Points, programme.Point{ID: "p", Covers: []string{"s7"}, Leads: []programme.PointLead{{Says: "make", Days: 2, Hours: 3, Calendar: "moon"}}}, programme.Point{ID: "q"})
	_, err := programme.Forecast(context.Background(), c, l, programme.Run{})
	var bad *programme.Invalid
	if !errors.As(err, &bad) {
		t.Fatal(err)
	}
	if len(bad.Problems) != 12 {
		for _, p := range bad.Problems {
			t.Log(p.Says)
		}
		t.Errorf("%d problems, want 12", len(bad.Problems))
	}
}
