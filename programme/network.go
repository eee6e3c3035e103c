// Package programme computes when the steps of a build can start and finish.
//
// It holds a network of steps and links on working calendars, passes forward
// and backward as of a data date with retained logic, and bounds starts and
// finishes by what was seen. It is pure: a plain case in, a plain result out.
// docs/theory/programme.md has the equations, their sources and their limits.
package programme

import (
	"dogshore/calendar"
)

// Case is a network as of a data date. Everything before the morning of
// DataDate is fact, everything after is computed.
type Case struct {
	DataDate  calendar.Day `json:"data_date"`
	Calendars []Calendar   `json:"calendars,omitempty"`
	Steps     []Step       `json:"steps"`
	Links     []Link       `json:"links,omitempty"`
}

// Calendar is a working calendar as it stands in a case.
type Calendar struct {
	ID       string             `json:"id"`
	Week     string             `json:"week"` // "Mon-Thu 1, Fri 0.5", or "24/7"
	Closures []calendar.Closure `json:"closures,omitempty"`
}

// Step is one line of the programme.
//
// Its length is Work working days on Calendar (the first of the case if
// empty), or Hours elapsed hours, never both; Known says that no length at all
// means a milestone. A step that has no length and is not Known has none yet:
// it takes part in the order and in the bounds, and gets no computed dates,
// nor does what waits for it. An elapsed step begins at any hour, and its days
// (Left, floats) are of 24 hours.
type Step struct {
	ID       string       `json:"id"`
	Calendar string       `json:"calendar,omitempty"`
	Known    bool         `json:"known,omitempty"`
	Work     float64      `json:"work_days,omitempty"`
	Hours    float64      `json:"elapsed_hours,omitempty"`
	Left     *float64     `json:"left_days,omitempty"`  // told: work left on the morning of the data date; if any is, the step is not done
	NotFrom  calendar.Day `json:"not_before,omitempty"` // starts no earlier than this morning
	NotAfter calendar.Day `json:"not_after,omitempty"`  // must be finished by the end of this day
	Seen     []Sighting   `json:"seen,omitempty"`
}

// State is what was seen of a step. The empty State is "not known".
type State string

// The states that bound a step's start and finish. "Could not see" and "not
// sure" bound nothing and are not handed to the engine.
const (
	NotStarted State = "not started"
	UnderWay   State = "under way"
	Done       State = "done"
)

// Sighting is a state at a day: not started on day d means that it starts
// after d; under way, that it started by d and finishes after d; done, that it
// was finished by d.
type Sighting struct {
	Day   calendar.Day `json:"day"`
	State State        `json:"state"`
}

// LinkType says which end of a step waits for which end of another.
type LinkType string

// The link types, the waited-for end first.
const (
	FS LinkType = "FS"
	SS LinkType = "SS"
	FF LinkType = "FF"
	SF LinkType = "SF"
)

// Link says that To waits for From. Lag is in working days of Calendar (of
// To's calendar if empty), less than nothing for an overlap; Hours is elapsed
// time instead, as for cure. An empty Type is FS.
type Link struct {
	From     string   `json:"from"`
	To       string   `json:"to"`
	Type     LinkType `json:"type,omitempty"`
	Lag      float64  `json:"lag_days,omitempty"`
	Hours    float64  `json:"lag_hours,omitempty"`
	Calendar string   `json:"calendar,omitempty"`
}

// Result is what Pass computes. Steps stand in the order of the case.
type Result struct {
	Steps          []Times         `json:"steps"`
	Order          []string        `json:"order"`            // every step, none before what it waits for
	Finish         calendar.Moment `json:"finish,omitempty"` // of the last step, where Dated
	Dated          bool            `json:"dated"`            // whether every step that is not done has computed dates
	Critical       []string        `json:"critical"`         // the longest chains to Finish, by driving links
	Contradictions []Contradiction `json:"contradictions,omitempty"`
	OutOfOrder     []OutOfOrder    `json:"out_of_order,omitempty"`
	Frontier       []string        `json:"frontier"` // what can come next: not begun, and all that its start waits for is done or begun
}

// Times are one step's dates and bounds.
type Times struct {
	ID    string `json:"id"`
	State State  `json:"state,omitempty"` // the latest that the sightings say, or follows from another step's (Inferred)
	// Inferred: nobody saw it; it follows from what was seen of InferredFrom.
	Inferred     bool   `json:"inferred,omitempty"`
	InferredFrom string `json:"inferred_from,omitempty"`

	// Dated says whether EarlyStart and EarlyFinish mean anything: they are
	// never given for what is done, and for what is under way they are of the
	// work that is left (Left). StartDated says that at least EarlyStart does.
	Dated       bool            `json:"dated"`
	StartDated  bool            `json:"start_dated"`
	EarlyStart  calendar.Moment `json:"early_start,omitempty"`
	EarlyFinish calendar.Moment `json:"early_finish,omitempty"`
	FirstDay    calendar.Day    `json:"first_day,omitempty"` // EarlyStart and EarlyFinish as days to show
	LastDay     calendar.Day    `json:"last_day,omitempty"`

	// Floats says whether LateStart, LateFinish, Total and Free mean anything:
	// they need dates of every step, because they are relative to the last.
	Floats       bool            `json:"floats"`
	LateStart    calendar.Moment `json:"late_start,omitempty"`
	LateFinish   calendar.Moment `json:"late_finish,omitempty"`
	LateFirstDay calendar.Day    `json:"late_first_day,omitempty"`
	LateLastDay  calendar.Day    `json:"late_last_day,omitempty"`
	Total        float64         `json:"total_float_days,omitempty"` // in days of its own calendar; less than nothing: that many days late already
	Free         float64         `json:"free_float_days,omitempty"`

	Critical bool    `json:"critical"`
	Drives   string  `json:"driven_by,omitempty"` // the step whose link sets its early start
	Left     float64 `json:"left_days,omitempty"` // of a step under way: work left, told or reckoned

	// What sightings, its own and others' through the network, allow. A zero
	// Day leaves that side open. The start lies in the days StartFrom to
	// StartBy, the finish in FinishFrom to FinishBy, ends included.
	StartFrom  calendar.Day `json:"start_from,omitempty"`
	StartBy    calendar.Day `json:"start_by,omitempty"`
	FinishFrom calendar.Day `json:"finish_from,omitempty"`
	FinishBy   calendar.Day `json:"finish_by,omitempty"`
	BoundBy    []string     `json:"bound_by,omitempty"` // the steps whose sightings set these
}

// Begun reports whether the step was seen to have begun, or follows to have.
func (t Times) Begun() bool { return t.State == UnderWay || t.State == Done }

// Contradiction is a least set of sightings that no course of the network
// allows: take one away and the rest agree.
type Contradiction struct {
	Steps   []string `json:"steps"`             // whose sightings they are: one step, or the earlier of two first
	Of      []Seen   `json:"of"`                // the sightings
	Through []string `json:"through,omitempty"` // the steps that link the two
	Says    string   `json:"says"`
}

// Seen is a sighting of a step.
type Seen struct {
	Step  string       `json:"step"`
	Day   calendar.Day `json:"day"`
	State State        `json:"state"`
	Told  bool         `json:"told,omitempty"` // not seen: somebody said that work is left
}

// OutOfOrder is a step seen begun (by an FF or SF link: seen done) while
// something it waits for was seen not done (SS, SF: not begun) on that day or
// later: a question for the yard.
type OutOfOrder struct {
	Step     string       `json:"step"`
	WaitsFor string       `json:"waits_for"`
	Type     LinkType     `json:"type"`
	Seen     calendar.Day `json:"seen"`           // the day by which Step had come so far
	StillOn  calendar.Day `json:"still_on"`       // the last day on which WaitsFor had not
	Told     bool         `json:"told,omitempty"` // StillOn was not seen: somebody said that work is left
}
