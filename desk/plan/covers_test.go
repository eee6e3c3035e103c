package plan

import (
	"testing"

	"dogshore/internal/test"
	"dogshore/record"
	"dogshore/unit"
)

func TestWhatCountsAsLookedAt(t *testing.T) {
	for _, c := range []struct {
		name string
		see  func(b *boat)
		met  bool
	}{
		{"the owner saw the core done, the skin not begun", func(b *boat) { b.see("2027-03-08", "deck-core", done) }, true},
		{"the owner saw the core under way", func(b *boat) { b.see("2027-03-08", "deck-core", underWay) }, true},
		{"a surveyor saw it", func(b *boat) { b.seeAs("2027-03-08", "surveyor", "deck-core", done) }, true},
		{"pictures show it", func(b *boat) { b.seeAs("2027-03-08", "pictures", "deck-core", done) }, false},
		{"the yard told it", func(b *boat) { b.seeAs("2027-03-08", "call", "deck-core", done) }, false},
		{"could not see", func(b *boat) { b.see("2027-03-08", "deck-core", "could not see") }, false},
		{"not begun yet", func(b *boat) { b.see("2027-03-08", "deck-core", notStarted) }, false},
		{"an earlier stage only", func(b *boat) { b.see("2027-03-08", "deck-gelcoat", done) }, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := thin().without("cover-inserts")
			put(b, "", "inserts", record.Cover{Step: "step/deck-inner-skin", Hides: "inserts", Gravity: "structure"})
			c.see(b)
			a := b.read()
			if got := find(a, "look/cover/inserts") == nil; got != c.met {
				t.Errorf("look met: %v, want %v", got, c.met)
			}
		})
	}
}

func TestInferredNeverMeetsALook(t *testing.T) {
	b := newBoat("2027-04-10")
	b.chain("deck", "gelcoat", "core", "inner-skin", "infused")
	put(b, "", "inserts", record.Cover{Step: "step/deck-inner-skin", Hides: "inserts", Gravity: "structure"})
	b.see("2027-03-10", "deck-gelcoat", done)
	b.see("2027-04-10", "deck-infused", done) // the core follows to be done, and nobody saw it
	a := b.read()
	x := act(t, a, "ask/cover/inserts")
	if !x.Gone || a.Covers[0].Looked != "" || a.Covers[0].GoneBy != on("2027-04-10") {
		t.Errorf("gone %v, looked at %q, gone by %s", x.Gone, a.Covers[0].Looked, a.Covers[0].GoneBy)
	}
	if s := step(t, a, "deck-core"); !s.NeverSeen || s.Grounds != record.Inferred {
		t.Errorf("core %q on %q, never seen %v", s.State, s.Grounds, s.NeverSeen)
	}
}

func TestLookedAtNeedsTheFileToo(t *testing.T) {
	b := thin() // the cover asks for a picture of each insert
	b.see("2027-03-10", "deck-core", done)
	x := act(t, b.read(), "look/cover/inserts")
	if x.Say != "Get it on file while it is open: inserts under the deck fittings." {
		t.Errorf("says %q", x.Say)
	}
	b.photo("p1", "cover/inserts")
	noAct(t, b.read(), "look/cover/inserts")
}

// photo puts a picture on file and says that it shows something.
func (b *boat) photo(key, shows string) {
	put(b, "2027-03-10", key, record.Photo{Name: key + ".jpg"})
	put(b, "2027-03-10", "e-"+key, record.Evidence{Shows: record.Ref(shows), Photo: record.R("photo", key)})
}

// file numbers the states of a file as the stage rules do.
var file = map[File]float64{Nothing: 0, Thin: 1, Full: 2}

func TestStageRules(t *testing.T) {
	const src = "reference sheet on yard practice, CV-19: closed in without evidence 0, weak evidence 1, evidenced 2 [memory: trade, editable]"
	lay := func() *boat {
		b := newBoat("2027-04-10")
		b.chain("deck", "first-fix", "lined")
		put(b, "", "runs", record.Cover{Step: "step/deck-lined", Hides: "hose runs", Gravity: "safety"})
		b.see("2027-03-05", "deck-first-fix", notStarted)
		b.see("2027-04-10", "deck-lined", done)
		return b
	}
	b := lay()
	a := b.read()
	test.Check(t, "closed in, nothing on file", src, 0, file[a.Covers[0].File], 0)
	act(t, a, "ask/cover/runs")
	b.photo("p1", "cover/runs")
	a = b.read()
	test.Check(t, "closed in, one picture", src, 1, file[a.Covers[0].File], 0)
	noAct(t, a, "ask/cover/runs")
	b.photo("p2", "cover/runs")
	put(b, "2027-03-20", "v-m", record.Visit{Day: on("2027-03-20"), By: "owner"})
	put(b, "2027-03-20", "m", record.Measurement{Visit: "visit/v-m", What: "from the bulkhead to the hose", Of: "step/deck-first-fix", Got: unit.Q(0.2, unit.Length), By: "tape"})
	a = b.read()
	test.Check(t, "closed in, two pictures and a number", src, 2, file[a.Covers[0].File], 0)
}

func TestClosedInBeforeTheFirstLookIsAskedByPart(t *testing.T) {
	b := newBoat("2027-04-10")
	b.chain("hull", "gelcoat", "core", "inner-skin", "infused")
	put(b, "", "c1", record.Cover{Step: "step/hull-core", Hides: "skin coat", Gravity: "finish"})
	put(b, "", "c2", record.Cover{Step: "step/hull-inner-skin", Hides: "inserts", Gravity: "structure"})
	b.see("2027-04-10", "hull-infused", done)
	a := b.read()
	x := act(t, a, "ask/part/hull")
	if x.Gravity != "structure" || !x.Gone || len(x.How) != 2 || len(x.Why) != 5 {
		t.Errorf("%q: gravity %q, gone %v, %d lines, %d reasons", x.Say, x.Gravity, x.Gone, len(x.How), len(x.Why))
	}
	noAct(t, a, "ask/cover/c1")
	noAct(t, a, "ask/cover/c2")
}

func TestHolds(t *testing.T) {
	bind := record.Step{Name: "infusion", Part: "part/deck", Point: "hold", Clause: "4.2", Releaser: "person/surveyor", Look: "the vacuum drop test"}
	lay := func(s record.Step) *boat {
		b := newBoat("2027-04-10")
		put(b, "", "bag", record.Step{Name: "bagging", Part: "part/deck"})
		put(b, "", "inf", s)
		put(b, "", "dem", record.Step{Name: "out of the mould", Part: "part/deck"})
		b.link("bag", "inf", "FS")
		b.link("inf", "dem", "FS")
		b.visit("2027-04-01", "owner")
		return b
	}
	release := func(b *boat, who, day string) {
		putAs(b, day, "rel-"+who, record.Written, record.Release{Step: "step/inf", By: record.R("person", who), Day: on(day)})
	}
	t.Run("binding", func(t *testing.T) {
		a := lay(bind).read()
		if !a.Holds[0].Binding {
			t.Error("a hold with clause and releaser binds")
		}
		act(t, a, "release/step/inf")
	})
	t.Run("released by right", func(t *testing.T) {
		b := lay(bind)
		release(b, "surveyor", "2027-04-05")
		a := b.read()
		noAct(t, a, "release/step/inf")
		if !a.Holds[0].ByRight || len(a.Doubts) != 0 {
			t.Errorf("by right %v, doubts %v", a.Holds[0].ByRight, a.Doubts)
		}
	})
	t.Run("released by somebody who may not", func(t *testing.T) {
		b := lay(bind)
		release(b, "lead", "2027-04-05")
		a := b.read()
		act(t, a, "release/step/inf")
		act(t, a, "power/step/inf/release/rel-lead")
	})
	t.Run("under way unreleased: passed over", func(t *testing.T) {
		b := lay(bind)
		b.see("2027-04-08", "inf", underWay)
		a := b.read()
		noAct(t, a, "release/step/inf")
		if x := act(t, a, "ask/hold/inf"); x.Before != "step/dem" {
			t.Errorf("before %s", x.Before)
		}
	})
	t.Run("released after it had begun", func(t *testing.T) {
		b := lay(bind)
		b.see("2027-04-05", "inf", underWay)
		release(b, "surveyor", "2027-04-08")
		a := b.read()
		noAct(t, a, "ask/hold/inf")
		if len(a.Doubts) != 1 || a.Doubts[0].Kind != Released {
			t.Errorf("doubts %v", a.Doubts)
		}
	})
	t.Run("went on unreleased", func(t *testing.T) {
		b := lay(bind)
		b.see("2027-04-08", "dem", done)
		if x := act(t, b.read(), "ask/hold/inf"); x.Caution != builtOver || !x.Gone {
			t.Errorf("caution %q, gone %v", x.Caution, x.Gone)
		}
	})
	t.Run("released after the next step had begun", func(t *testing.T) {
		b := lay(bind)
		b.see("2027-04-04", "dem", underWay)
		release(b, "surveyor", "2027-04-05")
		act(t, b.read(), "released/step/inf/release/rel-surveyor")
	})
	t.Run("released before the work before it was done", func(t *testing.T) {
		b := lay(bind)
		release(b, "surveyor", "2027-04-05")
		b.see("2027-04-08", "bag", underWay)
		act(t, b.read(), "premature/step/inf/release/rel-surveyor/step/bag")
	})
	t.Run("only said", func(t *testing.T) {
		b := lay(bind)
		putAs(b, "2027-04-05", "rel", record.Told, record.Release{Step: "step/inf", By: "person/surveyor", Day: on("2027-04-05")})
		act(t, b.read(), "confirm/release/rel")
	})
	t.Run("without a clause it is advice", func(t *testing.T) {
		s := bind
		s.Clause, s.Releaser = "", ""
		a := lay(s).read()
		if a.Holds[0].Binding {
			t.Error("a hold without a clause binds nobody")
		}
		noAct(t, a, "release/step/inf")
		act(t, a, "look/step/inf")
	})
}
