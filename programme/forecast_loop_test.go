package programme_test

import (
	"testing"

	"dogshore/programme"
)

// Two networks with loops on which forecast and pass once differed: a finish that
// comes in with the first sweep moves no start in it, and a moment after hours
// does not push what is done before they end.
func TestLoopsWithoutChance(t *testing.T) {
	seen := func(id, cal string, work, hours float64, s programme.State) programme.Step {
		return programme.Step{ID: id, Calendar: cal, Known: true, Work: work, Hours: hours, Seen: []programme.Sighting{{Day: monday - 1, State: s}}}
	}
	for name, c := range map[string]programme.Case{
		"finish": {
			Steps: []programme.Step{seen("a", "yard", 0, 1, programme.UnderWay), seen("b", "yard", 0, 2, programme.NotStarted), seen("c", "yard", 0, 1, programme.NotStarted)},
			Links: []programme.Link{{From: "a", To: "c", Type: programme.SS}, {From: "c", To: "a", Type: programme.FF}, {From: "b", To: "c", Type: programme.FF}},
		},
		"moment": {
			Steps: []programme.Step{seen("a", "yard", 0, 0, programme.NotStarted), seen("b", "half", 1, 0, programme.NotStarted), seen("c", "half", 0, 0, programme.NotStarted)},
			Links: []programme.Link{{From: "b", To: "c", Type: programme.SS}, {From: "c", To: "b", Type: programme.FF}, {From: "a", To: "c", Hours: 9}},
		},
	} {
		t.Run(name, func(t *testing.T) {
			c.DataDate, c.Calendars = monday, []programme.Calendar{{ID: "yard", Week: "Mon-Fri"}, {ID: "half", Week: "Mon-Thu 1, Fri 0.5"}}
			r, err := programme.Pass(c)
			if err != nil {
				t.Fatal(err)
			}
			o := forecast(t, sure(c), known, programme.Run{Trials: 5})
			for i, s := range r.Steps {
				if f := o.Steps[i]; same(f.Start, s.EarlyStart) != nil || same(f.Finish, s.EarlyFinish) != nil {
					t.Errorf("%s runs %s to %s, by the pass %s to %s", s.ID, f.Start.P50, f.Finish.P50, s.EarlyStart, s.EarlyFinish)
				}
			}
			if same(o.Launch.Dates, r.Finish) != nil {
				t.Errorf("launch %s, by the pass %s", o.Launch.P50, r.Finish)
			}
		})
	}
}
