package visit

import (
	"strings"
	"testing"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

func must[T any](t *testing.T, r *journal.Record, ref record.Ref) T {
	t.Helper()
	x, ok := journal.Get[T](r, ref)
	if !ok {
		t.Fatalf("no %s", ref)
	}
	return x
}

func TestQuestions(t *testing.T) {
	b := &build{t: t}
	core := b.step(b.part("deck", "deck"), "deck-core", "deck core", "not started", 1)
	put(b, day(1), record.Told, "new", record.Question{Text: "Which foam is in the foredeck?", Before: core.Self})
	put(b, day(1), record.Told, "asked", record.Question{Text: "Who taps the core?", Asked: day(1)})
	put(b, day(1), record.Told, "done", record.Question{Text: "Is the mould ours?", Asked: day(1)})
	put(b, day(2), record.Written, "a", record.Answer{To: "question/done", Text: "yes"})
	byLine := put(b, day(1), record.Told, "by-line", record.Question{Text: "When is the core closed?", Asked: day(1)})
	late := put(b, day(1), record.Told, "late", record.Question{Text: "Which resin?", Asked: day(1)})
	letter := put(b, day(2), record.Written, "l", record.Letter{Day: day(2)})
	line := put(b, day(2), record.Written, "l-1", sentLine(letter, 1, byLine, day(6)))
	put(b, day(2), record.Written, "l-2", sentLine(letter, 2, late, day(6)))
	put(b, day(3), record.Written, "a2", record.Answer{To: line, Text: "Friday"})
	got := Read(b.as(day(8)), plan.Answer{Steps: []plan.Step{core}})

	want := []struct {
		key     string
		overdue bool
	}{{"new", false}, {"asked", false}, {"late", true}} // the one before a step first
	if len(got.Questions) != len(want) {
		t.Fatalf("questions %+v, want %v", got.Questions, want)
	}
	for i, w := range want {
		if q := got.Questions[i]; q.Key() != w.key || q.Overdue != w.overdue {
			t.Errorf("question %d is %s, overdue %v; want %v", i, q.Key(), q.Overdue, w)
		}
	}
	if a := find(t, got.Acts, "ask/question/new"); a.Where != desk.AtVisit || a.Before != core.Self {
		t.Errorf("a question not asked yet is for the visit: %+v", a)
	}
	if a := find(t, got.Acts, "ask/question/asked"); a.Where != desk.ToYard {
		t.Errorf("a question asked already is for the letter: %+v", a)
	}
}

// What was asked at the last visit goes into its letter, and once it stands
// there the answer is given its time; only then is it asked again.
func TestQuestionOfTheLastVisit(t *testing.T) {
	b := &build{t: t}
	put(b, day(3), record.Seen, "third", record.Visit{Day: day(3), By: "owner"})
	q := put(b, day(3), record.Told, "asked", record.Question{Text: "Who taps the core?", Asked: day(3)})
	if a := find(t, Read(b.as(day(4)), plan.Answer{}).Acts, "ask/question/asked"); !strings.HasPrefix(a.Say, "Put it in the letter") {
		t.Errorf("asked yesterday: %s", a.Say)
	}
	letter := put(b, day(4), record.Written, "l", record.Letter{Day: day(4)})
	put(b, day(4), record.Written, "l-1", sentLine(letter, 1, q, day(9)))
	for _, a := range Read(b.as(day(5)), plan.Answer{}).Acts {
		if a.ID == "ask/question/asked" {
			t.Errorf("written yesterday, to be answered by the 9th: %s", a.Say)
		}
	}
	if a := find(t, Read(b.as(day(10)), plan.Answer{}).Acts, "ask/question/asked"); !strings.HasPrefix(a.Say, "Ask again") {
		t.Errorf("overdue: %s", a.Say)
	}
}

func TestDefects(t *testing.T) {
	type look struct {
		state   string
		grounds record.Grounds
		day     int
		by      string // the visit it was at
	}
	const right, not = "put right", "not yet right"
	for name, c := range map[string]struct {
		gravity    string
		looks      []look
		open, told bool
	}{
		"found":                              {"structure", nil, true, false},
		"said to be right":                   {"structure", []look{{right, record.Told, 3, ""}}, true, true},
		"written to be right":                {"structure", []look{{right, record.Written, 3, ""}}, true, true},
		"seen right":                         {"structure", []look{{right, record.Seen, 3, "owner"}}, false, false},
		"a picture, of finish":               {"finish", []look{{right, record.Shown, 3, "pictures"}}, false, false},
		"a picture, of structure":            {"structure", []look{{right, record.Shown, 3, "pictures"}}, true, true},
		"noted as seen, on the yard's photo": {"structure", []look{{right, record.Seen, 3, "pictures"}}, true, true},
		"noted as seen, on the telephone":    {"finish", []look{{right, record.Seen, 3, "call"}}, true, true},
		"said right, then seen not":          {"finish", []look{{right, record.Told, 3, ""}, {not, record.Seen, 5, "owner"}}, true, false},
		"seen right, then not again":         {"finish", []look{{right, record.Seen, 3, "owner"}, {not, record.Seen, 5, "owner"}}, true, false},
		"not right, then seen right":         {"finish", []look{{not, record.Seen, 3, "owner"}, {right, record.Seen, 5, "owner"}}, false, false},
		"left as it is, seen":                {"finish", []look{{"left as it is", record.Seen, 3, "owner"}}, false, false},
	} {
		t.Run(name, func(t *testing.T) {
			b := &build{t: t}
			deck := b.part("deck", "deck")
			core := b.step(deck, "deck-core", "deck core", "not started", 1)
			d := put(b, day(1), record.Seen, "gap", record.Defect{What: "Gap under the core", Part: deck, Gravity: c.gravity, Before: core.Self})
			for i, l := range c.looks {
				m := record.Remedy{Defect: d, State: l.state, Day: day(l.day)}
				if l.by != "" {
					m.Visit = b.visit("v"+l.by, day(l.day), l.by)
				}
				put(b, day(l.day), l.grounds, "m"+string(rune('a'+i)), m)
			}
			got := Read(b.as(day(8)), plan.Answer{Steps: []plan.Step{core}})
			if open := len(got.Defects) == 1; open != c.open {
				t.Fatalf("open %v, want %v", open, c.open)
			}
			if !c.open {
				if len(got.Acts) != 0 {
					t.Errorf("acts %v, want none", ids(got.Acts))
				}
				return
			}
			if got.Defects[0].Told != c.told {
				t.Errorf("told %v, want %v", got.Defects[0].Told, c.told)
			}
			want := "put/defect/gap"
			if c.told {
				want = "look/defect/gap"
			}
			if a := find(t, got.Acts, want); (a.Caution != "") != (c.gravity == "structure") || a.Missed == "" {
				t.Errorf("act %+v", a)
			}
		})
	}
}

// A defect whose step has begun can't be put right cheaply: what is left is to
// ask how it was done.
func TestDefectGone(t *testing.T) {
	b := &build{t: t}
	core := b.step(b.part("deck", "deck"), "deck-core", "deck core", "under way", 0)
	put(b, day(1), record.Seen, "gap", record.Defect{What: "Gap", Before: core.Self})
	a := find(t, Read(b.as(day(8)), plan.Answer{Steps: []plan.Step{core}}).Acts, "ask/defect/gap")
	if !a.Gone || a.Where != desk.ToYard {
		t.Errorf("act %+v", a)
	}
}

// A defect that a letter spoke of is looked at next, not written again.
func TestDefectTold(t *testing.T) {
	b := &build{t: t}
	d := put(b, day(1), record.Seen, "gap", record.Defect{What: "Gap"})
	put(b, day(2), record.Written, "l-1", sentLine(put(b, day(2), record.Written, "l", record.Letter{Day: day(2)}), 1, d, 0))
	got := Read(b.as(day(8)), plan.Answer{})
	find(t, got.Acts, "look/defect/gap")
	if len(got.Letter) != 0 {
		t.Errorf("letter %+v, want nothing said twice", got.Letter)
	}
}

// What the specification asks to be shown stays until something on file shows
// it; evidence for one line takes away that line alone.
func TestRequirements(t *testing.T) {
	b := &build{t: t}
	core := b.step(b.part("deck", "deck"), "deck-core", "deck core", "not started", 0)
	put(b, day(1), record.Written, "a", record.Requirement{Says: "Foam of 130 kg/m3 under the winches", Before: core.Self, ShownBy: "picture"})
	put(b, day(1), record.Written, "b", record.Requirement{Says: "Solid laminate under the windlass", Before: core.Self})
	p := plan.Answer{Steps: []plan.Step{core}}
	if got := ids(Read(b.as(day(8)), p).Acts); len(got) != 2 {
		t.Fatalf("acts %v, want two", got)
	}
	put(b, day(3), record.Shown, "e", record.Evidence{Shows: "requirement/a", What: "picture 3"})
	if got := ids(Read(b.as(day(8)), p).Acts); len(got) != 1 || got[0] != "look/requirement/b" {
		t.Fatalf("acts %v, want the other one alone", got)
	}
}
