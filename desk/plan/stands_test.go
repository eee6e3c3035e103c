package plan

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"dogshore/desk"
	"dogshore/record"
)

// spread is three guesses about so many days.
func spread(days float64) record.ThreePoint {
	p := work(days)
	p.Low, p.High, p.As = days/1.5, days*1.5, fmt.Sprintf("%g d", days)
	return p
}

// twoHulls is a boat on the level of the forecast: six small steps seen from
// before their start to their end at five visits, and two hulls that need one
// mould, each with fitting out behind it.
func twoHulls() *boat {
	b := newBoat("2027-03-08")
	visits := []string{"2027-02-03", "2027-02-10", "2027-02-17", "2027-02-24", "2027-03-03"}
	for i := range 6 {
		key := fmt.Sprint("fix-", i+1)
		put(b, "", key, record.Step{Name: key, Part: "part/deck", Work: spread(4)})
		b.see(visits[i/2], key, notStarted)
		b.see(visits[i/2+1], key, underWay)
		b.see(visits[i/2+2], key, done)
	}
	put(b, "", "mould", record.Stand{Name: "hull mould"})
	for _, side := range []string{"port", "starboard"} {
		part := side + "-hull"
		put(b, "", part, record.Part{Name: side + " hull"})
		put(b, "", part+"-skin", record.Step{Name: side + " skin", Part: record.R("part", part), Stand: "stand/mould", Work: spread(10)})
		put(b, "", part+"-out", record.Step{Name: side + " hull demoulded", Part: record.R("part", part), Stand: "stand/mould", Work: spread(1)})
		put(b, "", part+"-fitted", record.Step{Name: side + " hull fitted out", Part: record.R("part", part), Work: spread(20)})
		b.link(part+"-skin", part+"-out", "FS")
		b.link(part+"-out", part+"-fitted", "FS")
		b.link(part+"-fitted", "afloat", "FS")
	}
	put(b, "", "afloat", record.Step{Name: "afloat", Part: "part/deck", Stage: "launched", Work: work(1)})
	return b
}

// The order at a mould is said by the names of parts, with the chance that it is
// regretted; two hulls that are much alike make that a matter of luck.
func TestOrderAtAMouldInWords(t *testing.T) {
	a := twoHulls().read()
	if a.Level != desk.ByForecast || len(a.Forecast.Stands) != 1 {
		t.Fatalf("level %s, %+v", a.Level, a.Forecast.Stands)
	}
	o := a.Forecast.At("stand/mould")
	if o == nil || o.Trials != 200 || o.Regretted < 20 || o.Regretted > 180 || o.Sooner < 1 {
		t.Fatalf("%+v", o)
	}
	first, then := a.Forecast.Stands[0].Turns[0], o.Turns[1]
	if first.Part == then.Part || !strings.HasSuffix(string(first.First), "-skin") || !strings.HasSuffix(string(first.Last), "-out") {
		t.Errorf("turns %+v", o.Turns)
	}
	name := map[record.Ref]string{"part/port-hull": "the port hull", "part/starboard-hull": "the starboard hull"}
	if want := fmt.Sprintf("At the hull mould: %s then %s.", name[first.Part], name[then.Part]); o.Order != want {
		t.Errorf("%q, want %q", o.Order, want)
	}
	if want := fmt.Sprintf("in %d of 200 trials another would launch her a day or more earlier", o.Regretted); !strings.Contains(o.Regret, want) {
		t.Errorf("%q does not say %q", o.Regret, want)
	}
	if o.Work.Value != float64(o.Regretted)/200 || o.Work.Rule == "" || o.Work.Says != "chance that the order at the hull mould is regretted" {
		t.Errorf("working %+v", o.Work)
	}
	// Once a hull lies in the mould there is nothing to regret.
	b := twoHulls()
	b.see("2027-03-03", "starboard-hull-skin", underWay)
	a = b.read()
	o = a.Forecast.At("stand/mould")
	if o == nil || o.Order != "At the hull mould: the starboard hull, which has it, then the port hull." || o.Regretted != 0 || !strings.Contains(o.Regret, "in none of 200 trials") {
		t.Errorf("%+v", o)
	}
	if a.Forecast.At("stand/none") != nil {
		t.Error("an order at a stand that there is not")
	}
}

// What moved the launch is asked of two answers, or of a record that has none.
func TestLaunchMovedBetweenTwoAnswers(t *testing.T) {
	b := twoHulls()
	then := b.read()
	b.see("2027-03-15", "port-hull-skin", underWay)
	b.day = on("2027-03-15")
	now := b.read()
	m, ok := LaunchMoved(context.Background(), then.Known(), now.Known())
	if !ok || m.Days == 0 || math.Abs(m.Remainder) > 1e-9 || math.Abs(m.Missed) > 0.05 {
		t.Errorf("%v, %+v", ok, m)
	}
	asked := Known{Case: Ask(b.record()), Learned: now.Forecast.Learned}
	if again, ok := LaunchMoved(context.Background(), then.Known(), asked); !ok || again.Days != m.Days {
		t.Errorf("asked of the record: %g days, of the answer %g", again.Days, m.Days)
	}
	few := thoughtful().read()
	if _, ok := LaunchMoved(context.Background(), few.Known(), now.Known()); ok {
		t.Error("told from a state below the forecast")
	}
}
