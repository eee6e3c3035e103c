package picture

import (
	"fmt"
	"sort"
	"strings"
	"time"

	"dogshore/calendar"
)

// Shot is a picture to be sorted.
type Shot struct {
	Name   string // of the file, with the folders it lies in, as a/b/IMG_0412.jpg
	Taken  Taken
	Film   bool
	Camera string
}

// Visit is a visit that pictures may belong to.
type Visit struct {
	Key     string
	Day     calendar.Day
	By      string // how it was made
	Planned bool   // still to come
}

// Clock corrects the times of a batch: what is to be added to them, and to
// those of which camera, or of all.
type Clock struct {
	Add time.Duration
	Of  string // the camera; "" for all
}

// Sorted is where a picture belongs, as far as it can be told.
type Sorted struct {
	Visit string       // key of the visit; "" if there is none, or if Asks
	Day   calendar.Day // on which it was taken, at the yard
	Time  string       // at which time, with its zone if that is known: 14:05:31 +01:00
	Doubt string       // what is doubtful about it
	Asks  bool         // nothing in it says when it was taken
	Guess string       // key of the visit that its name or its neighbours speak for
	Why   string       // what speaks for it
}

// near is how many days a picture may lie beside a visit to be taken for one
// of it, in doubt; sent is how many days after it was taken a picture may
// come with those that the yard sends.
const (
	near = 1
	sent = 14
)

// Sort tells to which visit each picture belongs: that of the day on which it
// was taken, by the yard's clocks. A picture of a day without a visit goes to
// one of the day before or after it, in doubt, or to none. Where a picture
// does not say when it was taken, the day in its name and its neighbours by
// name speak for a visit: that is a guess, and is to be asked.
func Sort(shots []Shot, visits []Visit, clock Clock, zone Zone) []Sorted {
	out := make([]Sorted, len(shots))
	for i, s := range shots {
		if !s.Taken.Known() {
			out[i].Asks = true
			continue
		}
		t := s.Taken
		if clock.Of == "" || clock.Of == s.Camera {
			t.Wall = t.Wall.Add(clock.Add)
		}
		at := zone.at(t)
		out[i] = byDay(at, visits)
		if s.Film && out[i].Doubt == "" && nearMidnight(at.wall) {
			out[i].Doubt = "films say their time without a zone one can trust, and this one was taken around midnight"
		}
	}
	neighbours(shots, visits, out)
	return out
}

func nearMidnight(t time.Time) bool { return t.Hour() < 3 || t.Hour() >= 21 }

// byDay finds the visit of a time.
func byDay(at local, visits []Visit) Sorted {
	s := Sorted{Day: at.day, Time: at.time, Doubt: at.why}
	doubt := func(format string, a ...any) {
		if s.Doubt != "" {
			s.Doubt += "; "
		}
		s.Doubt += fmt.Sprintf(format, a...)
	}
	same := on(visits, at.day)
	switch {
	case len(same) == 1 && same[0].Planned:
		s.Visit = same[0].Key
		doubt("the visit of that day is still written down as one to come")
	case len(same) == 1:
		s.Visit = same[0].Key
	case len(same) > 1:
		s.Visit = same[0].Key
		doubt("there are %d visits of that day", len(same))
	default:
		v, off, ok := nearest(visits, at.day)
		switch {
		case ok && v.By == "pictures" && off <= 0 && off >= -sent:
			s.Visit = v.Key
			doubt("taken %s before the yard's pictures of %s came", days(-off), v.Day.Said())
		case ok && off <= near && off >= -near:
			s.Visit = v.Key
			doubt("taken the day %s the visit of %s", map[bool]string{true: "after", false: "before"}[off > 0], v.Day.Said())
		case ok:
			doubt("taken on %s, when there was no visit; the nearest is that of %s", at.day.Said(), v.Day.Said())
		default:
			doubt("taken on %s, when there was no visit", at.day.Said())
		}
	}
	return s
}

func days(n int) string {
	if n == 1 {
		return "a day"
	}
	return fmt.Sprintf("%d days", n)
}

// on returns the visits of a day; a visit to come only if there is no other.
func on(visits []Visit, day calendar.Day) []Visit {
	var out, planned []Visit
	for _, v := range visits {
		switch {
		case v.Day != day:
		case v.Planned:
			planned = append(planned, v)
		case v.By != "call":
			out = append(out, v)
		}
	}
	if out == nil {
		return planned
	}
	return out
}

// nearest returns the visit nearest to a day, of two as near the earlier, and
// by how many days the day is after it. Calls show nothing.
func nearest(visits []Visit, day calendar.Day) (v Visit, off int, ok bool) {
	for _, x := range visits {
		d := int(day - x.Day)
		if x.Planned || x.By == "call" || !x.Day.Known() {
			continue
		}
		if !ok || abs(d) < abs(off) || abs(d) == abs(off) && x.Day < v.Day {
			v, off, ok = x, d, true
		}
	}
	return v, off, ok
}

func abs(n int) int { return max(n, -n) }

// neighbours guesses for the pictures that do not say when they were taken.
func neighbours(shots []Shot, visits []Visit, out []Sorted) {
	order := make([]int, len(shots))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return natural(shots[order[a]].Name, shots[order[b]].Name) })
	for n, i := range order {
		if !out[i].Asks {
			continue
		}
		if day, ok := dayIn(shots[i].Name); ok {
			out[i].Day = day
			out[i].Why = "its name says " + day.Said()
			if v := on(visits, day); len(v) > 0 {
				out[i].Guess = v[0].Key
			} else if v, off, ok := nearest(visits, day); ok && abs(off) <= near {
				out[i].Guess = v.Key
			}
			continue
		}
		before, after := -1, -1
		for k := n - 1; k >= 0 && before < 0 && series(shots[order[k]].Name) == series(shots[i].Name); k-- {
			if !out[order[k]].Asks && out[order[k]].Visit != "" {
				before = order[k]
			}
		}
		for k := n + 1; k < len(order) && after < 0 && series(shots[order[k]].Name) == series(shots[i].Name); k++ {
			if !out[order[k]].Asks && out[order[k]].Visit != "" {
				after = order[k]
			}
		}
		if before >= 0 && after >= 0 && out[before].Visit == out[after].Visit {
			out[i].Guess = out[before].Visit
			out[i].Why = fmt.Sprintf("its name stands between %s and %s", base(shots[before].Name), base(shots[after].Name))
		}
	}
}

func base(name string) string { return name[strings.LastIndexByte(name, '/')+1:] }
