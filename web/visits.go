package web

import "sort"

// sortVisits puts the latest first.
func sortVisits(v []VisitDay) {
	sort.Slice(v, func(i, k int) bool {
		if v[i].Day != v[k].Day {
			return v[i].Day > v[k].Day
		}
		return v[i].Ref < v[k].Ref
	})
}
