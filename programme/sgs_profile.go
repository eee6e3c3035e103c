package programme

import (
	"math"
	"slices"

	"dogshore/calendar"
)

const (
	never   calendar.Moment = math.MinInt64 / 4
	forever calendar.Moment = math.MaxInt64 / 4
)

// profile is how much of a stand is taken: used[i] from at[i] until at[i+1].
type profile struct {
	at   []calendar.Moment
	used []int
}

func newProfile() profile { return profile{at: []calendar.Moment{never, forever}, used: []int{0, 0}} }

// split returns the place of t, which becomes one if it was none.
func (p *profile) split(t calendar.Moment) int {
	i, found := slices.BinarySearch(p.at, t)
	if !found {
		p.at = slices.Insert(p.at, i, t)
		p.used = slices.Insert(p.used, i, p.used[i-1])
	}
	return i
}

func (p *profile) add(from, to calendar.Moment, need int) {
	if from >= to {
		return
	}
	a, b := p.split(from), p.split(to)
	for i := a; i < b; i++ {
		p.used[i] += need
	}
}

// firstFit returns the first moment at or after from since when no more than
// most is taken for as long as to is after from; forever if there is none.
func (p *profile) firstFit(from, to calendar.Moment, most int) calendar.Moment {
	at, end := from, to
	for i := range p.used[:len(p.used)-1] {
		if p.at[i+1] <= at || p.used[i] <= most {
			continue
		}
		if p.at[i] >= end {
			break
		}
		at = p.at[i+1]
		if end = forever; to < forever {
			end = at + to - from
		}
	}
	return at
}

// lastFit returns the last moment at or before to until when no more than most
// is taken for as long as to is after from; never if there is none.
func (p *profile) lastFit(from, to calendar.Moment, most int) calendar.Moment {
	at, start := to, from
	for i := len(p.used) - 2; i >= 0; i-- {
		if p.at[i] >= at || p.used[i] <= most {
			continue
		}
		if p.at[i+1] <= start {
			break
		}
		at = p.at[i]
		if start = never; from > never {
			start = at - (to - from)
		}
	}
	return at
}
