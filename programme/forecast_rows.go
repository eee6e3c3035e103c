package programme

import "slices"

// layStarts finds what holds of each place's start whatever is drawn. Where work
// is compared with work and nothing else bounds it, a step with one link begins
// when that is met.
func (m *model) layStarts() {
	for _, j := range m.order {
		p := &m.places[j]
		p.bound = p.final > lowest || slices.ContainsFunc(p.in, func(l simLink) bool { return l.end })
		p.follows = -1
		i := slices.IndexFunc(p.in, func(l simLink) bool { return !l.end })
		if i < 0 || m.net.loop != nil {
			continue
		}
		l := &p.in[i]
		from := &m.places[l.from]
		switch {
		case p.base == lowest:
			p.free = true
		case l.plain:
			p.free = from.base+l.lag >= p.base
		case from.base > lowest: // the later an end comes, the later what a link asks for
			least := from.base
			if l.finish && !from.certain() {
				least++ // no length is less than a second
			}
			p.free = m.asks(p, from, l, least) >= p.base
		}
		if p.free && l.plain && len(p.in) == 1 && l.finish && l.lag == 0 && !p.wait && !p.bound && p.hold < 0 {
			p.follows = l.from
		}
	}
}

// layRows gives each place a row for its starts and one for its finishes where
// somebody asks for them, and takes those over that nobody needs any more: so a
// large network works in little memory.
func (m *model) layRows() {
	starts, ends := m.newLease(), m.newLease()
	for k, j := range m.order {
		for i := range m.places[j].in {
			l := &m.places[j].in[i]
			if l.finish {
				ends.until(l.from, k)
			} else {
				starts.until(l.from, k)
			}
		}
	}
	if m.launch >= 0 {
		ends.until(m.launch, len(m.order))
	}
	for i := range m.points {
		for _, d := range m.points[i].doors {
			for _, j := range d.covers {
				starts.until(j, len(m.order))
			}
		}
	}
	for _, j := range m.order {
		if m.net.loop != nil {
			starts.until(j, len(m.order))
			ends.until(j, len(m.order))
		}
	}
	m.starts = starts.lay(m, func(p *place, row int32) { p.start = row })
	m.ends = ends.lay(m, func(p *place, row int32) { p.end = row })
	m.markEarly()
}

// lease says how long rows are needed: to which place of the order, by place; -1
// where nobody needs one.
type lease []int

func (m *model) newLease() lease { return slices.Repeat(lease{-1}, len(m.places)) }

func (l lease) until(j int32, k int) { l[j] = max(l[j], k) }

// lay hands out rows, and says how many there are.
func (l lease) lay(m *model, give func(p *place, row int32)) (rows int32) {
	over := make([][]int32, len(m.order)+1)
	var free []int32
	for k, j := range m.order {
		row := int32(-1)
		if l[j] >= 0 {
			if len(free) == 0 {
				free = append(free, rows)
				rows++
			}
			row = free[len(free)-1]
			free = free[:len(free)-1]
			over[l[j]] = append(over[l[j]], row)
		}
		give(&m.places[j], row)
		free = append(free, over[k]...)
	}
	return rows
}

// markEarly marks what points' dates depend on.
func (m *model) markEarly() {
	var todo []int32
	for i := range m.points {
		for _, d := range m.points[i].doors {
			todo = append(todo, d.covers...)
		}
	}
	for len(todo) > 0 {
		j := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if m.places[j].early {
			continue
		}
		m.places[j].early = true
		for _, l := range m.places[j].in {
			if !slices.Contains(todo, l.from) {
				todo = append(todo, l.from)
			}
		}
	}
}
