package web

import "sort"

// sortBy sorts by a number, keeping the order of equals.
func sortBy[T any](list []T, by func(T) int) {
	sort.SliceStable(list, func(i, k int) bool { return by(list[i]) < by(list[k]) })
}

// sortVisits puts the latest first.
func sortVisits(v []VisitDay) {
	sort.Slice(v, func(i, k int) bool {
		if v[i].Day != v[k].Day {
			return v[i].Day > v[k].Day
		}
		return v[i].Ref < v[k].Ref
	})
}
