package visit

import (
	"cmp"
	"slices"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// defects finds the defects that nobody has seen put right, soonest first.
// "Put right" on the yard's word, spoken or written, is Told and comes back.
// Of structure and safety a picture does not settle it either: such a defect
// is looked at, measured or certified.
func (t *table) defects() []Defect {
	type found struct {
		record.Remedy
		day calendar.Day
	}
	last := map[record.Ref]found{}
	settled := map[record.Ref]calendar.Day{}
	defects := journal.All[record.Defect](t.r)
	grave := map[record.Ref]bool{}
	for _, d := range defects {
		grave[d.Self] = d.Gravity == "structure" || d.Gravity == "safety"
	}
	for _, m := range journal.All[record.Remedy](t.r) {
		f := found{m, t.dayOf(m.Self, m.Day, m.Visit)}
		if was, ok := last[m.Defect]; !ok || was.day <= f.day {
			last[m.Defect] = f
		}
		g := t.grounds(m.Self, m.Visit)
		sure := witnessed(g) && (!grave[m.Defect] || g != record.Shown)
		if over := m.State == "put right" || m.State == "left as it is"; over && sure {
			settled[m.Defect] = max(settled[m.Defect], f.day, 1)
		}
	}
	var out []Defect
	for _, d := range defects {
		f, looked := last[d.Self]
		if day, ok := settled[d.Self]; ok && (f.State != "not yet right" || f.day <= day) {
			continue
		}
		x := Defect{Defect: d, State: f.State, Ahead: t.ahead(d.Before), Gone: t.gone(d.Before)}
		x.Told = looked && f.State != "not yet right"
		out = append(out, x)
	}
	slices.SortStableFunc(out, func(a, b Defect) int { return cmp.Compare(far(a.Ahead), far(b.Ahead)) })
	return out
}
