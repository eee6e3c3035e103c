package work

import (
	"context"

	"dogshore/calendar"
	"dogshore/programme"
)

// ForecastCase is the forecast's case as JSON: the programme's, with spreads
// and with what is asked.
type ForecastCase struct {
	DataDate   calendar.Day   `json:"data_date" says:"everything before this morning is fact"`
	Calendars  []CaseWeek     `json:"calendars,omitempty" says:"the first is the one that steps are on unless they name another"`
	Steps      []ForecastStep `json:"steps"`
	Links      []CaseLink     `json:"links,omitempty"`
	Stands     []CaseStand    `json:"stands,omitempty" says:"moulds, cradles, bays: the order of the parts at each is found once, at median lengths"`
	Points     []CasePoint    `json:"points,omitempty" says:"what is to be settled before a step covers it up"`
	Visits     []calendar.Day `json:"visits,omitempty" says:"the owner's days in the yard, past and planned; those before the data date are what was learned from"`
	VisitEvery int            `json:"visit_every_days,omitempty" says:"days between the visits after these"`
	Launch     string         `json:"launch,omitempty" says:"the step whose finish is the launch; the last finish of all if left out"`
	Contract   []calendar.Day `json:"contract,omitempty" says:"days for which the chance of a launch on or before is asked"`
	Seed       uint64         `json:"seed,omitempty" says:"the same seed gives the same answer, to the last bit"`
	Trials     int            `json:"trials,omitempty" says:"10000 if left out"`
}

// ForecastStep is a step with a spread.
type ForecastStep struct {
	CaseStep
	Trade    string      `json:"trade,omitempty" says:"whose pace it shares"`
	Supplier bool        `json:"supplier,omitempty" says:"bought in: shares neither the yard's pace nor its waiting"`
	Spread   *CaseSpread `json:"spread_days,omitempty" says:"instead of one length, in working days; without it the length is certain"`
	Owner    bool        `json:"owner,omitempty" says:"may begin only after a visit of the owner"`
}

// CaseSpread is a length as people say it.
type CaseSpread struct {
	Low  float64 `json:"low" says:"in one case of ten it takes no more"`
	Mode float64 `json:"most_likely"`
	High float64 `json:"high" says:"in nine cases of ten it takes no more"`
}

// CaseStand is a place that a number of parts can have at a time.
type CaseStand struct {
	ID       string        `json:"id"`
	Capacity int           `json:"capacity,omitempty" says:"1 if left out"`
	Holdings []CaseHolding `json:"holdings"`
}

// CaseHolding has a stand from one step's start to another's finish.
type CaseHolding struct {
	First string `json:"first"`
	Last  string `json:"last,omitempty" says:"the step whose finish gives the stand back; first if left out"`
	Need  int    `json:"need,omitempty" says:"how much of the capacity; 1 if left out"`
}

// CasePoint is something to be settled.
type CasePoint struct {
	ID     string       `json:"id"`
	Covers []string     `json:"covers" says:"the steps that cover it up or fix it; the earliest governs"`
	Leads  []CaseLead   `json:"leads,omitempty" says:"what must happen between the decision and that step, first things first"`
	Doors  []CaseDoor   `json:"doors,omitempty" says:"options with steps or leads of their own"`
	Sure   bool         `json:"sure,omitempty" says:"structure, safety, what needs cutting: a date that is early enough nine times in ten; else even chance"`
	CutOff calendar.Day `json:"cut_off,omitempty" says:"stated by the yard or the contract"`
	Cost   float64      `json:"cost,omitempty" says:"of being too late, in any unit that all points share"`
}

// CaseDoor is an option of a point; what it leaves out is the point's.
type CaseDoor struct {
	ID     string     `json:"id"`
	Covers []string   `json:"covers,omitempty"`
	Leads  []CaseLead `json:"leads,omitempty"`
}

// CaseLead is one link of a lead chain.
type CaseLead struct {
	Says     string      `json:"says"`
	Calendar string      `json:"calendar,omitempty"`
	Days     float64     `json:"work_days,omitempty"`
	Hours    float64     `json:"elapsed_hours,omitempty"`
	Spread   *CaseSpread `json:"spread_days,omitempty"`
	Guess    bool        `json:"guess,omitempty" says:"nobody quoted it: then the point gets no date and no chance"`
}

func (in *ForecastCase) toCase() programme.ForecastCase {
	plain := ProgrammeCase{DataDate: in.DataDate, Calendars: in.Calendars, Links: in.Links}
	for _, s := range in.Steps {
		plain.Steps = append(plain.Steps, s.CaseStep)
	}
	base := plain.toCase()
	out := programme.ForecastCase{
		DataDate: in.DataDate, Calendars: base.Calendars, Links: base.Links,
		Visits: in.Visits, VisitEvery: in.VisitEvery, Launch: in.Launch, Contract: in.Contract,
	}
	for i, s := range in.Steps {
		out.Steps = append(out.Steps, programme.ForecastStep{
			Step: base.Steps[i], Trade: s.Trade, Supplier: s.Supplier, Spread: s.Spread.toSpread(), Owner: s.Owner,
		})
	}
	for _, s := range in.Stands {
		stand := programme.Stand{ID: s.ID, Capacity: s.Capacity}
		for _, h := range s.Holdings {
			stand.Holdings = append(stand.Holdings, programme.Holding(h))
		}
		out.Stands = append(out.Stands, stand)
	}
	for _, p := range in.Points {
		point := programme.Point{ID: p.ID, Covers: p.Covers, Leads: toLeads(p.Leads), Sure: p.Sure, CutOff: p.CutOff, Cost: p.Cost}
		for _, d := range p.Doors {
			point.Doors = append(point.Doors, programme.Door{ID: d.ID, Covers: d.Covers, Leads: toLeads(d.Leads)})
		}
		out.Points = append(out.Points, point)
	}
	return out
}

func (s *CaseSpread) toSpread() programme.Spread {
	if s == nil {
		return programme.Spread{}
	}
	return programme.Spread{Low: s.Low, Mode: s.Mode, High: s.High}
}

func toLeads(in []CaseLead) []programme.PointLead {
	var out []programme.PointLead
	for _, l := range in {
		out = append(out, programme.PointLead{Says: l.Says, Calendar: l.Calendar, Days: l.Days, Hours: l.Hours, Spread: l.Spread.toSpread(), Guess: l.Guess})
	}
	return out
}

func runForecast(ctx context.Context, read func(any) error) (any, error) {
	var in ForecastCase
	if err := read(&in); err != nil {
		return nil, err
	}
	c := in.toCase()
	l, err := programme.Learn(c)
	if err != nil {
		return nil, err
	}
	out := ForecastResult{DataDate: in.DataDate, Learned: fromLearned(l)}
	if !l.Enough() {
		return out, nil
	}
	o, err := programme.Forecast(ctx, c, l, programme.Run{Seed: in.Seed, Trials: in.Trials})
	if err != nil {
		return nil, err
	}
	out.take(o)
	return out, nil
}
