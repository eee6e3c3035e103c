package programme

import (
	"math"
	"slices"

	"dogshore/calendar"
)

// PointOutlook is by when a point is to be settled and looked at.
//
// Ask says that a lead is nobody's quote: then there is no Decide and no
// chance. Gone says that a step that covers it up has begun. NoDate says that
// such a step has no date.
type PointOutlook struct {
	ID      string          `json:"id"`
	Ask     bool            `json:"ask_the_lead,omitempty"`
	Gone    bool            `json:"covered_up,omitempty"`
	NoDate  bool            `json:"no_date,omitempty"`
	Share   float64         `json:"share,omitempty"` // of trials that lie before its dates: 0.1, or 0.5 for even chance
	Decide  calendar.Moment `json:"decide,omitempty"`
	By      calendar.Day    `json:"decide_by,omitempty"` // the last day that is over by Decide
	CutOff  calendar.Day    `json:"cut_off,omitempty"`
	Governs calendar.Day    `json:"governs,omitempty"` // the earlier of By and CutOff
	Late    float64         `json:"too_late_now,omitempty"`
	Next    float64         `json:"too_late_at_next_visit,omitempty"`
	Waiting float64         `json:"cost_of_waiting,omitempty"` // cost times what the chance grows until the next visit; without a cost that growth itself
	Look    calendar.Moment `json:"look,omitempty"`            // the start that covers it up, by the same share
	LookBy  calendar.Day    `json:"look_by,omitempty"`
	Visit   calendar.Day    `json:"last_visit,omitempty"` // the last visit in time for a look; 0: none is known of
	Doors   []DoorOutlook   `json:"doors,omitempty"`

	decides []int64 // by trial, seconds from the data date
}

// DoorOutlook is by when one option of a point must be taken.
type DoorOutlook struct {
	ID     string          `json:"id"`
	Ask    bool            `json:"ask_the_lead,omitempty"`
	Gone   bool            `json:"covered_up,omitempty"`
	NoDate bool            `json:"no_date,omitempty"`
	Decide calendar.Moment `json:"decide,omitempty"`
	By     calendar.Day    `json:"decide_by,omitempty"`
	Late   float64         `json:"too_late_now,omitempty"`
	Next   float64         `json:"too_late_at_next_visit,omitempty"`
}

// simPoint is a point as trials use it.
type simPoint struct {
	of    *Point
	doors []simDoor
}

type simDoor struct {
	id           string
	ask          bool
	gone, noDate bool
	covers       []int32
	leads        []simLead
	by           *clock  // on which its day is shown
	decide, look []int64 // by trial, seconds from the data date
}

type simLead struct {
	clock *clock
	law   law
}

func (m *model) layPoints() {
	for i := range m.c.Points {
		p := simPoint{of: &m.c.Points[i]}
		for k, d := range p.of.doors() {
			door := simDoor{id: d.ID, by: m.clocks[0]}
			for _, id := range d.Covers {
				j := m.byID[id]
				n := &m.net.nodes[j]
				switch {
				case n.begun || n.done:
					door.gone = true
				case !m.places[j].starts:
					door.noDate = true
				default:
					door.covers = append(door.covers, j)
				}
			}
			for q := range d.Leads {
				door.ask = door.ask || d.Leads[q].Guess
				door.leads = append(door.leads, m.lead(p.of.ID, k, q, &d.Leads[q]))
			}
			if door.noDate || door.gone {
				door.covers = nil
			}
			p.doors = append(p.doors, door)
		}
		m.points = append(m.points, p)
	}
}

// lead makes a lead ready. Two doors with a lead of the same name share it.
func (m *model) lead(point string, door, place int, l *PointLead) simLead {
	out := simLead{clock: m.clocks[m.elapsed()], law: law{work: int64(math.Round(l.Hours * 3600)), pace: m.ones()}}
	if l.Hours != 0 {
		return out
	}
	for i := range m.c.Calendars {
		if m.c.Calendars[i].ID == l.Calendar || i == 0 && l.Calendar == "" {
			out.clock = m.clocks[i]
		}
	}
	out.law.work = int64(out.clock.cal.Of(l.Days))
	if l.Spread.Known() {
		out.law = spreadLaw(l.Spread, float64(out.clock.cal.Of(1)))
		out.law.key, out.law.pace = m.seed.For(point).For(l.Says).For("lead"), m.ones()
	}
	return out
}

// countPoints notes, for each trial of the block, when each door shuts.
func (w *worker) countPoints(from int) {
	m := w.m
	for i := range m.points {
		for k := range m.points[i].doors {
			d := &m.points[i].doors[k]
			if len(d.covers) == 0 {
				continue
			}
			look, decide := d.look[from:from+w.n], d.decide[from:from+w.n]
			for b := range look {
				look[b] = math.MaxInt64
				for _, j := range d.covers {
					p := &m.places[j]
					look[b] = min(look[b], m.clocks[p.clock].latest(w.calm.start[p.start][b]))
				}
			}
			copy(decide, look)
			for q := len(d.leads) - 1; q >= 0; q-- {
				l := &d.leads[q]
				l.law.draw(from, w.factors, w.length, nil)
				for b := range decide {
					decide[b] = l.clock.behind(decide[b], w.length[b])
				}
			}
		}
	}
}

// settle makes a point's outlook of its samples.
func (m *model) settle(p *simPoint, trials int) PointOutlook {
	out := PointOutlook{ID: p.of.ID, CutOff: p.of.CutOff, Share: 0.5}
	if p.of.Sure {
		out.Share = 0.1
	}
	visit := int64(math.MaxInt64)
	if len(m.visits) > 0 {
		visit = m.visits[0]
	}
	var look []int64
	for i := range p.doors {
		d := &p.doors[i]
		o := DoorOutlook{ID: d.id, Ask: d.ask, Gone: d.gone, NoDate: d.noDate}
		if len(d.covers) > 0 {
			look = earliest(look, d.look[:trials])
			if !d.ask && len(p.of.Doors) > 0 {
				s := d.decide[:trials]
				o.Decide = m.zero + calendar.Moment(statistic(s, out.Share))
				o.By = d.by.cal.ByEndOf(o.Decide)
				o.Late = below(s, 0)
				o.Next = o.Late
				if visit < math.MaxInt64 {
					o.Next = below(s, visit)
				}
			}
		}
		out.Doors = append(out.Doors, o)
	}
	m.lookBefore(&out, look)
	m.whole(&out, p, trials, visit)
	if len(p.of.Doors) == 0 {
		out.Doors = nil
	}
	return out
}

// earliest returns the lesser of a and b trial by trial.
func earliest(a, b []int64) []int64 {
	if a == nil {
		return slices.Clone(b)
	}
	for i := range a {
		a[i] = min(a[i], b[i])
	}
	return a
}

// lookBefore dates the last look. Only that meets a visit.
func (m *model) lookBefore(out *PointOutlook, look []int64) {
	if look == nil {
		return
	}
	at := statistic(look, out.Share)
	out.Look = m.zero + calendar.Moment(at)
	out.LookBy = m.clocks[0].cal.ByEndOf(out.Look)
	if v, ok := m.visitBefore(at); ok {
		out.Visit = (m.zero + calendar.Moment(v)).Day()
	}
}

// whole dates the point itself: the last moment at which every door is still
// open, in each trial.
func (m *model) whole(out *PointOutlook, p *simPoint, trials int, visit int64) {
	var first []int64
	for i := range p.doors {
		d := &p.doors[i]
		out.Ask, out.Gone, out.NoDate = out.Ask || d.ask, out.Gone || d.gone, out.NoDate || d.noDate
		if len(d.covers) > 0 && !d.ask {
			first = earliest(first, d.decide[:trials])
		}
	}
	out.Governs = out.CutOff
	if out.Gone {
		out.Late, out.Next = 1, 1
	}
	if first == nil || out.Ask || out.Gone || out.NoDate {
		return
	}
	out.decides = first
	out.Decide = m.zero + calendar.Moment(statistic(first, out.Share))
	out.By = p.doors[0].by.cal.ByEndOf(out.Decide)
	if !out.CutOff.Known() || out.By < out.CutOff {
		out.Governs = out.By
	}
	out.Late = below(first, 0)
	out.Next = out.Late
	if visit < math.MaxInt64 {
		out.Next = below(first, visit)
	}
	out.Waiting = out.Next - out.Late
	if p.of.Cost > 0 {
		out.Waiting *= p.of.Cost
	}
}

// ByCostOfWaiting orders points by what it costs to wait one more visit, the
// dearest first; those that cost the same by their date, and those without one
// last.
func ByCostOfWaiting(points []PointOutlook) []PointOutlook {
	out := slices.Clone(points)
	slices.SortStableFunc(out, func(a, b PointOutlook) int {
		switch {
		case a.Waiting != b.Waiting:
			return int(math.Copysign(1, b.Waiting-a.Waiting))
		case a.Governs.Known() != b.Governs.Known():
			return map[bool]int{true: -1, false: 1}[a.Governs.Known()]
		}
		return int(a.Governs - b.Governs)
	})
	return out
}
