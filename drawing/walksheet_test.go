package drawing_test

import (
	"fmt"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/desk/visit"
	"dogshore/drawing"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

func TestWalkSheetOfAFreshBuild(t *testing.T) {
	r := catamaran(t)
	b, _ := journal.Get[record.Build](r, "build/build")
	a := visit.Read(r, plan.Read(r))
	d := drawing.WalkSheet(b, a, r.Name, 1)
	fitsLetterToo(t, d)
	svg := string(d.SVG())
	wellFormed(t, svg)
	for _, s := range a.Walk {
		if !strings.Contains(svg, ">"+r.Name(s.Part)+"<") {
			t.Errorf("the stop at %s is missing", r.Name(s.Part))
		}
	}
}

func TestWalkSheetSaysWhatToDo(t *testing.T) {
	a := visit.Answer{
		Next: visit.Coming{Fixed: calendar.Date(2026, 5, 12), Why: "The last look at the inserts before the deck core."},
		Walk: []visit.Stop{{
			Part:  "part/deck",
			Steps: []visit.Likely{{Step: "step/deck-core", State: "under way", Tap: "done"}, {Step: "step/deck-core", Tap: "under way"}, {Step: "step/deck-inner-skin", Tap: "under way"}},
			Acts: []desk.Act{
				{Say: "Ask about the hatch.", Ahead: 5},
				{Say: "Look at the inserts.", Ahead: 0, By: desk.When{Day: calendar.Date(2026, 5, 14), Said: "on the yard's word"}},
				{Say: "Look at the trunk.", Ahead: -1},
			},
		}},
		Questions: []visit.Question{
			{Question: record.Question{Subject: record.Subject{Self: "question/q1"}, Text: "Which foam is it?", To: "person/lead"}},
		},
		Measurements: []visit.Measurement{
			{Measurement: record.Measurement{What: "core thickness", Of: "part/deck", Got: unit.Quantity{Known: true, SI: 0.023, Low: 0.023, High: 0.023, Dim: unit.Length, As: "23 mm"},
				Should: record.Tolerance{Known: true, Value: 0.025, Minus: 0.0005, Plus: 0.0005, Dim: unit.Length, As: "25 mm ±0.5 mm"}}, Out: true},
			{Measurement: record.Measurement{What: "beam"}},
		},
	}
	svg := string(drawing.WalkSheet(record.Build{Name: "Example", Notice: "All this is invented."}, a, func(r record.Ref) string { return "<" + r.Key() + ">" }, 41).SVG())
	wellFormed(t, svg)
	at := -1
	for _, want := range []string{
		"All this is invented.", "&lt;deck&gt;", "&lt;deck-core&gt; (was under way)", "&lt;deck-inner-skin&gt;",
		"Look at the inserts. By Thu 14 May 2026, on the yard", "Ask about the hatch.", "Look at the trunk.",
		"&lt;lead&gt;: Which foam is it?", "&lt;deck&gt;: core thickness",
	} {
		i := strings.Index(svg, want)
		if i <= at {
			t.Errorf("%q stands at %d, after %d", want, i, at)
		}
		at = i
	}
	if strings.Count(svg, "&lt;deck-core&gt;") != 1 {
		t.Error("one step has two rows of boxes")
	}
	if strings.Contains(svg, "beam") {
		t.Error("a measurement that was right is asked for again")
	}
}

// However much there is, it is one page, and what does not fit is counted.
func TestWalkSheetCountsWhatIsLeftOut(t *testing.T) {
	var a visit.Answer
	stops, acts := 60, 9
	for i := range stops {
		s := visit.Stop{Part: record.R("part", fmt.Sprintf("p%02d", i)), Steps: []visit.Likely{{Step: "step/s"}}}
		for k := range acts {
			s.Acts = append(s.Acts, desk.Act{Say: strings.Repeat("Look at it closely. ", 6), Ahead: k})
		}
		a.Walk = append(a.Walk, s)
	}
	d := drawing.WalkSheet(record.Build{Name: "Example"}, a, record.Ref.Key, 41)
	fitsLetterToo(t, d)
	svg := string(d.SVG())
	shown := 0
	for _, s := range a.Walk {
		shown += strings.Count(svg, ">"+s.Part.Key()+"<")
	}
	if want := fmt.Sprintf(">And %d more in the program: p%02d, ", stops-shown, shown); !strings.Contains(svg, want) {
		t.Errorf("%d of %d stops are shown; no %q", shown, stops, want)
	}
	if got := strings.Count(svg, fmt.Sprintf(">and %d later, in the program<", acts-1)); got != shown {
		t.Errorf("%d stops say what they leave out, want %d", got, shown)
	}
}
