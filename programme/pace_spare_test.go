package programme_test

import (
	"fmt"
	"testing"

	"dogshore/calendar"
	"dogshore/programme"
)

// A chain whose steps wait half a day, beside steps that have months and are
// left lying for weeks: what has time teaches nothing of the waiting.
func TestWhatHasTimeTeachesNoWaiting(t *testing.T) {
	hurried := chainBesideIdle(false)
	idle := chainBesideIdle(true)
	a, err := programme.Learn(hurried)
	if err != nil {
		t.Fatal(err)
	}
	b, err := programme.Learn(idle)
	if err != nil {
		t.Fatal(err)
	}
	if a.Waiting != b.Waiting {
		t.Errorf("waiting %+v becomes %+v when steps with months to spare are left lying", a.Waiting, b.Waiting)
	}
}

// chainBesideIdle is a chain of eight steps seen every week, with a side step
// for each that only the end of the chain needs; seen lying, if idle.
func chainBesideIdle(idle bool) programme.ForecastCase {
	start := calendar.Date(2027, 3, 1)
	c := programme.ForecastCase{DataDate: start + 70, Calendars: []programme.Calendar{{ID: "yard", Week: "Mon-Fri"}}}
	add := func(id string, seen ...programme.Sighting) {
		c.Steps = append(c.Steps, programme.ForecastStep{
			Step:   programme.Step{ID: id, Calendar: "yard", Known: true, Work: 5, Seen: seen},
			Spread: programme.Spread{Low: 4, Mode: 5, High: 7},
		})
	}
	link := func(from, to string) {
		c.Links = append(c.Links, programme.Link{From: from, To: to, Type: programme.FS})
	}
	for i := range 8 {
		id, side := fmt.Sprintf("main-%d", i), fmt.Sprintf("side-%d", i)
		day := start + calendar.Day(7*i)
		add(id, programme.Sighting{Day: day, State: programme.NotStarted}, programme.Sighting{Day: day + 7, State: programme.Done})
		add(side)
		if i > 0 {
			link(fmt.Sprintf("main-%d", i-1), id)
		}
		link(id, side)
		if idle && i < 4 {
			c.Steps[len(c.Steps)-1].Seen = []programme.Sighting{{Day: day + 42, State: programme.NotStarted}}
		}
	}
	add("launch")
	link("main-7", "launch")
	for i := range 7 {
		link(fmt.Sprintf("side-%d", i), "launch")
	}
	return c
}
