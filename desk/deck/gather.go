package deck

import (
	"cmp"
	"slices"

	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

// reading is the record as this desk looks things up in it.
type reading struct {
	r          *journal.Record
	plan       plan.Answer
	a          Answer
	ropes      map[record.Ref]record.Rope
	fittings   []record.Fitting
	jackstays  []record.Jackstay
	supports   map[record.Ref][]record.Support
	tethers    []record.Tether
	tasks      []record.Task
	booms      []record.Boom
	preventers []record.Preventer
	turns      map[record.Ref][]record.Turn
	options    map[record.Ref]record.Option
	w          *workings // of the arrangement being worked
}

func gather(r *journal.Record, p plan.Answer) *reading {
	d := &reading{
		r: r, plan: p,
		ropes:      map[record.Ref]record.Rope{},
		fittings:   journal.All[record.Fitting](r),
		jackstays:  journal.All[record.Jackstay](r),
		supports:   map[record.Ref][]record.Support{},
		tethers:    journal.All[record.Tether](r),
		tasks:      journal.All[record.Task](r),
		booms:      journal.All[record.Boom](r),
		preventers: journal.All[record.Preventer](r),
		turns:      map[record.Ref][]record.Turn{},
		options:    map[record.Ref]record.Option{},
	}
	d.a.Plan = Plan{
		Levels:    journal.All[record.Level](r),
		Edges:     journal.All[record.Edge](r),
		Obstacles: journal.All[record.Obstacle](r),
		Sweeps:    journal.All[record.Sweep](r),
		Off:       usualTracing,
	}
	slices.SortStableFunc(d.a.Plan.Levels, func(a, b record.Level) int { return cmp.Compare(extent(b.Plan), extent(a.Plan)) })
	if t := journal.All[record.Tracing](r); len(t) > 0 {
		d.a.Plan.Tracing = &t[len(t)-1]
		if off := t[len(t)-1].Off; off.Known {
			d.a.Plan.Off = off.SI
		}
	}
	for _, x := range journal.All[record.Rope](r) {
		d.ropes[x.Self] = x
	}
	for _, x := range journal.All[record.Option](r) {
		d.options[x.Self] = x
	}
	for _, x := range journal.All[record.Support](r) {
		d.supports[x.Jackstay] = append(d.supports[x.Jackstay], x)
	}
	for _, s := range d.supports {
		slices.SortStableFunc(s, func(a, b record.Support) int { return cmp.Compare(a.Number.SI, b.Number.SI) })
	}
	for _, x := range journal.All[record.Turn](r) {
		d.turns[x.Preventer] = append(d.turns[x.Preventer], x)
	}
	for _, t := range d.turns {
		slices.SortStableFunc(t, func(a, b record.Turn) int { return cmp.Compare(a.Number.SI, b.Number.SI) })
	}
	return d
}

// usualTracing is how far a point of the plan may be off where nobody says, m.
const usualTracing = 0.1

// extent is twice the area within an outline: larger levels lie under smaller
// ones.
func extent(o record.Outline) float64 {
	a := 0.0
	for i, c := range o {
		n := o[(i+1)%len(o)]
		a += c[0]*n[1] - n[0]*c[1]
	}
	return max(a, -a)
}

// fitting returns a fitting by its reference.
func (d *reading) fitting(ref record.Ref) (record.Fitting, bool) {
	i := slices.IndexFunc(d.fittings, func(f record.Fitting) bool { return f.Self == ref })
	if i < 0 {
		return record.Fitting{}, false
	}
	return d.fittings[i], true
}

// arrangements lists the ways that are still open: what stands in every one,
// and for each open point with deck gear among its options each of them. Of a
// point that is settled the option taken stands in every one, and no other.
// Where nothing stands in every one, what is true whatever is chosen comes last.
func (d *reading) arrangements() []Arrangement {
	geared := map[record.Ref]bool{}
	for _, f := range d.fittings {
		geared[f.Option] = true
	}
	for _, j := range d.jackstays {
		geared[j.Option] = true
	}
	for _, p := range d.preventers {
		geared[p.Option] = true
	}
	var out []Arrangement
	if d.baseHasGear() {
		out = append(out, Arrangement{Name: "As it stands in every arrangement"})
	}
	for _, p := range d.plan.Points {
		if p.Decision != nil && p.Decision.Option != "" && p.State != plan.Open {
			continue
		}
		for _, o := range p.Options {
			if geared[o.Self] {
				out = append(out, Arrangement{Point: p.Self, Option: o.Self, Name: o.Name})
			}
		}
	}
	if len(out) > 0 && out[0].Point != "" && len(d.booms)+len(d.tethers) > 0 {
		out = append(out, Arrangement{Name: "Whatever is chosen"})
	}
	return out
}

// taken reports whether an option was chosen: what belongs to it then stands in
// every arrangement.
func (d *reading) taken(option record.Ref) bool {
	for _, points := range [][]plan.Point{d.plan.Settled, d.plan.Points} {
		for _, p := range points {
			if p.State != plan.Open && p.Decision != nil && p.Decision.Option == option {
				return true
			}
		}
	}
	return false
}

func (d *reading) baseHasGear() bool {
	in := func(o record.Ref) bool { return d.counts(o, "") }
	return slices.ContainsFunc(d.jackstays, func(x record.Jackstay) bool { return in(x.Option) }) ||
		slices.ContainsFunc(d.preventers, func(x record.Preventer) bool { return in(x.Option) }) ||
		slices.ContainsFunc(d.fittings, func(x record.Fitting) bool { return in(x.Option) && x.Clip == record.Yes })
}

// counts reports whether what belongs to an option stands in the arrangement
// of another (or of none).
func (d *reading) counts(of, arrangement record.Ref) bool {
	return of == "" || of == arrangement || d.taken(of)
}
