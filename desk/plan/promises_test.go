package plan

import (
	"testing"

	"dogshore/record"
)

func TestPromises(t *testing.T) {
	const due = "2027-03-12"
	for _, c := range []struct {
		name  string
		see   func(b *boat)
		state PromiseState
		late  int
	}{
		{"seen done before the last day", func(b *boat) { b.see("2027-03-10", "deck-core", done) }, Kept, 0},
		{"seen done on the last day", func(b *boat) { b.see(due, "deck-core", done) }, Kept, 0},
		{"seen not done a week after", func(b *boat) { b.see("2027-03-19", "deck-core", underWay) }, Broken, 7},
		{"seen not done on the last day itself", func(b *boat) { b.see(due, "deck-core", underWay) }, Unseen, 0},
		{"done between two looks on either side", func(b *boat) {
			b.see("2027-03-10", "deck-core", underWay)
			b.see("2027-03-17", "deck-core", done)
		}, EitherWay, 0},
		{"a later stage seen in time", func(b *boat) { b.see("2027-03-11", "deck-inner-skin", underWay) }, Kept, 0},
		{"an earlier stage seen not done after", func(b *boat) { b.see("2027-03-19", "deck-gelcoat", underWay) }, Broken, 7},
		{"only told done", func(b *boat) { b.seeAs("2027-03-11", "call", "deck-core", done) }, Unseen, 0},
		{"nobody looked", func(b *boat) {}, Unseen, 0},
		{"still to come", func(b *boat) { b.day = on("2027-03-12") }, Pending, 0},
		{"moved before it was due", func(b *boat) { b.says("s2", "2027-03-09", "step/deck-core", isDone, "2027-03-26", "2027-03-26") }, Moved, 0},
		{"another day named once it was past", func(b *boat) { b.says("s2", "2027-03-15", "step/deck-core", isDone, "2027-03-26", "2027-03-26") }, Broken, 3},
		{"kept, though another day was named", func(b *boat) {
			b.see("2027-03-11", "deck-core", done)
			b.says("s2", "2027-03-09", "step/deck-core", isDone, "2027-03-26", "2027-03-26")
		}, Kept, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := newBoat("2027-03-22")
			b.chain("deck", "gelcoat", "core", "inner-skin")
			b.says("s1", "2027-03-01", "step/deck-core", isDone, "2027-03-08", due)
			c.see(b)
			p := b.read().Promises[0]
			if p.State != c.state || p.Late != c.late {
				t.Errorf("%q, %d late; want %q, %d", p.State, p.Late, c.state, c.late)
			}
		})
	}
}

func TestKeepersCountEachPromiseOnce(t *testing.T) {
	b := newBoat("2027-03-22")
	b.chain("deck", "gelcoat", "core")
	b.says("a1", "2027-03-01", "step/deck-gelcoat", isDone, "2027-03-05", "2027-03-05")
	b.says("a2", "2027-03-03", "step/deck-gelcoat", isDone, "2027-03-05", "2027-03-05") // said once more
	b.says("b1", "2027-03-01", "step/deck-core", isDone, "2027-03-12", "2027-03-12")
	b.see("2027-03-04", "deck-gelcoat", done)
	b.see("2027-03-20", "deck-core", underWay)
	a := b.read()
	if len(a.Keepers) != 1 || a.Keepers[0] != (Keeper{Who: "person/lead", Kept: 1, Broken: 1}) {
		t.Errorf("keepers %+v", a.Keepers)
	}
}

func TestNoWordIsKeptOnWhatIsLeftOut(t *testing.T) {
	b := newBoat("2027-03-22")
	put(b, "", "x", record.Step{Name: "skin coat", Part: "part/deck", NotDone: record.Yes})
	put(b, "", "mast", record.Item{Name: "mast", Withdrawn: record.Yes})
	b.says("s1", "2027-03-01", "step/x", isDone, "2027-03-05", "2027-03-05")
	b.says("s2", "2027-03-01", "item/mast", arrives, "2027-03-05", "2027-03-05")
	if a := b.read(); len(a.Promises) != 0 {
		t.Errorf("%+v", a.Promises)
	}
}

func TestItemPromises(t *testing.T) {
	for _, c := range []struct {
		name    string
		arrival record.Arrival
		state   PromiseState
	}{
		{"there in time", record.Arrival{Item: "item/mast", Day: on("2027-03-10")}, Kept},
		{"delivered late", record.Arrival{Item: "item/mast", Day: on("2027-03-18")}, Broken},
		{"first seen later: it may have lain there", record.Arrival{Item: "item/mast", Day: on("2027-03-18"), Visit: "visit/v-2027-03-18-owner"}, EitherWay},
		{"not all of it", record.Arrival{Item: "item/mast", Day: on("2027-03-18"), Whole: record.No}, Broken},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := newBoat("2027-03-22")
			b.visit("2027-03-18", "owner")
			put(b, "", "mast", record.Item{Name: "mast", BoughtBy: "yard"})
			b.says("s", "2027-03-01", "item/mast", "", "2027-03-12", "2027-03-12")
			put(b, "2027-03-18", "arr", c.arrival)
			if p := b.read().Promises[0]; p.State != c.state {
				t.Errorf("%q, want %q", p.State, c.state)
			}
		})
	}
}

func TestToldDates(t *testing.T) {
	b := newBoat("2027-03-10")
	b.chain("deck", "gelcoat", "core", "inner-skin")
	b.says("s1", "2027-03-01", "step/deck-core", starts, "2027-03-15", "2027-03-15")
	b.says("s2", "2027-03-08", "step/deck-core", starts, "2027-03-22", "2027-03-26")
	b.says("s3", "2027-03-01", "step/deck-gelcoat", starts, "2027-03-02", "2027-03-02")
	a := b.read()
	if w := step(t, a, "deck-core").Start; w.Day != on("2027-03-22") || w.Said != "on Yard lead's word of 8 March" {
		t.Errorf("core starts %s, %s: the latest word governs, by its first day", w.Day, w.Said)
	}
	if w := step(t, a, "deck-gelcoat").Start; w.Day != on("2027-03-02") || w.Day >= a.DataDate {
		t.Errorf("gelcoat %s: a day that is past stays, as one that was due", w.Day)
	}
	if w := step(t, a, "deck-inner-skin").Start; w.Known() {
		t.Errorf("inner skin %s: nobody has said it", w.Day)
	}
	if said := step(t, a, "deck-core").Said; len(said) != 2 || said[0].Self != "statement/s2" || said[1].State != Moved {
		t.Errorf("history %+v", said)
	}
}

func TestToldStartAgainstDurations(t *testing.T) {
	b := worked()
	b.says("s", "2027-03-01", "step/DC", starts, "2027-03-15", "2027-03-15") // durations: not before 2 April
	a := b.read()
	if w := step(t, a, "DC").Start; w.Day != on("2027-03-15") || w.Basis != "told" {
		t.Errorf("DC starts %s, %s", w.Day, w.Basis)
	}
	if w := step(t, a, "DI").Start; w.Day != on("2027-04-14") {
		t.Errorf("DI starts %s: a told date binds nothing else", w.Day)
	}
	if x := act(t, a, "start/step/DC/statement/s"); len(x.Why) != 2 {
		t.Errorf("%d sides", len(x.Why))
	}
}
