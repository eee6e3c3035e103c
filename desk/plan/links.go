package plan

import (
	"sort"

	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
)

// link is one link between steps that are done on this boat.
type link struct {
	from, to record.Ref
	typ      programme.LinkType
	lag      float64 // working days
	hours    float64 // elapsed
	cal      record.Ref
	usual    bool // nobody of this yard said so: the usual order
}

// gatherLinks reads the links. A step that is left out passes on what it
// waited for: who waited for it waits for that. The lag of the link that
// leads into it is kept (it belongs to the work before: a cure); the lag
// behind it goes with the step that is not done.
//
// A step that no link touches takes its place by rank: it waits for the step
// that stands before it on its part.
func (d *reading) gatherLinks() {
	into := map[record.Ref][]link{} // by the waiting step, left-out ones too
	touched := map[record.Ref]bool{}
	for _, l := range journal.All[record.Link](d.r) {
		if l.Withdrawn == record.Yes || !d.isStep(l.From) || !d.isStep(l.To) || l.From == l.To {
			continue
		}
		into[l.To] = append(into[l.To], d.readLink(l))
		touched[l.From], touched[l.To] = true, true
	}
	d.in, d.out = map[record.Ref][]link{}, map[record.Ref][]link{}
	d.heirs = map[record.Ref]map[record.Ref]bool{}
	for _, to := range d.live {
		for _, l := range d.through(to, into) {
			d.join(l)
		}
	}
	d.joinByRank(touched)
}

func (d *reading) isStep(s record.Ref) bool {
	_, gone := d.left[s]
	return gone || d.steps[s] != nil
}

func (d *reading) join(l link) {
	d.in[l.to] = append(d.in[l.to], l)
	d.out[l.from] = append(d.out[l.from], l)
}

func (d *reading) readLink(l record.Link) link {
	out := link{from: l.From, to: l.To, typ: programme.LinkType(l.Type), cal: l.Calendar}
	if out.typ == "" {
		out.typ = programme.FS
	}
	if l.Lag.Known {
		out.lag = l.Lag.SI
	}
	if l.Wait.Known {
		out.hours = l.Wait.SI / 3600
	}
	if out.hours != 0 {
		out.lag = 0
	}
	if e := d.r.From(l.Self); e != nil {
		out.usual = e.Grounds == record.Inferred
	}
	return out
}

// through returns the links into a step with the left-out steps taken out of
// the way, each pair of ends once, in a settled order.
func (d *reading) through(to record.Ref, into map[record.Ref][]link) []link {
	type ends struct {
		from record.Ref
		typ  programme.LinkType
	}
	found := map[ends]link{}
	seen := map[ends]bool{}
	var follow func(l link)
	follow = func(l link) {
		if d.steps[l.from] != nil {
			k := ends{l.from, l.typ}
			if old, ok := found[k]; !ok || old.lag+old.hours/8 < l.lag+l.hours/8 {
				found[k] = l
			}
			return
		}
		if k := (ends{l.from, l.typ}); seen[k] {
			return
		} else {
			seen[k] = true
		}
		d.inherits(l.from, to)
		for _, before := range into[l.from] {
			before.to = to
			before.usual = before.usual || l.usual
			before.typ = programme.LinkType(string(before.typ[:1]) + string(l.typ[1:]))
			follow(before)
		}
	}
	for _, l := range into[to] {
		follow(l)
	}
	out := make([]link, 0, len(found))
	for k, l := range found {
		if k.from != to {
			out = append(out, l)
		}
	}
	sort.Slice(out, func(i, k int) bool {
		if out[i].from != out[k].from {
			return out[i].from < out[k].from
		}
		return out[i].typ < out[k].typ
	})
	return out
}

// inherits notes that a step waits for what a left-out step waited for.
func (d *reading) inherits(left, heir record.Ref) {
	if d.heirs[left] == nil {
		d.heirs[left] = map[record.Ref]bool{}
	}
	d.heirs[left][heir] = true
}

// joinByRank puts steps that no link touches behind the one that stands
// before them on their part.
func (d *reading) joinByRank(touched map[record.Ref]bool) {
	last := map[record.Ref]record.Ref{} // by part
	for _, s := range d.live {          // by rank
		part := d.steps[s].Part
		if part == "" || !d.steps[s].Rank.Known {
			continue
		}
		if before, ok := last[part]; ok && !touched[s] {
			d.join(link{from: before, to: s, typ: programme.FS, usual: true})
		}
		last[part] = s
	}
}
