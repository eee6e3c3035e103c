package visit

import (
	"testing"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/record"
)

// An agreement is firm once it is in writing, by somebody who may instruct,
// with every number in it, or once it was seen built.
func TestLoose(t *testing.T) {
	type put2 struct {
		grounds record.Grounds // of the agreement
		with    string
		says    string
		by      string         // of a confirmation, "" for none
		how     record.Grounds // of the confirmation
		shown   bool
	}
	const plain = "Stem eye 300 mm ahead of the crossbeam"
	for name, c := range map[string]struct {
		put2
		want string
	}{
		"only told":                          {put2{grounds: record.Told, with: "lead", says: plain}, "only told"},
		"noted at the visit, still told":     {put2{grounds: record.Seen, with: "lead", says: plain}, "only told"},
		"in writing, by who may":             {put2{grounds: record.Written, with: "lead", says: plain}, ""},
		"in writing, by who may not":         {put2{grounds: record.Written, with: "hand", says: plain}, "with Igor, who may not instruct"},
		"told, by who may not":               {put2{grounds: record.Told, with: "hand", says: plain}, "only told; with Igor, who may not instruct"},
		"nobody has said whether he may":     {put2{grounds: record.Written, with: "maker", says: plain}, "with Mast works, and nobody has said that they may instruct"},
		"told, then confirmed by who may":    {put2{grounds: record.Told, with: "hand", says: plain, by: "lead", how: record.Written}, ""},
		"told, then confirmed by who mayn't": {put2{grounds: record.Told, with: "lead", says: plain, by: "hand", how: record.Written}, "confirmed, but by somebody who may not instruct"},
		"confirmed by telephone":             {put2{grounds: record.Told, with: "lead", says: plain, by: "lead", how: record.Told}, "only told"},
		"a number is to be told":             {put2{grounds: record.Written, with: "lead", says: "Stem eye, bolt size to be told"}, "a number is still to be told"},
		"tbc in capitals":                    {put2{grounds: record.Written, with: "lead", says: "Stem eye, bolt TBC"}, "a number is still to be told"},
		"tbc inside another word":            {put2{grounds: record.Written, with: "lead", says: "Clutch by Outbc works"}, ""},
		"told, and seen built":               {put2{grounds: record.Told, with: "hand", says: plain, shown: true}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			b := &build{t: t}
			b.person("lead", "Ana", "yard lead", record.Yes)
			b.person("hand", "Igor", "yard hand", record.No)
			b.person("maker", "Mast works", "supplier", "")
			deck := b.part("deck", "deck")
			core := b.step(deck, "deck-core", "deck core", "not started", 2)
			a := put(b, day(1), c.grounds, "a", record.Agreement{Says: c.says, With: record.R("person", c.with), Day: day(1), Before: core.Self})
			if c.by != "" {
				put(b, day(2), c.how, "c", record.Confirmation{Of: a, By: record.R("person", c.by), Day: day(2)})
			}
			if c.shown {
				put(b, day(3), record.Seen, "e", record.Evidence{Shows: a, What: "picture 12"})
			}
			got := Read(b.as(day(8)), plan.Answer{Steps: []plan.Step{core}})
			if c.want == "" {
				if len(got.Loose) != 0 || len(got.Acts) != 0 {
					t.Fatalf("loose %+v, acts %v; want neither", got.Loose, ids(got.Acts))
				}
				return
			}
			if len(got.Loose) != 1 || got.Loose[0].Why != c.want {
				t.Fatalf("loose %+v, want why %q", got.Loose, c.want)
			}
			act := find(t, got.Acts, "confirm/agreement/a")
			if act.Where != desk.ToYard || act.Before != core.Self || act.Ahead != 2 {
				t.Errorf("the act stands %q before %q (%d ahead), want to the yard, before %q, 2", act.Where, act.Before, act.Ahead, core.Self)
			}
		})
	}
}

// A decision comes back about its point, so that it and what the plan says of
// the point are one act; one overtaken by a later decision does not.
func TestLooseDecision(t *testing.T) {
	b := &build{t: t}
	b.person("lead", "Ana", "yard lead", record.Yes)
	core := b.step(b.part("deck", "deck"), "deck-core", "deck core", "not started", 0)
	p := put(b, day(1), record.Written, "eye", record.Point{Question: "Where does the stem eye go?", CoveredBy: core.Self, Gravity: "structure"})
	put(b, day(2), record.Told, "first", record.Decision{Point: p, Says: "on the centreline", With: "person/lead", Day: day(2)})
	last := put(b, day(3), record.Told, "last", record.Decision{Point: p, Says: "300 mm to port", With: "person/lead", Day: day(3)})
	r := b.as(day(8))
	pt := plan.Point{Step: core.Self, State: plan.SaidOnly}
	pt.Point = must[record.Point](t, r, p)
	d := must[record.Decision](t, r, last)
	pt.Decision = &d
	got := Read(r, plan.Answer{Steps: []plan.Step{core}, Settled: []plan.Point{pt}})
	if len(got.Loose) != 1 || got.Loose[0].About != last {
		t.Fatalf("loose %+v, want the last decision alone", got.Loose)
	}
	a := find(t, got.Acts, "confirm/point/eye")
	if a.Say != "Get it in writing: Where does the stem eye go? 300 mm to port." || a.Gravity != desk.Structure || a.By.Known() {
		t.Errorf("act %+v", a)
	}
}
