package plan

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
	"dogshore/unit"
)

// random builds a record of parts, chains, covers, points, visits and looks;
// everything in it is drawn, so that it is as contradictory as real notes are.
func random(r *rand.Rand) *boat {
	b := newBoat("2027-06-01")
	stages := []string{"gelcoat", "core", "inner-skin", "infused", "demoulded", "fitted"}
	for _, part := range []string{"deck", "hull"} {
		b.chain(part, stages...)
		for i, s := range stages[1:] {
			key := fmt.Sprintf("%s-%d", part, i)
			c := record.Cover{Step: record.R("step", part+"-"+s), Hides: "what " + s + " hides", Gravity: []string{"structure", "safety", "finish"}[r.IntN(3)]}
			if r.IntN(2) == 0 {
				c.Evidence = "a picture"
			}
			put(b, "", key, c)
			for n := range r.IntN(3) {
				b.photo(fmt.Sprintf("%s-%d", key, n), "cover/"+key)
			}
			if r.IntN(2) == 0 {
				put(b, "", "q-"+key, record.Point{Question: "what of " + s + "?", CoveredBy: c.Step, Gravity: c.Gravity})
			}
		}
	}
	b.link("hull-infused", "deck-core", "SS")
	words := []string{notStarted, underWay, done, "could not see", "not sure"}
	by := []string{"owner", "surveyor", "pictures", "call"}
	seen := map[string]bool{}
	for range r.IntN(12) {
		day := calendar.Date(2027, 3, 1+r.IntN(80)).String()
		part, s, who := []string{"deck", "hull"}[r.IntN(2)], stages[r.IntN(len(stages))], by[r.IntN(4)]
		if k := day + who + part + s; !seen[k] {
			seen[k] = true
			b.seeAs(day, who, part+"-"+s, words[r.IntN(len(words))])
		}
	}
	return b
}

// asked lists what is asked of each cover: a look, a record, or the record of
// its part.
func asked(a Answer) map[record.Ref]bool {
	out := map[record.Ref]bool{}
	for _, c := range a.Covers {
		part := a.Step(c.Step).Part
		inPart := find(a, "ask/"+string(part)) != nil && c.unseen()
		out[c.Self] = find(a, "look/"+string(c.Self)) != nil || find(a, "ask/"+string(c.Self)) != nil || inPart
	}
	return out
}

func each(t *testing.T, f func(t *testing.T, r *rand.Rand)) {
	for seed := range uint64(60) {
		f(t, rand.New(rand.NewPCG(seed, 7)))
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

func TestTakingEvidenceAwayTakesNoActAway(t *testing.T) {
	each(t, func(t *testing.T, r *rand.Rand) {
		b := random(r)
		before := asked(b.read())
		for _, e := range b.entries {
			if !strings.HasPrefix(e.ID, "evidence-") {
				continue
			}
			after := asked(b.without(e.ID).read())
			for cover, was := range before {
				if was && !after[cover] {
					t.Errorf("without %s nobody asks for %s any more", e.ID, cover)
				}
			}
		}
	})
}

// Adding what can only be inferred: a later look at the end of the part, in a
// picture, never meets a look that was still open.
func TestAnInferenceMeetsNothing(t *testing.T) {
	each(t, func(t *testing.T, r *rand.Rand) {
		b := random(r)
		before := asked(b.read())
		b.seeAs("2027-05-31", "pictures", "deck-fitted", done)
		b.seeAs("2027-05-31", "pictures", "hull-fitted", done)
		a := b.read()
		after := asked(a)
		for _, c := range a.Covers {
			if before[c.Self] && !after[c.Self] && c.unseen() {
				t.Errorf("%s was met by an inference", c.Self)
			}
		}
	})
}

func TestOrderOfEntriesChangesNothing(t *testing.T) {
	each(t, func(t *testing.T, r *rand.Rand) {
		b := random(r)
		want := string(mustJSON(t, b.read()))
		for range 3 {
			r.Shuffle(len(b.entries), func(i, k int) { b.entries[i], b.entries[k] = b.entries[k], b.entries[i] })
			if got := string(mustJSON(t, b.read())); got != want {
				t.Fatal("another order of the same entries gives another answer")
			}
		}
	})
}

func TestActsHaveStableNamesAndReasons(t *testing.T) {
	each(t, func(t *testing.T, r *rand.Rand) {
		seen := map[string]bool{}
		for _, x := range random(r).read().Acts {
			if seen[x.ID] {
				t.Errorf("two acts are called %s", x.ID)
			}
			seen[x.ID] = true
			if len(x.Why) == 0 || x.Say == "" || x.Where == "" || x.Do == "" {
				t.Errorf("%s lacks a reason, words or a place: %+v", x.ID, x)
			}
		}
	})
}

func TestOneRunOfTheEngine(t *testing.T) {
	for name, b := range map[string]*boat{"thin": thin(), "worked": worked(), "large": large(), "empty": newBoat("2027-03-01")} {
		runs := 0
		foreseen := 0
		read(b.record(), func(c programme.Case) (programme.Result, error) {
			runs++
			return programme.Pass(c)
		}, func(c programme.ForecastCase) (programme.Learned, programme.Outlook, error) {
			foreseen++
			return runForecast(c)
		})
		if runs != 1 || foreseen > 1 {
			t.Errorf("%s: %d passes and %d forecasts, want one, and at most one", name, runs, foreseen)
		}
	}
}

// large is as a full build is: 350 steps, 19 visits, about 2,000 sightings.
func large() *boat {
	b := newBoat("2027-08-01")
	r := rand.New(rand.NewPCG(1, 1))
	put(b, "", "yard", record.Calendar{Name: "yard", Week: "Mon-Thu 1, Fri 0.5"})
	var steps []string
	for p := range 50 {
		part := fmt.Sprintf("p%02d", p)
		put(b, "", part, record.Part{Name: part})
		stages := []string{"mould", "gelcoat", "core", "inner-skin", "infused", "demoulded", "fitted"}
		for i, s := range stages {
			key := part + "-" + s
			steps = append(steps, key)
			put(b, "", key, record.Step{Name: part + " " + s, Part: record.R("part", part), Stage: s, Work: work(float64(1 + r.IntN(9))), Rank: unit.Q(float64(p+10*i), unit.Number)})
			if i > 0 {
				b.link(part+"-"+stages[i-1], key, "FS")
			}
			put(b, "", key, record.Cover{Step: record.R("step", key), Hides: "what " + s + " hides", Gravity: "structure", Look: "all of it", Evidence: "a picture"})
		}
		if p > 4 {
			b.link(fmt.Sprintf("p%02d-infused", p-5), part+"-mould", "FS")
		}
		put(b, "", part, record.Point{Question: "what of " + part + "?", CoveredBy: record.R("step", part+"-core"), Gravity: "structure"})
		put(b, "", part, record.Lead{For: record.R("point", part), What: "made", Work: wd(10), QuotedBy: "person/lead"})
		put(b, "", part, record.Item{Name: "thing of " + part, NeededBy: record.R("step", part+"-fitted"), BoughtBy: "yard"})
		b.says("s"+part, "2027-07-01", "step/"+part+"-fitted", starts, "2027-09-06", "2027-09-10")
	}
	for v := range 19 {
		day := calendar.Date(2027, 3, 1+7*v)
		for n := range 106 {
			k := (n*13 + v*3) % len(steps)
			state := notStarted
			if k/7 < v-2 {
				state = done
			} else if k/7 == v-2 {
				state = underWay
			}
			b.see(day.String(), steps[k], state)
		}
	}
	return b
}

func BenchmarkRead(b *testing.B) {
	r := large().record()
	if n := len(r.Refs("sighting")); n < 1900 {
		b.Fatalf("only %d sightings", n)
	}
	b.ReportAllocs()
	for b.Loop() {
		Read(r)
	}
}

func BenchmarkGather(b *testing.B) {
	r := large().record()
	for b.Loop() {
		gather(r)
	}
}

func BenchmarkDecodeSightings(b *testing.B) {
	r := large().record()
	for b.Loop() {
		journal.All[record.Sighting](r)
	}
}

// What can come next is what the engine finds too, where nothing was only
// told: a second way to the same steps.
func TestNextAgreesWithTheEngine(t *testing.T) {
	each(t, func(t *testing.T, r *rand.Rand) {
		b := random(r)
		var calls []string
		for _, e := range b.entries {
			if strings.HasPrefix(e.ID, "sighting-") && strings.Contains(e.ID, "-call-") {
				calls = append(calls, e.ID)
			}
		}
		a := b.without(calls...).read()
		want := map[string]bool{}
		for _, id := range a.Network.Frontier {
			want[id] = true
		}
		got := map[string]bool{}
		for _, ref := range a.Next {
			if len(a.Step(ref).Waits) == 0 { // the others wait for what is under way
				got[ref.Key()] = true
			}
		}
		if len(a.Network.Contradictions) == 0 && !maps.Equal(got, want) {
			t.Errorf("next %v, the engine says %v", got, want)
		}
	})
}

// No date stands anywhere without a basis, words for it and a working.
func TestNoDateWithoutABasis(t *testing.T) {
	check := func(t *testing.T, what string, w desk.When) {
		t.Helper()
		if w.Known() && (w.Basis == "" || w.Said == "" || w.Work.Says == "") {
			t.Errorf("%s: %s on %q, %q", what, w.Day, w.Basis, w.Said)
		}
	}
	for name, b := range map[string]*boat{"thin": thin(), "worked": worked(), "large": large()} {
		a := b.read()
		for _, s := range a.Steps {
			check(t, name+" "+string(s.Self), s.Start)
			check(t, name+" "+string(s.Self), s.Finish)
		}
		for _, x := range a.Acts {
			check(t, name+" "+x.ID, x.By)
		}
		for _, f := range a.Figures {
			checkWorking(t, f)
		}
		for _, p := range a.Points {
			check(t, name+" "+string(p.Self), p.By)
			checkWorking(t, p.By.Work)
		}
	}
}

// decideBy and the engine's own count of leads are two ways to one moment.
func TestDecideByAgreesWithTheEngine(t *testing.T) {
	yard, err := calendar.New("Mon-Thu 1, Fri 0.5", nil)
	if err != nil {
		t.Fatal(err)
	}
	each(t, func(t *testing.T, r *rand.Rand) {
		b := newBoat("2027-03-01")
		put(b, "", "yard", record.Calendar{Name: "yard", Week: "Mon-Thu 1, Fri 0.5"})
		put(b, "", "s", record.Step{Name: "step", Part: "part/deck"})
		start := calendar.Date(2027, 6, 1+r.IntN(90))
		b.says("st", "2027-03-01", "step/s", starts, start.String(), start.String())
		put(b, "", "p", record.Point{Question: "what?", CoveredBy: "step/s"})
		var leads []programme.Lead
		for i := range r.IntN(4) {
			days := float64(r.IntN(40)) / 2
			put(b, "", fmt.Sprintf("work-%d", i), record.Lead{For: "point/p", What: "work", Work: wd(days), QuotedBy: "person/lead"})
			leads = append(leads, programme.Lead{Days: days, Calendar: yard})
		}
		for i := range r.IntN(3) {
			h := float64(r.IntN(1000))
			put(b, "", fmt.Sprintf("wait-%d", i), record.Lead{For: "point/p", What: "wait", Wait: hours(h), QuotedBy: "person/lead"})
			leads = append(leads, programme.Lead{Hours: h})
		}
		want := yard.ByEndOf(programme.DecideBy(calendar.At(start), leads))
		if got := b.read().Points[0].By.Day; got != want {
			t.Errorf("by %s, the engine %s", got, want)
		}
	})
}
