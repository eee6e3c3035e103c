package calendar_test

import (
	"strings"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/internal/test"

	"pgregory.net/rapid"
)

func newCalendar(t testing.TB, week string, closures ...calendar.Closure) *calendar.Calendar {
	t.Helper()
	c, err := calendar.New(week, closures)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func moment(t testing.TB, s string) calendar.Moment {
	t.Helper()
	var m calendar.Moment
	if err := m.UnmarshalText([]byte(s)); err != nil {
		t.Fatal(err)
	}
	return m
}

func day(t testing.TB, s string) calendar.Day {
	t.Helper()
	d, err := calendar.ParseISO(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// easter are the closures of the worked calendars, with Thursday 25 March as a
// half day if half.
func easter(half bool) []calendar.Closure {
	off := []calendar.Closure{
		{From: calendar.Date(2027, 3, 26), To: calendar.Date(2027, 3, 26), Why: "holiday"},
		{From: calendar.Date(2027, 3, 29), To: calendar.Date(2027, 3, 29), Why: "holiday"},
	}
	if half {
		d := calendar.Date(2027, 3, 25)
		off = append(off, calendar.Closure{From: d, To: d, Working: 0.5})
	}
	return off
}

func TestFinishOfWork(t *testing.T) {
	for _, c := range []struct {
		name, week string
		closures   []calendar.Closure
		from       string
		days       float64
		finish     string
		lastDay    string
	}{
		{"half Fridays", "Mon-Thu 1, Fri 0.5", nil, "2027-03-01 00:00", 5, "2027-03-08 12:00", "2027-03-08"},
		{"two holidays", "Mon-Fri", easter(false), "2027-03-01 08:00", 20, "2027-03-30 16:00", "2027-03-30"},
		{"across two holidays", "Mon-Fri", easter(false), "2027-03-22 08:00", 7, "2027-04-01 16:00", "2027-04-01"},
		{"and a half day", "Mon-Fri", easter(true), "2027-03-22 08:00", 7, "2027-04-02 12:00", "2027-04-02"},
	} {
		t.Run(c.name, func(t *testing.T) {
			cal := newCalendar(t, c.week, c.closures...)
			got := cal.Forward(moment(t, c.from), c.days)
			src := "schedule-money sheet, check 9 [computed/derived], independent of this code"
			test.Check(t, "finish on "+c.name+", hours after the day number", src,
				float64(moment(t, c.finish))/3600, float64(got)/3600, 0)
			if d := cal.LastDay(got); d != day(t, c.lastDay) {
				t.Errorf("last day = %s, want %s", d, c.lastDay)
			}
		})
	}
}

func TestLagOverAWeekend(t *testing.T) {
	cal := newCalendar(t, "Mon-Fri")
	friday := moment(t, "2027-03-05 14:00")
	for _, c := range []struct {
		name string
		got  calendar.Moment
		want string
	}{
		{"24 h of cure", cal.NextWorking(friday.After(24)), "2027-03-08 08:00"},
		{"1 working day", cal.NextWorking(cal.Forward(friday, 1)), "2027-03-08 14:00"},
	} {
		test.Check(t, "start after "+c.name+" from Friday 14:00, hours", "schedule-money sheet, check 9 [derived]",
			float64(moment(t, c.want))/3600, float64(c.got)/3600, 0)
	}
}

func TestCountingBackInDays(t *testing.T) {
	cal := newCalendar(t, "Mon-Fri")
	got := cal.DaysBack(calendar.Date(2026, 3, 16), 13)
	test.Check(t, "13 working days back from Mon 16 March 2026, day number", "yard-practice sheet, CV-18 [computed]",
		float64(calendar.Date(2026, 2, 25)), float64(got), 0)
	if n := cal.WorkingDays(got, calendar.Date(2026, 3, 16)); n != 13 {
		t.Errorf("working days between = %g, want 13", n)
	}
	// The same thirteen days end in time if settled by the evening before.
	if d := cal.ByEndOf(cal.Back(calendar.At(calendar.Date(2026, 3, 16)), 13)); d != calendar.Date(2026, 2, 24) {
		t.Errorf("by the end of %s, want 2026-02-24", d)
	}
	if d := cal.DaysOn(calendar.Date(2026, 3, 13), 1); d != calendar.Date(2026, 3, 16) {
		t.Errorf("one working day on from a Friday is %s", d)
	}
}

func TestStartRollsForward(t *testing.T) {
	cal := newCalendar(t, "Mon-Fri")
	if got := cal.NextWorking(moment(t, "2027-03-05 16:00")); got != moment(t, "2027-03-08 08:00") {
		t.Errorf("Friday evening rolls to %s, want Monday morning", got)
	}
	if got := cal.LastStart(moment(t, "2027-03-06 12:00")); got != moment(t, "2027-03-05 15:59:59") {
		t.Errorf("last start before Saturday noon = %s", got)
	}
	// A day of work that may not be finished before Saturday noon has its last
	// second on Monday.
	s := cal.StartFor(moment(t, "2027-03-06 12:00"), cal.Of(1))
	if got := cal.Forward(s, 1); got != moment(t, "2027-03-08 08:00:01") {
		t.Errorf("finish = %s, want a second into Monday", got)
	}
}

func TestNewRefuses(t *testing.T) {
	for _, c := range []struct {
		week     string
		closures []calendar.Closure
		says     string
	}{
		{"", nil, "empty"},
		{"Mon 0, Tue 0", nil, "never works"},
		{"Lun-Ven", nil, `"lun" is not a day`},
		{"Mon-Fri, Fri 0.5", nil, "names Fri twice"},
		{"Mon 1.5", nil, "not a part of a day"},
		{"Mon 8h", nil, `"8h" is not the part`},
		{"Mon-Fri", []calendar.Closure{{From: 40010, To: 40000}}, "before it begins"},
		{"Mon-Fri", []calendar.Closure{{From: 1, To: 2}}, "outside the years"},
		{"Mon-Fri", []calendar.Closure{{From: 40000, To: 40000, Working: -1}}, "not a part of a day"},
	} {
		_, err := calendar.New(c.week, c.closures)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("New(%q) = %v, want an error that says %q", c.week, err, c.says)
		}
	}
}

func TestWeeksThatMeanTheSame(t *testing.T) {
	for in, want := range map[string]string{
		"monday to thursday; Fri 0,5": "Mon-Thu, Fri 0.5",
		"Mo-Fr":                       "Mon-Fri",
		"Sat–Sun":                     "Sat-Sun",
		"sun-tue ½":                   "Mon-Tue 0.5, Sun 0.5",
		" 24/7 ":                      "24/7",
	} {
		if got := newCalendar(t, in).Week(); got != want {
			t.Errorf("%q reads as %q, want %q", in, got, want)
		}
	}
}

// anyCalendar draws calendars of every sort: part days, closures that overlap,
// abut or cover whole weeks, and days that run from midnight.
func anyCalendar(t *rapid.T) (*calendar.Calendar, []calendar.Closure) {
	week := rapid.SampledFrom([]string{"Mon-Fri", "Mon-Thu 1, Fri 0.5", "24/7", "Sat 0.01", "Mon-Sun 0.33", "Tue, Thu 0.25"}).Draw(t, "week")
	start := calendar.Date(2027, 1, 1)
	var closures []calendar.Closure
	for range rapid.IntRange(0, 4).Draw(t, "closures") {
		from := start + calendar.Day(rapid.IntRange(0, 120).Draw(t, "from"))
		to := from + calendar.Day(rapid.IntRange(0, 30).Draw(t, "long"))
		working := rapid.SampledFrom([]float64{0, 0, 0.25, 0.5, 1}).Draw(t, "working")
		closures = append(closures, calendar.Closure{From: from, To: to, Working: working})
	}
	c, err := calendar.New(week, closures)
	if err != nil {
		t.Fatal(err)
	}
	return c, closures
}

// anyMoment draws moments inside the closures' months and far outside, near
// the ends of days more often than not.
func anyMoment(t *rapid.T, name string) calendar.Moment {
	d := calendar.Date(2027, 1, 1) + calendar.Day(rapid.OneOf(rapid.IntRange(-20, 160), rapid.IntRange(-9000, 9000)).Draw(t, name+" day"))
	return calendar.At(d) + calendar.Moment(rapid.OneOf(
		rapid.SampledFrom([]int{0, 1, 28799, 28800, 28801, 43200, 57599, 57600, 57601, 86399}),
		rapid.IntRange(0, 86399)).Draw(t, name+" second"))
}

// Nothing but this pair makes off-by-ones impossible.
func TestForwardAndBackAreAdjoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, _ := anyCalendar(t)
		m, s := anyMoment(t, "from"), anyMoment(t, "to")
		d := float64(rapid.IntRange(0, 4*20).Draw(t, "quarters")) / 4
		if near := rapid.IntRange(-2, 2).Draw(t, "near"); near != 2 {
			s = c.Forward(m, d) + calendar.Moment(near)
		}
		if (c.Forward(m, d) <= s) != (m <= c.Back(s, d)) {
			t.Fatalf("on %q: forward(%s, %g) = %s, back(%s, %g) = %s", c.Week(), m, d, c.Forward(m, d), s, d, c.Back(s, d))
		}
	})
}

func TestRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, _ := anyCalendar(t)
		m := anyMoment(t, "from")
		d := float64(rapid.IntRange(1, 400).Draw(t, "eighths")) / 8
		start := c.NextWorking(m)
		finish := c.Forward(start, d)
		if got := c.Back(finish, d); got != start {
			t.Fatalf("back from %s = %s, want %s", finish, got, start)
		}
		if got := c.Between(start, finish); got != c.Days(c.Of(d)) {
			t.Fatalf("between = %v, want %v", got, d)
		}
		if got := c.Forward(finish, -d); c.NextWorking(got) != start {
			t.Fatalf("less than nothing forward from %s = %s, want %s", finish, got, start)
		}
		if s := c.StartFor(finish, c.Of(d)); s != start {
			t.Fatalf("start for %s = %s, want %s", finish, s, start)
		}
	})
}

// The closed form must equal counting second by second of each day.
func TestWorkedEqualsCountingDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, closures := anyCalendar(t)
		from := anyMoment(t, "from").Day()
		n := calendar.Day(rapid.IntRange(0, 200).Draw(t, "days"))
		var want calendar.Work
		for d := from; d < from+n; d++ {
			want += c.Of(partOf(c.Week(), closures, d))
		}
		if got := c.Worked(calendar.At(from+n)) - c.Worked(calendar.At(from)); got != want {
			t.Fatalf("on %q from %s, %d days: worked %d s, want %d", c.Week(), from, n, got, want)
		}
	})
}

// partOf says how much of d is worked, a second time, from the few weeks that
// anyCalendar draws.
func partOf(week string, closures []calendar.Closure, d calendar.Day) float64 {
	w := d.Weekday()
	part := 0.0
	switch week {
	case "24/7":
		part = 1
	case "Mon-Sun 0.33":
		part = 0.33
	case "Sat 0.01":
		if w == time.Saturday {
			part = 0.01
		}
	case "Tue, Thu 0.25":
		if w == time.Tuesday {
			part = 1
		} else if w == time.Thursday {
			part = 0.25
		}
	default:
		if w >= time.Monday && w <= time.Friday {
			part = 1
		}
		if w == time.Friday && strings.HasSuffix(week, "0.5") {
			part = 0.5
		}
	}
	for _, cl := range closures {
		if d >= cl.From && d <= cl.To {
			part = min(part, cl.Working)
		}
	}
	return part
}

func TestDaysBackFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, _ := anyCalendar(t)
		d := anyMoment(t, "day").Day()
		n := float64(rapid.IntRange(1, 30).Draw(t, "n"))
		b := c.DaysBack(d, n)
		if c.WorkingDays(b, d) < n || c.WorkingDays(b+1, d) >= n {
			t.Fatalf("%g days back from %s is %s: %g fit, %g a day later", n, d, b, c.WorkingDays(b, d), c.WorkingDays(b+1, d))
		}
		m := c.Back(calendar.At(d), n)
		if e := c.ByEndOf(m); calendar.At(e+1) > m && c.Between(m, calendar.At(e+1)) > 0 {
			t.Fatalf("by the end of %s comes after %s", e, m)
		}
	})
}

func TestLatestOf(t *testing.T) {
	days := []calendar.Day{10, 20, 15}
	if d, ok := calendar.LatestOf(days, 19); !ok || d != 15 {
		t.Errorf("got %d", d)
	}
	if _, ok := calendar.LatestOf(days, 9); ok {
		t.Error("found a day before the first")
	}
}

func TestMomentText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMoment(t, "m")
		b, _ := m.MarshalText()
		var got calendar.Moment
		if err := got.UnmarshalText(b); err != nil || got != m {
			t.Fatalf("%q reads as %s, %v", b, got, err)
		}
	})
	var m calendar.Moment
	if err := m.UnmarshalText([]byte("Monday")); err == nil {
		t.Error("Monday was read as a moment")
	}
}

func FuzzWeek(f *testing.F) {
	for _, s := range []string{"Mon-Thu 1, Fri 0.5", "Mon-Fri", "24/7", "Sat-Tue 0,25", "Mon 1;Tue", "-", "mon-,1", "½", "Mon 1e9"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := calendar.New(s, nil)
		if err != nil {
			return
		}
		again, err := calendar.New(c.Week(), nil)
		if err != nil || again.Week() != c.Week() {
			t.Fatalf("%q prints as %q, which reads as %v, %v", s, c.Week(), again, err)
		}
		m := calendar.At(calendar.Date(2027, 1, 1))
		if got := again.Forward(m, 7); got != c.Forward(m, 7) {
			t.Fatalf("%q and %q count differently", s, c.Week())
		}
	})
}
