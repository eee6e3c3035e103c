package programme

import "dogshore/calendar"

// clock is a calendar as the trials use it: K(t) and its inverses by tables of
// days, in seconds from the morning of the data date and seconds worked since
// then. Outside its tables it asks the calendar, so no trial runs past an end.
type clock struct {
	cal    *calendar.Calendar
	by     bool // the clock itself: every hour counts, and K(t) = t
	zero   calendar.Moment
	zeroK  calendar.Work
	opens  int64
	first  int64   // the day, from the data date, that before[0] stands for
	before []int64 // work before each day, from the data date
	guess  []int32 // of the day, by work >> guessShift
}

const (
	secondsADay = 86400
	guessShift  = 13 // less than half a day of work, so that few guesses are a day short
)

// newClock lays tables from first to last, in days from zero, a midnight.
func newClock(cal *calendar.Calendar, elapsed bool, zero calendar.Moment, first, last int64) *clock {
	c := &clock{cal: cal, by: elapsed, zero: zero, zeroK: cal.Worked(zero), first: first}
	if elapsed {
		return c
	}
	c.before = make([]int64, last-first+2)
	for i := range c.before {
		c.before[i] = int64(cal.Worked(zero+calendar.Moment((first+int64(i))*secondsADay)) - c.zeroK)
	}
	m := cal.NextWorking(zero)
	c.opens = int64(m - midnight(m))
	n := (c.before[len(c.before)-1]-c.before[0])>>guessShift + 1
	c.guess = make([]int32, n)
	day := int32(0)
	for g := range c.guess {
		for int(day) < len(c.before)-2 && c.before[day+1] <= c.before[0]+int64(g)<<guessShift {
			day++
		}
		c.guess[g] = day
	}
	return c
}

// worked returns K(m).
func (c *clock) worked(m int64) int64 {
	if c.by {
		return m
	}
	d := m / secondsADay
	if m%secondsADay < 0 {
		d--
	}
	i := d - c.first
	if i < 0 || i >= int64(len(c.before)-1) {
		return int64(c.cal.Worked(c.zero+calendar.Moment(m)) - c.zeroK)
	}
	in := m - d*secondsADay - c.opens
	return c.before[i] + min(max(in, 0), c.before[i+1]-c.before[i])
}

// latest returns the last moment by which no more than k has been worked.
func (c *clock) latest(k int64) int64 {
	if c.by {
		return k
	}
	at := k - c.before[0]
	if g := at >> guessShift; at >= 0 && g < int64(len(c.guess)) && k < c.before[len(c.before)-1] {
		i := c.guess[g]
		for c.before[i+1] <= k {
			i++
		}
		return (c.first+int64(i))*secondsADay + c.opens + k - c.before[i]
	}
	return int64(c.cal.Latest(calendar.Work(k)+c.zeroK) - c.zero)
}

// earliest returns the first moment by which k has been worked.
func (c *clock) earliest(k int64) int64 { return c.latest(k-1) + 1 }

// ahead and behind move m by w on c; the two are adjoint.
func (c *clock) ahead(m, w int64) int64 {
	if w == 0 {
		return m
	}
	return c.earliest(c.worked(m) + w)
}

func (c *clock) behind(m, w int64) int64 {
	if w == 0 {
		return m
	}
	return c.latest(c.worked(m) - w)
}

// moment returns seconds from the data date as a moment.
func (c *clock) moment(m int64) calendar.Moment { return c.zero + calendar.Moment(m) }

func midnight(m calendar.Moment) calendar.Moment { return calendar.At(m.Day()) }

// finished returns the least work by which a finish is not before m.
func (c *clock) finished(m int64) int64 {
	k := c.worked(m)
	if c.earliest(k) < m {
		k++ // m lies where nothing is worked: a second of work must come after it
	}
	return k
}
