package programme

import (
	"slices"

	"dogshore/calendar"
)

// mix makes the case that takes the named groups from the later state.
//
// Steps, links, lengths, calendars and stands are of the plan; visits, and what
// was seen or told of a step of the yard, are of the sightings; of a bought-in
// item everything but that it is there at all is its own.
func (x *mover) mix(later int) ForecastCase {
	pick := func(bit int) *ForecastCase {
		if later&bit != 0 {
			return &x.after.Case
		}
		return &x.before.Case
	}
	plan, seen, bought := pick(bitPlan), pick(bitSightings), pick(bitBoughtIn)
	out := *plan
	out.DataDate = pick(bitTime).DataDate
	out.Points, out.Visits, out.VisitEvery = nil, seen.Visits, seen.VisitEvery
	out.Steps = slices.Clone(plan.Steps)
	seenBy, boughtBy := stepsByID(seen), stepsByID(bought)
	move := x.counter(&out)
	for i := range out.Steps {
		s := &out.Steps[i]
		from, by := seen, seenBy[s.ID]
		if b := boughtBy[s.ID]; s.Supplier && b != nil && b.Supplier {
			*s, from, by = *b, bought, b
		} else if s.Supplier {
			from, by = plan, s
		}
		if by == nil {
			from, by = plan, s // only the plan that is taken has it
		}
		s.Seen, s.Left = slices.Clone(by.Seen), by.Left
		for k := range s.Seen {
			s.Seen[k].Day = min(s.Seen[k].Day, out.DataDate)
		}
		if s.Left != nil && *s.Left > 0 && from.DataDate != out.DataDate {
			left := max(0, *s.Left-move(s, from.DataDate, out.DataDate))
			s.Left = &left
		}
	}
	return out
}

// counter returns a function that counts the working days of a step between
// two days.
func (x *mover) counter(c *ForecastCase) func(*ForecastStep, calendar.Day, calendar.Day) float64 {
	cals := make(map[string]*calendar.Calendar)
	for i, in := range c.Calendars {
		cal, err := calendar.New(in.Week, in.Closures)
		if err != nil {
			continue // the forecast of the mixture says so
		}
		if cals[in.ID] = cal; i == 0 {
			cals[""] = cal
		}
	}
	return func(s *ForecastStep, from, to calendar.Day) float64 {
		if cal := cals[s.Calendar]; cal != nil && s.Hours == 0 {
			return cal.WorkingDays(from, to)
		}
		return float64(to - from)
	}
}
