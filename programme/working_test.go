package programme_test

import (
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/figure"
	"dogshore/programme"

	"pgregory.net/rapid"
)

// explained evaluates every rule of every step with the inputs it shows.
func explained(t rapid.TB, c programme.Case, r programme.Result) *programme.Workings {
	t.Helper()
	w, err := programme.Explain(c, r)
	if err != nil {
		t.Fatal(err)
	}
	fns, err := programme.Functions(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Steps {
		for _, f := range []figure.Figure{
			w.EarlyStart(s.ID), w.EarlyFinish(s.ID), w.LateStart(s.ID), w.LateFinish(s.ID), w.TotalFloat(s.ID), w.FreeFloat(s.ID),
		} {
			if err := figure.Check(f, fns); err != nil {
				t.Fatalf("step %s: %v", s.ID, err)
			}
			needs := s.Floats
			switch f.Symbol {
			case "ES":
				needs = s.StartDated
			case "EF":
				needs = s.Dated
			}
			if needs != (f.Rule != "") {
				t.Fatalf("step %s: %s has the rule %q", s.ID, f.Symbol, f.Rule)
			}
		}
		if got := w.EarlyStart(s.ID).Value; s.Dated && got != float64(s.EarlyStart)/86400 {
			t.Fatalf("step %s: shown start %g, result %s", s.ID, got, s.EarlyStart)
		}
		if got := w.LateFinish(s.ID).Value; s.Floats && got != float64(s.LateFinish)/86400 {
			t.Fatalf("step %s: shown late finish %g, result %s", s.ID, got, s.LateFinish)
		}
	}
	return w
}

func TestEveryNumberOfTheCatamaranHasItsWorking(t *testing.T) {
	c := templateCase(t)
	explained(t, c, pass(t, c))
}

func TestWorkingOfWhatIsUnderWay(t *testing.T) {
	c := templateCase(t)
	c.DataDate = calendar.Date(2027, 4, 7)
	step(t, &c, "HM").Seen = []programme.Sighting{seen(0, programme.NotStarted), seen(14, programme.Done)}
	step(t, &c, "HL").Seen = []programme.Sighting{seen(14, programme.NotStarted), seen(21, programme.UnderWay)}
	step(t, &c, "BF").Seen = []programme.Sighting{seen(21, programme.UnderWay), seen(37, programme.UnderWay)}
	step(t, &c, "DM").NotFrom = calendar.Date(2027, 5, 2)
	step(t, &c, "LA").NotAfter = calendar.Date(2027, 9, 1)
	left := 9.0
	step(t, &c, "RG").Seen = []programme.Sighting{seen(21, programme.UnderWay)}
	step(t, &c, "RG").Left = &left
	w := explained(t, c, pass(t, c))
	if f := w.EarlyFinish("BF"); !strings.Contains(rules(f), "OD = max(0, OD0 - days(C, S0, M0))") {
		t.Errorf("what is left of BF has no working: %s", rules(f))
	}
}

func rules(f figure.Figure) string {
	out := f.Rule + "\n"
	for _, in := range f.Of {
		out += rules(in)
	}
	return out
}

func TestWorkingsOfAnyNetwork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyNetwork(t, threeCalendars, true)
		for i := range c.Steps {
			if rapid.IntRange(0, 5).Draw(t, "hard date") == 0 {
				c.Steps[i].NotAfter = monday + calendar.Day(rapid.IntRange(0, 30).Draw(t, "by"))
			}
			if rapid.IntRange(0, 5).Draw(t, "no length") == 0 {
				c.Steps[i].Known, c.Steps[i].Work, c.Steps[i].Hours = false, 0, 0
			}
		}
		r, err := programme.Pass(c)
		if err != nil {
			t.Skip("a loop that can't be met")
		}
		explained(t, c, r)
	})
}

func TestWorkingDownToTheEntries(t *testing.T) {
	c := templateCase(t)
	w, err := programme.Explain(c, pass(t, c))
	if err != nil {
		t.Fatal(err)
	}
	asked := map[programme.Input]bool{}
	w.Name = func(id string) string { return "the " + id }
	w.Entry = func(what programme.Input, of string) *figure.Entered {
		asked[what] = true
		return &figure.Entered{As: of, Who: "owner"}
	}
	f := w.EarlyStart("DC")
	for _, what := range []programme.Input{programme.Length, programme.Week, programme.Status} {
		if !asked[what] {
			t.Errorf("nobody asked where the %s comes from", what)
		}
	}
	if f.Says != "early start of the DC" || f.Text != "Fri 2 April 2027, 08:00" {
		t.Errorf("says %q, %q", f.Says, f.Text)
	}
	yard := w.Calendar("yard")
	d, err := w.Decide(f, []programme.Lead{{Says: "decide", Days: 3, Calendar: yard}, {Says: "check", Days: 8, Calendar: yard}, {Says: "make", Days: 10, Calendar: yard}})
	if err != nil {
		t.Fatal(err)
	}
	if d.Rule != "D = back(C1, back(C2, back(C3, ES, L3), L2), L1)" || yard.ByEndOf(calendar.Moment(d.Value*86400+0.5)) != calendar.Date(2027, 3, 1) {
		t.Errorf("decide by %s: %s", d.Text, d.Rule)
	}
	fns, err := programme.Functions(c)
	if err != nil {
		t.Fatal(err)
	}
	if err := figure.Check(d, fns); err != nil {
		t.Error(err)
	}
	if _, err := w.Decide(f, []programme.Lead{{Says: "elsewhere", Days: 1, Calendar: calendar.Elapsed()}}); err == nil {
		t.Error("a lead on a calendar that the case does not have passed")
	}
}
