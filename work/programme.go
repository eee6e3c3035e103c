package work

import (
	"dogshore/calendar"
	"dogshore/programme"
)

// ProgrammeCase is the programme engine's case as JSON.
type ProgrammeCase struct {
	DataDate  calendar.Day `json:"data_date" says:"everything before this morning is fact, everything after is computed"`
	Calendars []CaseWeek   `json:"calendars,omitempty" says:"the first is the one that steps are on unless they name another"`
	Steps     []CaseStep   `json:"steps"`
	Links     []CaseLink   `json:"links,omitempty"`
}

// CaseWeek is a working calendar.
type CaseWeek struct {
	ID       string        `json:"id"`
	Week     string        `json:"week" says:"Mon-Thu 1, Fri 0.5; or Mon-Fri; or 24/7"`
	Closures []CaseClosure `json:"closures,omitempty"`
}

// CaseClosure is a run of days on which less is worked.
type CaseClosure struct {
	From    calendar.Day `json:"from" says:"first day"`
	To      calendar.Day `json:"to" says:"last day, included"`
	Working float64      `json:"working_part,omitempty" says:"the most that is worked of each day, 0 to 1"`
	Why     string       `json:"why,omitempty"`
}

// CaseStep is a step.
type CaseStep struct {
	ID       string         `json:"id"`
	Calendar string         `json:"calendar,omitempty"`
	Work     *float64       `json:"work_days,omitempty" says:"length in working days; 0 for a milestone; left out if not known yet"`
	Hours    *float64       `json:"elapsed_hours,omitempty" says:"or length in hours that run through nights and weekends"`
	Left     *float64       `json:"left_days,omitempty" says:"told: work left on the morning of the data date"`
	NotFrom  calendar.Day   `json:"not_before,omitempty" says:"starts no earlier than this morning"`
	NotAfter calendar.Day   `json:"not_after,omitempty" says:"must be finished by the end of this day"`
	Seen     []CaseSighting `json:"seen,omitempty"`
}

// CaseSighting is what was seen of a step on a day.
type CaseSighting struct {
	Day   calendar.Day    `json:"day"`
	State programme.State `json:"state"`
}

// CaseLink says that a step waits for another.
type CaseLink struct {
	From     string             `json:"from" says:"the step that is waited for"`
	To       string             `json:"to" says:"the step that waits"`
	Type     programme.LinkType `json:"type,omitempty" says:"which end waits for which, the waited-for end first; FS if left out"`
	Lag      float64            `json:"lag_days,omitempty" says:"working days between them; less than 0 for an overlap"`
	Hours    float64            `json:"lag_hours,omitempty" says:"or elapsed hours between them, as for cure"`
	Calendar string             `json:"calendar,omitempty" says:"on which the lag runs; that of the step that waits if left out"`
}

// ProgrammeResult is the programme engine's result as JSON.
type ProgrammeResult struct {
	DataDate       calendar.Day              `json:"data_date"`
	Dated          bool                      `json:"dated" says:"whether every step that is not done has computed dates"`
	Finish         calendar.Moment           `json:"finish,omitempty"`
	LastDay        calendar.Day              `json:"last_day,omitempty" says:"of the step that finishes last"`
	Steps          []ResultStep              `json:"steps"`
	Order          []string                  `json:"order" says:"every step, none before what it waits for"`
	Frontier       []string                  `json:"can_come_next"`
	LongestPath    []string                  `json:"longest_path,omitempty"`
	Contradictions []programme.Contradiction `json:"contradictions,omitempty"`
	OutOfOrder     []programme.OutOfOrder    `json:"out_of_order,omitempty"`
}

// ResultStep is what is computed of a step. What is not known is left out.
type ResultStep struct {
	ID           string          `json:"id"`
	State        programme.State `json:"state,omitempty"`
	InferredFrom string          `json:"inferred_from,omitempty" says:"nobody saw this state: it follows from what was seen of that step"`
	WaitsFor     []string        `json:"waits_for,omitempty" says:"steps that its start waits for itself and that have not come so far"`
	FirstDay     calendar.Day    `json:"first_day,omitempty" says:"of what is under way: of the work that is left"`
	LastDay      calendar.Day    `json:"last_day,omitempty"`
	EarlyStart   calendar.Moment `json:"early_start,omitempty"`
	EarlyFinish  calendar.Moment `json:"early_finish,omitempty"`
	LateStart    calendar.Moment `json:"late_start,omitempty"`
	LateFinish   calendar.Moment `json:"late_finish,omitempty"`
	Total        *float64        `json:"total_float_days,omitempty" says:"in days of its own calendar; less than 0: so many days late already"`
	Free         *float64        `json:"free_float_days,omitempty"`
	Left         *float64        `json:"left_days,omitempty" says:"of what is under way: work left, told or reckoned"`
	Critical     bool            `json:"critical,omitempty" says:"on a longest chain to the finish"`
	DrivenBy     string          `json:"driven_by,omitempty"`
	StartFrom    calendar.Day    `json:"start_from,omitempty" says:"what was seen allows no earlier start"`
	StartBy      calendar.Day    `json:"start_by,omitempty"`
	FinishFrom   calendar.Day    `json:"finish_from,omitempty"`
	FinishBy     calendar.Day    `json:"finish_by,omitempty"`
	BoundBy      []string        `json:"bound_by,omitempty" says:"whose sightings say so"`
}

func runProgramme(read func(any) error) (any, error) {
	var in ProgrammeCase
	if err := read(&in); err != nil {
		return nil, err
	}
	c := in.toCase()
	r, err := programme.Pass(c)
	if err != nil {
		return nil, err
	}
	w, err := programme.Waits(c, r)
	if err != nil {
		return nil, err
	}
	return fromResult(in.DataDate, r, w), nil
}

func (in *ProgrammeCase) toCase() programme.Case {
	c := programme.Case{DataDate: in.DataDate}
	for _, w := range in.Calendars {
		cal := programme.Calendar{ID: w.ID, Week: w.Week}
		for _, cl := range w.Closures {
			cal.Closures = append(cal.Closures, calendar.Closure(cl))
		}
		c.Calendars = append(c.Calendars, cal)
	}
	for _, s := range in.Steps {
		step := programme.Step{
			ID: s.ID, Calendar: s.Calendar, Known: s.Work != nil || s.Hours != nil, Left: s.Left, NotFrom: s.NotFrom, NotAfter: s.NotAfter,
		}
		if s.Work != nil {
			step.Work = *s.Work
		}
		if s.Hours != nil {
			step.Hours = *s.Hours
		}
		for _, v := range s.Seen {
			step.Seen = append(step.Seen, programme.Sighting(v))
		}
		c.Steps = append(c.Steps, step)
	}
	for _, l := range in.Links {
		c.Links = append(c.Links, programme.Link(l))
	}
	return c
}

func fromResult(day calendar.Day, r programme.Result, w *programme.Waiting) ProgrammeResult {
	out := ProgrammeResult{
		DataDate: day, Dated: r.Dated, Finish: r.Finish, Order: r.Order, Frontier: r.Frontier, LongestPath: r.LongestPath(),
		Contradictions: r.Contradictions, OutOfOrder: r.OutOfOrder, Steps: make([]ResultStep, 0, len(r.Steps)),
	}
	for i := range r.Steps {
		t := &r.Steps[i]
		s := ResultStep{
			ID: t.ID, State: t.State, InferredFrom: t.InferredFrom, WaitsFor: w.For(t.ID),
			FirstDay: t.FirstDay, LastDay: t.LastDay, EarlyStart: t.EarlyStart, EarlyFinish: t.EarlyFinish,
			LateStart: t.LateStart, LateFinish: t.LateFinish, Critical: t.Critical, DrivenBy: t.Drives,
			StartFrom: t.StartFrom, StartBy: t.StartBy, FinishFrom: t.FinishFrom, FinishBy: t.FinishBy, BoundBy: t.BoundBy,
		}
		if t.Floats {
			s.Total, s.Free = &t.Total, &t.Free
		}
		if t.State == programme.UnderWay && t.Dated {
			s.Left = &t.Left
		}
		if r.Dated {
			out.LastDay = max(out.LastDay, t.LastDay)
		}
		out.Steps = append(out.Steps, s)
	}
	return out
}
