package desk

import "dogshore/calendar"

// Soon is how many steps from now still count as what may happen before one
// looks again. Chosen: a trade seldom does more than three stages of one part
// between two visits.
const Soon = 3

// Due reports whether an act belongs to the days ahead. What only a visit
// meets is not due while its step is further off than Soon and no date brings
// it within eight weeks: there is nothing there yet to look at. All else can
// be done from home, and is always due.
func (a Act) Due(day calendar.Day) bool {
	switch {
	case a.Where != AtVisit || a.Before == "" || a.Gone || a.Ahead <= Soon:
		return true
	case a.By.Known():
		return int(a.By.Day-day) <= byWeek
	}
	return false
}
