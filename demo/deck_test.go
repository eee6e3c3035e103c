package demo

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"dogshore/desk/deck"
	"dogshore/jackstay"
	"dogshore/record"
	"dogshore/review"
	"dogshore/rope"
)

func arrangement(t *testing.T, a deck.Answer, option string) deck.Arrangement {
	t.Helper()
	i := slices.IndexFunc(a.Arrangements, func(x deck.Arrangement) bool { return x.Option.Key() == option })
	if i < 0 {
		t.Fatalf("there is no arrangement %q", option)
	}
	return a.Arrangements[i]
}

func finds(a deck.Arrangement, sort deck.Sort, words ...string) bool {
	return slices.ContainsFunc(a.Findings, func(f deck.Finding) bool {
		return f.Sort == sort && !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(f.Says, w) })
	})
}

// slackReaches reports whether an unloaded line can be pulled onto something
// of that name.
func slackReaches(a deck.Arrangement, what string) bool {
	for _, l := range a.Result.Lines {
		for _, c := range l.Catches {
			if c.Slack && strings.Contains(c.Catch, what) {
				return true
			}
		}
	}
	return false
}

// The faults that were drawn into the first arrangement are found, and the
// second has none of them.
func TestFaultsOfTheFirstArrangement(t *testing.T) {
	a := reviewed(t, Full).Deck
	first, second := arrangement(t, a, "anchors-cleats"), arrangement(t, a, "anchors-six")
	for _, c := range []struct {
		what  string
		sort  deck.Sort
		words []string
	}{
		{"an end made fast to a stanchion foot, of which nobody knows what it holds", deck.Unknown, []string{"after stanchion foot"}},
		{"a run across the swing of a hatch lid", deck.Crossed, []string{"swing of", "forepeak"}},
		{"an after end from which one trails behind the transom", deck.Dragged, []string{"transom"}},
		{"a clip point inside the boom's sweep", deck.Swept, []string{"after edge of the coachroof", "main boom"}},
	} {
		if !finds(first, c.sort, c.words...) {
			t.Errorf("not found: %s", c.what)
		}
		if finds(second, c.sort, c.words...) {
			t.Errorf("not cured: %s", c.what)
		}
	}
	if !slackReaches(first, "winch") || slackReaches(second, "winch") {
		t.Error("slack reaches a winch in the first arrangement, and in that alone")
	}
	for _, x := range first.Tasks {
		if len(x.Walked.Gaps) == 0 {
			t.Errorf("%s is clipped all the way on the cleats", x.Name)
		}
	}
	for _, f := range second.Findings {
		if f.Sort != deck.Unknown {
			t.Errorf("the second arrangement does not cure: %s: %s", f.Sort, f.Says)
		}
	}
	if !finds(second, deck.Unknown, "eye beside the companionway", "one figure") || len(second.Findings) != 1 {
		t.Errorf("one figure is left for the yard to tell, not %d", len(second.Findings))
	}
	bare := func(a deck.Arrangement) (m float64) {
		for _, x := range a.Tasks {
			for _, g := range x.Walked.Gaps {
				m += g.To - g.From
			}
		}
		return m
	}
	if f, s := bare(first), bare(second); s > f/3 {
		t.Errorf("%.1f m unclipped at first, %.1f m with the eyes", f, s)
	}
	if second.Cost.Price.Text() == "" || !second.Cost.Weighs().Known || !second.Cost.Days.Known || !second.Cost.By.Known() {
		t.Errorf("the second arrangement's cost is not all stated: %+v", second.Cost)
	}
}

// The sloop's stem eye lies on a laminate that nobody knows: no margin.
func TestSloopsUnknownLaminate(t *testing.T) {
	a := reviewed(t, Thin).Deck
	x := arrangement(t, a, "")
	seen := false
	for _, an := range x.Anchors {
		if an.Self != record.Ref("fitting/stem-eye-fitting") {
			continue
		}
		seen = true
		if an.Result.Verdict == rope.Meets || an.Result.Verdict == rope.NotKnown && an.Result.Margin != 0 {
			t.Errorf("the stem eye: %s, margin %g", an.Result.Verdict, an.Result.Margin)
		}
		for _, p := range an.Result.Parts {
			if p.Key == rope.PartBearing && (p.Verdict != rope.NotKnown || len(p.Missing) == 0) {
				t.Errorf("bearing on an unknown laminate: %s, missing %q", p.Verdict, p.Missing)
			}
		}
	}
	if !seen {
		t.Error("the stem eye is not among the anchors")
	}
	if !finds(x, deck.Unknown, "Eye at the stem") && !finds(x, deck.Weak, "Eye at the stem") {
		t.Error("nothing is said of the stem eye")
	}
}

// A preventer from the boom's end by the bow is held against its ratings.
func TestPreventersOfTheCatamaran(t *testing.T) {
	x := arrangement(t, reviewed(t, Full).Deck, "preventer-fixed")
	if len(x.Gybe) != 1 || len(x.Gybe[0].Result.Leads) != 2 {
		t.Fatalf("%d booms", len(x.Gybe))
	}
	for _, l := range x.Gybe[0].Result.Leads {
		if l.Settles.Tension.Least <= 0 || l.Stops.Tension.Most <= l.Settles.Tension.Most {
			t.Errorf("%s: slowly %+v, at once %+v", l.Preventer, l.Settles.Tension, l.Stops.Tension)
		}
	}
}

// The review's JSON carries the deck: each arrangement with its lines, tasks,
// fittings, preventers and findings, every figure that a finding has, and what
// differs between the arrangements.
func TestJSONCarriesTheDeck(t *testing.T) {
	v := reviewed(t, Full)
	out, err := review.JSON(v)
	if err != nil {
		t.Fatal(err)
	}
	var d struct {
		Deck struct {
			Arrangements []struct {
				Name       string
				Lines      []struct{ Figures, Legs []any }
				Tasks      []struct{ Figures []any }
				Anchors    []struct{ Figures []any }
				Preventers []struct{ Figures []any }
				Findings   []struct {
					Says    string
					Figures []any
				}
				Rules []any
			}
			Compared []struct {
				Rows []struct{ Differs bool }
			}
			Cautions []string
		}
	}
	if err := json.Unmarshal(out, &d); err != nil {
		t.Fatal(err)
	}
	if len(d.Deck.Arrangements) != len(v.Deck.Arrangements) || len(d.Deck.Compared) != 4 {
		t.Fatalf("%d arrangements, %d comparisons", len(d.Deck.Arrangements), len(d.Deck.Compared))
	}
	for i, a := range d.Deck.Arrangements {
		want := v.Deck.Arrangements[i]
		if len(a.Lines) != len(want.Lines) || len(a.Tasks) != len(want.Tasks) || len(a.Anchors) != len(want.Anchors) || len(a.Findings) != len(want.Findings) || len(a.Rules) != len(want.Rules) {
			t.Errorf("%s: %d lines, %d tasks, %d fittings, %d findings", a.Name, len(a.Lines), len(a.Tasks), len(a.Anchors), len(a.Findings))
		}
		for _, l := range a.Lines {
			if len(l.Figures) < 5 || len(l.Legs) < 2 {
				t.Errorf("%s: a line with %d figures and %d legs", a.Name, len(l.Figures), len(l.Legs))
			}
		}
	}
	differs, not := 0, 0
	for _, c := range d.Deck.Compared {
		for _, r := range c.Rows {
			if r.Differs {
				differs++
			} else {
				not++
			}
		}
	}
	if differs == 0 || not == 0 {
		t.Errorf("%d figures differ, of %d no difference can be told", differs, not)
	}
	seen := map[string]bool{}
	for _, c := range d.Deck.Cautions {
		if seen[c] {
			t.Errorf("twice: %s", c)
		}
		seen[c] = true
	}
}

// Nothing that a finding calls weak or not known is said to meet the figures
// beside the drawing, and neither is a line that hangs on it.
func TestNothingMeetsTheFiguresOnWhatIsNotKnown(t *testing.T) {
	told := 0
	for _, build := range []Which{Full, Thin} {
		for _, x := range reviewed(t, build).Deck.Arrangements {
			open := map[record.Ref]bool{}
			for _, f := range x.Findings {
				if f.Sort == deck.Weak || f.Sort == deck.Unknown {
					for _, of := range append([]record.Ref{f.Of}, f.Also...) {
						open[of] = true
					}
				}
			}
			hangs := map[record.Ref][]record.Ref{}
			for _, l := range x.Result.Lines {
				hangs[record.Ref(l.ID)] = []record.Ref{record.Ref(l.ID)}
				for _, s := range l.Supports {
					hangs[record.Ref(l.ID)] = append(hangs[record.Ref(l.ID)], record.Ref(s.ID))
				}
			}
			for _, e := range x.Result.Points {
				hangs[record.Ref(e.ID)] = []record.Ref{record.Ref(e.ID)}
			}
			for of, on := range hangs {
				if slices.ContainsFunc(on, func(r record.Ref) bool { return open[r] }) {
					if told++; x.Stands(of) == jackstay.Meets {
						t.Errorf("%s: %s %s", x.Name, of, x.Stands(of))
					}
				} else if x.Stands(of) != jackstay.Meets {
					t.Errorf("%s: %s %s, and no finding says so", x.Name, of, x.Stands(of))
				}
			}
		}
	}
	if told < 6 {
		t.Errorf("only %d lines and eyes of the demos hang on something open", told)
	}
}
