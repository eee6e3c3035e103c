package demo

import (
	"slices"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/review"
)

// reviewed reviews a build as of its last day.
func reviewed(t *testing.T, which Which) review.Review {
	t.Helper()
	today, err := Today(which)
	if err != nil {
		t.Fatal(err)
	}
	v, err := review.Read(t.Context(), made(t, which), today, journal.Now)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// What was put into the full build to be found must be found.

func TestJackstayAnchorsComeBeforeTheDeckCore(t *testing.T) {
	v := reviewed(t, Full)
	a, ok := v.Act("settle/point/jackstay-anchors")
	if !ok {
		t.Fatal("no act settles the anchors of the jackstays")
	}
	if a.Before != "step/deck-core" || a.Ahead != 0 || a.Gone || a.Gravity != desk.Safety {
		t.Errorf("before %s, %d ahead, gone %v, %s; want before the deck core, which is next", a.Before, a.Ahead, a.Gone, a.Gravity)
	}
	if !slices.ContainsFunc(v.First.AtHome, func(x desk.Act) bool { return x.ID == a.ID }) {
		t.Error("it does not stand on the first page")
	}
	if a.By.Day != calendar.Date(2026, 11, 13) || a.By.Basis != desk.YardsWord {
		t.Errorf("by %s (%s); want the earlier of the two days heard, on the yard's word", a.By.Day, a.By.Basis)
	}
	if !strings.Contains(a.Missed, "mooring cleats") {
		t.Errorf("if missed: %q; want what is built by default", a.Missed)
	}
}

func TestThePlantedActsStand(t *testing.T) {
	v := reviewed(t, Full)
	for _, c := range []struct{ id, why string }{
		{"look/cover/deck-outer-plies", "no picture is on file before the deck core"},
		{"release/step/deck-core", "the surveyor has not released the deck core"},
		{"settle/point/preventer-lead", "open before the deck core"},
		{"settle/point/genoa-track", "open before the deck core"},
		{"lead/point/jackstay-anchors", "nobody has quoted the pads"},
		{"confirm/agreement/track-solid", "agreed with the foreman, who may not instruct"},
		{"confirm/agreement/deck-notice", "only told"},
		{"confirm/decision/berth-length", "only told"},
		{"put/defect/cleat-ply", "to be right before the deck core"},
		{"ask/defect/bead-void", "said to be put right, not seen, and being taped over"},
		{"ask/defect/dry-spot", "said to be put right, not seen, and covered by now"},
		{"ask/point/spare-conduit", "the bulkhead is being taped over it"},
		{"ask/hold/main-bulkhead-taped", "taping went on without a release"},
		{"ask/item/holding-tanks", "needed soon, not ordered"},
		{"ask/item/engines", "arrived without a part"},
		{"ask/step/port-rudder-tube-taped", "seen done, and what it waits for not begun two months later"},
		{"ask/part/starboard-shell", "four stages that nobody saw"},
		{"tell/measurement/1028-transoms", "the hulls are 9 mm wider apart aft"},
		{"measure/check/aft-gap", "the aft bulkhead is being bonded, and nobody has measured its gap"},
		{"ask/check/deck-drop", "the bag's gauge is the yard's to read, before the deck is infused"},
	} {
		if !stands(v, c.id) {
			t.Errorf("no act %s: %s", c.id, c.why)
		}
	}
	for _, id := range []string{
		"put/defect/overlap-30",        // seen put right
		"confirm/point/hull-colour",    // confirmed in a letter
		"confirm/agreement/cabin-wait", // confirmed in the answers
		"settle/point/second-roller",   // withdrawn
		"ask/part/port-transom-steps",  // dropped by the owner
		"look/cover/deck-gelcoat-back", // a picture is on file
		"measure/check/deck-sheets",    // measured four times
		"ask/check/starboard-hardness", // shown, before anybody named the check
	} {
		if stands(v, id) {
			t.Errorf("act %s stands although its reason is gone", id)
		}
	}
}

// stands reports whether an act of that name stands; a name may leave out
// whether a settled point is named by the point or by its decision.
func stands(v review.Review, id string) bool {
	is := func(id string) bool {
		return slices.ContainsFunc(v.Acts, func(a desk.Act) bool { return a.ID == id })
	}
	if is(id) {
		return true
	}
	do, key, ok := strings.Cut(id, "/decision/")
	if !ok {
		return false
	}
	return is(do+"/point/"+key) || is(do+"/decision/decide-"+key)
}

func TestPromisesKeptMovedAndBroken(t *testing.T) {
	want := map[string]plan.PromiseState{
		"port-core-1":         plan.Kept,
		"aft-panel-1":         plan.Kept,
		"hulls-aligned-1":     plan.Kept,
		"starboard-demould-2": plan.Broken,
		"deck-gelcoat-1":      plan.Broken,
		"main-bond-1":         plan.Broken,
		"engines-2":           plan.Broken,
		"launch-1":            plan.Moved,
		"port-infusion-1":     plan.Moved,
		"deck-core-5":         plan.Pending,
		"autopilot-sketch":    plan.Unseen,
	}
	for _, p := range reviewed(t, Full).Plan.Promises {
		if w, ok := want[p.Key()]; ok && p.State != w {
			t.Errorf("%s is %q, want %q", p.Key(), p.State, w)
		}
		delete(want, p.Key())
	}
	for k := range want {
		t.Errorf("promise %s is not judged", k)
	}
}

func TestLateItem(t *testing.T) {
	for _, i := range reviewed(t, Full).Plan.Items {
		switch i.Key() {
		case "fore-beam", "engines":
			if !i.Late {
				t.Errorf("%s is not found late", i.Key())
			}
		case "fuel-tanks", "mast":
			if i.Late {
				t.Errorf("%s is said to be late", i.Key())
			}
		}
	}
}

func TestContradictions(t *testing.T) {
	v := reviewed(t, Full)
	for _, words := range []string{
		"Mon 16 November 2026", // two days for one cut-off
		"Starboard water tank", // built in, never arrived
		"Pekka Roan",           // released by one who may not
		"Fore beam",            // comes after it is needed
	} {
		if !slices.ContainsFunc(v.Doubts, func(d journal.Doubt) bool { return strings.Contains(d.Says, words) }) {
			t.Errorf("no doubt speaks of %s", words)
		}
	}
}

func TestLetterHalfAnswered(t *testing.T) {
	open := map[int]bool{}
	for _, l := range reviewed(t, Full).Visit.Unanswered {
		open[l.Number] = true
	}
	for n := 1; n <= 9; n++ {
		if want := n == 4 || n == 5 || n == 9; open[n] != want {
			t.Errorf("line %d without an answer: %v, want %v", n, open[n], want)
		}
	}
}

func TestComeBeforeTheCore(t *testing.T) {
	n := reviewed(t, Full).Visit.Next
	if n.Day.Day >= n.Fixed || !strings.Contains(n.Why, "Deck core") || !strings.Contains(n.Who, "Nuala Trewin") {
		t.Errorf("come by %s (%s), who: %s; want before the core, which lies before %s, or the surveyor", n.Day.Day, n.Why, n.Who, n.Fixed)
	}
}

func TestThinReviewIsWorthTheTrip(t *testing.T) {
	v := reviewed(t, Thin)
	if v.Level != desk.ByDates { // two dates were said
		t.Errorf("level %s", v.Level)
	}
	if len(v.First.AtVisit) == 0 || len(v.First.AtHome) == 0 || len(v.First.ToYard) == 0 {
		t.Errorf("%d acts at the visit, %d at home, %d to the yard", len(v.First.AtVisit), len(v.First.AtHome), len(v.First.ToYard))
	}
	for _, id := range []string{"settle/point/stem-eye", "settle/point/cockpit-eyes"} {
		if a, ok := v.Act(id); !ok || a.Before != record.R("step", "deck-core") || !a.By.Known() {
			t.Errorf("%s: before %s by %s; want before the deck core, on the yard's word", id, a.Before, a.By.Day)
		}
	}
}
