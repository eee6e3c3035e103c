package review

import (
	"slices"
	"strings"
	"testing"

	"dogshore/desk"
	"dogshore/record"
)

func ids(acts []desk.Act) []string {
	out := []string{}
	for _, a := range acts {
		out = append(out, a.ID)
	}
	return out
}

func fact(v Review, name string) string {
	for _, f := range v.Facts {
		if f.Name == name {
			return f.Says
		}
	}
	return ""
}

// Twenty minutes from an empty folder: a template, twelve taps, five points,
// one visit. The review is worth the trip already, and names no date.
func TestThinBuildIsWorthTheTrip(t *testing.T) {
	b := thin(t)
	v := b.review(day(2))
	if v.Level != desk.ByOrder {
		t.Errorf("level %q", v.Level)
	}
	for _, a := range v.Acts {
		if a.By.Known() {
			t.Errorf("%s has a date, and nobody said one", a.ID)
		}
		if strings.TrimSpace(a.Say) == "" || len(a.Why) == 0 {
			t.Errorf("%s says %q, because of %d figures", a.ID, a.Say, len(a.Why))
		}
	}
	// What the next step closes in, with what to look at and have on file.
	inserts, ok := v.Act("look/cover/deck-inner-skin-inserts")
	if !ok || !slices.Contains(ids(v.First.AtVisit), inserts.ID) {
		t.Fatalf("the inserts are not on the first page: %q", ids(v.First.AtVisit))
	}
	if how := strings.Join(inserts.How, "\n"); !strings.Contains(how, "Tick every fitting of the deck plan") || !strings.Contains(how, "tape and label") {
		t.Errorf("how: %q", how)
	}
	if got := v.Line(inserts); got != "before Deck inner skin, which can come next" {
		t.Errorf("line %q", got)
	}
	// Figures of the trade stand in the looks.
	all := ""
	for _, a := range v.First.AtVisit {
		all += strings.Join(a.How, "\n")
	}
	if !strings.Contains(all, "95 %") || !strings.Contains(all, "50 mm") {
		t.Errorf("no figures to look for in %q", all)
	}
	// What to bring an answer to.
	want := []string{"settle/point/stem-eye", "settle/point/jackstays", "settle/point/windlass"}
	if got := ids(v.First.AtHome); !slices.Equal(got, want) {
		t.Errorf("at home %q, want %q", got, want)
	}
	// When to come, and the pictures to ask for instead.
	if c := v.Visit.Next; c.Day.Known() || !strings.Contains(c.Why, "Nobody has said when") || len(c.Pictures) < 3 {
		t.Errorf("coming %+v", c)
	}
	// Nothing on the visitor's list is about what is not there yet.
	for _, a := range v.First.AtVisit {
		if a.Ahead > desk.Soon {
			t.Errorf("%s is %d steps off", a.ID, a.Ahead)
		}
	}
	if got := fact(v, "where the build stands"); !strings.HasPrefix(got, "10 of 98 steps noted done. Under way: Deck core, Hull under vacuum. Can come next: Deck inner skin, Hull resin in and hard.") {
		t.Errorf("stands: %q", got)
	}
	if got := fact(v, "open points"); got != "5 open. First: Where does the stem eye go? Before Deck inner skin, which can come next." {
		t.Errorf("points: %q", got)
	}
	if got := fact(v, "launch"); !strings.HasPrefix(got, "No date: nobody has said one.") {
		t.Errorf("launch: %q", got)
	}
	if len(v.Facts) > 5 || fact(v, "weight") != "" || fact(v, "money") != "" {
		t.Errorf("facts %+v", v.Facts)
	}
}

// An empty folder says what to do first, one thing after the other.
func TestEnterFirst(t *testing.T) {
	b := newBuild(t)
	if v := b.review(day(2)); len(v.Acts) != 0 || len(v.Begin) != 1 || !strings.Contains(v.Begin[0], "template") {
		t.Errorf("empty: %q, %d acts", v.Begin, len(v.Acts))
	}
	always(b, "deck", record.Part{Name: "deck"})
	always(b, "deck-core", record.Step{Name: "deck core", Part: "part/deck"})
	if v := b.review(day(2)); len(v.Begin) != 3 {
		t.Errorf("a step: %q", v.Begin)
	}
	v := b.visit("owner")
	b.see(v, "deck-core", "done")
	put(b, record.Told, "p", record.Point{Question: "Which?"})
	if v := b.review(day(2)); len(v.Begin) != 0 {
		t.Errorf("a visit and a point: %q", v.Begin)
	}
	if v := thin(t).review(day(2)); len(v.Begin) != 0 {
		t.Errorf("thin: %q", v.Begin)
	}
}

// Nothing seen, nothing noted: no fact pretends to know.
func TestNothingNoted(t *testing.T) {
	b := newBuild(t)
	always(b, "deck", record.Part{Name: "deck"})
	always(b, "deck-core", record.Step{Name: "deck core", Part: "part/deck"})
	if got := fact(b.review(day(2)), "where the build stands"); got != "Of 1 steps none was noted yet. Can come next: deck core. No visit is on record." {
		t.Errorf("stands: %q", got)
	}
}
