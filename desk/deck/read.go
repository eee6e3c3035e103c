package deck

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"dogshore/desk/plan"
	"dogshore/jackstay"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/rope"
	"dogshore/unit"
)

// Read says what the record's deck gear comes to, in every arrangement that is
// still open. It runs the engines once for each arrangement that keep does not
// remember; keep may be nil.
func Read(r *journal.Record, p plan.Answer, keep *Memo) Answer {
	d := gather(r, p)
	d.a.Arrangements = d.arrangements()
	for i := range d.a.Arrangements {
		a := &d.a.Arrangements[i]
		d.lines(a)
		d.a.Solves += d.work(a, keep)
	}
	if n := len(d.a.Arrangements); n > 1 && d.a.Arrangements[n-1].Point == "" && len(d.a.Arrangements[n-1].Findings) == 0 {
		d.a.Arrangements = d.a.Arrangements[:n-1] // nothing is to be said whatever is chosen
	}
	d.compare()
	d.missing()
	d.act()
	for _, a := range d.a.Arrangements {
		for _, c := range a.Cautions {
			if !slices.Contains(d.a.Cautions, c) {
				d.a.Cautions = append(d.a.Cautions, c)
			}
		}
	}
	return d.a
}

// Try works one arrangement with some things moved: the spots of fittings,
// points of jackstays and turns. Nothing is written. option is "" for what
// stands in every arrangement; ok is false if there is no such arrangement.
func Try(r *journal.Record, p plan.Answer, option record.Ref, moved map[record.Ref]record.Spot) (Plan, Arrangement, bool) {
	d := gather(r, p)
	d.move(moved)
	for _, a := range d.arrangements() {
		if a.Option == option {
			d.lines(&a)
			d.work(&a, nil)
			return d.a.Plan, a, true
		}
	}
	return d.a.Plan, Arrangement{}, false
}

// Hand works only the lines that what the hand holds is a point of: their
// loads and where they let one go. It is what can be known while dragging.
func Hand(r *journal.Record, p plan.Answer, option record.Ref, moved map[record.Ref]record.Spot, held record.Ref) (Arrangement, []jackstay.LineResult, error) {
	d := gather(r, p)
	d.move(moved)
	for _, a := range d.arrangements() {
		if a.Option != option {
			continue
		}
		d.lines(&a)
		var out []jackstay.LineResult
		for _, l := range a.Case.Lines {
			if !slices.ContainsFunc(l.Supports, func(s jackstay.Support) bool { return s.ID == string(held) }) {
				continue
			}
			x, err := jackstay.LineOf(a.Case, l.ID)
			if err != nil {
				return a, nil, err
			}
			out = append(out, x)
		}
		return a, out, nil
	}
	return Arrangement{}, nil, fmt.Errorf("there is no such arrangement")
}

func (d *reading) move(moved map[record.Ref]record.Spot) {
	for i := range d.fittings {
		if s, ok := moved[d.fittings[i].Self]; ok {
			d.fittings[i].Spot = s
		}
	}
	for _, of := range d.supports {
		for i := range of {
			if s, ok := moved[of[i].Self]; ok {
				of[i].Spot = s
			}
		}
	}
	for _, of := range d.turns {
		for i := range of {
			if s, ok := moved[of[i].Self]; ok {
				of[i].Spot = s
			}
		}
	}
}

// work runs the engines on an arrangement and says what they come to. It
// returns the equilibria that were solved for it.
func (d *reading) work(a *Arrangement, keep *Memo) int {
	solved := d.workLines(a, keep)
	for _, b := range d.booms {
		c, missing := d.gybeCase(b, a.Option)
		if missing != nil {
			a.Findings = append(a.Findings, Finding{Sort: Unknown, Of: b.Self, Says: fmt.Sprintf("%s: nothing is reckoned without %s.", b.Name, list(missing))})
			continue
		}
		if len(c.Preventers) > 0 {
			if res, err := keep.gybe(c); err == nil {
				a.Gybe = append(a.Gybe, Gybe{Boom: b, Case: c, Result: res})
			} else {
				a.add(Finding{Sort: Unknown, Of: b.Self, Says: err.Error()})
			}
		}
		if s, err := keep.sweep(d.sweepCase(a, b, c)); err == nil {
			a.Sweep.Zones = append(a.Sweep.Zones, s.Zones...)
			a.Sweep.Inside = append(a.Sweep.Inside, s.Inside...)
			a.Sweep.Assumed = append(a.Sweep.Assumed, s.Assumed...)
			a.Sweep.Cautions = s.Cautions
		}
	}
	d.anchors(a)
	d.rules(a)
	d.cost(a)
	d.explain(a)
	d.find(a)
	d.legs(a)
	d.facts(a)
	d.remarks(a)
	return solved
}

// workLines runs the deck's lines, and walks the tasks on them.
func (d *reading) workLines(a *Arrangement, keep *Memo) int {
	if len(a.Case.Lines) == 0 && len(a.Case.Points) == 0 {
		return 0
	}
	res, key, fresh, err := keep.deck(a.Case)
	if err != nil {
		a.add(Finding{Sort: Unknown, Says: err.Error()})
		return 0
	}
	a.Result = res
	d.walk(a, key, keep)
	if fresh {
		return res.Solves
	}
	return 0
}

// anchors loads each fitting with what the lines, the tethers and the
// preventers put on it.
func (d *reading) anchors(a *Arrangement) {
	loads := map[record.Ref][]rope.AnchorLoad{}
	for _, l := range a.Result.Lines {
		for _, s := range l.Supports {
			of := record.Ref(s.ID)
			loads[of] = append(loads[of], asked(d.name(record.Ref(l.ID)), s))
		}
	}
	for _, g := range a.Gybe {
		for _, l := range g.Result.Leads {
			for _, p := range l.Parts {
				if of := record.Ref(p.Name); of.Kind() == "fitting" && p.Force != (rope.Vector{}) {
					loads[of] = append(loads[of], pull(d.name(record.Ref(l.Preventer)), p.Force))
				}
			}
		}
	}
	for _, p := range a.Result.Points {
		of := record.Ref(p.ID)
		loads[of] = append(loads[of], pulls(p.Needed)...)
	}
	for _, of := range slices.SortedFunc(maps.Keys(loads), func(x, y record.Ref) int { return cmp.Compare(x, y) }) {
		f, ok := d.fitting(of)
		if !ok {
			continue
		}
		c := d.anchorCase(f, loads[of])
		if res, err := rope.CheckAnchor(c); err == nil {
			a.Anchors = append(a.Anchors, Anchor{Fitting: f, Case: c, Result: res})
		} else {
			a.add(Finding{Sort: Unknown, Of: of, Says: fmt.Sprintf("%s: %v.", f.Name, err)})
		}
	}
}

// pulls are the ways in which somebody on a tether can pull at an eye: level
// to each side, and up, since one can fall from above it.
func pulls(n float64) []rope.AnchorLoad {
	return []rope.AnchorLoad{
		{Name: "a tether, along", Force: rope.Vector{X: n}}, {Name: "a tether, across", Force: rope.Vector{Y: n}}, {Name: "a tether, straight off the deck", Force: rope.Vector{Z: n}},
	}
}

// asked is the pull of a line on what holds it, as much as that should hold: the
// design factor of the line is on it, and no anchorage is asked for less than a
// least load (safety-lines sheet, section 7.1).
func asked(line string, s jackstay.LoadOn) rope.AnchorLoad {
	f := s.Vector
	if size := f.Norm(); size > 0 {
		k := s.Needed / size
		f = jackstay.Vector{X: k * f.X, Y: k * f.Y, Z: k * f.Z}
	}
	return rope.AnchorLoad{Name: line, Force: rope.Vector(f)}
}

// onLoad is the factor on the peak load of a preventer before an anchor is held
// against it (safety-lines sheet, section 7.1: 2 on the peak; a judgement).
const onLoad = 2

func pull(name string, f rope.Vector) rope.AnchorLoad {
	return rope.AnchorLoad{Name: name, Force: rope.Vector{X: onLoad * f.X, Y: onLoad * f.Y, Z: onLoad * f.Z}}
}

// cost is what an arrangement adds, as its option says.
func (d *reading) cost(a *Arrangement) {
	for _, f := range a.Fittings {
		if f.Option == a.Option && f.Weight.Known {
			a.Cost.Fittings += f.Weight.SI
		}
	}
	o, ok := d.options[a.Option]
	if !ok {
		return
	}
	a.Cost.Price, a.Cost.Weight, a.Cost.Days = o.Price, o.Weight, o.Days
	if p := d.point(a.Point); p != nil {
		a.Cost.By = p.Governs()
		for _, door := range p.Doors {
			if door.Option == a.Option && door.By.Known() {
				a.Cost.By = door.By
			}
		}
	}
}

// missing says what the record lacks for this desk to say more, once there is
// anything that it could speak of.
func (d *reading) missing() {
	if len(d.jackstays)+len(d.tethers)+len(d.preventers) == 0 {
		return
	}
	say := func(there bool, what string) {
		if !there {
			d.a.Missing = append(d.a.Missing, what)
		}
	}
	say(len(d.a.Plan.Levels) > 0, "Outlines of the deck's levels with their heights: where one can get to, and what is left bare.")
	say(len(d.a.Plan.Edges) > 0, "The deck's edges with their height above the water: whether one can go over the side.")
	say(len(d.a.Plan.Obstacles) > 0, "Cleats, winches, hatches, stanchions: what a slack line can catch on.")
	say(len(d.jackstays) > 0, "Jackstays with their ends: what they put on their eyes.")
	say(len(d.tethers) > 0, "Tethers with their lengths; until then the usual 2 m and 1 m.")
	say(len(d.tasks) > 0, "Tasks with the way there: whether one is clipped on all the way.")
	say(len(d.booms) > 0, "The boom with its sail: what it sweeps, and what a preventer sees.")
}

// Weighs is the weight that an arrangement's option states, else that of its
// fittings.
func (c Cost) Weighs() unit.Quantity {
	if c.Weight.Known || c.Fittings == 0 {
		return c.Weight
	}
	return unit.Q(c.Fittings, unit.Mass)
}
