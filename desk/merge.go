package desk

import (
	"slices"

	"dogshore/record"
)

// Merge removes doubles, in the order given: acts of the same name, and acts
// about the same subject before the same step that ask for the same thing or
// are done in the same place, become one. The one that does more keeps its
// words (settling more than asking); the reasons are joined, the earlier date,
// the graver loss and the nearer step hold, and what the other one asked for
// stands among the ways to do it.
func Merge(acts []Act) []Act {
	for {
		out := merged(acts)
		if len(out) == len(acts) {
			return out
		}
		acts = out // what was joined may now be a double of a third
	}
}

func merged(acts []Act) []Act {
	type about struct{ subject, before record.Ref }
	var out []Act
	at := map[about][]int{}
	named := map[string]int{}
	for _, a := range acts {
		k := about{a.Subject, a.Before}
		i, ok := named[a.ID]
		if !ok {
			for _, j := range at[k] {
				if out[j].Do == a.Do || out[j].Where == a.Where {
					i, ok = j, true
					break
				}
			}
		}
		if ok {
			out[i], named[a.ID] = join(out[i], a), i
			continue
		}
		named[a.ID] = len(out)
		at[k] = append(at[k], len(out))
		out = append(out, a)
	}
	return out
}

// weight orders what acts ask for, from what settles a thing to what only asks
// about it.
var weight = map[Do]int{Settle: 0, Release: 1, Mend: 2, Look: 3, Measure: 4, Order: 5, Confirm: 6, Ask: 7, Tell: 8, Plan: 9}

func join(a, b Act) Act {
	if weight[b.Do] < weight[a.Do] {
		a, b = b, a
	}
	a.Why = append(slices.Clone(a.Why), b.Why...)
	a.How = slices.Clone(a.How)
	for _, h := range b.How {
		if !slices.Contains(a.How, h) {
			a.How = append(a.How, h)
		}
	}
	if b.Do != a.Do && b.Say != a.Say {
		a.How = append(a.How, b.Say)
	}
	if b.By.Known() && (!a.By.Known() || b.By.Day < a.By.Day) {
		a.By = b.By
	}
	if a.Gravity == "" || b.Gravity != "" && b.Gravity.Rank() < a.Gravity.Rank() {
		a.Gravity = b.Gravity
	}
	if a.Ahead < 0 || b.Ahead >= 0 && b.Ahead < a.Ahead {
		a.Ahead = b.Ahead
	}
	a.Gone = a.Gone || b.Gone
	if a.On == "" {
		a.On = b.On
	}
	if a.Missed == "" {
		a.Missed = b.Missed
	}
	if a.Caution == "" {
		a.Caution = b.Caution
	}
	return a
}
