package programme

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"dogshore/calendar"

	"pgregory.net/rapid"
)

// The tables of a clock say what the calendar says, within them and far
// outside, and its maps are adjoint.
func TestClockIsItsCalendar(t *testing.T) {
	day := calendar.Date(2027, 3, 1)
	for _, in := range []Calendar{
		{Week: "Mon-Fri", Closures: []calendar.Closure{{From: day + 4, To: day + 28}, {From: day + 40, To: day + 40, Working: 0.25}}},
		{Week: "Mon-Thu 1, Fri 0.5"}, {Week: "Sat 0.01"}, {Week: "24/7"}, {Week: "24/7", Closures: []calendar.Closure{{From: day + 1, To: day + 2}}},
	} {
		cal, err := calendar.New(in.Week, in.Closures)
		if err != nil {
			t.Fatal(err)
		}
		for _, zero := range []calendar.Moment{calendar.At(day), calendar.At(day + 5)} {
			c := newClock(cal, in.Week == "24/7" && in.Closures == nil, zero, -30, 90)
			rapid.Check(t, func(t *rapid.T) {
				reach := rapid.SampledFrom([]int64{3600, 40 * secondsADay, 5000 * secondsADay}).Draw(t, "reach")
				m, s := rapid.Int64Range(-reach, reach).Draw(t, "m"), rapid.Int64Range(-reach, reach).Draw(t, "s")
				w := rapid.Int64Range(-reach/9, reach/9).Draw(t, "work")
				if got, want := c.worked(m), int64(cal.Worked(zero+calendar.Moment(m))-cal.Worked(zero)); got != want {
					t.Fatalf("%s: worked(%d) = %d, want %d", in.Week, m, got, want)
				}
				k := c.worked(m)
				if got, want := c.latest(k), int64(cal.Latest(cal.Worked(zero+calendar.Moment(m)))-zero); got != want {
					t.Fatalf("%s: latest(%d) = %d, want %d", in.Week, k, got, want)
				}
				if got, want := c.earliest(k), int64(cal.Earliest(cal.Worked(zero+calendar.Moment(m)))-zero); got != want {
					t.Fatalf("%s: earliest(%d) = %d, want %d", in.Week, k, got, want)
				}
				if (c.ahead(m, w) <= s) != (m <= c.behind(s, w)) {
					t.Fatalf("%s: ahead(%d, %d) = %d, behind(%d, %d) = %d", in.Week, m, w, c.ahead(m, w), s, w, c.behind(s, w))
				}
				if f := c.finished(m); c.earliest(f) < m || c.earliest(f-1) >= m {
					t.Fatalf("%s: finished(%d) = %d", in.Week, m, f)
				}
			})
		}
	}
}

// A bridge says what asking both calendars says, where work ends and where it
// goes on, within its tables and beyond.
func TestBridgeIsBothCalendars(t *testing.T) {
	day := calendar.Date(2027, 3, 1)
	zero := calendar.At(day)
	var clocks []*clock
	for _, in := range []Calendar{
		{Week: "Mon-Fri", Closures: []calendar.Closure{{From: day + 4, To: day + 28}, {From: day + 40, To: day + 40, Working: 0.25}}},
		{Week: "Mon-Thu 1, Fri 0.5"}, {Week: "Sat 0.01"}, {Week: "24/7", Closures: []calendar.Closure{{From: day + 1, To: day + 2}}}, {Week: "24/7"},
	} {
		cal, err := calendar.New(in.Week, in.Closures)
		if err != nil {
			t.Fatal(err)
		}
		clocks = append(clocks, newClock(cal, in.Week == "24/7" && in.Closures == nil, zero, -30, 90))
	}
	m := &model{clocks: clocks}
	for a := range clocks {
		for b := range clocks {
			for _, ends := range []bool{false, true} {
				from, to := &place{clock: int32(a)}, &place{clock: int32(b)}
				l := &simLink{finish: ends, clock: int32(len(clocks) - 1), snap: -1}
				bridge := newBridge(clocks[a], clocks[b], ends)
				if bridge == nil {
					if a != b {
						t.Fatalf("no bridge from clock %d to %d", a, b)
					}
					continue
				}
				rapid.Check(t, func(t *rapid.T) {
					reach := rapid.SampledFrom([]int64{3600, 40 * secondsADay, 5000 * secondsADay}).Draw(t, "reach")
					k, out := []int64{rapid.Int64Range(-reach, reach).Draw(t, "work")}, []int64{0}
					ask := func(k int64) int64 { return m.asks(to, from, l, k) }
					if bridge.cross(k, out, ask); out[0] != ask(k[0]) {
						t.Fatalf("from clock %d to %d, ends %v: work %d is %d there, want %d", a, b, ends, k[0], out[0], ask(k[0]))
					}
				})
			}
		}
	}
}

// An order statistic is that of the sorted samples.
func TestStatisticIsThatOfSorted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reach := rapid.SampledFrom([]int64{1, 100, 1 << 40}).Draw(t, "reach")
		x := rapid.SliceOfN(rapid.Int64Range(-reach, reach), 1, 300).Draw(t, "samples")
		q := rapid.Float64Range(0, 1).Draw(t, "share")
		if got, want := statistic(x, q), sample(slices.Sorted(slices.Values(x)), q); got != want {
			t.Fatalf("%g of %v: %d, want %d", q, x, got, want)
		}
	})
}

// Days of work that have nothing in common lay no bridge; the calendars are asked.
func TestBridgeOfOddDays(t *testing.T) {
	day := calendar.Date(2027, 3, 1)
	odd, err := calendar.New("Mon-Fri", []calendar.Closure{{From: day, To: day, Working: 0.333}})
	if err != nil {
		t.Fatal(err)
	}
	even, err := calendar.New("Mon-Fri", nil)
	if err != nil {
		t.Fatal(err)
	}
	a, b := newClock(odd, false, calendar.At(day), -400, 4000), newClock(even, false, calendar.At(day), -400, 4000)
	if newBridge(a, b, true) != nil {
		t.Error("a bridge of more slots than it may have")
	}
	if x := newBridge(b, a, true); x == nil || len(x.slots) > 4400 {
		t.Errorf("from even days %v", x)
	}
}

// The tables of a network that ends in two hundred years hold every launch, so
// that no trial asks a calendar.
func TestTablesReachTheLaunch(t *testing.T) {
	c := ForecastCase{DataDate: calendar.Date(2027, 3, 1), Calendars: []Calendar{{ID: "yard", Week: "Mon-Thu 1, Fri 0.5"}, {ID: "firm", Week: "Mon-Fri"}, {ID: "clock", Week: "24/7"}}}
	for i := range 900 {
		s := ForecastStep{Step: Step{ID: fmt.Sprint(i), Calendar: c.Calendars[i%3].ID}, Spread: Spread{Low: 60, Mode: 80, High: 120}}
		if c.Steps = append(c.Steps, s); i > 0 {
			c.Links = append(c.Links, Link{From: c.Steps[i-1].ID, To: s.ID})
		}
	}
	l := Learned{Visits: LeastVisits, Chains: LeastChains, Draws: []Pace{{Wait: 1}}}
	run := Run{Trials: 64, LaunchOnly: true}
	m, err := newModel(&c, &l, run, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := m.play(context.Background(), run); err != nil {
		t.Fatal(err)
	}
	last := slices.Max(m.last)
	if years := last / secondsADay / 365; years < 180 || years > 300 {
		t.Fatalf("it ends after %d years", years)
	}
	bridges := 0
	for _, p := range m.places {
		for _, link := range p.in {
			if link.bridge == nil {
				continue
			}
			bridges++
			from := m.places[link.from].clock
			if k := m.clocks[from].worked(last); link.bridge.slot(k) >= uint64(len(link.bridge.slots)) {
				t.Fatalf("from clock %d to %d: the launch lies beyond the bridge", from, p.clock)
			}
		}
	}
	if bridges < len(c.Links) {
		t.Errorf("%d bridges for %d links", bridges, len(c.Links))
	}
}
