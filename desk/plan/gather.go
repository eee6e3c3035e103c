package plan

import (
	"sort"

	"dogshore/calendar"
	"dogshore/figure"
	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
)

// reading is one reading of a record: what was gathered from it, and the
// answer as it grows.
type reading struct {
	r   *journal.Record
	day calendar.Day
	a   Answer

	// The programme.
	live    []record.Ref                       // steps done on this boat: by rank and key, then in network order
	steps   map[record.Ref]*Step               // the same
	left    map[record.Ref]record.Step         // left out: not done by this yard, or withdrawn
	heirs   map[record.Ref]map[record.Ref]bool // of a left-out step: who now waits for what it waited for
	in, out map[record.Ref][]link              // links by the step that waits, and that is waited for
	cals    calendars
	cutoffs map[record.Ref][]record.Cutoff // by what they bind, earliest first

	// Things and people.
	parts  map[record.Ref]record.Part
	places map[record.Ref]record.Ref // the larger place of each, rings opened
	people map[record.Ref]record.Person

	// What was seen and said.
	visits       map[record.Ref]record.Visit
	first        calendar.Day                     // of the visits that looked
	looks        map[record.Ref][]look            // at a step, oldest first
	measurements []record.Measurement             //
	said         map[record.Ref][]Promise         // by what it is about, oldest first
	decisions    map[record.Ref][]record.Decision // by point, oldest first
	answers      map[record.Ref][]record.Answer   // by question
	remedies     map[record.Ref][]record.Remedy   // by defect
	leads        map[record.Ref][]record.Lead     // by what they are for
	orders       map[record.Ref]calendar.Day      // the first, by item
	arrivals     map[record.Ref][]record.Arrival  // by item

	// Worked out on the way.
	over     map[record.Ref]bool                   // done, if one believes what was told
	startsAt map[record.Ref]calendar.Moment        // of steps still to come, where a date is earned
	lengths  map[record.Ref][]figure.Figure        // how long a step takes, as entered
	outlooks map[record.Ref]programme.PointOutlook // of open points, on the level of the forecast
	learned  []figure.Figure                       // what the forecast learned
	thought  map[record.Ref]Change                 // changes that are tried on in thought
}

// look is one sighting that says something, with the day of its visit.
type look struct {
	self    record.Ref
	visit   record.Ref
	day     calendar.Day
	state   string
	grounds record.Grounds // the weaker of what the entry says and what such a visit can give
}

// firm reports whether a look bounds anything: seen with one's own eyes, in a
// picture or in writing. What was only told does not.
func (l look) firm() bool { return l.grounds.Rank() >= record.Shown.Rank() }

// own reports whether somebody of the owner's side stood before it.
func (l look) own() bool { return l.grounds.Rank() >= record.Seen.Rank() }

// The states of a step, as the record's choices have them.
const (
	notStarted = "not started"
	underWay   = "under way"
	done       = "done"
	notKnown   = "not known"
)

// stage orders states; words that bound nothing ("could not see", "not sure")
// have none.
func stage(state string) int {
	switch state {
	case notStarted:
		return 0
	case underWay:
		return 1
	case done:
		return 2
	}
	return -1
}

// gather reads what the desk needs of the record, once.
func gather(r *journal.Record) *reading {
	d := &reading{
		r: r, day: r.Day,
		steps: map[record.Ref]*Step{}, left: map[record.Ref]record.Step{},
		parts: map[record.Ref]record.Part{}, people: map[record.Ref]record.Person{},
		visits: map[record.Ref]record.Visit{}, looks: map[record.Ref][]look{}, lengths: map[record.Ref][]figure.Figure{},
	}
	for _, p := range journal.All[record.Part](r) {
		d.parts[p.Self] = p
	}
	d.gatherPlaces()
	for _, p := range journal.All[record.Person](r) {
		d.people[p.Self] = p
	}
	d.gatherSteps()
	d.gatherVisits()
	d.gatherLooks()
	d.gatherLinks()
	d.gatherCalendars()
	d.gatherCutoffs()
	d.gatherSaid()
	d.gatherSettled()
	d.gatherDeliveries()
	return d
}

// gatherPlaces reads which place lies in which. A place that lies in itself
// (the record doubts that) lies in nothing.
func (d *reading) gatherPlaces() {
	d.places = map[record.Ref]record.Ref{}
	all := journal.All[record.Place](d.r)
	within := map[record.Ref]record.Ref{}
	for _, p := range all {
		within[p.Self] = p.Within
	}
	for _, p := range all {
		at := p.Within
		for n := 0; at != "" && at != p.Self && n <= len(all); n++ {
			at = within[at]
		}
		if at == "" {
			d.places[p.Self] = p.Within
		}
	}
}

func (d *reading) gatherSteps() {
	for _, s := range journal.All[record.Step](d.r) {
		if s.NotDone == record.Yes || s.Withdrawn == record.Yes || d.withdrawn(s.Part) {
			d.left[s.Self] = s
			continue
		}
		d.steps[s.Self] = &Step{Step: s, State: notKnown, Ahead: unknown}
		d.live = append(d.live, s.Self)
	}
	sort.SliceStable(d.live, func(i, k int) bool { return d.ranksBefore(d.live[i], d.live[k]) })
}

// withdrawn reports whether a part, or one that it lies in, was left out.
func (d *reading) withdrawn(part record.Ref) bool {
	for range len(d.parts) {
		p, ok := d.parts[part]
		if !ok {
			return false
		}
		if p.Withdrawn == record.Yes {
			return true
		}
		part = p.Within
	}
	return false
}

// ranksBefore orders steps by the usual order; those without a rank come
// last, ties go by key.
func (d *reading) ranksBefore(a, b record.Ref) bool {
	x, y := d.steps[a].Rank, d.steps[b].Rank
	if x.Known != y.Known {
		return x.Known
	}
	if x.SI != y.SI {
		return x.SI < y.SI
	}
	return a < b
}

func (d *reading) gatherVisits() {
	for _, v := range journal.All[record.Visit](d.r) {
		d.visits[v.Self] = v
		if v.Planned == record.Yes || v.Day == 0 || v.Day > d.day || v.By == "call" {
			continue
		}
		if last := d.a.LastVisit; v.Day > last.Day || v.Day == last.Day && v.Self > last.Self {
			d.a.LastVisit = v
		}
		if d.first == 0 || v.Day < d.first {
			d.first = v.Day
		}
	}
}

func (d *reading) gatherLooks() {
	for _, s := range journal.All[record.Sighting](d.r) {
		if stage(s.State) < 0 || d.steps[s.Step] == nil {
			continue
		}
		held, _ := d.r.Held(s.Self, "state")
		l := look{self: s.Self, visit: s.Visit, state: s.State, grounds: held.Entry.Grounds, day: held.Entry.Since}
		if v, ok := d.visits[s.Visit]; ok {
			if v.Day != 0 {
				l.day = v.Day
			}
			l.grounds = weaker(l.grounds, ceiling(v.By))
		}
		if l.grounds != record.Inferred && l.day <= d.day {
			d.looks[s.Step] = append(d.looks[s.Step], l)
		}
	}
	for _, all := range d.looks {
		sort.Slice(all, func(i, k int) bool {
			a, b := all[i], all[k]
			if a.day != b.day {
				return a.day < b.day
			}
			if a.state != b.state {
				return stage(a.state) < stage(b.state)
			}
			return a.self < b.self
		})
	}
}

// gatherSettled reads what settles points, questions and defects, and what
// takes time before it can be built in.
func (d *reading) gatherSettled() {
	d.decisions, d.answers = map[record.Ref][]record.Decision{}, map[record.Ref][]record.Answer{}
	d.remedies, d.leads = map[record.Ref][]record.Remedy{}, map[record.Ref][]record.Lead{}
	for _, x := range journal.All[record.Decision](d.r) {
		d.decisions[x.Point] = append(d.decisions[x.Point], x)
	}
	for _, all := range d.decisions {
		sort.SliceStable(all, func(i, k int) bool {
			if all[i].Day != all[k].Day {
				return all[i].Day < all[k].Day
			}
			return d.r.From(all[i].Self).Stamp < d.r.From(all[k].Self).Stamp
		})
	}
	for _, x := range journal.All[record.Answer](d.r) {
		d.answers[x.To] = append(d.answers[x.To], x)
	}
	for _, x := range journal.All[record.Remedy](d.r) {
		d.remedies[x.Defect] = append(d.remedies[x.Defect], x)
	}
	for _, x := range journal.All[record.Lead](d.r) {
		d.leads[x.For] = append(d.leads[x.For], x)
	}
	d.measurements = journal.All[record.Measurement](d.r)
}

// ceiling is the firmest ground that a visit of that kind can give.
func ceiling(by string) record.Grounds {
	switch by {
	case "pictures":
		return record.Shown
	case "call":
		return record.Told
	}
	return record.Certified
}

func weaker(a, b record.Grounds) record.Grounds {
	if b.Rank() < a.Rank() {
		return b
	}
	return a
}
