package programme

import "dogshore/calendar"

// ForecastCase is a network whose lengths are spreads, with what is asked of
// its forecast. Everything before the morning of DataDate is fact.
type ForecastCase struct {
	DataDate  calendar.Day   `json:"data_date"`
	Calendars []Calendar     `json:"calendars,omitempty"`
	Steps     []ForecastStep `json:"steps"`
	Links     []Link         `json:"links,omitempty"`
	Stands    []Stand        `json:"stands,omitempty"`
	Points    []Point        `json:"points,omitempty"`

	// Visits are the owner's days in the yard, past and planned. After the last
	// of them one follows every VisitEvery days; 0: none is known of.
	Visits     []calendar.Day `json:"visits,omitempty"`
	VisitEvery int            `json:"visit_every_days,omitempty"`

	Launch   string         `json:"launch,omitempty"`   // the step whose finish is the launch; empty: the last finish of all
	Contract []calendar.Day `json:"contract,omitempty"` // days for which the chance of "on or before" is asked
}

// Spread is one step's length in working days as people say it: in one case of
// ten it takes no more than Low, most likely Mode, in nine of ten no more than
// High. It is read as one lognormal law. The zero Spread says nothing: the
// step's own Work or Hours then holds for certain.
type Spread struct {
	Low  float64 `json:"low"`
	Mode float64 `json:"mode"`
	High float64 `json:"high"`
}

// Known reports whether s says anything.
func (s Spread) Known() bool { return s != Spread{} }

// ForecastStep is a step with a spread. Where its Spread is known, Work is only
// what the pass without chance takes; 0 stands for the spread's median.
type ForecastStep struct {
	Step
	Trade    string `json:"trade,omitempty"`
	Supplier bool   `json:"supplier,omitempty"` // bought in: shares neither the yard's pace nor its waiting
	Spread   Spread `json:"spread,omitzero"`
	Owner    bool   `json:"owner,omitempty"` // may begin only after a visit of the owner
}

// Stand is a place that Capacity units of parts can have at a time: a mould, a
// cradle, a bay. Each holding has it from the start of First to the finish of
// Last.
type Stand struct {
	ID       string    `json:"id"`
	Capacity int       `json:"capacity"` // 0 stands for 1
	Holdings []Holding `json:"holdings"`
}

// Holding takes Need units (0 stands for 1) of a stand from the start of step
// First to the finish of step Last; an empty Last is First.
type Holding struct {
	First string `json:"first"`
	Last  string `json:"last,omitempty"`
	Need  int    `json:"need,omitempty"`
}

// Point is something to be settled before a step covers it up or fixes it.
type Point struct {
	ID     string       `json:"id"`
	Covers []string     `json:"covers"` // the earliest of these steps governs
	Leads  []PointLead  `json:"leads,omitempty"`
	Doors  []Door       `json:"doors,omitempty"`   // of options that close at their own time
	Sure   bool         `json:"sure,omitempty"`    // structure, safety, what needs cutting: right nine times in ten; else even chance
	CutOff calendar.Day `json:"cut_off,omitempty"` // stated by the yard or the contract
	Cost   float64      `json:"cost,omitempty"`    // of being too late, in any unit that all points share; 0: not known
}

// Door is an option of a point with its own steps and leads; empty ones are
// the point's.
type Door struct {
	ID     string      `json:"id"`
	Covers []string    `json:"covers,omitempty"`
	Leads  []PointLead `json:"leads,omitempty"`
}

// PointLead is one link of the chain between a decision and the step that
// needs it, first things first. It takes Spread or Days on Calendar (the first
// of the case if empty), or elapsed Hours. Guess says that nobody quoted it:
// then the point gets no dates and no chances, but asks for the lead.
type PointLead struct {
	Says     string  `json:"says"`
	Calendar string  `json:"calendar,omitempty"`
	Days     float64 `json:"days,omitempty"`
	Hours    float64 `json:"hours,omitempty"`
	Spread   Spread  `json:"spread,omitzero"`
	Guess    bool    `json:"guess,omitempty"`
}

// Pace is one draw of what was learned of the yard.
type Pace struct {
	Trade []float64 `json:"trade"` // factor on lengths, by index into Learned.Trades; suppliers use 1
	Wait  float64   `json:"wait"`  // mean waiting before a step begins though all that it waits for has come, working days
}

// Band is a spread of something that was learned.
type Band struct {
	P10 float64 `json:"p10"`
	P50 float64 `json:"p50"`
	P90 float64 `json:"p90"`
}

// Learned is what the visits taught of a yard: equally weighted draws.
type Learned struct {
	Trades  []string `json:"trades"`
	Chains  int      `json:"chains"` // chains of steps seen from first to last
	Visits  int      `json:"visits"`
	Draws   []Pace   `json:"draws"`
	Common  Band     `json:"common"`
	Waiting Band     `json:"waiting"`
	ByTrade []Band   `json:"by_trade,omitempty"`
}

// The least that a forecast must have learned from before it names chances.
const (
	LeastVisits = 4
	LeastChains = 5
)

// Enough reports whether chances may be named.
func (l Learned) Enough() bool {
	return l.Visits >= LeastVisits && l.Chains >= LeastChains && len(l.Draws) > 0
}

// Case returns the network without chance: each length at its Work, or at the
// median of its spread.
func (c ForecastCase) Case() Case {
	out := Case{DataDate: c.DataDate, Calendars: c.Calendars, Links: c.Links, Steps: make([]Step, len(c.Steps))}
	for i := range c.Steps {
		s := &c.Steps[i]
		out.Steps[i] = s.Step
		if median, _ := Lognormal(s.Spread); median > 0 && s.Work == 0 && s.Hours == 0 {
			out.Steps[i].Work = median
		}
	}
	return out
}
