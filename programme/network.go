// Package programme computes when the steps of a build can start and finish.
//
// It holds a network of steps and links on working calendars, passes forward
// and backward as of a data date with retained logic, and bounds starts and
// finishes by what was seen. It is pure: a plain case in, a plain result out.
package programme

import (
	"dogshore/calendar"
)

// Case is a network as of a data date. Everything before the morning of
// DataDate is fact, everything after is computed.
type Case struct {
	DataDate  calendar.Day `json:"data_date"`
	Calendars []Calendar   `json:"calendars"`
	Steps     []Step       `json:"steps"`
	Links     []Link       `json:"links"`
}

// Calendar is a working calendar as it stands in a case.
type Calendar struct {
	ID       string             `json:"id"`
	Week     string             `json:"week"` // "Mon-Thu 1, Fri 0.5", or "24/7"
	Closures []calendar.Closure `json:"closures,omitempty"`
}

// Step is one line of the programme.
//
// Its length is Work working days on Calendar, or Hours elapsed hours, never
// both. A step whose Known is false has no length yet: it takes part in the
// order and in the bounds, and gets no computed dates, nor does what waits for
// it alone.
type Step struct {
	ID       string       `json:"id"`
	Calendar string       `json:"calendar,omitempty"`
	Known    bool         `json:"known"`
	Work     float64      `json:"work_days,omitempty"`
	Hours    float64      `json:"elapsed_hours,omitempty"`
	Left     *float64     `json:"left_days,omitempty"`  // told: work left at the data date
	NotFrom  calendar.Day `json:"not_before,omitempty"` // starts no earlier than this morning
	NotAfter calendar.Day `json:"not_after,omitempty"`  // must be finished by the end of this day
	Seen     []Sighting   `json:"seen,omitempty"`
}

// State is what was seen of a step.
type State string

// The states that bound a step's start and finish. "Could not see" and "not
// sure" bound nothing and are not handed to the engine.
const (
	NotStarted State = "not started"
	UnderWay   State = "under way"
	Done       State = "done"
)

// Sighting is a state at a day.
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
// To's calendar if empty); Hours is elapsed time instead, as for cure.
type Link struct {
	From     string   `json:"from"`
	To       string   `json:"to"`
	Type     LinkType `json:"type"`
	Lag      float64  `json:"lag_days,omitempty"`
	Hours    float64  `json:"lag_hours,omitempty"`
	Calendar string   `json:"calendar,omitempty"`
}

// Result is what Pass computes. Steps stand in the order of the case.
type Result struct {
	Steps          []Times         `json:"steps"`
	Order          []string        `json:"order"`  // every step, none before what it waits for
	Finish         calendar.Moment `json:"finish"` // of the last step
	Dated          bool            `json:"dated"`  // whether every step has computed dates
	Critical       []string        `json:"critical"`
	Contradictions []Contradiction `json:"contradictions,omitempty"`
	OutOfOrder     []OutOfOrder    `json:"out_of_order,omitempty"`
	Frontier       []string        `json:"frontier"` // what can come next: not begun, and all it waits for is done or far enough
}

// Times are one step's dates and bounds.
type Times struct {
	ID    string `json:"id"`
	State State  `json:"state"` // the latest that the sightings say, or follows from a later step's (Inferred)
	// Inferred: nobody saw it; a later step was seen under way or done.
	Inferred bool `json:"inferred,omitempty"`

	Dated                   bool            `json:"dated"` // whether the four that follow mean anything
	EarlyStart, EarlyFinish calendar.Moment `json:"-"`
	LateStart, LateFinish   calendar.Moment `json:"-"`
	Total, Free             float64         `json:"-"` // float in working days of its calendar
	Critical                bool            `json:"critical"`
	Drives                  string          `json:"driven_by,omitempty"` // the step whose link sets its early start

	// What sightings, its own and others' through the network, allow. A zero
	// Day leaves that side open. The start lies in the days StartFrom to
	// StartBy, the finish in FinishFrom to FinishBy, ends included.
	StartFrom, StartBy   calendar.Day `json:"-"`
	FinishFrom, FinishBy calendar.Day `json:"-"`
	BoundBy              []string     `json:"bound_by,omitempty"` // the steps whose sightings set these
}

// Contradiction is a set of sightings that no course of the network allows.
type Contradiction struct {
	Steps []string `json:"steps"`
	Says  string   `json:"says"`
}

// OutOfOrder is a step seen begun while something it waits for was seen not
// done: a question for the yard.
type OutOfOrder struct {
	Step     string       `json:"step"`
	WaitsFor string       `json:"waits_for"`
	Type     LinkType     `json:"type"`
	Seen     calendar.Day `json:"seen"`
}
