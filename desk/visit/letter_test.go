package visit

import (
	"fmt"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk/plan"
	"dogshore/record"
	"dogshore/unit"
)

func sentLine(letter record.Ref, n int, about record.Ref, by calendar.Day) record.Line {
	return record.Line{Letter: letter, Number: unit.Q(float64(n), unit.Number), Text: fmt.Sprintf("line %d", n), About: about, By: by}
}

// Numbers go on after the highest ever used; a line that is overdue comes
// again under its own; what was sent and is not due is not said again; what
// was settled some other way is not asked again.
func TestLetterNumbers(t *testing.T) {
	b := &build{t: t}
	v := b.visit("v", day(7), "owner")
	letter := put(b, day(2), record.Written, "l", record.Letter{Day: day(2)})
	q := func(key string) record.Ref {
		return put(b, day(1), record.Told, key, record.Question{Text: "Question " + key + "?", Asked: day(2)})
	}
	put(b, day(2), record.Written, "l-3", sentLine(letter, 3, q("overdue"), day(6)))
	put(b, day(2), record.Written, "l-4", sentLine(letter, 4, q("waiting"), day(20)))
	put(b, day(2), record.Written, "l-9", sentLine(letter, 9, q("answered"), day(6)))
	put(b, day(3), record.Written, "a", record.Answer{To: "question/answered", Text: "yes"})
	q("fresh")
	core := b.step(b.part("deck", "deck"), "deck-core", "deck core", "under way", 0)
	put(b, day(7), record.Seen, "s", record.Sighting{Visit: v, Step: core.Self, State: "under way"})

	got := Read(b.as(day(8)), plan.Answer{Steps: []plan.Step{core}})
	want := []struct {
		n     int
		about record.Ref
	}{{3, "question/overdue"}, {10, ""}, {11, "question/fresh"}}
	if len(got.Letter) != len(want) {
		t.Fatalf("letter %+v, want %v", got.Letter, want)
	}
	for i, w := range want {
		if l := got.Letter[i]; l.Number != w.n || l.About != w.about {
			t.Errorf("line %d is number %d about %q, want %v", i, l.Number, l.About, w)
		}
	}
	if len(got.Unanswered) != 2 {
		t.Errorf("unanswered %+v, want lines 3 and 4", got.Unanswered)
	}
	find(t, got.Acts, "ask/question/overdue")
	const noted = "At the visit of Tuesday 7 April 2026 we noted: under way: deck core. Please tell us if any of this is not so."
	if got.Letter[1].Text != noted {
		t.Errorf("noted %q", got.Letter[1].Text)
	}
}

// A letter says what was seen, understood, decided and asked; nothing of
// prices, reasons or chances gets in.
func TestLetterKeepsToItsBusiness(t *testing.T) {
	b := &build{t: t}
	b.person("lead", "Ana", "yard lead", record.Yes)
	core := b.step(b.part("deck", "deck"), "deck-core", "deck core", "not started", 0)
	p := put(b, day(1), record.Told, "eye", record.Point{Question: "Where does the stem eye go?", CoveredBy: core.Self, Default: "DEFAULT"})
	o := put(b, day(1), record.Told, "port", record.Option{Point: p, Name: "300 mm to port", Reason: "REASON", Price: unit.Money{Minor: 123456, Currency: "EUR"}})
	d := put(b, day(2), record.Told, "d", record.Decision{Point: p, Option: o, With: "person/lead", Day: day(2)})
	put(b, day(2), record.Told, "a", record.Agreement{Says: "Foam to be told", With: "person/lead", Day: day(2), Before: core.Self})
	put(b, day(2), record.Seen, "x", record.Defect{What: "Gap under the core", Part: "part/deck", Before: core.Self})
	put(b, day(2), record.Told, "said", record.Defect{What: "Dust in the bond", Part: "part/deck"})
	put(b, day(3), record.Told, "m", record.Remedy{Defect: "defect/said", State: "put right"})
	put(b, day(2), record.Told, "s", record.Statement{About: core.Self, What: "starts", On: day(2), Said: "CHANCE"})
	r := b.as(day(8))
	pt := plan.Point{Point: must[record.Point](t, r, p), Step: core.Self, State: plan.SaidOnly}
	dec := must[record.Decision](t, r, d)
	pt.Decision = &dec
	got := Read(r, plan.Answer{Steps: []plan.Step{core}, Points: []plan.Point{pt}})
	var text []string
	for _, l := range got.Letter {
		text = append(text, l.Text)
		if l.By != day(22) { // two weeks: nobody said when anything starts
			t.Errorf("line %d asks by %s", l.Number, l.By)
		}
	}
	want := []string{
		"We understood that this was agreed with Ana on Thursday 2 April 2026: Foam to be told. Please confirm this in writing, with what is still to be told. It matters before the deck core starts.",
		"We have decided on Thursday 2 April 2026: Where does the stem eye go? 300 mm to port. Please confirm this in writing. It matters before the deck core starts.",
		"We saw (deck): Gap under the core. Please let us know how and when it will be put right. It should be right before the deck core starts.",
		"We understood that this has been put right (deck): Dust in the bond. Please send a picture of it, or let us see it.",
	}
	if strings.Join(text, "\n") != strings.Join(want, "\n") {
		t.Errorf("letter\n%s\nwant\n%s", strings.Join(text, "\n"), strings.Join(want, "\n"))
	}
	all := strings.Join(text, "\n")
	for _, word := range []string{"DEFAULT", "REASON", "CHANCE", "EUR", "1234"} {
		if strings.Contains(all, word) {
			t.Errorf("the letter says %q", word)
		}
	}
}

// An answer is asked for before the step starts, and by the next visit.
func TestLetterAsksInTime(t *testing.T) {
	b := &build{t: t}
	put(b, journal0, record.Written, "build", record.Build{Name: "Petrel", NextVisit: day(15)})
	core := b.step(b.part("deck", "deck"), "deck-core", "deck core", "not started", 0)
	core.Chance.Day = day(10)
	hull := b.step("", "hull-core", "hull core", "not started", 0)
	put(b, day(1), record.Told, "a", record.Question{Text: "One?", Before: core.Self})
	put(b, day(1), record.Told, "b", record.Question{Text: "Two?", Before: hull.Self})
	got := Read(b.as(day(8)), plan.Answer{Steps: []plan.Step{core, hull}})
	if len(got.Letter) != 2 || got.Letter[0].By != day(10) || got.Letter[1].By != day(15) {
		t.Errorf("letter %+v, want answers by the 10th and the 15th", got.Letter)
	}
}
