package programme_test

import (
	"context"
	"math"
	"testing"

	"dogshore/calendar"
	"dogshore/figure"
	"dogshore/internal/test"
	"dogshore/programme"
)

func whatMoved(t testing.TB, before, after programme.Known) programme.Movement {
	t.Helper()
	m, err := programme.WhatMoved(context.Background(), before, after, programme.Run{Seed: 3, Trials: 1024})
	if err != nil {
		t.Fatal(err)
	}
	sum, steps := m.Remainder, m.Rest
	for _, p := range m.Parts {
		sum += p.Days
	}
	for _, s := range m.Steps {
		steps += s.Days
	}
	if math.Abs(sum-m.Days) > 1e-9 || math.Abs(m.Remainder) > 1e-9 {
		t.Errorf("parts and remainder %g add up to %g, want %g", m.Remainder, sum, m.Days)
	}
	if len(m.Parts) > 1 && math.Abs(steps-m.Parts[1].Days) > 1e-9 {
		t.Errorf("steps and the rest add up to %g, want %g", steps, m.Parts[1].Days)
	}
	return m
}

func part(t testing.TB, m programme.Movement, g programme.Group) float64 {
	t.Helper()
	for _, p := range m.Parts {
		if p.Group == g {
			return p.Days
		}
	}
	t.Fatalf("no group %q in %+v", g, m)
	return 0
}

// Two paths of ten days; the yard's grows by four, the supplier's by six. By
// hand: alone 4 and 6, after the other 0 and 2.
func TestMovedByTwoGroups(t *testing.T) {
	before := sure(lines(t, round, `
		joinery 10
		mast 10
		launch 0 joinery, mast`))
	before.Steps[1].Supplier = true
	after := before
	after.Steps = append([]programme.ForecastStep(nil), before.Steps...)
	after.Steps[0].Work, after.Steps[1].Work = 14, 16
	m := whatMoved(t, programme.Known{Case: before, Learned: known}, programme.Known{Case: after, Learned: known})
	const src = "Shapley value by hand: (4 + 0) / 2 and (6 + 2) / 2"
	test.Check(t, "launch moved by two groups, days", "exact", 6, m.Days, 0)
	test.Check(t, "part of the plan, days", src, 2, part(t, m, programme.ByPlan), 1e-9)
	test.Check(t, "part of the bought-in item, days", src, 4, part(t, m, programme.ByBoughtIn), 1e-9)
	if m.None {
		t.Error("six days read as none")
	}
}

func TestMovedByTimeAndSightings(t *testing.T) {
	c := sure(lines(t, round, `
		skin 6
		core 6 skin
		rest 30 core`))
	later := c
	later.DataDate += 7
	m := whatMoved(t, programme.Known{Case: c, Learned: known}, programme.Known{Case: later, Learned: known})
	if m.Days != 7 || part(t, m, programme.ByTime) != 7 {
		t.Errorf("a week without news: %+v", m)
	}
	news := later
	news.Steps = append([]programme.ForecastStep(nil), c.Steps...)
	news.Steps[0].Seen = []programme.Sighting{{Day: monday - 1, State: programme.UnderWay}, {Day: monday + 4, State: programme.Done}}
	news.Steps[1].Seen = []programme.Sighting{{Day: monday + 4, State: programme.NotStarted}, {Day: monday + 6, State: programme.UnderWay}}
	m = whatMoved(t, programme.Known{Case: c, Learned: known}, programme.Known{Case: news, Learned: known})
	if part(t, m, programme.ByTime) <= 0 || part(t, m, programme.BySightings) >= 0 || len(m.Steps) != 2 {
		t.Errorf("a week with news: %+v", m)
	}
}

// A shutdown that both know of is no move, however many days it is long; one
// that is new is a move of the days that would have been worked.
func TestMovedAcrossAShutdown(t *testing.T) {
	shut := []programme.Calendar{{ID: "yard", Week: "Mon-Fri", Closures: []calendar.Closure{{From: monday + 14, To: monday + 34}}}}
	c := sure(lines(t, shut, `
		skin 9
		launch 1 skin`))
	later := c
	later.Steps = append([]programme.ForecastStep(nil), c.Steps...)
	later.Steps[0].Work = 10
	m := whatMoved(t, programme.Known{Case: c, Learned: known}, programme.Known{Case: later, Learned: known})
	if m.Days != 1 || part(t, m, programme.ByPlan) != 1 || m.After-m.Before < 20*86400 {
		t.Errorf("a day longer, over three weeks shut: %+v", m)
	}
	open := c
	open.Calendars = append([]programme.Calendar(nil), c.Calendars...)
	open.Calendars[0].Closures = nil
	open.Steps = later.Steps
	m = whatMoved(t, programme.Known{Case: open, Learned: known}, programme.Known{Case: later, Learned: known})
	if m.Days != 15 || part(t, m, programme.ByPlan) != 15 {
		t.Errorf("three weeks newly shut: %+v", m)
	}
}

// Nothing changed, and a change that cannot be told, read as none.
func TestMovedByNothing(t *testing.T) {
	c, l := anyForecast(20)
	if m := whatMoved(t, programme.Known{Case: c, Learned: l}, programme.Known{Case: c, Learned: l}); !m.None || m.Days != 0 {
		t.Errorf("nothing moved, and yet %+v", m)
	}
	faster := l
	faster.Draws = append([]programme.Pace(nil), l.Draws...)
	for i := range faster.Draws {
		d := faster.Draws[i]
		faster.Draws[i] = programme.Pace{Trade: []float64{d.Trade[0] * 0.999, d.Trade[1]}, Wait: d.Wait}
	}
	m := whatMoved(t, programme.Known{Case: c, Learned: l}, programme.Known{Case: c, Learned: faster})
	if !m.None || !near(part(t, m, programme.ByPace), m.Days) {
		t.Errorf("a thousandth of pace: %+v", m)
	}
}

// Five groups at once add up, whatever they do to each other.
func TestMovedByEverything(t *testing.T) {
	c, l := anyForecast(30)
	later, m := c, l
	later.DataDate += 7
	later.Steps = append([]programme.ForecastStep(nil), c.Steps...)
	long := 40.0
	later.Steps[0].Seen = append([]programme.Sighting{{Day: monday + 3, State: programme.Done}}, c.Steps[0].Seen...)
	later.Steps[1].Left = &long
	later.Steps[5].Spread = programme.Spread{Low: 20, Mode: 25, High: 40}
	later.Steps[9].Spread = programme.Spread{Low: 9, Mode: 12, High: 19}
	later.Steps = append(later.Steps, programme.ForecastStep{Step: programme.Step{ID: "new"}, Trade: "rigging", Spread: programme.Spread{Low: 3, Mode: 5, High: 8}})
	later.Links = append(append([]programme.Link(nil), c.Links...), programme.Link{From: "s12", To: "new"}, programme.Link{From: "new", To: "s20"})
	later.Visits = append([]calendar.Day(nil), c.Visits...)
	m.Draws = append([]programme.Pace(nil), l.Draws...)
	for i := range m.Draws {
		m.Draws[i].Wait *= 1.5
	}
	got := whatMoved(t, programme.Known{Case: c, Learned: l}, programme.Known{Case: later, Learned: m})
	for _, g := range []programme.Group{programme.ByTime, programme.BySightings, programme.ByPace, programme.ByPlan, programme.ByBoughtIn} {
		if part(t, got, g) == 0 {
			t.Errorf("%s has no part in %+v", g, got)
		}
	}
	if len(got.Steps) != 2 || got.None {
		t.Errorf("%+v", got)
	}
}

// The working of a move adds up, through its groups and steps.
func TestMovedWorking(t *testing.T) {
	c, l := anyForecast(30)
	m := whatMoved(t, programme.Known{Case: c, Learned: l}, programme.Known{Case: seenLater(c), Learned: l})
	f := m.Says(func(id string) string { return "step " + id })
	if err := figure.Check(f, nil); err != nil || f.Value != m.Days || len(f.Of) != 6 || f.Of[1].Rule == "" {
		t.Errorf("%+v: %v", f, err)
	}
	for range 20 { // more than are named one by one
		m.Steps = append(m.Steps, programme.MovedStep{ID: "s1", Days: 0.25})
		m.Parts[1].Days += 0.25
		m.Days += 0.25
	}
	if f = m.Says(func(id string) string { return id }); figure.Check(f, nil) != nil || len(f.Of[1].Of) > 14 {
		t.Errorf("many steps: %+v, %v", f, figure.Check(f, nil))
	}
}
