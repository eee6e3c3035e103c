package programme

import "dogshore/calendar"

// stand says from which moment each step goes on, and how much of it is left.
//
// A step under way has left what was told, else its length less the working
// time from its start to the morning from which it goes on, at the pace of the
// programme; never less than nothing, so a step that is overdue finishes at
// the data date at the earliest. Its start was seen only as a span of days:
// the middle is taken, or, where nobody saw it not started, the last day of
// the span, which leaves the most to do.
//
// That morning is the data date's; or the next one where the step was seen not
// finished (not begun) on the data date itself.
func (n *net) stand(r *Result, b *bounds) {
	today := calendar.At(n.c.DataDate)
	for i := range n.nodes {
		d, s, t := &n.nodes[i], &n.c.Steps[i], &r.Steps[i]
		start, finish := 2*i, 2*i+1
		if d.begun || d.done {
			d.from = middle(b.lo[start], b.hi[start], calendar.At(b.hi[start]))
		}
		switch {
		case d.done:
			d.to = middle(b.lo[finish], b.hi[finish], calendar.At(b.hi[finish]+1))
			d.from = min(d.from, d.to)
			continue
		case d.begun:
			d.base = max(today, calendar.At(b.lo[finish]))
			d.work = max(0, d.work-(d.cal.Worked(d.base)-d.cal.Worked(d.from)))
		default:
			d.base = max(today, calendar.At(b.lo[start]), calendar.At(s.NotFrom))
		}
		if s.Left != nil {
			d.work, d.known = d.cal.Of(*s.Left), true
		}
		d.base = d.cal.NextWorking(d.base)
		if d.begun && d.known {
			t.Left = d.cal.Days(d.work)
		}
	}
}
