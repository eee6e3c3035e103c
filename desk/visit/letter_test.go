package visit

import (
	"fmt"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk"
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

// A day that a letter told the yard never moves later by itself: a step that
// slips leaves it, in the act and on file, and its line is not said again. One
// that moves up is said first in the next letter, under its number, with the day
// that it was.
func TestADayToldNeverMovesLater(t *testing.T) {
	b := &build{t: t}
	b.visit("v", day(7), "owner")
	letter := put(b, day(2), record.Written, "l", record.Letter{Day: day(2)})
	core := b.step(b.part("deck", "deck"), "deck-core", "deck core", "not started", 3)
	hull := b.step("", "hull-core", "hull core", "not started", 3)
	slips := put(b, day(1), record.Told, "slips", record.Question{Text: "Which foam?", Before: core.Self, Asked: day(1)})
	gap := put(b, day(1), record.Seen, "gap", record.Defect{What: "Gap", Before: core.Self})
	said := put(b, day(1), record.Told, "said", record.Agreement{Says: "300 mm to port", Day: day(1), Before: core.Self})
	moves := put(b, day(1), record.Told, "moves", record.Question{Text: "Which glue?", Before: hull.Self, Asked: day(1)})
	for n, about := range []record.Ref{slips, gap, said, moves} {
		put(b, day(2), record.Written, fmt.Sprint("l-", n+1), sentLine(letter, n+1, about, day(20)))
	}
	put(b, day(2), record.Seen, "other", record.Defect{What: "Dust"})
	at := func(later calendar.Day) Answer {
		core.Chance.Day, hull.Chance.Day = day(24)+later, day(14)
		return Read(b.as(day(8)), plan.Answer{Steps: []plan.Step{core, hull}})
	}
	for _, later := range []calendar.Day{0, 30, 200} {
		got := at(later)
		for _, id := range []string{"ask/question/slips", "look/defect/gap", "confirm/agreement/said"} {
			if a := find(t, got.Acts, id); a.By.Day != day(20) || a.By.Basis != desk.OurLetter || a.By.Line(day(8)) != "by Mon 20 April, as our letter of Thu 2 April 2026 has it" || a.By.Work.Entry == nil {
				t.Errorf("the core %d days later: %s %s", later, id, a.By.Line(day(8)))
			}
		}
		if a := find(t, got.Acts, "ask/question/moves"); a.By.Day != day(14) {
			t.Errorf("an earlier day does not stand: %s", a.By.Line(day(8)))
		}
		if len(got.Letter) != 2 || got.Letter[0].Number != 4 || got.Letter[0].By != day(14) || got.Letter[0].Told != day(20) || got.Letter[0].Line != "line/l-4" {
			t.Fatalf("the core %d days later: letter %+v", later, got.Letter)
		}
		if want := "We need this sooner than we wrote, which was by Monday 20 April 2026. line 4"; got.Letter[0].Text != want {
			t.Errorf("%q, want %q", got.Letter[0].Text, want)
		}
	}
	// Once it is answered it binds nobody.
	put(b, day(8), record.Told, "a", record.Answer{To: "line/l-2", Text: "next week"})
	if a := find(t, at(30).Acts, "look/defect/gap"); a.By.Day == day(20) {
		t.Error("an answered line still dates its act")
	}
	// When the moved line has been sent again its day is the one told, and the
	// letter says it no more.
	put(b, day(8), record.Written, "l-4", record.Line{By: day(14)})
	for _, x := range at(0).Letter {
		if x.Line != "" {
			t.Errorf("said once more: %+v", x)
		}
	}
}
