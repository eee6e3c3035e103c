package calendar

// Forward returns the earliest moment by which days more working days have
// been worked than by m. Nothing to work leaves m as it is; less than nothing
// goes back. Days are rounded to the second.
//
// Forward and Back are adjoint: Forward(t, d) <= s exactly if t <= Back(s, d).
func (c *Calendar) Forward(m Moment, days float64) Moment { return c.Ahead(m, c.Of(days)) }

// Back returns the latest moment from which days working days fit before m.
func (c *Calendar) Back(m Moment, days float64) Moment { return c.Behind(m, c.Of(days)) }

// Ahead is Forward for a Work.
func (c *Calendar) Ahead(m Moment, w Work) Moment {
	if w == 0 {
		return m
	}
	return c.Earliest(c.Worked(m) + w)
}

// Behind is Back for a Work.
func (c *Calendar) Behind(m Moment, w Work) Moment {
	if w == 0 {
		return m
	}
	return c.Latest(c.Worked(m) - w)
}

// NextWorking returns m if work goes on after it, else the moment at which
// work begins next.
func (c *Calendar) NextWorking(m Moment) Moment { return c.Latest(c.Worked(m)) }

// LastStart returns the latest moment at or before m at which work goes on.
func (c *Calendar) LastStart(m Moment) Moment {
	k := c.Worked(m)
	if t := c.Latest(k); t <= m {
		return t
	}
	return c.Latest(k - 1)
}

// StartFor returns the earliest moment from which work, w > 0 of it, is not
// finished before m.
func (c *Calendar) StartFor(m Moment, w Work) Moment {
	k := c.Worked(m)
	if c.Earliest(k) < m {
		k++ // m lies where nothing is worked: a second of work must come after it
	}
	return c.Latest(k - w)
}

// Between returns the working days from a to b, less than nothing if b comes
// first.
func (c *Calendar) Between(a, b Moment) float64 { return c.Days(c.Worked(b) - c.Worked(a)) }

// WorkingDays returns the working days from the morning of from to the
// morning of to.
func (c *Calendar) WorkingDays(from, to Day) float64 {
	return c.Days(c.beforeDay(to) - c.beforeDay(from))
}

// Works reports how much of d is worked, from 0 to 1.
func (c *Calendar) Works(d Day) float64 { return c.WorkingDays(d, d+1) }

// DaysBack returns the latest day from whose morning to the morning of d at
// least n working days fit: 13 working days back from Monday 16 March 2026 is
// Wednesday 25 February. What takes n days and must be there on the morning
// of d has to begin on the morning of that day. No days back is d itself.
func (c *Calendar) DaysBack(d Day, n float64) Day { return c.Back(At(d), n).Day() }

// DaysOn returns the day on which work goes on after n working days from the
// morning of d: one working day on from a Friday is Monday. No days on is d
// itself.
func (c *Calendar) DaysOn(d Day, n float64) Day {
	w := c.Of(n)
	if w == 0 {
		return d
	}
	return c.Latest(c.beforeDay(d) + w).Day()
}

// FirstDay returns the day to show for a start.
func (c *Calendar) FirstDay(start Moment) Day { return c.NextWorking(start).Day() }

// LastDay returns the day to show for a finish: the one with the last work
// before it. What takes no time is shown on the day of its moment instead.
func (c *Calendar) LastDay(finish Moment) Day {
	return (c.Earliest(c.Worked(finish)) - 1).Day()
}

// ByEndOf returns the last working day that is over by m: what must be done
// before m is done in time by the end of that day.
func (c *Calendar) ByEndOf(m Moment) Day {
	k := c.Worked(m)
	d := (c.Earliest(k) - 1).Day()
	if at := c.beforeDay(d + 1); at > k {
		d = (c.Earliest(c.beforeDay(d)) - 1).Day()
	}
	return d
}

// LatestOf returns the last of days that is not after by: the last visit, say,
// that comes in time.
func LatestOf(days []Day, by Day) (Day, bool) {
	var best Day
	for _, d := range days {
		if d <= by && d > best {
			best = d
		}
	}
	return best, best.Known()
}
