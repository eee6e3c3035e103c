package programme_test

import (
	"testing"

	"dogshore/calendar"
	"dogshore/figure"
	"dogshore/programme"
)

// Every rule shown for a forecast gives the value shown, and the value shown is
// the outlook's.
func TestForecastWorkings(t *testing.T) {
	c, l := anyForecast(30)
	c.Points[0].Covers = []string{"s4"}
	c.Contract = []calendar.Day{monday + 250}
	o := forecast(t, c, l, programme.Run{Seed: 2, Trials: 1234})
	for _, f := range []figure.Figure{o.Decide("p"), o.TooLate("p")} {
		if err := figure.Check(f, o.Functions("p")); err != nil || f.Rule == "" {
			t.Errorf("%s: rule %q, %v", f.Says, f.Rule, err)
		}
	}
	for _, f := range []figure.Figure{o.Launched(0.1), o.Launched(0.5), o.Launched(0.8), o.Launched(0.9), o.ByDay(monday + 250)} {
		if err := figure.Check(f, o.Functions("")); err != nil || f.Rule == "" {
			t.Errorf("%s: rule %q, %v", f.Says, f.Rule, err)
		}
	}
	if o.Decide("p").Value != float64(o.Points[0].Decide)/86400 || o.Launched(0.8).Value != float64(o.Launch.P80)/86400 || o.TooLate("p").Value == 0 {
		t.Errorf("shown %+v, %+v", o.Decide("p"), o.TooLate("p"))
	}
}

// And those of the order at a stand.
func TestRegretWorking(t *testing.T) {
	c, l := atOneMould(t, [2]float64{10, 20}, [2]float64{11, 22}), twoTrades()
	s := forecast(t, c, l, programme.Run{Seed: 2, Trials: 300}).Stands[0]
	f := s.Regret()
	if err := figure.Check(f, s.Functions()); err != nil || f.Rule == "" || f.Value != float64(s.Regretted)/float64(s.Trials) || f.Value == 0 {
		t.Errorf("shown %+v, %v", f, err)
	}
	if f := (programme.StandOutlook{ID: "mould"}).Regret(); f.Rule != "" || f.Value != 0 {
		t.Errorf("of no trial: %+v", f)
	}
}
