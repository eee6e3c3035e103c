package web

import (
	"slices"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/desk/visit"
	"dogshore/journal"
	"dogshore/record"
)

// stop is one place on the walk.
type stop struct {
	ID    string
	Part  Named
	Lies  Named
	Steps []tap
	Later []tap // the stages after those, one tap down
	Acts  []desk.Act
	Own   []measuring // to be measured here by one's own hand
	Shown []measuring // readings of the yard's, to be looked at
}

// tap is a step whose state is one tap.
type tap struct {
	Key     string
	Name    string
	Value   string        // names it in a list of stages
	Stage   *record.Stage // of the picture key; nil if it has none
	Was     string        // as last known, and how
	Now     string        // as noted at this visit
	Likely  string
	Look    string
	Measure string
	Number  int // on the walking sheet; 0 if it is not on it
}

// measuring is a check with the value that was noted at this visit.
type measuring struct {
	Link   Named
	Check  visit.Check
	Should string
	How    string // bare or finished, by which drawing
	Before Named
	Got    string
	Number int
}

// laterStages is how many stages after the likely ones stand one tap down.
const laterStages = 6

// stops is the walk, with what was noted at this visit already.
func (v *view) stops(self record.Ref) []stop {
	b := v.stopMaker(self)
	var out []stop
	for _, x := range v.rev.Visit.Walk {
		st := stop{ID: "stop-" + x.Part.Key(), Part: v.Ref(x.Part)}
		if x.Lies != x.Part {
			st.Lies = v.Ref(x.Lies)
		}
		for i, l := range x.Steps {
			if i > 0 && x.Steps[i-1].Step == l.Step {
				continue // its second likely state: every state has its button anyway
			}
			t := b.tap(l.Step)
			t.Likely = l.Tap
			st.Steps = append(st.Steps, t)
		}
		st.Later = b.later(x.Part, st.Steps)
		for _, a := range x.Acts {
			if a.Subject.Kind() != "check" {
				st.Acts = append(st.Acts, a)
			}
		}
		st.Own, st.Shown = b.measuring(x)
		out = append(out, st)
	}
	return out
}

// stopMaker looks up what the stops of one visit show.
func (v *view) stopMaker(self record.Ref) *stopMaker {
	b := &stopMaker{v: v, self: self, now: v.statesAt(self), steps: map[record.Ref]tap{}, numbers: visit.Rows(v.rev.Visit)}
	times := map[string]int{}
	for _, st := range v.rev.Plan.Steps {
		times[fold(v.rec.Name(st.Self))]++
	}
	for _, st := range v.rev.Plan.Steps {
		t := tap{Key: st.Self.Key(), Name: v.rec.Name(st.Self), Value: v.rec.Name(st.Self), Was: st.State, Now: b.now[st.Self], Look: st.Look, Measure: st.Measure}
		if times[fold(t.Name)] > 1 || len(t.Name) > longestOption {
			t.Value = string(st.Self)
		}
		if st.Grounds != "" {
			t.Was += " (" + string(st.Grounds) + ")"
		}
		for i := range record.Stages {
			if record.Stages[i].Slug == st.Stage {
				t.Stage = &record.Stages[i]
			}
		}
		b.steps[st.Self] = t
	}
	return b
}

type stopMaker struct {
	v       *view
	self    record.Ref
	now     map[record.Ref]string
	steps   map[record.Ref]tap
	numbers []visit.Row
}

func (b *stopMaker) tap(step record.Ref) tap {
	t := b.steps[step]
	t.Number = b.number(step)
	return t
}

// number is the row of the walking sheet, which is made before the visit: once
// something is noted the rows are others.
func (b *stopMaker) number(of record.Ref) int {
	if b.self != "" {
		return 0
	}
	for _, r := range b.numbers {
		if r.Of == of {
			return r.Number
		}
	}
	return 0
}

// later lists the stages of a part that come after the likely ones.
func (b *stopMaker) later(part record.Ref, shown []tap) []tap {
	all := slices.Clone(b.v.stepsOf(part))
	sortBy(all, func(st plan.Step) int { return int(1000 * st.Rank.SI) })
	from := 0
	for i, st := range all {
		if slices.ContainsFunc(shown, func(t tap) bool { return t.Key == st.Self.Key() }) {
			from = i + 1
		}
	}
	var out []tap
	for _, st := range all[from:] {
		if len(out) < laterStages && st.NotDone != record.Yes && st.Withdrawn != record.Yes {
			out = append(out, b.tap(st.Self))
		}
	}
	return out
}

// measuring lists the checks of a stop: those that are asked for, and those
// that were measured at this visit, for another reading.
func (b *stopMaker) measuring(x visit.Stop) (own, shown []measuring) {
	for _, c := range b.v.rev.Visit.Checks {
		asked := slices.ContainsFunc(x.Acts, func(a desk.Act) bool {
			return a.Subject == c.Self || c.Got != nil && a.Subject == c.Got.Self
		})
		here := c.Got != nil && b.self != "" && c.Got.Visit == b.self && b.v.rev.Visit.PartOf(c.Self) == x.Part
		if !asked && !here {
			continue
		}
		m := measuring{Link: b.v.Ref(c.Self), Check: c, Should: b.v.fieldText(c.Self, "should"), Before: b.v.Ref(c.Before), Number: b.number(c.Self)}
		m.How = c.State
		if c.Drawing != "" {
			m.How = joined(m.How, "drawing "+c.Drawing)
		}
		if here {
			m.Got = b.v.gotSaid(c.Got)
		}
		if c.Shown() {
			shown = append(shown, m)
		} else {
			own = append(own, m)
		}
	}
	return own, shown
}

func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}

// fieldText is the value that holds of a field, as it was written.
func (v *view) fieldText(self record.Ref, field string) string {
	h, ok := v.rec.Held(self, field)
	if !ok {
		return ""
	}
	return desk.AsWritten(self, field, h.Value)
}

// statesAt reads what was noted of steps at one visit.
func (v *view) statesAt(self record.Ref) map[record.Ref]string {
	out := map[record.Ref]string{}
	if self == "" {
		return out
	}
	for _, g := range journal.All[record.Sighting](v.rec) {
		if g.Visit == self {
			out[g.Step] = g.State
		}
	}
	return out
}
