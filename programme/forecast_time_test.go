package programme

import (
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
