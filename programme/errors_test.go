package programme_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/programme"
)

func problems(t *testing.T, c programme.Case) []programme.Problem {
	t.Helper()
	_, err := programme.Pass(c)
	var bad *programme.Invalid
	if !errors.As(err, &bad) {
		t.Fatalf("%+v: error %v, want an Invalid", c, err)
	}
	return bad.Problems
}

func TestEveryProblemIsTold(t *testing.T) {
	neg := -1.0
	c := programme.Case{
		Calendars: []programme.Calendar{{ID: "yard", Week: "Mon-Fri"}, {ID: "yard", Week: "Mon"}, {ID: "oven", Week: "never"}, {Week: "Mon"}},
		Steps: []programme.Step{
			{ID: "core", Work: 1, Calendar: "mast maker"},
			{ID: "core", Work: 1},
			{Work: 2},
			{ID: "bag", Work: -3},
			{ID: "cure", Work: 1, Hours: 24},
			{ID: "trim", Work: math.NaN()},
			{ID: "sand", Left: &neg},
			{ID: "fair", Seen: []programme.Sighting{{Day: monday, State: "nearly"}, {State: programme.Done}}},
		},
		Links: []programme.Link{
			{From: "core", To: "keel"},
			{From: "core", To: "bag", Type: "XX"},
			{From: "bag", To: "cure", Lag: 1, Hours: 24},
			{From: "bag", To: "trim", Lag: 1, Calendar: "rigger"},
		},
	}
	got := problems(t, c)
	for _, want := range []struct {
		rule programme.Rule
		says string
	}{
		{programme.NoDataDate, "data date"},
		{programme.Duplicate, `two calendars have the id "yard"`},
		{programme.BadCalendar, `calendar "oven"`},
		{programme.NoID, "a calendar with the week"},
		{programme.NoCalendar, `"mast maker"`},
		{programme.Duplicate, `steps 1 and 2 have the same id "core"`},
		{programme.NoID, "step 3"},
		{programme.BadLength, `"bag": -3 working days`},
		{programme.BadLength, `"cure" has both`},
		{programme.BadLength, `"trim": NaN`},
		{programme.BadLength, `"sand": -1 days left`},
		{programme.BadSighting, `"nearly"`},
		{programme.BadSighting, "no day"},
		{programme.NoStep, `no step "keel"`},
		{programme.BadLink, `"XX"`},
		{programme.BadLink, "not both"},
		{programme.NoCalendar, `"rigger"`},
	} {
		if !slices.ContainsFunc(got, func(p programme.Problem) bool {
			return p.Rule == want.rule && strings.Contains(p.Says, want.says)
		}) {
			t.Errorf("no problem %q that says %s among %+v", want.rule, want.says, got)
		}
	}
	if len(got) != 17 {
		t.Errorf("%d problems, want 17: %+v", len(got), got)
	}
}

func TestCycleIsNamedByItsSteps(t *testing.T) {
	c := lines(t, allDays, `
		a 1
		b 1 a
		c 1 b
		d 1 c`)
	c.Links = append(c.Links, programme.Link{From: "d", To: "b"})
	got := problems(t, c)
	if len(got) != 1 || got[0].Rule != programme.Cycle {
		t.Fatalf("problems %+v", got)
	}
	steps := slices.Clone(got[0].Steps)
	slices.Sort(steps)
	if !slices.Equal(steps, []string{"b", "c", "d"}) {
		t.Errorf("cycle of %v, want b, c, d", got[0].Steps)
	}
	for i := range got[0].Steps { // each is waited for by the next
		from, to := got[0].Steps[i], got[0].Steps[(i+1)%3]
		if !slices.ContainsFunc(c.Links, func(l programme.Link) bool { return l.From == from && l.To == to }) {
			t.Errorf("%v: no link from %s to %s", got[0].Steps, from, to)
		}
	}
	c.Links = []programme.Link{{From: "a", To: "a"}}
	if got := problems(t, c); got[0].Rule != programme.Cycle {
		t.Errorf("a step that waits for itself: %+v", got)
	}
}

// B starts after A starts and A finishes after B finishes: legal. Two FS links
// in a ring are not.
func TestLegalLoop(t *testing.T) {
	c := lines(t, allDays, `
		A 6 B FF+1
		B 2 A SS+2`)
	r := pass(t, c)
	if a, b := times(t, r, "A"), times(t, r, "B"); worked(t, allDays[0], a.EarlyStart) != 0 || worked(t, allDays[0], b.EarlyStart) != 2 {
		t.Errorf("A %s, B %s", a.EarlyStart, b.EarlyStart)
	}
	if want := []string{"A", "B"}; !slices.Equal(r.Order, want) {
		t.Errorf("order %v", r.Order)
	}
	c = lines(t, allDays, `
		A 3 B FF+1
		B 2 A SS+2`)
	got := problems(t, c)
	if len(got) != 1 || got[0].Rule != programme.Cycle || !strings.Contains(got[0].Says, "push each other") {
		t.Errorf("problems %+v: A would have to be longer by two days", got)
	}
}

func TestSightingAfterTheDataDate(t *testing.T) {
	c := lines(t, allDays, "a 1")
	c.Steps[0].Seen = []programme.Sighting{seen(1, programme.Done)}
	if got := problems(t, c); got[0].Rule != programme.BadSighting {
		t.Errorf("problems %+v", got)
	}
}

func TestProgrammeThatNeverEnds(t *testing.T) {
	c := programme.Case{DataDate: monday, Calendars: []programme.Calendar{{ID: "odd", Week: "Mon 0.01"}}}
	for _, id := range []string{"a", "b", "c"} {
		c.Steps = append(c.Steps, programme.Step{ID: id, Work: 36525})
	}
	c.Links = []programme.Link{{From: "a", To: "b"}, {From: "b", To: "c"}}
	if got := problems(t, c); got[0].Rule != programme.Endless {
		t.Errorf("problems %+v", got)
	}
}

func TestNoCalendarIsNeeded(t *testing.T) {
	c := programme.Case{DataDate: monday, Steps: []programme.Step{{ID: "skin"}, {ID: "core"}, {ID: "cure", Hours: 48}},
		Links: []programme.Link{{From: "skin", To: "core"}}}
	r := pass(t, c)
	if got := times(t, r, "cure").EarlyFinish; got != calendar.At(monday+2) {
		t.Errorf("48 h from the data date end at %s", got)
	}
	if !slices.Equal(r.Frontier, []string{"skin", "cure"}) {
		t.Errorf("frontier %v", r.Frontier)
	}
	c.Steps[0].Work = 1
	if got := problems(t, c); got[0].Rule != programme.NoCalendar {
		t.Errorf("problems %+v", got)
	}
}

func TestEmptyCase(t *testing.T) {
	r := pass(t, programme.Case{DataDate: monday})
	if !r.Dated || r.Finish != 0 || r.LongestPath() != nil {
		t.Errorf("%+v", r)
	}
}
