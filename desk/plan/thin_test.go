package plan

import (
	"encoding/json"
	"testing"

	"dogshore/desk"
	"dogshore/record"
)

// thin is a build as it stands after the start sheet: a usual order, what it
// covers up, a point, one visit; no dates.
func thin() *boat {
	b := newBoat("2027-03-10")
	b.chain("deck", "gelcoat", "core", "inner-skin", "infused")
	put(b, "", "inserts", record.Cover{Step: "step/deck-inner-skin", Hides: "inserts under the deck fittings", Look: "outline and place of each insert",
		Evidence: "a picture of each with a tape", Gravity: "structure"})
	put(b, "", "skin", record.Cover{Step: "step/deck-core", Hides: "skin coat", Gravity: "finish"})
	put(b, "2027-03-10", "stem-eye", record.Point{Question: "where does the stem eye sit?", CoveredBy: "step/deck-inner-skin", Gravity: "structure",
		Default: "no eye at all"})
	b.see("2027-03-10", "deck-gelcoat", done)
	return b
}

func TestThinRecordIsByEventOnly(t *testing.T) {
	a := thin().read()
	if a.Level != desk.ByOrder {
		t.Errorf("level %q, want %q", a.Level, desk.ByOrder)
	}
	for _, x := range a.Acts {
		if x.By.Known() {
			t.Errorf("%s has the date %s without a basis", x.ID, x.By.Day)
		}
	}
	for _, s := range a.Steps {
		if s.Start.Known() || s.Finish.Known() {
			t.Errorf("%s has a date without a basis", s.Self)
		}
	}
	look := act(t, a, "look/cover/inserts")
	if look.Before != "step/deck-inner-skin" || look.Ahead != 1 || look.Gone {
		t.Errorf("look before %s, %d ahead, gone %v", look.Before, look.Ahead, look.Gone)
	}
	if x := act(t, a, "settle/point/stem-eye"); x.Ahead != 1 || x.Missed != "If nobody says anything, this is built: no eye at all." {
		t.Errorf("settle %d ahead, missed %q", x.Ahead, x.Missed)
	}
	if len(a.Next) != 1 || a.Next[0] != "step/deck-core" {
		t.Errorf("next %v, want the core", a.Next)
	}
	noAct(t, a, "look/cover/skin") // the owner saw the gelcoat bare at the visit
}

func TestStatesAndHowTheyAreKnown(t *testing.T) {
	b := newBoat("2027-04-10")
	b.chain("deck", "gelcoat", "skin-coat", "core", "inner-skin", "infused", "demoulded")
	b.see("2027-03-10", "deck-gelcoat", notStarted)
	b.see("2027-03-20", "deck-gelcoat", done)
	b.see("2027-03-20", "deck-core", "could not see")
	b.seeAs("2027-03-27", "pictures", "deck-core", underWay)
	b.seeAs("2027-04-01", "call", "deck-core", done)
	a := b.read()
	for _, c := range []struct {
		key, state string
		grounds    record.Grounds
		unseen     bool
	}{
		{"deck-gelcoat", done, record.Seen, false},
		{"deck-skin-coat", done, record.Inferred, true},
		{"deck-core", done, record.Told, false},
		{"deck-inner-skin", notStarted, record.Inferred, false},
	} {
		s := step(t, a, c.key)
		if s.State != c.state || s.Grounds != c.grounds || s.NeverSeen != c.unseen {
			t.Errorf("%s is %q, %q, never seen %v; want %q, %q, %v", c.key, s.State, s.Grounds, s.NeverSeen, c.state, c.grounds, c.unseen)
		}
	}
	if len(a.Next) != 1 || a.Next[0] != "step/deck-inner-skin" {
		t.Errorf("next %v: what was told done is not ahead", a.Next)
	}
	act(t, a, "ask/part/deck")
}

func TestCouldNotSeeBoundsNothing(t *testing.T) {
	b := thin()
	want := json.RawMessage(mustJSON(t, b.read().Acts))
	for _, word := range []string{"could not see", "not sure"} {
		c := thin()
		c.see("2027-03-10", "deck-infused", word)
		c.see("2027-03-10", "deck-core", word)
		if got := mustJSON(t, c.read().Acts); string(got) != string(want) {
			t.Errorf("%q changed the acts:\n%s\n%s", word, got, want)
		}
	}
}

func mustJSON(t *testing.T, v any) []byte {
	t.Helper()
	out, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestWordAgainstSightIsADoubt(t *testing.T) {
	b := thin()
	b.seeAs("2027-03-05", "call", "deck-core", done)
	b.see("2027-03-10", "deck-core", notStarted)
	a := b.read()
	if s := step(t, a, "deck-core"); s.State != notStarted || s.Grounds != record.Seen {
		t.Errorf("the core is %q, %q: what was seen later holds", s.State, s.Grounds)
	}
	if x := act(t, a, "told/step/deck-core"); len(x.Why) != 2 {
		t.Errorf("%d sides, want 2", len(x.Why))
	}
}

func TestLinksRunThroughWhatIsLeftOut(t *testing.T) {
	for _, c := range []struct {
		name string
		out  record.Step
	}{
		{"the yard does not do it", record.Step{Name: "skin coat", Part: "part/deck", NotDone: record.Yes}},
		{"withdrawn", record.Step{Name: "skin coat", Part: "part/deck", Withdrawn: record.Yes}},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := newBoat("2027-03-10")
			put(b, "", "a", record.Step{Name: "gelcoat", Part: "part/deck", Work: work(3)})
			put(b, "", "x", c.out)
			put(b, "", "b", record.Step{Name: "core", Part: "part/deck", Work: work(3)})
			put(b, "", "ax", record.Link{From: "step/a", To: "step/x", Type: "FS", Wait: hours(48)})
			put(b, "", "xb", record.Link{From: "step/x", To: "step/b", Type: "FS", Lag: wd(7)})
			put(b, "", "p", record.Point{Question: "which colour?", CoveredBy: "step/x"})
			a := b.read()
			if s := step(t, a, "b"); s.Ahead != 1 || len(s.Waits) != 1 || s.Waits[0] != "step/a" {
				t.Errorf("core waits for %v, %d ahead", s.Waits, s.Ahead)
			}
			// Wed 10, Thu 11, Fri 12 March; 48 hours from Friday evening end on Sunday: Monday 15.
			if s := step(t, a, "b"); s.Start.Day != on("2027-03-15") {
				t.Errorf("core starts %s: the cure before is kept, the lag behind the left-out step is not", s.Start.Day)
			}
			if a.Points[0].Step != "step/b" {
				t.Errorf("the point hangs on %q, want the step that now stands there", a.Points[0].Step)
			}
			if a.Step("step/x") != nil {
				t.Error("the left-out step is still in the programme")
			}
		})
	}
}
