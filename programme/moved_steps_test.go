package programme_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"dogshore/calendar"
	"dogshore/internal/test"
	"dogshore/programme"
)

// told is a case of which work left is told of every step, so many days each.
func told(c programme.ForecastCase, days []float64) programme.Known {
	c.Steps = append([]programme.ForecastStep(nil), c.Steps...)
	for i := range days {
		c.Steps[i].Left = &days[i]
	}
	return programme.Known{Case: c, Learned: known}
}

// Two paths that grow, the first from 12 to 14 days, the second from 10 to 16.
// The first drives up to the middle, the second from there.
func TestPartsOfStepsByHand(t *testing.T) {
	c := sure(lines(t, round, `
		joinery 1
		wiring 1
		launch 0 joinery, wiring`))
	m := whatMoved(t, told(c, []float64{12, 10, 0}), told(c, []float64{14, 16, 0}))
	const src = "Aumann-Shapley value by hand: 2 days over half the way, 6 over the other half"
	got := map[string]float64{}
	for _, s := range m.Steps {
		got[s.ID] = s.Mean
	}
	test.Check(t, "part of the path that drives first, days", src, 1, got["joinery"], 1e-9)
	test.Check(t, "part of the path that drives then, days", src, 3, got["wiring"], 1e-9)
	test.Check(t, "both together, days", src, 4, m.Mean, 1e-9)
}

// longest returns the length of the longest path through steps in order, and the
// steps on it.
func longest(after [][]int, days []float64) (float64, []int) {
	end, by := make([]float64, len(days)), make([]int, len(days))
	last := 0
	for i := range days {
		by[i] = -1
		for _, p := range after[i] {
			if end[p] > end[i] {
				end[i], by[i] = end[p], p
			}
		}
		if end[i] += days[i]; end[i] > end[last] {
			last = i
		}
	}
	var path []int
	for i := last; i >= 0; i = by[i] {
		path = append(path, i)
	}
	return end[last], path
}

// Random networks of certain lengths: the parts are those that longest paths at
// the sixteen midpoints give, and what they miss of the whole is what sixteen
// midpoints miss: a change of path for one sixteenth of the way, at the most.
func TestPartsOfStepsAgainstLongestPaths(t *testing.T) {
	worst, off := 0.0, 0.0
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 5))
		const n = 14
		c := programme.ForecastCase{DataDate: monday, Calendars: round}
		after := make([][]int, n)
		d0, d1 := make([]float64, n), make([]float64, n)
		for i := range n {
			c.Steps = append(c.Steps, programme.ForecastStep{Step: programme.Step{ID: fmt.Sprint("s", i), Work: 1}})
			d0[i], d1[i] = 1+9*r.Float64(), 1+9*r.Float64()
			for p := range i {
				if r.IntN(4) == 0 {
					after[i] = append(after[i], p)
					c.Links = append(c.Links, programme.Link{From: fmt.Sprint("s", p), To: fmt.Sprint("s", i)})
				}
			}
		}
		m := whatMoved(t, told(c, d0), told(c, d1))
		want, whole, most := make([]float64, n), 0.0, 0.0
		for q := range 16 {
			at := make([]float64, n)
			for i := range at {
				at[i] = d0[i] + (float64(q)+0.5)/16*(d1[i]-d0[i])
			}
			_, path := longest(after, at)
			for _, i := range path {
				want[i] += (d1[i] - d0[i]) / 16
			}
		}
		a, _ := longest(after, d0)
		b, _ := longest(after, d1)
		whole = b - a
		for i := range want {
			most += math.Abs(d1[i] - d0[i])
		}
		for _, s := range m.Steps {
			var i int
			if _, err := fmt.Sscanf(s.ID, "s%d", &i); err != nil {
				t.Fatal(err)
			}
			worst = max(worst, math.Abs(s.Mean-want[i]))
		}
		off = max(off, math.Abs(m.Mean-whole))
		if math.Abs(m.Missed) > most/16 {
			t.Errorf("build %d: %g days of %g are no step's", seed, m.Missed, whole)
		}
	}
	const src = "second method: longest paths at the same midpoints, plain numbers"
	test.Check(t, "parts of steps, 40 networks of 14 steps, largest difference, days", src, 0, worst, 1e-4) // seconds are whole
	test.Check(t, "what moved the launch, 40 networks, largest difference, days", "second method: longest paths at both ends", 0, off, 1e-4)
}

// seenLater is a case and the same a week on: two steps done, two begun, and one
// told.
func seenLater(c programme.ForecastCase) programme.ForecastCase {
	later := c
	later.DataDate += 7
	later.Visits = append([]calendar.Day{monday + 6}, c.Visits...)
	later.Steps = append([]programme.ForecastStep(nil), c.Steps...)
	left := 3.0
	for i, day := range []int{1, 3} {
		later.Steps[i].Seen = append(append([]programme.Sighting(nil), c.Steps[i].Seen...), programme.Sighting{Day: monday + calendar.Day(day), State: programme.Done})
	}
	for _, i := range []int{3, 4} {
		later.Steps[i].Seen = []programme.Sighting{{Day: monday - 1, State: programme.NotStarted}, {Day: monday + 5, State: programme.UnderWay}}
	}
	later.Steps[2].Left = &left
	return later
}

// The parts add up to what the sightings do to the mean launch, within a
// twentieth of a day: on one calendar, and with suppliers and waits for the owner.
func TestPartsOfStepsAddUp(t *testing.T) {
	const src = "numerics sheet 1.1 e: the remainder of 16 midpoints is below 0.05 days [stated there]"
	for _, n := range []int{12, 30, 60} {
		c, l := anyForecast(n)
		plain := c
		plain.Calendars, plain.Steps = c.Calendars[:1], append([]programme.ForecastStep(nil), c.Steps...)
		plain.Points = nil
		for i := range plain.Steps {
			s := &plain.Steps[i]
			s.Owner, s.Supplier, s.Calendar = false, false, ""
		}
		m := whatMoved(t, programme.Known{Case: plain, Learned: l}, programme.Known{Case: seenLater(plain), Learned: l})
		test.Check(t, fmt.Sprintf("%d steps on one calendar: days that are no step's", n), src, 0, m.Missed, 0.05)
		if m.Mean == 0 || len(m.Steps) < 4 {
			t.Errorf("%+v", m)
		}
		m = whatMoved(t, programme.Known{Case: c, Learned: l}, programme.Known{Case: seenLater(c), Learned: l})
		test.Check(t, fmt.Sprintf("%d steps on three calendars, with waits for the owner: days that are no step's", n), src, 0, m.Missed, 0.05)
	}
}

// What the sightings do to the mean is what two forecasts differ by, where
// nothing else differs.
func TestWholeOfStepsIsWhatForecastsDifferBy(t *testing.T) {
	c, l := anyForecast(30)
	c.Calendars = []programme.Calendar{{ID: "yard", Week: "24/7"}, {ID: "maker", Week: "24/7"}}
	later := seenLater(c)
	c.DataDate = later.DataDate
	m := whatMoved(t, programme.Known{Case: c, Learned: l}, programme.Known{Case: later, Learned: l})
	run := programme.Run{Seed: 3, Trials: 512}
	a, b := forecast(t, c, l, run), forecast(t, later, l, run)
	want := float64(b.Launch.Mean-a.Launch.Mean) / 86400
	test.Check(t, "what sightings do to the mean launch, days", "second method: two forecasts with the same draws", want, m.Mean, 1e-3)
}

// Loops, an order at stands that turns round, and steps seen out of order are
// shared out too, and still add up.
func TestPartsOfStepsOfOddNetworks(t *testing.T) {
	c, l := anyForecast(20)
	for _, id := range []string{"wires", "pipes"} { // a supplier's: a wait could push a loop on for ever
		c.Steps = append(c.Steps, programme.ForecastStep{Step: programme.Step{ID: id, Work: map[string]float64{"wires": 12, "pipes": 8}[id]}, Supplier: true})
		c.Links = append(c.Links, programme.Link{From: "s3", To: id}, programme.Link{From: id, To: "s9"})
	}
	c.Links = append(c.Links, programme.Link{From: "wires", To: "pipes", Type: programme.SS, Lag: 1}, programme.Link{From: "pipes", To: "wires", Type: programme.FF, Lag: 1})
	m := whatMoved(t, programme.Known{Case: c, Learned: l}, programme.Known{Case: seenLater(c), Learned: l})
	if math.Abs(m.Missed) > 0.05 || m.Mean == 0 {
		t.Errorf("a loop: %+v", m)
	}
	d, two := atOneMould(t, [2]float64{12, 25}, [2]float64{6, 22}), twoTrades()
	first := forecast(t, d, two, programme.Run{Trials: 10}).Stands[0].Turns[0].First
	other := map[string]int{"in1": 2, "in2": 0}[first]
	later := d
	later.Steps = append([]programme.ForecastStep(nil), d.Steps...)
	later.Steps[other].Seen = []programme.Sighting{{Day: monday - 2, State: programme.NotStarted}, {Day: monday - 1, State: programme.UnderWay}}
	m = whatMoved(t, programme.Known{Case: d, Learned: two}, programme.Known{Case: later, Learned: two})
	if math.Abs(m.Missed) > 0.05 || m.Days == 0 {
		t.Errorf("the other part has the mould: %+v", m)
	}
	odd := sure(lines(t, round, `
		skin 20
		core 5 skin
		launch 10 core`))
	then := odd
	then.Steps = append([]programme.ForecastStep(nil), odd.Steps...)
	then.Steps[0].Seen = []programme.Sighting{{Day: monday - 1, State: programme.UnderWay}}
	then.Steps[1].Seen = []programme.Sighting{{Day: monday - 1, State: programme.Done}}
	m = whatMoved(t, programme.Known{Case: odd, Learned: known}, programme.Known{Case: then, Learned: known})
	if math.Abs(m.Missed) > 0.05 || m.Days == 0 {
		t.Errorf("the core before the skin: %+v", m)
	}
}
