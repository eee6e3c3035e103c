package plan

import (
	"strings"
	"testing"

	"dogshore/desk"
	"dogshore/record"
	"dogshore/unit"
)

func TestWorkLeftRunsOffWithTheDays(t *testing.T) {
	b := newBoat("2027-03-10") // a Wednesday
	put(b, "", "a", record.Step{Name: "core", Part: "part/deck", Work: work(10)})
	put(b, "", "b", record.Step{Name: "skin", Part: "part/deck", Work: work(2)})
	b.link("a", "b", "FS")
	b.see("2027-03-05", "a", underWay)
	put(b, "2027-03-08", "left", record.Statement{About: "step/a", Left: wd(5), By: "person/lead", On: on("2027-03-08")})
	a := b.read()
	// Five days left on Monday 8 are three on Wednesday 10: Wed, Thu, Fri; the skin on Monday 15.
	if w := step(t, a, "a").Finish; w.Day != on("2027-03-12") {
		t.Errorf("core ends %s", w.Day)
	}
	if w := step(t, a, "b").Start; w.Day != on("2027-03-15") || w.Basis != desk.Durations || w.Said != "by the durations entered, from what was seen by 5 March" {
		t.Errorf("skin starts %s, %s", w.Day, w.Said)
	}
	b.says("date", "2027-03-09", "step/a", isDone, "2027-03-19", "2027-03-19")
	if w := step(t, b.read(), "a").Finish; w.Day != on("2027-03-19") || w.Basis != desk.YardsWord {
		t.Errorf("core ends %s on %s: the latest word governs", w.Day, w.Basis)
	}
}

func TestWhatWasToldDoneNeedsNoMoreDays(t *testing.T) {
	b := newBoat("2027-03-10")
	for _, k := range []string{"a", "b", "c"} {
		put(b, "", k, record.Step{Name: k, Part: "part/deck", Work: work(5)})
	}
	b.link("a", "b", "FS")
	b.link("b", "c", "FS")
	b.seeAs("2027-03-09", "call", "b", done)
	a := b.read()
	if w := step(t, a, "c").Start; w.Day != on("2027-03-10") {
		t.Errorf("c starts %s: a decide-by must not be reckoned too late", w.Day)
	}
	if s := step(t, a, "b"); s.State != done || s.Grounds != record.Told || s.Begun != 0 {
		t.Errorf("b is %q, %q, begun %s", s.State, s.Grounds, s.Begun)
	}
	if s := step(t, a, "a"); s.State != done || s.Grounds != record.Inferred || !s.NeverSeen {
		t.Errorf("a is %q, %q", s.State, s.Grounds)
	}
}

func TestToldDoneGivesNoDateWithoutLengths(t *testing.T) {
	b := newBoat("2027-03-10")
	b.chain("deck", "gelcoat", "core")
	put(b, "", "other", record.Step{Name: "other", Part: "part/hull", Work: work(5)})
	b.seeAs("2027-03-09", "call", "deck-gelcoat", done)
	if w := step(t, b.read(), "deck-core").Start; w.Known() {
		t.Errorf("core starts %s, and nobody said how long anything before it takes", w.Day)
	}
}

func TestNoCalendarIsAssumedAndSaid(t *testing.T) {
	b := newBoat("2027-03-10")
	put(b, "", "a", record.Step{Name: "core", Part: "part/deck", Work: work(3)})
	put(b, "", "b", record.Step{Name: "skin", Part: "part/deck"})
	b.link("a", "b", "FS")
	put(b, "", "q", record.Point{Question: "which colour?", CoveredBy: "step/b", Gravity: "finish"})
	put(b, "", "l", record.Lead{For: "point/q", What: "choose", Work: wd(1), QuotedBy: "person/lead"})
	p := b.read().Points[0]
	// Wed 10, Thu 11, Fri 12: the skin on Monday 15; a day back is the start of Friday, so by the end of Thursday.
	if p.By.Day != on("2027-03-11") {
		t.Errorf("by the end of %s", p.By.Day)
	}
	if u := p.By.Work.Of[0].Unit; !strings.Contains(u, "assumed: nobody has said the yard's week") {
		t.Errorf("counted in %q", u)
	}
}

func TestLengthThatIsNone(t *testing.T) {
	b := worked()
	put(b, "", "odd", record.Step{Name: "odd", Part: "part/deck", Work: work(1e9)})
	a := b.read()
	if len(a.Doubts) != 1 || a.Doubts[0].Kind != Unreadable || !step(t, a, "DC").Start.Known() {
		t.Errorf("doubts %+v", a.Doubts)
	}
}

func TestCoversOverPartsAndPlaces(t *testing.T) {
	lay := func(c record.Cover) *boat {
		b := newBoat("2027-04-10")
		put(b, "", "below", record.Place{Name: "below"})
		put(b, "", "port", record.Place{Name: "port side", Within: "place/below"})
		put(b, "", "tank", record.Part{Name: "tank", Place: "place/port"})
		put(b, "", "hose", record.Part{Name: "hoses", Place: "place/port"})
		b.chain("tank", "fitted", "tested")
		b.chain("hose", "laid")
		b.chain("deck", "demoulded", "joined")
		b.link("tank-tested", "deck-joined", "FS")
		b.link("hose-laid", "deck-joined", "FS")
		c.Step, c.Hides = "step/deck-joined", "what lies below"
		put(b, "", "c", c)
		return b
	}
	for _, c := range []struct {
		name string
		what record.Ref
		see  []string
		met  bool
	}{
		{"a part: its last step seen", "part/tank", []string{"tank-tested"}, true},
		{"a part: an earlier step only", "part/tank", []string{"tank-fitted"}, false},
		{"a part: another part seen", "part/tank", []string{"hose-laid"}, false},
		{"a place: one of two seen", "place/below", []string{"tank-tested"}, false},
		{"a place: all in it seen", "place/below", []string{"tank-tested", "hose-laid"}, true},
		{"nothing named: the step's own part", "", []string{"deck-demoulded"}, true},
		{"a part with no step before it", "part/hull", []string{"tank-tested", "hose-laid", "deck-demoulded"}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := lay(record.Cover{What: c.what})
			for _, s := range c.see {
				b.see("2027-04-08", s, done)
			}
			if got := find(b.read(), "look/cover/c") == nil; got != c.met {
				t.Errorf("met %v, want %v", got, c.met)
			}
		})
	}
}

func TestAdviceOnAStage(t *testing.T) {
	lay := func() *boat {
		b := newBoat("2027-04-10")
		b.chain("deck", "bagged", "infused", "demoulded")
		put(b, "", "deck-cured", record.Step{Name: "deck cured", Part: "part/deck", Point: "witness", Notice: wd(2), Rank: unit.Q(25, unit.Number)})
		return b
	}
	b := lay()
	x := act(t, b.read(), "look/step/deck-cured")
	if len(x.How) != 1 || x.How[0] != "Ask for 2 working days' notice." {
		t.Errorf("how %q", x.How)
	}
	b.see("2027-04-09", "deck-cured", underWay)
	noAct(t, b.read(), "look/step/deck-cured")
}

// The durations know nothing of a start that was told: an end that they give
// before that start is no date.
func TestNoEndBeforeAToldStart(t *testing.T) {
	b := newBoat("2027-03-10")
	put(b, "", "a", record.Step{Name: "a", Part: "part/deck", Work: work(5)})
	b.says("s", "2027-03-09", "step/a", starts, "2027-04-05", "2027-04-05")
	if s := step(t, b.read(), "a"); s.Start.Day != on("2027-04-05") || s.Finish.Known() {
		t.Errorf("starts %s, ends %s", s.Start.Day, s.Finish.Day)
	}
}
