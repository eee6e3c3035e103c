package plan

import (
	"sort"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
)

// makeForecast writes the record as the case of a forecast: the network with
// lengths as spreads, moulds and cradles, the owner's visits, and the points
// that are still open.
func (d *reading) makeForecast() programme.ForecastCase {
	base := d.makeCase()
	f := programme.ForecastCase{DataDate: base.DataDate, Calendars: base.Calendars, Links: base.Links, Stands: d.holdings(), Points: d.forecastPoints()}
	for _, p := range base.Steps {
		s := d.steps[record.R("step", p.ID)]
		x := programme.ForecastStep{Step: p, Trade: s.Trade, Supplier: d.supplied(s), Owner: d.waitsForOwner(s)}
		if s.Work.Known {
			x.Spread = programme.Spread{Low: s.Work.Low, Mode: s.Work.Mode, High: s.Work.High}
		}
		f.Steps = append(f.Steps, x)
	}
	f.Visits, f.VisitEvery = d.ownVisits()
	if launch := d.lastOfStage("launched"); launch != "" {
		f.Launch = launch.Key()
	}
	for _, c := range d.launchCutoffs(f.Launch) {
		f.Contract = append(f.Contract, c.Day)
	}
	return f
}

// supplied reports whether a step is worked by somebody else than the yard:
// on a working calendar that is not the yard's. It then shares neither the
// yard's pace nor its waiting.
func (d *reading) supplied(s *Step) bool {
	cal := d.calendarOf(s.Calendar)
	if s.Calendar == "" || cal == d.cals.yard {
		return false
	}
	for _, c := range d.cals.cases {
		if c.ID == cal.Key() {
			return c.Week != "24/7"
		}
	}
	return false
}

// waitsForOwner reports whether a step waits for a release that only an owner
// can give: at a visit.
func (d *reading) waitsForOwner(s *Step) bool {
	if s.Point != "hold" || s.Clause == "" || d.people[s.Releaser].Role != "owner" {
		return false
	}
	for _, r := range journal.All[record.Release](d.r) {
		if r.Step == s.Self && d.mayRelease(s, r.By) {
			return false
		}
	}
	return true
}

// holdings says who has which mould, cradle or bay, from the first step that
// names it to the last, for each part.
func (d *reading) holdings() []programme.Stand {
	type key struct{ stand, part record.Ref }
	at := map[key]int{}
	held := map[record.Ref][]programme.Holding{}
	for _, ref := range d.live {
		s := d.steps[ref]
		if s.Stand == "" {
			continue
		}
		k := key{s.Stand, s.Part}
		if i, ok := at[k]; ok {
			held[s.Stand][i].Last = ref.Key()
			continue
		}
		at[k] = len(held[s.Stand])
		held[s.Stand] = append(held[s.Stand], programme.Holding{First: ref.Key()})
	}
	var out []programme.Stand
	for _, st := range journal.All[record.Stand](d.r) {
		if len(held[st.Self]) > 0 {
			out = append(out, programme.Stand{ID: st.Key(), Capacity: int(max(1, st.Room.SI)), Holdings: held[st.Self]})
		}
	}
	return out
}

// ownVisits are the days on which the owner's side came, and how often they
// come by what they said at the start.
func (d *reading) ownVisits() (days []calendar.Day, every int) {
	for _, v := range d.visits {
		if v.By != "pictures" && v.By != "call" && v.Day.Known() {
			days = append(days, v.Day)
		}
	}
	b, _ := journal.Get[record.Build](d.r, "build/build")
	if b.NextVisit.Known() && b.NextVisit > d.day {
		days = append(days, b.NextVisit)
	}
	sort.Slice(days, func(i, k int) bool { return days[i] < days[k] })
	switch b.Visiting {
	case "every week":
		every = 7
	case "every few weeks", "a surveyor goes":
		every = 21
	}
	return days, every
}

// forecastPoints are the open points with their lead chains. A lead that
// nobody quoted is handed over as the guess it is: it gets no dates.
func (d *reading) forecastPoints() []programme.Point {
	options := map[record.Ref][]record.Option{}
	for _, o := range journal.All[record.Option](d.r) {
		options[o.Point] = append(options[o.Point], o)
	}
	var out []programme.Point
	for _, p := range journal.All[record.Point](d.r) {
		step := d.liveStep(p.CoveredBy)
		if p.Withdrawn == record.Yes || step == "" {
			continue
		}
		x := programme.Point{ID: p.Key(), Covers: []string{step.Key()}, Sure: gravityOf(p.Gravity) <= gravityOf(string(desk.Cutting))}
		x.Leads = d.forecastLeads(step, d.leads[p.Self])
		if len(d.leads[p.Self]) == 0 && !d.anyLead(options[p.Self]) && x.Sure {
			x.Leads = append(x.Leads, programme.PointLead{Says: "what is made or cut", Guess: true})
		}
		for _, o := range options[p.Self] {
			door := programme.Door{ID: o.Key()}
			at := step
			if until := d.liveStep(o.Until); until != "" {
				at = until
				door.Covers = []string{until.Key()}
			}
			if more := d.leads[o.Self]; len(more) > 0 {
				door.Leads = d.forecastLeads(at, append(append([]record.Lead(nil), more...), d.leads[p.Self]...))
			}
			x.Doors = append(x.Doors, door)
		}
		if c, ok := d.cutoff(p.Self); ok {
			x.CutOff = c.Day
		}
		out = append(out, x)
	}
	return out
}

// forecastLeads puts leads in the order in which they come, with the notice
// that the step itself needs at the end.
func (d *reading) forecastLeads(step record.Ref, leads []record.Lead) []programme.PointLead {
	s := d.steps[step]
	back := d.backwards(leads, s.Calendar)
	var out []programme.PointLead
	for i := len(back) - 1; i >= 0; i-- {
		l := back[i]
		x := programme.PointLead{Says: l.What, Guess: l.QuotedBy == "" || !l.Work.Known && !l.Wait.Known}
		cal := l.Calendar
		if cal == "" {
			cal = s.Calendar
		}
		switch {
		case l.Wait.Known:
			x.Hours = l.Wait.SI / 3600
		case l.Work.Known:
			x.Days, x.Calendar = l.Work.SI, d.calendarOf(cal).Key()
		}
		out = append(out, x)
	}
	if s.Notice.Known && s.Notice.SI > 0 && (s.Point == "hold" || s.Point == "witness") {
		out = append(out, programme.PointLead{Says: "notice", Days: s.Notice.SI, Calendar: d.calendarOf(s.Calendar).Key()})
	}
	return out
}
