package plan

import (
	"strings"
	"testing"

	"dogshore/desk"
	"dogshore/record"
	"dogshore/unit"
)

func TestSightingsThatContradict(t *testing.T) {
	b := newBoat("2027-04-10")
	b.chain("deck", "gelcoat", "core")
	b.see("2027-03-20", "deck-core", done)
	b.see("2027-04-02", "deck-core", notStarted)
	a := b.read()
	x := act(t, a, "sightings/step/deck-core")
	if x.Do != desk.Look || len(x.Why) != 2 {
		t.Errorf("%s, %d sides", x.Do, len(x.Why))
	}
}

func TestBegunOutOfOrderIsAQuestion(t *testing.T) {
	for _, c := range []struct {
		name    string
		grounds record.Grounds
		says    string
	}{
		{"the yard's own order", record.Written, "Ask why the deck inner-skin was begun before the deck core."},
		{"the usual order", record.Inferred, "Ask in which order this yard works: the deck inner-skin was begun before the deck core, against the usual order."},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := newBoat("2027-04-10")
			put(b, "", "deck-core", record.Step{Name: "deck core", Part: "part/deck"})
			put(b, "", "deck-inner-skin", record.Step{Name: "deck inner-skin", Part: "part/deck"})
			putAs(b, "", "l", c.grounds, record.Link{From: "step/deck-core", To: "step/deck-inner-skin", Type: "FS"})
			put(b, "", "inserts", record.Cover{Step: "step/deck-inner-skin", Hides: "inserts", Gravity: "structure"})
			b.see("2027-04-08", "deck-core", underWay)
			b.see("2027-04-08", "deck-inner-skin", underWay)
			x := act(t, b.read(), "ask/step/deck-inner-skin")
			if x.Say != c.says || x.Caution == "" || len(x.Why) != 2 {
				t.Errorf("%q, caution %q, %d reasons", x.Say, x.Caution, len(x.Why))
			}
		})
	}
}

func TestRingIsSetAside(t *testing.T) {
	b := newBoat("2027-04-10")
	b.chain("deck", "gelcoat", "core", "inner-skin")
	b.link("deck-inner-skin", "deck-gelcoat", "FS")
	a := b.read()
	if len(a.Steps) != 3 || len(a.Network.Order) != 3 {
		t.Fatalf("%d steps, %d in order: one slip takes the plan away", len(a.Steps), len(a.Network.Order))
	}
	if len(a.Doubts) != 1 || a.Doubts[0].Kind != Ring {
		t.Errorf("doubts %+v", a.Doubts)
	}
	if len(a.Next) != 1 {
		t.Errorf("next %v", a.Next)
	}
}

func TestUnreadableCalendar(t *testing.T) {
	b := worked()
	put(b, "", "mast", record.Calendar{Name: "mast maker", Week: "when it rains"})
	a := b.read()
	if len(a.Doubts) != 1 || a.Doubts[0].Kind != Unreadable || !step(t, a, "DC").Start.Known() {
		t.Errorf("doubts %+v", a.Doubts)
	}
}

func TestPointStates(t *testing.T) {
	for _, c := range []struct {
		name  string
		lay   func(b *boat)
		state PointState
	}{
		{"nothing decided", func(b *boat) {}, Open},
		{"told to somebody who may", func(b *boat) { b.decide("d", record.Told, "lead", "eye on the stem") }, SaidOnly},
		{"told to somebody who may not", func(b *boat) { b.decide("d", record.Told, "hand", "eye on the stem") }, NoPower},
		{"written by somebody who may not", func(b *boat) { b.decide("d", record.Written, "hand", "eye on the stem") }, NoPower},
		{"in writing", func(b *boat) { b.decide("d", record.Written, "lead", "eye on the stem") }, InWriting},
		{"told, then confirmed in writing", func(b *boat) {
			b.decide("d", record.Told, "hand", "eye on the stem")
			put(b, "2027-03-09", "c", record.Confirmation{Of: "decision/d", By: "person/lead", Day: on("2027-03-09")})
		}, InWriting},
		{"told, then confirmed by one who may not", func(b *boat) {
			b.decide("d", record.Told, "lead", "eye on the stem")
			put(b, "2027-03-09", "c", record.Confirmation{Of: "decision/d", By: "person/hand", Day: on("2027-03-09")})
		}, SaidOnly},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := thin()
			c.lay(b)
			a := b.read()
			all := append(append([]Point(nil), a.Points...), a.Settled...)
			if len(all) != 1 || all[0].State != c.state {
				t.Fatalf("%+v", all)
			}
			if settle := find(a, "settle/point/stem-eye") != nil; settle != (c.state == Open) {
				t.Errorf("settle act: %v in state %q", settle, c.state)
			}
			if inSettled := len(a.Settled) == 1; inSettled != (c.state == InWriting) {
				t.Errorf("settled: %v in state %q", inSettled, c.state)
			}
		})
	}
}

func (b *boat) decide(key string, g record.Grounds, with, says string) {
	putAs(b, "2027-03-08", key, g, record.Decision{Point: "point/stem-eye", Says: says, With: record.R("person", with), Day: on("2027-03-08")})
}

func TestTwoDecisions(t *testing.T) {
	b := thin()
	b.decide("d1", record.Written, "lead", "eye on the stem")
	b.decide("d2", record.Told, "lead", "eye below it")
	if x := act(t, b.read(), "decisions/point/stem-eye/decision/d1/decision/d2"); len(x.Why) != 2 {
		t.Errorf("%d sides", len(x.Why))
	}
}

func TestPointGone(t *testing.T) {
	b := thin()
	b.day = on("2027-04-10")
	b.see("2027-04-10", "deck-infused", underWay)
	a := b.read()
	x := act(t, a, "ask/point/stem-eye")
	if !x.Gone || !strings.HasPrefix(x.Say, "Ask what was built") {
		t.Errorf("gone %v: %q", x.Gone, x.Say)
	}
	noAct(t, a, "settle/point/stem-eye")
}

func TestItems(t *testing.T) {
	lay := func(day string) *boat {
		b := newBoat(day)
		b.chain("deck", "hardware", "rigged")
		put(b, "", "rig-co", record.Person{Name: "Mast maker", Role: "supplier"})
		put(b, "", "mast", record.Item{Name: "mast", Part: "part/deck", BoughtBy: "owner", Supplier: "person/rig-co", NeededBy: "step/deck-rigged"})
		b.says("st", "2027-03-01", "step/deck-rigged", starts, "2027-09-06", "2027-09-06")
		return b
	}
	lead := record.Lead{For: "item/mast", What: "made and delivered", Wait: unit.Q(112*86400, unit.Time), QuotedBy: "person/rig-co"}
	t.Run("nobody quoted a lead", func(t *testing.T) {
		a := lay("2027-03-10").read()
		if x := act(t, a, "order/item/mast"); x.By.Known() {
			t.Errorf("order by %s without a lead", x.By.Day)
		}
		if x := act(t, a, "lead/item/mast"); !strings.Contains(x.Say, "Mast maker") {
			t.Errorf("%q", x.Say)
		}
	})
	t.Run("order by", func(t *testing.T) {
		b := lay("2027-03-10")
		put(b, "", "l", lead)
		// Monday 6 September less 16 weeks is Monday 17 May: by the end of Friday 14.
		if x := act(t, b.read(), "order/item/mast"); x.By.Day != on("2027-05-14") {
			t.Errorf("order by %s", x.By.Day)
		}
	})
	t.Run("ordered too late", func(t *testing.T) {
		b := lay("2027-07-10")
		put(b, "", "l", lead)
		put(b, "2027-06-01", "o", record.Order{Item: "item/mast", Day: on("2027-06-01")})
		a := b.read()
		if !a.Items[0].Late {
			t.Error("1 June and 16 weeks is after 6 September")
		}
		act(t, a, "ask/item/mast")
		noAct(t, a, "order/item/mast")
	})
	t.Run("said to arrive after it is needed", func(t *testing.T) {
		b := lay("2027-07-10")
		put(b, "2027-04-01", "o", record.Order{Item: "item/mast", Day: on("2027-04-01")})
		b.says("arr", "2027-07-01", "item/mast", arrives, "2027-09-20", "2027-09-24")
		a := b.read()
		if !a.Items[0].Late {
			t.Error("late")
		}
		act(t, a, "delivery/item/mast/step/deck-rigged/statement/arr")
	})
	t.Run("all there", func(t *testing.T) {
		b := lay("2027-07-10")
		put(b, "2027-07-01", "a", record.Arrival{Item: "item/mast", Day: on("2027-07-01"), Whole: record.Yes})
		a := b.read()
		for _, x := range a.Acts {
			if x.Subject == "item/mast" {
				t.Errorf("%s: %s", x.ID, x.Say)
			}
		}
	})
	t.Run("some missing", func(t *testing.T) {
		b := lay("2027-07-10")
		put(b, "2027-07-01", "a", record.Arrival{Item: "item/mast", Day: on("2027-07-01"), Whole: record.No})
		act(t, b.read(), "ask/item/mast")
	})
	t.Run("built in, never arrived", func(t *testing.T) {
		b := lay("2027-09-20")
		b.see("2027-09-15", "deck-rigged", done)
		act(t, b.read(), "built/item/mast/step/deck-rigged")
	})
	t.Run("arrived before it was ordered", func(t *testing.T) {
		b := lay("2027-07-10")
		put(b, "2027-07-05", "o", record.Order{Item: "item/mast", Day: on("2027-07-05")})
		put(b, "2027-07-01", "a", record.Arrival{Item: "item/mast", Day: on("2027-07-01"), Whole: record.Yes})
		act(t, b.read(), "deliveries/item/mast")
	})
}

func TestLaunch(t *testing.T) {
	b := worked()
	b.says("s1", "2027-01-10", "build/build", launch, "2027-07-01", "2027-07-31")
	b.says("s2", "2027-02-20", "build/build", launch, "2027-08-20", "2027-08-20")
	put(b, "", "cut", record.Cutoff{Name: "launch", Day: on("2027-07-15"), About: "build/build", Clause: "3"})
	put(b, "", "build", record.Build{Name: "Invented"})
	l := b.read().Launch
	if l.First.Day != on("2027-07-31") || l.Said.Day != on("2027-08-20") || l.Contract.Day != on("2027-07-15") || l.Computed.Day != on("2027-09-07") {
		t.Errorf("first %s, said %s, contract %s, computed %s", l.First.Day, l.Said.Day, l.Contract.Day, l.Computed.Day)
	}
}
