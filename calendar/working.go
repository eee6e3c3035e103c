package calendar

import (
	"fmt"
	"math"
	"sort"
)

// Closure is a run of days, both included, on which a calendar works less
// than its week says: Working is the most that is worked of a day, 0 for
// closed. A day that the week does not work stays so.
type Closure struct {
	From    Day     `json:"from"`
	To      Day     `json:"to"`
	Working float64 `json:"working,omitempty"`
	Why     string  `json:"why,omitempty"`
}

// Work is working time in whole seconds of a calendar's open hours.
type Work int64

// Open hours. No yard's clock is known: these only place work within a day, so
// that halves of days meet. A full day is 08:00 to 16:00 without a break, and
// a part of a day is its beginning: half a day ends at 12:00. On "24/7" a day
// is 24 hours from midnight.
const (
	opens   = 8 * secondsAnHour
	fullDay = Work(8 * secondsAnHour)
)

// Calendar counts working time. It rests on one function,
//
//	K(t) = the work done by moment t, in seconds of open hours
//
// which rises by one each open second and is level when nothing is worked:
//
//	K |                 ____/      Earliest(k): first t with K(t) = k
//	  |      __________/           Latest(k):   last t with K(t) = k
//	  |     /          ^ Latest    the two differ only where K is level
//	  |____/^ Earliest
//	  +----------------------- t
//	   Fri        Mon
//
// Days outside the closures follow the week for ever, both ways.
type Calendar struct {
	week   week
	opens  Moment  // after midnight
	full   Work    // in one working day
	part   [7]Work // Monday first
	sum    [8]Work // work before that day of the week
	first  Day     // a Monday; before[0] is its morning
	before []Work  // work before each day from first on; whole weeks, and the day after them
}

// New returns the calendar of a working week with closures. The week is as
// "Mon-Thu 1, Fri 0.5", "Mon-Fri", or "24/7". Where closures overlap, the
// least holds. It returns an error that says what would be right for a week
// it can't read, for a closure that ends before it begins or lies outside the
// years 1950 to 2199, and for a calendar that never works.
func New(week string, closures []Closure) (*Calendar, error) {
	w, err := parseWeek(week)
	if err != nil {
		return nil, err
	}
	c := &Calendar{week: w, opens: opens, full: fullDay}
	if w.always {
		c.opens, c.full = 0, secondsADay
	}
	for i, p := range w.part {
		c.part[i] = c.Of(p)
		c.sum[i+1] = c.sum[i] + c.part[i]
	}
	if c.sum[7] == 0 {
		return nil, fmt.Errorf("calendar: the working week %q never works: %s", week, weekRight)
	}
	if err := checkClosures(closures); err != nil {
		return nil, err
	}
	c.close(closures)
	return c, nil
}

// Elapsed returns the calendar on which every hour counts: its working day is
// 24 hours.
func Elapsed() *Calendar {
	c, err := New("24/7", nil)
	if err != nil {
		panic("calendar: internal error: " + err.Error())
	}
	return c
}

func checkClosures(closures []Closure) error {
	for _, cl := range closures {
		if cl.From > cl.To {
			return fmt.Errorf("calendar: a closure ends on %s, before it begins on %s: give its first day, then its last", cl.To, cl.From)
		}
		if cl.From < Date(1950, 1, 1) || cl.To > Date(2199, 12, 31) {
			return fmt.Errorf("calendar: the closure from %s to %s is outside the years 1950 to 2199", cl.From, cl.To)
		}
		if err := checkPart(cl.Working); err != nil {
			return fmt.Errorf("calendar: the closure from %s: %w", cl.From, err)
		}
	}
	return nil
}

// close lays the table of the weeks that have closures.
func (c *Calendar) close(closures []Closure) {
	if len(closures) == 0 {
		c.first, c.before = 1, []Work{0}
		return
	}
	lo, hi := closures[0].From, closures[0].To
	for _, cl := range closures {
		lo, hi = min(lo, cl.From), max(hi, cl.To)
	}
	c.first = lo - Day(weekday(lo))
	weeks := int(hi-c.first)/7 + 1
	part := make([]Work, weeks*7)
	for i := range part {
		part[i] = c.part[i%7]
	}
	for _, cl := range closures {
		most := c.Of(cl.Working)
		for d := cl.From; d <= cl.To; d++ {
			i := int(d - c.first)
			part[i] = min(part[i], most)
		}
	}
	c.before = make([]Work, len(part)+1)
	for i, p := range part {
		c.before[i+1] = c.before[i] + p
	}
}

// weekday returns 0 for Monday to 6 for Sunday: day 1 was a Monday.
func weekday(d Day) int {
	return int(int64(d) - 1 - 7*floorDiv(int64(d)-1, 7))
}

// Week prints the working week so that New reads the same one.
func (c *Calendar) Week() string { return c.week.String() }

// Of returns working days as Work, rounded to the second.
func (c *Calendar) Of(days float64) Work { return Work(round(days * float64(c.full))) }

// Days returns w in working days.
func (c *Calendar) Days(w Work) float64 { return float64(w) / float64(c.full) }

func round(x float64) int64 { return int64(math.Round(x)) }

// Worked returns K(m), counted from a day of the calendar's own: only
// differences mean anything.
func (c *Calendar) Worked(m Moment) Work {
	d := m.Day()
	k := c.beforeDay(d)
	in := Work(m - At(d) - c.opens)
	if in <= 0 {
		return k
	}
	return k + min(in, c.beforeDay(d+1)-k)
}

// Earliest returns the first moment by which k has been worked.
func (c *Calendar) Earliest(k Work) Moment { return c.Latest(k-1) + 1 }

// Latest returns the last moment by which no more than k has been worked:
// where the next work begins.
func (c *Calendar) Latest(k Work) Moment {
	d := c.dayOf(k)
	return At(d) + c.opens + Moment(k-c.beforeDay(d))
}

// beforeDay returns the work done before the morning of d.
func (c *Calendar) beforeDay(d Day) Work {
	i, n := int64(d)-int64(c.first), int64(len(c.before)-1)
	switch {
	case i < 0:
		return c.weeks(i)
	case i > n:
		return c.before[n] + c.weeks(i-n)
	}
	return c.before[i]
}

// weeks returns the work of days days from a Monday on by the bare week.
func (c *Calendar) weeks(days int64) Work {
	w := floorDiv(days, 7)
	return Work(w)*c.sum[7] + c.sum[days-7*w]
}

// dayOf returns the day in which the work after k is done.
func (c *Calendar) dayOf(k Work) Day {
	n := len(c.before) - 1
	switch {
	case k < 0:
		return c.first + c.inWeeks(k)
	case k >= c.before[n]:
		return c.first + Day(n) + c.inWeeks(k-c.before[n])
	}
	return c.first + Day(sort.Search(n, func(i int) bool { return c.before[i+1] > k }))
}

func (c *Calendar) inWeeks(k Work) Day {
	w := floorDiv(int64(k), int64(c.sum[7]))
	k -= Work(w) * c.sum[7]
	d := 0
	for c.sum[d+1] <= k {
		d++
	}
	return Day(7*w) + Day(d)
}
