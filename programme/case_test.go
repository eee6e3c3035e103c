package programme_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/programme"
)

// monday is day 0 of the worked networks: Monday 1 March 2027.
var monday = calendar.Date(2027, time.March, 1)

// allDays is a calendar on which working day k is the k-th day after monday.
var allDays = []programme.Calendar{{ID: "all", Week: "Mon-Sun"}}

// lines reads a small network, a step a line:
//
//	ID length [waits for, ...]     B 8 A SS+2, C, D FF-1
func lines(t testing.TB, cals []programme.Calendar, text string) programme.Case {
	t.Helper()
	c := programme.Case{DataDate: monday, Calendars: cals}
	link := regexp.MustCompile(`^(\S+?)(?: (FS|SS|FF|SF))?(?: ?([+-][0-9.]+))?$`)
	for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
		f := strings.SplitN(strings.TrimSpace(line), " ", 3)
		if len(f) < 2 {
			t.Fatalf("line %q has no length", line)
		}
		s := programme.Step{ID: f[0]}
		if f[1] != "?" {
			s.Known, s.Work = true, number(t, f[1])
		}
		c.Steps = append(c.Steps, s)
		if len(f) < 3 {
			continue
		}
		for _, item := range strings.Split(f[2], ",") {
			m := link.FindStringSubmatch(strings.TrimSpace(item))
			if m == nil {
				t.Fatalf("line %q: link %q", line, item)
			}
			l := programme.Link{From: m[1], To: s.ID, Type: programme.LinkType(m[2])}
			if m[3] != "" {
				l.Lag = number(t, m[3])
			}
			c.Links = append(c.Links, l)
		}
	}
	return c
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func pass(t testing.TB, c programme.Case) programme.Result {
	t.Helper()
	r, err := programme.Pass(c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func times(t testing.TB, r programme.Result, id string) programme.Times {
	t.Helper()
	for _, s := range r.Steps {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("no step %q", id)
	return programme.Times{}
}

func step(t testing.TB, c *programme.Case, id string) *programme.Step {
	t.Helper()
	for i := range c.Steps {
		if c.Steps[i].ID == id {
			return &c.Steps[i]
		}
	}
	t.Fatalf("no step %q", id)
	return nil
}

// worked returns m in working days after the morning of monday.
func worked(t testing.TB, in programme.Calendar, m calendar.Moment) float64 {
	t.Helper()
	cal, err := calendar.New(in.Week, in.Closures)
	if err != nil {
		t.Fatal(err)
	}
	return cal.Between(calendar.At(monday), m)
}

func mean(a, m, b float64) float64 { return (a + 4*m + b) / 6 }

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }
