package review

import (
	"bytes"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// anyBuild is the thin build with things happening to it at random.
func anyBuild(t *testing.T, r *rapid.T) *build {
	b := thin(t)
	steps := b.j.As(day(1), journal.Now).Refs("step")
	acts := ids(b.review(day(1)).Acts)
	step := func() record.Ref { return rapid.SampledFrom(steps).Draw(r, "step") }
	n := rapid.IntRange(0, 20).Draw(r, "events")
	for i := range n {
		b.today += 1
		key := fmt.Sprint("r", i)
		switch rapid.IntRange(0, 7).Draw(r, "kind") {
		case 0, 1:
			b.see(b.visit(rapid.SampledFrom([]string{"owner", "surveyor", "pictures", "call"}).Draw(r, "by")), step().Key(),
				rapid.SampledFrom([]string{"not started", "under way", "done", "could not see"}).Draw(r, "state"))
		case 2:
			put(b, record.Told, key, record.Point{Question: key, CoveredBy: step(), Gravity: rapid.SampledFrom([]string{"", "structure", "finish"}).Draw(r, "gravity")})
		case 3:
			put(b, record.Told, key, record.Agreement{Says: key + " to be told", Day: b.today, Before: step()})
		case 4:
			put(b, record.Seen, key, record.Defect{What: key, Before: step()})
		case 5:
			put(b, record.Told, key, record.Question{Text: key, Before: step()})
		case 6:
			put(b, record.Told, key, record.Statement{About: step(), What: "is done", When: week(rapid.IntRange(14, 50).Draw(r, "week")), On: b.today})
		case 7:
			put(b, record.Told, key, record.Ruling{Act: rapid.SampledFrom(acts).Draw(r, "act"), Says: rapid.SampledFrom([]string{"do", "drop", "waive"}).Draw(r, "says"), Day: b.today})
		}
	}
	return b
}

// The budgets are never exceeded, and nothing is lost: the first page and what
// is one step down are all acts, each once, under a name of its own.
func TestBudgetLosesNothing(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		b := anyBuild(t, r)
		v := b.review(b.today)
		f := v.First
		if len(f.AtVisit) > 7 || len(f.AtHome) > 3 || len(f.ToYard) > 10 {
			r.Fatalf("%d, %d, %d on the first page", len(f.AtVisit), len(f.AtHome), len(f.ToYard))
		}
		all := ids(append(f.All(), v.Rest()...))
		if len(all) != len(f.All())+f.More+f.Later || len(v.Rest()) != f.More+f.Later {
			r.Fatalf("%d acts, %d on the page, %d more, %d later", len(all), len(f.All()), f.More, f.Later)
		}
		slices.Sort(all)
		want := ids(v.Acts)
		slices.Sort(want)
		if !slices.Equal(all, want) || len(slices.Compact(want)) != len(all) {
			r.Fatalf("page and rest %q, all %q", all, ids(v.Acts))
		}
		for _, a := range v.Acts {
			if a.ID == "" || a.Say == "" || a.Do == "" || a.Where == "" || len(a.Why) == 0 {
				r.Fatalf("an act that says too little: %+v", a)
			}
			if a.By.Known() && a.By.On() == "" {
				r.Fatalf("%s has a date without a basis", a.ID)
			}
		}
		for _, x := range v.Asks {
			if !slices.Contains(ids(f.All()), x.Act.ID) {
				r.Fatalf("asks about %s, which is not on the page", x.Act.ID)
			}
		}
	})
}

// The order in which entries came makes no difference.
func TestOrderOfEntries(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		b := anyBuild(t, r)
		entries := b.j.Entries()
		shuffled := newBuild(t)
		shuffled.today = b.today
		for _, i := range rapid.Permutation(numbers(len(entries))).Draw(r, "order") {
			shuffled.j.Add(*entries[i])
		}
		x, y := written(t, b.review(b.today)), written(t, shuffled.review(b.today))
		if !bytes.Equal(x, y) {
			r.Fatalf("%s", diff(x, y))
		}
	})
}

func numbers(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// Whatever stands on the page is printed as one of three budgets, and the
// words that nobody may lean on are in none of them.
func TestNeverSaysSafe(t *testing.T) {
	b := thin(t)
	v := b.review(day(2))
	for _, a := range v.Acts {
		for _, word := range []string{" safe.", " safe ", " OK", "approved"} {
			for _, text := range append([]string{a.Say, a.Missed, a.Caution}, a.How...) {
				if bytes.Contains([]byte(text), []byte(word)) {
					t.Errorf("%s says %q", a.ID, text)
				}
			}
		}
		if (a.Gravity == desk.Structure || a.Gravity == desk.Safety) && a.Do == desk.Look && a.Caution == "" {
			t.Errorf("%s looks at %s without a caution", a.ID, a.Gravity)
		}
	}
}
