package desk

import "dogshore/calendar"

// Soon is how many steps from now still count as what may happen before one
// looks again. Chosen: a trade seldom does more than three stages of one part
// between two visits.
const Soon = 3

// Far is how many steps ahead the home still waits. Chosen: some eight weeks
// of a build at two to three steps a week.
const Far = 20

// Due reports whether an act belongs to the days ahead. What only a visit
// meets is not due while its step is further off than Soon, and what is done
// at home while it is further off than Far, unless a date brings it within
// eight weeks. What the yard is asked for is always due: an answer takes time.
func (a Act) Due(day calendar.Day) bool {
	near := map[Where]int{AtVisit: Soon, AtHome: Far}
	most, bounded := near[a.Where]
	switch {
	case !bounded || a.Before == "" || a.Gone || a.Ahead <= most:
		return true
	case a.By.Known():
		return int(a.By.Day-day) <= byWeek
	}
	return false
}
