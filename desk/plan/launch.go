package plan

import (
	"sort"
	"strings"

	"dogshore/desk"
	"dogshore/record"
)

// launchCaution stands beside every launch date.
const launchCaution = "A date says nothing of whether she is ready: through-hulls, bilge alarms, fire and gas checks are looked at apart, by whoever is licensed to."

// readLaunch gathers what is known of the launch.
func (d *reading) readLaunch() {
	l := Launch{Step: d.lastOfStage("launched"), Caution: launchCaution}
	s := d.steps[l.Step]
	all := append([]Promise(nil), d.saidOfLaunch(l.Step)...)
	if len(all) > 0 {
		l.First, l.Said = d.saidWhen(all[0]), d.saidWhen(all[len(all)-1])
	}
	for _, c := range d.launchCutoffs(l.Step.Key()) {
		l.Contract = earlier(l.Contract, d.cutoffWhen(c))
	}
	if s != nil {
		l.Done = s.State == done && s.Grounds.Rank() >= record.Shown.Rank()
		if d.endComputed(s) && s.State != done {
			day := d.lastDay(s)
			l.Computed = desk.When{Day: day, Basis: desk.Durations, Said: d.byDurations()}
			l.Computed.Work = d.computedFigure("EF", "earliest day by which she can be afloat", day, s)
		}
	}
	d.a.Launch = l
	d.foreseenLaunch(s)
}

// launchCutoffs are the cut-offs that bind the launch: those of its step, and
// those of the boat whose name says so.
func (d *reading) launchCutoffs(step string) []record.Cutoff {
	var out []record.Cutoff
	for _, about := range []record.Ref{"build/build", "", record.R("step", step)} {
		for _, c := range d.cutoffs[about] {
			if step != "" && about == record.R("step", step) || strings.Contains(strings.ToLower(c.Name), "launch") {
				out = append(out, c)
			}
		}
	}
	return out
}

// saidOfLaunch returns what was said of the launch, oldest first: of the boat,
// or of the step that ends in it.
func (d *reading) saidOfLaunch(step record.Ref) []Promise {
	var out []Promise
	for _, about := range []record.Ref{"build/build", step} {
		for _, p := range d.said[about] {
			if p.When.Known() && (p.What == launch || about == step && about != "" && p.What == isDone) {
				out = append(out, p)
			}
		}
	}
	sort.SliceStable(out, func(i, k int) bool { return d.saidBefore(&out[i], &out[k]) })
	return out
}

// saidWhen is a told date as its latest day.
func (d *reading) saidWhen(p Promise) desk.When {
	return desk.When{Day: p.When.Last, Basis: desk.YardsWord, Said: d.onWord(p.Statement), Work: d.saidFigure(p, "launch")}
}
