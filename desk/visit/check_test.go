package visit

import (
	"math"
	"slices"
	"strings"
	"testing"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/figure"
	"dogshore/internal/test"
	"dogshore/record"
	"dogshore/unit"
)

// sqrt is the one function that rules here call beside max and min.
var fns = map[string]func(...float64) float64{"sqrt": func(x ...float64) float64 { return math.Sqrt(x[0]) }}

// What is to be measured is asked for before it is covered up: one's own
// measure is taken, a reading of the yard's is looked at, and what is covered
// by now is asked for in writing.
func TestChecksBecomeActs(t *testing.T) {
	b := &build{t: t}
	deck := b.part("deck", "deck")
	core := b.step(deck, "deck-core", "deck core", "not started", 1)
	gel := b.step(deck, "deck-gelcoat", "deck gelcoat", "done", 0)
	v := b.visit("v", day(7), "owner")
	check := func(key string, c record.Check) record.Ref {
		c.What, c.Of, c.Should = "Overlap "+key, deck, tol(50, 0, 20)
		return put(b, day(1), record.Written, key, c)
	}
	check("own", record.Check{Taken: "own measure", State: "bare", Drawing: "L-12, rev. C", Before: core.Self})
	check("shown", record.Check{Taken: "reading to be shown", Before: core.Self})
	check("gone", record.Check{Taken: "own measure", Before: gel.Self})
	told := check("told", record.Check{Before: core.Self})
	put(b, day(7), record.Told, "m1", record.Measurement{Visit: v, Check: told, What: "x", Got: mm(55)})
	right := check("right", record.Check{Before: core.Self})
	put(b, day(7), record.Measured, "m2", record.Measurement{Visit: v, Check: right, What: "x", Got: mm(55)})
	check("named", record.Check{Before: core.Self}) // measured under its words, before anybody named it
	put(b, day(7), record.Measured, "m3", record.Measurement{Visit: v, What: "overlap  named", Of: deck, Got: mm(30)})
	got := Read(b.as(day(8)), plan.Answer{Steps: []plan.Step{gel, core}})

	for id, want := range map[string]struct {
		do    desk.Do
		where desk.Where
		says  string
	}{
		"measure/check/own":   {desk.Measure, desk.AtVisit, "Measure: Overlap own; it should be"},
		"ask/check/shown":     {desk.Ask, desk.AtVisit, "Ask to see the reading: Overlap shown"},
		"ask/check/gone":      {desk.Ask, desk.ToYard, "Ask for the record of what it measured: Overlap gone"},
		"measure/check/told":  {desk.Measure, desk.AtVisit, "Measure: Overlap told"},
		"tell/measurement/m3": {desk.Tell, desk.ToYard, "measured 30 mm, should be"},
	} {
		a := find(t, got.Acts, id)
		if a.Do != want.do || a.Where != want.where || !strings.Contains(a.Say, want.says) {
			t.Errorf("%s: %s, %s: %s", id, a.Do, a.Where, a.Say)
		}
		if want.where == desk.AtVisit && (a.Before != core.Self || a.Ahead != 1 || a.Missed == "") {
			t.Errorf("%s is before %s, %d ahead, missed %q", id, a.Before, a.Ahead, a.Missed)
		}
	}
	if slices.ContainsFunc(got.Acts, func(a desk.Act) bool { return strings.HasSuffix(a.ID, "check/right") }) {
		t.Error("what was measured is asked for again")
	}
	if how := find(t, got.Acts, "measure/check/own").How; !slices.Equal(how, []string{"On the bare laminate.", "By drawing L-12, rev. C."}) {
		t.Errorf("how: %q", how)
	}
	if a := find(t, got.Acts, "tell/measurement/m3"); a.Before != core.Self {
		t.Errorf("out of tolerance, it matters before %q", a.Before)
	}
	if n := len(got.Checks); n != 6 || got.Checks[n-1].Key() != "gone" {
		t.Errorf("%d checks, the last %s; want what is covered last", n, got.Checks[n-1].Key())
	}
}

// The mean and the standard deviation of repeated readings are those of a
// published set that is hard on careless arithmetic.
func TestScatterOfRepeatedReadings(t *testing.T) {
	const nist = "from memory: NIST Statistical Reference Datasets, univariate, NumAcc1: mean and standard deviation certified exact"
	b := &build{t: t}
	v := b.visit("v", day(7), "owner")
	for i, x := range []float64{10000001, 10000003, 10000002} {
		put(b, day(7), record.Measured, string(rune('a'+i)), record.Measurement{Visit: v, What: "count", Got: unit.Q(x, unit.Number), Should: record.Tolerance{Known: true, Value: 1e7, Dim: unit.Number}})
	}
	got := Read(b.as(day(8)), plan.Answer{})
	m := got.Measurements[0]
	test.Check(t, "NumAcc1: mean of readings", nist, 10000002, m.Mean, 0)
	test.Check(t, "NumAcc1: spread of readings", nist, 1, m.Spread, 1e-12)
	a := find(t, got.Acts, "measure/measurement/c")
	if len(a.Why) != 3 {
		t.Fatalf("%d figures: out by, spread, apart by", len(a.Why))
	}
	for _, f := range a.Why {
		if err := figure.Check(f, fns); err != nil || f.Rule == "" {
			t.Errorf("%s: %v", f.Says, err)
		}
	}
}

// Two scales of hardness, and two tolerances for one thing, are not compared
// in silence.
func TestWhatCannotBeCompared(t *testing.T) {
	b := &build{t: t}
	part := b.part("hull", "hull")
	v := b.visit("v", day(7), "owner")
	hard := put(b, day(1), record.Written, "hard", record.Check{What: "Hardness", Of: part, Should: record.Tolerance{Known: true, Value: 36, Minus: 4, Plus: 4, Dim: unit.Barcol}})
	put(b, day(7), record.Measured, "m1", record.Measurement{Visit: v, Check: hard, What: "Hardness", Got: unit.Q(82, unit.ShoreD)})
	thick := put(b, day(1), record.Written, "thick", record.Check{What: "Thickness", Of: part, Should: tol(25, 0.5, 0.5)})
	put(b, day(7), record.Measured, "m2", record.Measurement{Visit: v, Check: thick, What: "Thickness", Got: mm(25.8), Should: tol(25, 1, 1)})
	acts := Read(b.as(day(8)), plan.Answer{}).Acts
	if a := find(t, acts, "should/measurement/m1"); !strings.Contains(a.Say, "can't be compared") {
		t.Errorf("Shore D against Barcol: %s", a.Say)
	}
	find(t, acts, "should/measurement/m2")
	if a := find(t, acts, "tell/measurement/m2"); !strings.Contains(a.Say, "25.8 mm") {
		t.Errorf("the check's own tolerance holds: %s", a.Say)
	}
}
