package desk

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"dogshore/figure"
	"dogshore/record"
)

func names(acts []Act) []string {
	var out []string
	for _, a := range acts {
		out = append(out, a.ID)
	}
	return out
}

// By what can't be undone soonest: what is next before what is later, a near
// date before far ones, structure before finish, what is lost behind what can
// still be had.
func TestSort(t *testing.T) {
	acts := []Act{
		{ID: "finish, next", Ahead: 0, Gravity: Finish},
		{ID: "nothing known", Ahead: -1},
		{ID: "structure, two steps on", Ahead: 2, Gravity: Structure},
		{ID: "structure, gone", Ahead: 0, Gone: true, Gravity: Structure},
		{ID: "far step, long lead", Ahead: 40, By: When{Day: from + 3}, Gravity: Cutting},
		{ID: "safety, next", Ahead: 0, Gravity: Safety},
		{ID: "overdue", Ahead: -1, By: When{Day: from - 30}, Gravity: Structure},
		{ID: "structure, next", Ahead: 0, Gravity: Structure},
		{ID: "unweighed, next", Ahead: 0},
		{ID: "a month on", Ahead: -1, By: When{Day: from + 30}, Gravity: Structure},
	}
	want := []string{
		"overdue", "structure, next", "safety, next", "far step, long lead", "unweighed, next",
		"structure, two steps on", "structure, gone", "finish, next", "a month on", "nothing known",
	}
	Sort(acts, from)
	if got := names(acts); !slices.Equal(got, want) {
		t.Errorf("order\n%q, want\n%q", got, want)
	}
}

// Whatever the order in which acts come, they are sorted the same.
func TestSortKeepsNoOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		acts := rapid.Custom(anyActs).Draw(t, "acts")
		other := rapid.Permutation(slices.Clone(acts)).Draw(t, "shuffled")
		Sort(acts, from)
		Sort(other, from)
		if a, b := names(acts), names(other); !slices.Equal(a, b) {
			t.Fatalf("%q against %q", a, b)
		}
	})
}

func anyActs(t *rapid.T) []Act {
	n := rapid.IntRange(0, 30).Draw(t, "n")
	out := make([]Act, n)
	for i := range out {
		out[i] = Act{
			ID:      fmt.Sprintf("act/%d", i),
			Do:      rapid.SampledFrom([]Do{Look, Ask, Settle}).Draw(t, "do"),
			Where:   rapid.SampledFrom([]Where{AtVisit, AtHome, ToYard}).Draw(t, "where"),
			Subject: rapid.SampledFrom([]record.Ref{"point/a", "point/b", "cover/c"}).Draw(t, "subject"),
			Before:  rapid.SampledFrom([]record.Ref{"", "step/x", "step/y"}).Draw(t, "before"),
			Ahead:   rapid.IntRange(-1, 4).Draw(t, "ahead"),
			Gone:    rapid.Bool().Draw(t, "gone"),
			Gravity: rapid.SampledFrom([]Gravity{Structure, Safety, Cutting, Finish, ""}).Draw(t, "gravity"),
			Why:     []figure.Figure{{Says: fmt.Sprint(i)}},
		}
		if rapid.Bool().Draw(t, "dated") {
			out[i].By.Day = from + 100
		}
	}
	return out
}

func TestMerge(t *testing.T) {
	settle := Act{ID: "settle/point/eye", Do: Settle, Where: AtHome, Subject: "point/eye", Before: "step/core", Ahead: 3, Say: "Settle it.", Gravity: Finish, Why: []figure.Figure{{Says: "open"}}}
	confirm := Act{ID: "confirm/point/eye", Do: Confirm, Where: AtHome, Subject: "point/eye", Before: "step/core", Ahead: 2, Say: "Get it in writing.", Gravity: Structure, Why: []figure.Figure{{Says: "told"}}, By: When{Day: from}, Missed: "lost"}
	elsewhere := Act{ID: "lead/point/eye", Do: Ask, Where: ToYard, Subject: "point/eye", Before: "step/core"}
	later := Act{ID: "settle/other", Do: Settle, Where: AtHome, Subject: "point/eye", Before: "step/skin"}

	got := Merge([]Act{settle, confirm, elsewhere, later})
	if want := []string{settle.ID, elsewhere.ID, later.ID}; !slices.Equal(names(got), want) {
		t.Fatalf("left %q, want %q", names(got), want)
	}
	a := got[0]
	if a.Say != "Settle it." || !slices.Equal(a.How, []string{"Get it in writing."}) {
		t.Errorf("the first keeps its words, the other stands among the ways: %q, %q", a.Say, a.How)
	}
	if len(a.Why) != 2 || a.Gravity != Structure || a.Ahead != 2 || a.By.Day != from || a.Missed != "lost" {
		t.Errorf("joined %+v", a)
	}
	if len(settle.Why) != 1 {
		t.Error("what was merged was changed")
	}
	if got := Merge([]Act{settle, settle}); len(got) != 1 || len(got[0].How) != 0 {
		t.Errorf("the same act twice: %+v", got)
	}
}

// Merging loses no reason, and merging what was merged changes nothing.
func TestMergeLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		acts := rapid.Custom(anyActs).Draw(t, "acts")
		got := Merge(acts)
		why := 0
		for _, a := range got {
			why += len(a.Why)
		}
		if why != len(acts) {
			t.Fatalf("%d reasons of %d are left", why, len(acts))
		}
		if again := Merge(got); len(again) != len(got) {
			t.Fatalf("merged again: %d of %d acts are left", len(again), len(got))
		}
	})
}

// What is done at home for a step far off is not due; what the yard is asked
// for is, and a date within eight weeks makes anything due.
func TestDue(t *testing.T) {
	for _, c := range []struct {
		a    Act
		want bool
	}{
		{Act{Where: AtVisit, Before: "step/x", Ahead: Soon}, true},
		{Act{Where: AtVisit, Before: "step/x", Ahead: Soon + 1}, false},
		{Act{Where: AtHome, Before: "step/x", Ahead: Far}, true},
		{Act{Where: AtHome, Before: "step/x", Ahead: 117}, false},
		{Act{Where: AtHome, Before: "step/x", Ahead: 117, By: When{Day: from + 56}}, true},
		{Act{Where: AtHome, Ahead: -1}, true},
		{Act{Where: ToYard, Before: "step/x", Ahead: 117}, true},
	} {
		if got := c.a.Due(from); got != c.want {
			t.Errorf("%+v: due %v", c.a, got)
		}
	}
}
