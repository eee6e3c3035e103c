package work

import (
	"strings"

	"dogshore/calendar"
	"dogshore/programme"
)

// ForecastResult is a forecast as JSON. Below what a forecast must have learned
// from it holds no dates and no chances.
type ForecastResult struct {
	DataDate calendar.Day    `json:"data_date"`
	Learned  ResultLearned   `json:"learned"`
	Seed     uint64          `json:"seed,omitempty"`
	Trials   int             `json:"trials,omitempty"`
	Launch   *ResultLaunch   `json:"launch,omitempty"`
	Steps    []ResultOutlook `json:"steps,omitempty"`
	Points   []ResultPoint   `json:"points,omitempty" says:"the one first for which waiting one more visit costs most"`
	Order    []ResultTurn    `json:"order_at_stands,omitempty"`
}

// ResultLearned is what the visits taught.
type ResultLearned struct {
	Visits  int           `json:"visits"`
	Chains  int           `json:"chains" says:"of steps seen from first to last"`
	Short   string        `json:"short,omitempty" says:"what a forecast would need"`
	Common  *ResultBand   `json:"pace_of_all,omitempty" says:"factor on lengths; 1.2: everything takes a fifth longer than its median"`
	Trades  []ResultTrade `json:"pace_by_trade,omitempty"`
	Waiting *ResultBand   `json:"waiting_days,omitempty" says:"mean wait before a step begins though all has come"`
}

// ResultBand is a spread.
type ResultBand struct {
	P10 float64 `json:"p10"`
	P50 float64 `json:"p50"`
	P90 float64 `json:"p90"`
}

// ResultTrade is the pace of one trade.
type ResultTrade struct {
	Trade string     `json:"trade"`
	Pace  ResultBand `json:"pace"`
}

// ResultDates is a spread of moments.
type ResultDates struct {
	P10 calendar.Moment `json:"p10" says:"one chance in ten that it is at or before"`
	P50 calendar.Moment `json:"p50" says:"as likely before as after"`
	P90 calendar.Moment `json:"p90" says:"nine chances in ten that it is at or before"`
}

// ResultLaunch is the launch.
type ResultLaunch struct {
	Actual    calendar.Moment `json:"launched,omitempty"`
	Dates     *ResultDates    `json:"dates,omitempty"`
	P80       calendar.Moment `json:"p80,omitempty" says:"four chances in five that it is at or before"`
	Chances   []ResultChance  `json:"on_or_before,omitempty"`
	OwnerWait float64         `json:"owner_wait_days,omitempty" says:"mean wait for the owner's visits on the chain that drives it, days of 24 hours"`
	Unmet     []string        `json:"unmet_holds,omitempty" says:"steps that wait for a visit later than any that is known of: no wait is counted"`
}

// ResultChance is the chance of a day.
type ResultChance struct {
	Day    calendar.Day `json:"day"`
	Chance float64      `json:"chance"`
}

// ResultOutlook is one step that is not done.
type ResultOutlook struct {
	ID          string       `json:"id"`
	Start       *ResultDates `json:"start,omitempty" says:"of what is under way: of what is left; before the data date: it may have begun unseen"`
	Finish      *ResultDates `json:"finish,omitempty"`
	Criticality float64      `json:"criticality" says:"chance that it lies on the chain that drives the launch"`
	OwnerWait   float64      `json:"owner_wait_days,omitempty"`
}

// ResultPoint is by when a point is to be settled.
type ResultPoint struct {
	ID        string          `json:"id"`
	Ask       bool            `json:"ask_the_lead,omitempty" says:"a lead is nobody's quote: no date, no chance"`
	Gone      bool            `json:"covered_up,omitempty" says:"a step that covers it up has begun"`
	NoDate    bool            `json:"no_date,omitempty" says:"a step that covers it up has no date"`
	Share     float64         `json:"share" says:"of the trials in which the dates below are too late: 0.1 or 0.5"`
	Decide    calendar.Moment `json:"decide,omitempty"`
	By        calendar.Day    `json:"decide_by_end_of,omitempty"`
	CutOff    calendar.Day    `json:"cut_off,omitempty"`
	Governs   calendar.Day    `json:"governs,omitempty" says:"the earlier of the two"`
	Late      *float64        `json:"too_late_now,omitempty" says:"chance that it is too late already"`
	Next      *float64        `json:"too_late_at_next_visit,omitempty"`
	Waiting   float64         `json:"cost_of_waiting,omitempty" says:"what the chance of being too late grows by until the next visit, times the cost if there is one"`
	Look      calendar.Moment `json:"look,omitempty" says:"the start that covers it up"`
	LookBy    calendar.Day    `json:"look_by_end_of,omitempty"`
	LastVisit calendar.Day    `json:"last_visit_in_time,omitempty"`
	Doors     []ResultDoor    `json:"doors,omitempty"`
}

// ResultDoor is by when an option is to be taken.
type ResultDoor struct {
	ID     string          `json:"id"`
	Ask    bool            `json:"ask_the_lead,omitempty"`
	Gone   bool            `json:"covered_up,omitempty"`
	NoDate bool            `json:"no_date,omitempty"`
	Decide calendar.Moment `json:"decide,omitempty"`
	By     calendar.Day    `json:"decide_by_end_of,omitempty"`
	Late   *float64        `json:"too_late_now,omitempty"`
	Next   *float64        `json:"too_late_at_next_visit,omitempty"`
}

// ResultTurn says which part has a stand after which.
type ResultTurn struct {
	After string `json:"after" says:"the step that gives the stand back"`
	Takes string `json:"takes" says:"the step that takes it then"`
}

func fromLearned(l programme.Learned) ResultLearned {
	out := ResultLearned{Visits: l.Visits, Chains: l.Chains}
	if !l.Enough() {
		few := programme.TooFew{Visits: l.Visits, Chains: l.Chains}
		out.Short = strings.TrimPrefix(few.Error(), "programme: ")
		return out
	}
	common, waiting := ResultBand(l.Common), ResultBand(l.Waiting)
	out.Common, out.Waiting = &common, &waiting
	for i, b := range l.ByTrade {
		out.Trades = append(out.Trades, ResultTrade{Trade: l.Trades[i], Pace: ResultBand(b)})
	}
	return out
}

func (out *ForecastResult) take(o programme.Outlook) {
	out.Seed, out.Trials = o.Seed, o.Trials
	if l := o.Launch; l.Dated || l.Actual.Known() {
		out.Launch = &ResultLaunch{Actual: l.Actual, Dates: dates(l.Dated, l.Dates), P80: l.P80, OwnerWait: l.Owner, Unmet: l.Unmet}
		for _, b := range l.By {
			out.Launch.Chances = append(out.Launch.Chances, ResultChance(b))
		}
	}
	for _, s := range o.Steps {
		if s.StartDated {
			out.Steps = append(out.Steps, ResultOutlook{
				ID: s.ID, Start: dates(true, s.Start), Finish: dates(s.Dated, s.Finish), Criticality: s.Critical, OwnerWait: s.OwnerWait,
			})
		}
	}
	for _, p := range programme.ByCostOfWaiting(o.Points) {
		r := ResultPoint{
			ID: p.ID, Ask: p.Ask, Gone: p.Gone, NoDate: p.NoDate, Share: p.Share, Decide: p.Decide, By: p.By, CutOff: p.CutOff, Governs: p.Governs,
			Waiting: p.Waiting, Look: p.Look, LookBy: p.LookBy, LastVisit: p.Visit,
		}
		r.Late, r.Next = chances(p.Decide.Known() || p.Gone, p.Late, p.Next)
		for _, d := range p.Doors {
			door := ResultDoor{ID: d.ID, Ask: d.Ask, Gone: d.Gone, NoDate: d.NoDate, Decide: d.Decide, By: d.By}
			door.Late, door.Next = chances(d.Decide.Known(), d.Late, d.Next)
			r.Doors = append(r.Doors, door)
		}
		out.Points = append(out.Points, r)
	}
	for _, l := range o.Order {
		out.Order = append(out.Order, ResultTurn{After: l.From, Takes: l.To})
	}
}

func dates(known bool, d programme.Dates) *ResultDates {
	if !known {
		return nil
	}
	out := ResultDates(d)
	return &out
}

func chances(known bool, now, next float64) (a, b *float64) {
	if !known {
		return nil, nil
	}
	return &now, &next
}
