package plan

import (
	"context"
	"testing"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/record"
)

// thoughtful is a boat of three steps in a row as of Monday 8 March 2027, on
// the plain week: core Mon 8 to Fri 12, skin Mon 15 to Wed 17, afloat Thu 18. A
// point with a lead of one working day hangs on the skin: by Thu 11.
func thoughtful() *boat {
	b := newBoat("2027-03-08")
	put(b, "", "core", record.Step{Name: "core", Part: "part/deck", Work: work(5)})
	put(b, "", "skin", record.Step{Name: "skin", Part: "part/deck", Work: work(3)})
	put(b, "", "afloat", record.Step{Name: "afloat", Part: "part/hull", Stage: "launched", Work: work(1)})
	b.link("core", "skin", "FS")
	b.link("skin", "afloat", "FS")
	put(b, "", "q", record.Point{Question: "which colour?", CoveredBy: "step/skin", Gravity: "finish"})
	put(b, "", "l", record.Lead{For: "point/q", What: "choose", Work: wd(1), QuotedBy: "person/lead"})
	return b
}

// Counted by hand on a calendar of March and April 2027.
func TestWhatIf(t *testing.T) {
	b := thoughtful()
	r, now := b.record(), b.read()
	for _, x := range []struct {
		name             string
		change           Change
		core, launch, by string
		days             int
	}{
		{"nothing", Change{Step: "step/core"}, "2027-03-12", "2027-03-18", "2027-03-11", 0},
		{"two weeks later", Change{Step: "step/core", NotBefore: on("2027-03-22")}, "2027-03-26", "2027-04-01", "2027-03-25", 14},
		{"two days more", Change{Step: "step/core", More: 2}, "2027-03-16", "2027-03-22", "2027-03-15", 4},
		{"earlier than it can", Change{Step: "step/core", NotBefore: on("2027-03-01")}, "2027-03-12", "2027-03-18", "2027-03-11", 0},
		{"no such step", Change{Step: "step/none", More: 9}, "2027-03-12", "2027-03-18", "2027-03-11", 0},
	} {
		t.Run(x.name, func(t *testing.T) {
			a := WhatIf(r, []Change{x.change})
			got := []calendar.Day{step(t, a, "core").Finish.Day, a.Launch.Computed.Day, a.Points[0].By.Day}
			for i, want := range []string{x.core, x.launch, x.by} {
				if got[i] != on(want) {
					t.Errorf("%s, want %s", got[i], want)
				}
			}
			effects := Effects(context.Background(), r, now, []Change{x.change})
			if e := effects[0]; e.About != "step/afloat" || e.Days != x.days || e.None != (x.days == 0) {
				t.Errorf("launch: %+v", e)
			}
			if moves := len(effects) > 2; moves != (x.days != 0) {
				t.Errorf("%d effects", len(effects))
			}
		})
	}
	if again := b.read(); again.Launch.Computed.Day != now.Launch.Computed.Day || step(t, again, "core").Work.Mode != 5 {
		t.Error("what was tried on in thought stayed")
	}
}

// A start that was told waits too, and its told end with it.
func TestWhatIfOfToldDates(t *testing.T) {
	b := thoughtful()
	b.says("s1", "2027-03-08", "step/core", starts, "2027-03-10", "2027-03-10")
	b.says("s2", "2027-03-08", "step/core", isDone, "2027-03-19", "2027-03-19")
	a := WhatIf(b.record(), []Change{{Step: "step/core", NotBefore: on("2027-03-24"), More: 1}})
	s := step(t, a, "core")
	// 14 days on from Fri 19 March is Fri 2 April; a working day more is Mon 5 April.
	if s.Start.Day != on("2027-03-24") || s.Finish.Day != on("2027-04-05") || s.Start.Basis != desk.YardsWord {
		t.Errorf("from %s to %s on %s", s.Start.Day, s.Finish.Day, s.Start.Basis)
	}
}

func TestPathByDurations(t *testing.T) {
	b := thoughtful()
	put(b, "", "side", record.Step{Name: "side", Part: "part/hull", Work: work(1)})
	b.link("side", "afloat", "FS")
	a := b.read()
	want := []record.Ref{"step/core", "step/skin", "step/afloat"}
	got := a.Path()
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%v", got)
		}
	}
}
