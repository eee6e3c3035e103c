package plan

import (
	"slices"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// lookedAt returns the latest visit at which what c hides was looked at, "" if
// any of it never was.
func (d *reading) lookedAt(c Cover) record.Ref {
	closed := d.begunDay(c.Step)
	var best look
	for _, hidden := range c.Of {
		l := d.lookBeforeDay(hidden, closed)
		if l.visit == "" {
			return ""
		}
		if l.day > best.day || l.day == best.day && l.visit > best.visit {
			best = l
		}
	}
	return best.visit
}

// lookBeforeDay is the latest look by somebody who stood there at which a step
// was under way or done, before a day (0: up to now).
func (d *reading) lookBeforeDay(ref record.Ref, closed calendar.Day) look {
	var best look
	for _, l := range d.looks[ref] {
		v, ok := d.visits[l.visit]
		stood := ok && l.own() && v.By != "pictures" && v.By != "call"
		if stood && stage(l.state) >= stage(underWay) && (closed == 0 || l.day < closed) {
			best = l
		}
	}
	return best
}

// hiddenSteps are the steps whose work c hides: of the steps on the covered
// part (or place; on the covering step's own part where c names none) that
// come before the covering step, those that no other of them follows.
func (d *reading) hiddenSteps(c record.Cover) []record.Ref {
	covered := d.covered(c)
	seen := map[record.Ref]bool{c.Step: true}
	var found []record.Ref
	for queue := []record.Ref{c.Step}; len(queue) > 0; queue = queue[1:] {
		for _, l := range d.in[queue[0]] {
			if seen[l.from] {
				continue
			}
			seen[l.from] = true
			if covered(d.steps[l.from].Part) {
				found = append(found, l.from)
				continue
			}
			queue = append(queue, l.from)
		}
	}
	return slices.DeleteFunc(found, func(a record.Ref) bool { return d.followed(a, found) })
}

// followed reports whether one of others comes after a.
func (d *reading) followed(a record.Ref, others []record.Ref) bool {
	if len(others) < 2 {
		return false
	}
	seen := map[record.Ref]bool{a: true}
	for queue := []record.Ref{a}; len(queue) > 0; queue = queue[1:] {
		for _, l := range d.out[queue[0]] {
			if slices.Contains(others, l.to) && l.to != a {
				return true
			}
			if !seen[l.to] {
				seen[l.to] = true
				queue = append(queue, l.to)
			}
		}
	}
	return false
}

// covered tells which parts are meant by what c covers.
func (d *reading) covered(c record.Cover) func(part record.Ref) bool {
	whole := d.steps[c.Step].Part
	switch c.What.Kind() {
	case "part":
		whole = c.What
	case "place":
		return func(part record.Ref) bool { return d.lies(part, c.What) }
	case "item":
		if x, ok := journal.Get[record.Item](d.r, c.What); ok && x.Part != "" {
			whole = x.Part
		}
	}
	return func(part record.Ref) bool { return part != "" && d.within(part, whole) }
}

// lies reports whether a part, or one that it belongs to, lies in a place.
func (d *reading) lies(part, place record.Ref) bool {
	for range len(d.parts) + 1 {
		p, ok := d.parts[part]
		if !ok {
			return false
		}
		for at := p.Place; at != ""; at = d.places[at] {
			if at == place {
				return true
			}
		}
		part = p.Within
	}
	return false
}

// within reports whether part is whole or lies in it.
func (d *reading) within(part, whole record.Ref) bool {
	for range len(d.parts) + 1 {
		if part == whole {
			return true
		}
		p, ok := d.parts[part]
		if !ok || p.Within == "" {
			return false
		}
		part = p.Within
	}
	return false
}
