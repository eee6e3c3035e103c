// Package desk holds what all desks speak: acts, and when they are due.
//
// A desk reads the record, makes cases for its engines, and answers with
// figures and undated acts; the review dates and orders them.
package desk

import (
	"dogshore/calendar"
	"dogshore/figure"
	"dogshore/record"
)

// Do is what an act asks somebody to do.
type Do string

// What there is to do.
const (
	Look    Do = "look"
	Ask     Do = "ask"
	Measure Do = "measure"
	Settle  Do = "settle"
	Confirm Do = "confirm in writing"
	Order   Do = "order"
	Mend    Do = "put right"
	Tell    Do = "tell the yard"
	Release Do = "release"
	Plan    Do = "plan"
)

// Where an act is done: each has its budget on the first page.
type Where string

// The three budgets.
const (
	AtVisit Where = "at the visit"
	AtHome  Where = "at home"
	ToYard  Where = "to the yard"
)

// Gravity is what is lost when an act is missed, gravest first in order.
type Gravity string

// The gravities, as the record's choices have them.
const (
	Structure Gravity = "structure"
	Safety    Gravity = "safety"
	Cutting   Gravity = "needs cutting"
	Finish    Gravity = "finish"
)

// Act is one thing to do.
type Act struct {
	// ID is the act's stable name: the same from review to review while the
	// reason stands, so that a ruling can name it: "settle/point/stem-eye".
	ID      string          `json:"id"`
	Do      Do              `json:"do"`
	Where   Where           `json:"where"`
	Subject record.Ref      `json:"subject"`
	Say     string          `json:"say"`              // the act in one sentence
	On      record.Ref      `json:"on,omitempty"`     // the part or place where it is done
	Before  record.Ref      `json:"before,omitempty"` // the step before which it must be done
	Ahead   int             `json:"ahead"`            // how many steps of the boat have to begin before Before can: 0 it can come next, -1 not known
	Gone    bool            `json:"gone,omitempty"`   // Before was seen begun: it is too late to do it cheaply
	By      When            `json:"by"`               // zero if no date is earned
	Gravity Gravity         `json:"gravity,omitempty"`
	How     []string        `json:"how,omitempty"`    // what to look at, measure, have on file; the options there are
	Why     []figure.Figure `json:"why"`              // each unfolds to its working
	Missed  string          `json:"missed,omitempty"` // what it costs if missed
	Caution string          `json:"caution,omitempty"`
}

// When is a date that was earned, and on whose word.
type When struct {
	Day   calendar.Day  `json:"day,omitempty"`
	Basis Basis         `json:"basis,omitempty"`
	Said  string        `json:"said,omitempty"` // "on the yard's word of 3 April", "contract clause 7"
	Work  figure.Figure `json:"working,omitzero"`
}

// Known reports whether w has a date.
func (w When) Known() bool { return w.Day != 0 }

// Basis is what a date rests on.
type Basis string

// The bases, firmest first.
const (
	Contract  Basis = "contract"  // a cut-off
	YardsWord Basis = "told"      // the yard said a date
	OurLetter Basis = "letter"    // a letter told the yard a date
	Durations Basis = "durations" // computed from the durations entered
	ByChance  Basis = "forecast"  // from the spread of the forecast
)

// Level is how much the data allow to be said.
type Level string

// The levels of this program, lowest first.
const (
	ByOrder    Level = "order"
	ByDates    Level = "told dates"
	ByForecast Level = "forecast"
)
