package work

import (
	"dogshore/calendar"
	"dogshore/programme"
)

// exampleForecast is a small catamaran half built, invented: two hull halves
// that share a mould, seen at six visits, with a deck whose inserts are open.
func exampleForecast() ForecastCase {
	first := calendar.Date(2027, 2, 3) // the first of the weekly visits, a Wednesday
	c := ForecastCase{
		DataDate:  first + 36,
		Calendars: []CaseWeek{{ID: "yard", Week: "Mon-Thu 1, Fri 0.5", Closures: []CaseClosure{{From: first + 184, To: first + 203, Why: "summer"}}}, {ID: "mast maker", Week: "Mon-Fri"}},
		Stands: []CaseStand{{ID: "hull mould", Holdings: []CaseHolding{
			{First: "port-gelcoat", Last: "port-demoulded"}, {First: "starboard-gelcoat", Last: "starboard-demoulded"},
		}}},
		VisitEvery: 7, Launch: "launched", Contract: []calendar.Day{calendar.Date(2027, 12, 1)}, Seed: 1,
	}
	for d := calendar.Day(0); d <= 35; d += 7 {
		c.Visits = append(c.Visits, first+d)
	}
	step := func(id, trade string, low, mode, high float64, after ...string) *ForecastStep {
		c.Steps = append(c.Steps, ForecastStep{CaseStep: CaseStep{ID: id}, Trade: trade, Spread: &CaseSpread{low, mode, high}})
		for _, a := range after {
			c.Links = append(c.Links, CaseLink{From: a, To: id})
		}
		return &c.Steps[len(c.Steps)-1]
	}
	// seen says which visits found a step begun and done, counted from 0; 9 for
	// not yet.
	seen := func(s *ForecastStep, begun, done int) {
		for k, v := range c.Visits {
			state := programme.NotStarted
			if k >= done {
				state = programme.Done
			} else if k >= begun {
				state = programme.UnderWay
			}
			s.Seen = append(s.Seen, CaseSighting{Day: v, State: state})
		}
	}
	seen(step("port-gelcoat", "lamination", 1, 2, 3), 1, 1)
	seen(step("port-outer-skin", "lamination", 3, 4, 7, "port-gelcoat"), 1, 2)
	seen(step("port-core", "lamination", 4, 5, 8, "port-outer-skin"), 2, 4)
	seen(step("port-infused", "lamination", 1, 2, 3, "port-core"), 4, 4)
	seen(step("port-demoulded", "lamination", 2, 3, 5, "port-infused"), 5, 9)
	step("starboard-gelcoat", "lamination", 1, 2, 3)
	step("starboard-infused", "lamination", 9, 12, 18, "starboard-gelcoat")
	step("starboard-demoulded", "lamination", 2, 3, 5, "starboard-infused")
	seen(step("deck-gelcoat", "lamination", 2, 3, 4), 2, 3)
	seen(step("deck-outer-skin", "lamination", 3, 4, 7, "deck-gelcoat"), 3, 5)
	step("deck-core", "lamination", 4, 5, 9, "deck-outer-skin")
	step("deck-infused", "lamination", 1, 2, 3, "deck-core").Owner = true
	seen(step("port-bulkheads", "joinery", 4, 5, 8), 0, 2)
	seen(step("port-lockers", "joinery", 5, 7, 11, "port-bulkheads"), 2, 9)
	step("hulls-joined", "lamination", 6, 8, 13, "port-demoulded", "starboard-demoulded", "port-lockers")
	step("deck-joined", "lamination", 4, 6, 9, "hulls-joined", "deck-infused")
	step("interior", "joinery", 30, 38, 60, "deck-joined")
	step("painted", "paint", 12, 15, 24, "deck-joined")
	mast := step("mast-made", "", 60, 70, 95)
	mast.Supplier, mast.Calendar = true, "mast maker"
	step("launched", "yard", 1, 2, 4, "interior", "painted", "mast-made")
	c.Points = []CasePoint{
		{
			ID: "anchors of the jackstays", Covers: []string{"deck-core"}, Sure: true, CutOff: first + 47,
			Leads: []CaseLead{{Says: "designer's check", Days: 3}, {Says: "inserts made", Spread: &CaseSpread{4, 5, 8}}},
			Doors: []CaseDoor{{ID: "solid inserts"}, {ID: "plates from below", Covers: []string{"deck-joined"}, Leads: []CaseLead{{Says: "plates cut", Days: 6}}}},
		},
		{ID: "colour of the hull", Covers: []string{"painted"}, Leads: []CaseLead{{Says: "paint delivered", Days: 15, Guess: true}}},
	}
	return c
}
