// Package review runs the desks in one declared order, dates and orders their
// acts, and compares two reviews.
package review

import (
	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/deck"
	"dogshore/desk/plan"
	"dogshore/desk/visit"
	"dogshore/figure"
	"dogshore/journal"
	"dogshore/record"
)

// Review is what the owner reads: the home page. It is a function of a record
// and a day.
type Review struct {
	Build  record.Build
	Day    calendar.Day
	Known  int64
	Level  desk.Level
	Facts  []Fact     // at most five, each only on the level that its data allow
	First  FirstPage  // within the budget of alarms
	Acts   []desk.Act // all of them, ordered by what can't be undone soonest
	Asks   []Asking   // passed over twice: do, drop or waive?
	Ruled  []Ruled    // dropped or waived, and until when
	Since  Change     // since the last visit
	Begin  []string   // what to enter first, while the record is nearly empty
	Doubts []journal.Doubt
	Names  map[record.Ref]string // how a person calls what the acts name
	Plan   plan.Answer
	Deck   deck.Answer
	Visit  visit.Answer
	Runs   int // how often the desks were run for it
}

// Fact is one line above the acts.
type Fact struct {
	Name string          `json:"name"` // "where the build stands"
	Says string          `json:"says"`
	Why  []figure.Figure `json:"why,omitempty"`
}

// FirstPage is what stands on the first page. The lists, More and Later
// together are all acts.
type FirstPage struct {
	AtVisit []desk.Act // at most 7
	AtHome  []desk.Act // at most 3
	ToYard  []desk.Act // at most 10
	More    int        // due too, and one tap down: the budget is full
	Later   int        // not due yet: their steps are still far off
}

// The budget of alarms.
const (
	mostAtVisit = 7
	mostAtHome  = 3
	mostToYard  = 10
)

// Asking is an act that was passed over at two visits.
type Asking struct {
	Act    desk.Act
	Visits []record.Ref
}

// Ruled is an act that somebody dropped or waived.
type Ruled = desk.Ruled

// Change is what is different since the last visit: what happened on the
// boat, and, apart from it, what was learned of earlier days.
type Change struct {
	Visit    record.Visit
	Happened []Difference
	Learned  []Difference
	Launch   *Moved // what moved the launch; nil where it was not asked for, or can't be said
}

// Difference is one change, in words, and the entry it came with.
type Difference struct {
	About record.Ref
	Says  string
	Day   calendar.Day
	Entry string
}
