package work

import (
	"time"

	"dogshore/calendar"
	"dogshore/programme"
)

// exampleProgramme is a deck from dry mould to demoulding, invented: a yard
// with half Fridays and a shutdown, a cure that runs through the weekend, a
// hatch from a supplier, and a hard date.
func exampleProgramme() ProgrammeCase {
	day := func(m time.Month, d int) calendar.Day { return calendar.Date(2027, m, d) }
	days := func(d float64) *float64 { return &d }
	return ProgrammeCase{
		DataDate: day(4, 12),
		Calendars: []CaseWeek{
			{ID: "yard", Week: "Mon-Thu 1, Fri 0.5", Closures: []CaseClosure{
				{From: day(5, 6), To: day(5, 6), Why: "holiday"},
				{From: day(5, 7), To: day(5, 7), Working: 0.25, Why: "bridge day"},
			}},
			{ID: "hatch maker", Week: "Mon-Fri"},
		},
		Steps: []CaseStep{
			{ID: "deck-mould", Work: days(6), Seen: []CaseSighting{{Day: day(3, 30), State: programme.NotStarted}, {Day: day(4, 8), State: programme.Done}}},
			{ID: "deck-skin-coat", Work: days(3), Left: days(0.5), Seen: []CaseSighting{{Day: day(4, 8), State: programme.UnderWay}}},
			{ID: "deck-outer-skin", Work: days(5)},
			{ID: "deck-core", Work: days(4)},
			{ID: "deck-infused", Work: days(1)},
			{ID: "deck-cured", Hours: days(36)},
			{ID: "deck-demoulded", Work: days(1), NotAfter: day(5, 14)},
			{ID: "hatches-made", Calendar: "hatch maker", Work: days(20), NotFrom: day(4, 19)},
			{ID: "hatch-rims-ground", Work: days(2)},
		},
		Links: []CaseLink{
			{From: "deck-mould", To: "deck-skin-coat"},
			{From: "deck-skin-coat", To: "deck-outer-skin", Hours: 12},
			{From: "deck-outer-skin", To: "deck-core", Type: programme.SS, Lag: 3},
			{From: "deck-outer-skin", To: "deck-core", Type: programme.FF, Lag: 1},
			{From: "deck-core", To: "deck-infused"},
			{From: "deck-infused", To: "deck-cured"},
			{From: "deck-cured", To: "deck-demoulded"},
			{From: "deck-demoulded", To: "hatch-rims-ground"},
			{From: "hatches-made", To: "hatch-rims-ground", Lag: -1},
		},
	}
}
