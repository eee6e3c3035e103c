package programme_test

import (
	"fmt"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/internal/test"
	"dogshore/programme"
)

// check compares a step's times, in days after day 0, with published ones;
// NaN-free: a field left out of want is not compared.
func check(t *testing.T, r programme.Result, src, id string, want map[string]float64) {
	t.Helper()
	s := times(t, r, id)
	got := map[string]float64{
		"ES": worked(t, allDays[0], s.EarlyStart), "EF": worked(t, allDays[0], s.EarlyFinish),
		"LS": worked(t, allDays[0], s.LateStart), "LF": worked(t, allDays[0], s.LateFinish),
		"TF": s.Total, "FF": s.Free,
	}
	for _, what := range []string{"ES", "EF", "LS", "LF", "TF", "FF"} {
		if w, ok := want[what]; ok {
			test.Check(t, fmt.Sprintf("%s of %s, days", what, id), src, w, got[what], 0.005)
		}
	}
}

func critical(t *testing.T, r programme.Result, src, want string) {
	t.Helper()
	if got := strings.Join(r.Critical, " "); got != want {
		t.Errorf("critical %s, want %s (%s)", got, want, src)
	}
}

func TestFourteenActivities(t *testing.T) {
	row := func(id string, a, m, b float64, waits string) string {
		return fmt.Sprintf("%s %.12f %s", id, mean(a, m, b), waits)
	}
	c := lines(t, allDays, strings.Join([]string{
		row("A", 5, 5, 7, ""), row("B", 1, 2, 5, ""), row("C", 5, 5, 5, "A"), row("D", 4, 8, 13, "A"),
		row("E", 1, 10, 17, "B, C"), row("F", 1, 5, 7, "D"), row("G", 2, 6, 9, "D"), row("H", 4, 4, 6, "E, F"),
		row("I", 2, 7, 10, "G, H"), row("J", 2, 4, 7, "I"), row("K", 6, 10, 13, "I"), row("L", 2, 6, 6, "J"),
		row("M", 2, 2, 3, "K"), row("N", 7, 7, 12, "L, M"),
	}, "\n"))
	r := pass(t, c)
	src := "solved textbook PERT problem, slack of A to F [read: schedule-money S54]"
	for id, tf := range map[string]float64{"A": 0, "B": 8, "C": 0, "D": 1.83, "E": 0, "F": 1.83} {
		check(t, r, src, id, map[string]float64{"TF": tf})
	}
	check(t, r, src, "E", map[string]float64{"ES": 10.33, "EF": 20})
	src = "the same, schedule-money sheet, check 3 [computed]"
	test.Check(t, "length on mean durations, days", src, 50.8333, worked(t, allDays[0], r.Finish), 0.00005)
	for id, tf := range map[string]float64{"G": 5, "J": 2.5, "L": 2.5} {
		check(t, r, src, id, map[string]float64{"TF": tf})
	}
	critical(t, r, src, "A C E H I K M N")
}

func TestTenActivities(t *testing.T) {
	c := lines(t, allDays, `
		A 6
		B 3
		C 4
		D 2 A
		E 3 B
		F 5 C
		G 3 C
		H 5 E, F
		I 5 D
		J 3 G, H`)
	r := pass(t, c)
	src := "lecture slides, PERT problem 1: C-F-H-J, 17 weeks [read: schedule-money S55]"
	test.Check(t, "length on mean durations, weeks", src, 17, worked(t, allDays[0], r.Finish), 0)
	critical(t, r, src, "C F H J")
	for i, tf := range []float64{4, 3, 0, 4, 3, 0, 7, 0, 4, 0} {
		check(t, r, "the same, check 4 [computed]", string(rune('A'+i)), map[string]float64{"TF": tf})
	}
}

func TestSixActivities(t *testing.T) {
	c := lines(t, allDays, `
		A 5
		B 3 A
		C 1 A
		D 2 B
		E 3 B, C
		F 4 D, E`)
	r := pass(t, c)
	src := "university article on PERT, table 1 [input read: schedule-money S56; result computed there, check 5]"
	test.Check(t, "length on mean durations, days", src, 15, worked(t, allDays[0], r.Finish), 0)
	critical(t, r, src, "A B E F")
	check(t, r, src, "C", map[string]float64{"TF": 2})
	check(t, r, src, "D", map[string]float64{"TF": 1})
}

func TestStartToStart(t *testing.T) {
	c := lines(t, allDays, `
		A 2
		B 10 A SS
		C 13 A
		D 12 A
		E 12 B
		F 7 B
		G 10 D
		H 16 D
		I 6 F
		J 12 C, G SS
		K 5 I SS
		L 8 E, I, K
		M 5 H
		N 3 G, J, L, M`)
	r := pass(t, c)
	src := "precedence-diagram teaching example [input read: schedule-money S57; result computed there, check 6]"
	test.Check(t, "length, days", src, 38, worked(t, allDays[0], r.Finish), 0)
	critical(t, r, src, "A D H M N")
	for id, v := range map[string][4]float64{
		"B": {0, 4, 4, 0}, "C": {2, 10, 8, 0}, "E": {10, 15, 5, 1}, "F": {10, 14, 4, 0}, "G": {14, 23, 9, 1},
		"I": {17, 21, 4, 0}, "J": {15, 23, 8, 8}, "K": {17, 22, 5, 1}, "L": {23, 27, 4, 4},
	} {
		check(t, r, src, id, map[string]float64{"ES": v[0], "LS": v[1], "TF": v[2], "FF": v[3]})
	}
}

const allFour = `
	A 5
	B 8 A SS+2
	C 4 B FF+3
	D 6 A FS+1
	E 3 D SF+9, C FS-1
	G 2 D
	H 4 A SS+1
	X 0 B, E, G, H`

func TestAllFourRelations(t *testing.T) {
	r := pass(t, lines(t, allDays, allFour))
	src := "schedule-money sheet, check 7 [computed]"
	test.Check(t, "length, days", src, 15, worked(t, allDays[0], r.Finish), 0)
	es := map[string]float64{"A": 0, "B": 2, "C": 9, "D": 6, "E": 12, "G": 12, "H": 1, "X": 15}
	tf := map[string]float64{"A": 0, "B": 0, "C": 0, "D": 0, "E": 0, "G": 1, "H": 10, "X": 0}
	for id := range es {
		check(t, r, src, id, map[string]float64{"ES": es[id], "TF": tf[id], "FF": tf[id]})
	}
}

func TestHardDateGivesNegativeFloat(t *testing.T) {
	c := lines(t, allDays, allFour)
	step(t, &c, "X").NotAfter = monday + 12 // by the end of day 12 is 13 days on
	r := pass(t, c)
	src := "schedule-money sheet, check 7 [derived]"
	for id, tf := range map[string]float64{"A": -2, "B": -2, "C": -2, "D": -2, "E": -2, "X": -2, "G": -1, "H": 8} {
		check(t, r, src, id, map[string]float64{"TF": tf})
	}
	critical(t, r, src, "A B C D E X")
}

func TestRetainedLogic(t *testing.T) {
	c := lines(t, allDays, `
		A 10
		B 10 A
		C 5 B`)
	c.DataDate = monday + 6
	left := func(d float64) *float64 { return &d }
	a, b := step(t, &c, "A"), step(t, &c, "B")
	a.Seen = []programme.Sighting{{Day: monday, State: programme.UnderWay}}
	a.Left = left(6)
	b.Seen = []programme.Sighting{{Day: monday + 3, State: programme.NotStarted}, {Day: monday + 4, State: programme.UnderWay}}
	b.Left = left(8)
	r := pass(t, c)
	src := "schedule-money sheet, check 8, retained logic [derived]"
	for id, ef := range map[string]float64{"A": 12, "B": 20, "C": 25} {
		check(t, r, src, id, map[string]float64{"EF": ef})
	}
	critical(t, r, src, "A B C")
}

func TestLagOnEitherClock(t *testing.T) {
	// A step that ends on Friday at 14:00 and a successor 24 h of cure, or one
	// working day, later.
	cals := []programme.Calendar{{ID: "yard", Week: "Mon-Fri"}}
	for _, c := range []struct {
		link programme.Link
		want string
	}{
		{programme.Link{From: "A", To: "B", Hours: 24}, "2027-03-08 08:00"},
		{programme.Link{From: "A", To: "B", Lag: 1}, "2027-03-08 14:00"},
	} {
		r := pass(t, programme.Case{DataDate: monday, Calendars: cals, Links: []programme.Link{c.link}, Steps: []programme.Step{
			{ID: "A", Work: 4.75}, {ID: "B", Work: 1},
		}})
		var want calendar.Moment
		if err := want.UnmarshalText([]byte(c.want)); err != nil {
			t.Fatal(err)
		}
		test.Check(t, fmt.Sprintf("start after a lag of %g days, %g h, hours", c.link.Lag, c.link.Hours),
			"schedule-money sheet, check 9 [derived]", float64(want)/3600, float64(times(t, r, "B").EarlyStart)/3600, 0)
	}
}
