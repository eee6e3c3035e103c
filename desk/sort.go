package desk

import (
	"cmp"
	"slices"

	"dogshore/calendar"
)

// Sort orders acts by what can't be undone soonest.
//
// How soon: a step that can come next counts as now, each step before it as
// one more, and each week to a date that was earned as one; the sooner of the
// two holds, since a long lead makes a far step near. What is lost: a thing
// of finish can be put right later at a price, and waits three such counts.
// What is gone waits two: the record of it can still be asked for, the look
// at what is next can't be had again. Ties go by gravity, date, and name.
func Sort(acts []Act, day calendar.Day) {
	slices.SortStableFunc(acts, func(a, b Act) int {
		return cmp.Or(
			cmp.Compare(soon(a, day), soon(b, day)),
			cmp.Compare(gone(a), gone(b)),
			cmp.Compare(a.Gravity.Rank(), b.Gravity.Rank()),
			cmp.Compare(dayOr(a), dayOr(b)),
			cmp.Compare(a.ID, b.ID),
		)
	})
}

// unknownSoon stands behind every step and date that is known.
const unknownSoon = 1000

func soon(a Act, day calendar.Day) int {
	n := unknownSoon
	if a.Ahead >= 0 {
		n = a.Ahead
	}
	if a.By.Known() && day.Known() {
		n = min(n, max(0, int(a.By.Day-day))/7)
	}
	switch {
	case a.Gone:
		return 2
	case a.Gravity == Finish:
		return n + 3
	case a.Gravity == "":
		return n + 1
	}
	return n
}

func gone(a Act) int {
	if a.Gone {
		return 1
	}
	return 0
}

func dayOr(a Act) calendar.Day {
	if a.By.Known() {
		return a.By.Day
	}
	return 1 << 30
}

// Rank orders gravities, gravest first; what nobody has weighed comes before
// finish, since it may be grave.
func (g Gravity) Rank() int {
	if i := slices.Index([]Gravity{Structure, Safety, Cutting, "", Finish}, g); i >= 0 {
		return i
	}
	return 3
}
