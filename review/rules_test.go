package review

import (
	"slices"
	"testing"

	"dogshore/record"
)

// Evidence takes away exactly the look that it meets.
func TestEvidenceMeetsOneLook(t *testing.T) {
	b := thin(t)
	before := ids(b.review(day(2)).Acts)
	const met = "look/cover/deck-inner-skin-inserts"
	b.today = day(2)
	put(b, record.Seen, "e", record.Evidence{Shows: "cover/deck-inner-skin-inserts", What: "pictures 3 to 9, marked plan", Photo: put(b, record.Seen, "3", record.Photo{Name: "3"})})
	after := ids(b.review(day(2)).Acts)
	want := slices.DeleteFunc(slices.Clone(before), func(id string) bool { return id == met })
	if len(want) == len(before) || !slices.Equal(after, want) {
		t.Errorf("left\n%q, want\n%q", after, want)
	}
}

// A waived act is gone until its day, and says who waived it; then it is back.
// Dropped without a day it stays away. What is ruled to be done stays.
func TestRulings(t *testing.T) {
	const act = "look/cover/deck-inner-skin-inserts"
	b := thin(t)
	b.today = day(3)
	ana := always(b, "ana", record.Person{Name: "Ana"})
	put(b, record.Told, "r1", record.Ruling{Act: act, Says: "waive", By: ana, Why: "the designer goes", Day: day(3), Until: day(10)})
	put(b, record.Told, "r2", record.Ruling{Act: "settle/point/berth", Says: "drop", Day: day(3)})
	put(b, record.Told, "r3", record.Ruling{Act: "settle/point/tanks", Says: "do", Day: day(3)})
	for _, c := range []struct {
		day  int
		here bool
	}{{2, true}, {3, false}, {9, false}, {10, true}, {30, true}} {
		v := b.review(day(c.day))
		if got := slices.Contains(ids(v.Acts), act); got != c.here {
			t.Errorf("on the %d: %v, want %v", c.day, got, c.here)
		}
		for _, s := range v.Visit.Walk {
			if slices.Contains(ids(s.Acts), act) != (c.here && s.Part == "part/deck") {
				t.Errorf("on the %d the walk asks for it at %s", c.day, s.Part)
			}
		}
	}
	v := b.review(day(9))
	if slices.Contains(ids(v.Acts), "settle/point/berth") || !slices.Contains(ids(v.Acts), "settle/point/tanks") {
		t.Errorf("dropped stays, or done is gone: %q", ids(v.Acts))
	}
	if len(v.Ruled) != 2 {
		t.Fatalf("ruled %+v", v.Ruled)
	}
	for _, x := range v.Ruled {
		if x.Act.ID == act && (v.Names[x.Ruling.By] != "Ana" || x.Ruling.Until != day(10)) {
			t.Errorf("waived by %q until %s", v.Names[x.Ruling.By], x.Ruling.Until)
		}
	}
	// The last word counts.
	b.today = day(5)
	put(b, record.Told, "r0", record.Ruling{Act: act, Says: "do", Day: day(5)})
	if !slices.Contains(ids(b.review(day(6)).Acts), act) {
		t.Error("taken back, and still away")
	}
}

// What stood on the first page going into the last two visits and stands
// there still asks what is to become of it. Looks whose step was not next then
// were not passed over, nor what came up since, nor what was promised since.
func TestPassedOverTwice(t *testing.T) {
	b := thin(t)
	b.today = day(8)
	b.visit("owner")
	if v := b.review(day(8)); len(v.Asks) != 0 {
		t.Errorf("one visit after the first: %+v", v.Asks)
	}
	b.today = day(10)
	b.visit("pictures") // nobody stood before the boat
	b.visit("call")
	b.today = day(12)
	put(b, record.Told, "late", record.Point{Question: "Came up late?", Gravity: "structure", CoveredBy: "step/deck-inner-skin"})
	b.today = day(15)
	b.visit("surveyor")
	v := b.review(day(16))
	var got []string
	for _, x := range v.Asks {
		got = append(got, x.Act.ID)
		if want := []record.Ref{"visit/v2026-04-08", "visit/v2026-04-15"}; !slices.Equal(x.Visits, want) {
			t.Errorf("%s was passed over at %q, want %q", x.Act.ID, x.Visits, want)
		}
	}
	for _, want := range []string{"look/cover/deck-inner-skin-inserts", "settle/point/stem-eye", "lead/point/stem-eye"} {
		if !slices.Contains(got, want) {
			t.Errorf("asks %q, without %q", got, want)
		}
	}
	for _, not := range []string{"look/cover/deck-bagged-plies", "settle/point/late"} {
		if slices.Contains(got, not) {
			t.Errorf("asks about %q", not)
		}
	}
	put(b, record.Told, "r", record.Ruling{Act: "settle/point/stem-eye", Says: "do", Day: day(15)})
	for _, x := range b.review(day(16)).Asks {
		if x.Act.ID == "settle/point/stem-eye" {
			t.Error("promised to be done, and asked about")
		}
	}
}
