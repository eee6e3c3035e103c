// Package visit is the desk of the visits: what to look at, ask and measure
// on the next one and in which order, what the last one left open, and what
// goes into the letter.
package visit

import (
	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/record"
)

// Answer is what the visit desk says of a record and the plan's answer.
type Answer struct {
	Day          calendar.Day
	Last, Before record.Visit // the two last visits; zero if there are none
	Next         Coming
	Walk         []Stop // in walking order
	Loose        []Loose
	Questions    []Question
	Defects      []Defect
	Measurements []Measurement
	Checks       []Check      // what is to be measured, first what can be measured least long
	Letter       []LetterLine // the first LinesOnPage on the page, the rest as an annex
	Unanswered   []LetterLine
	Acts         []desk.Act

	at map[record.Ref]record.Ref // the part at which each check is measured
}

// Coming says when to come, and how.
type Coming struct {
	Day      desk.When    // by when, at the latest
	Fixed    calendar.Day // the day already fixed
	Why      string       // "the last look at the inserts before the deck core"
	Who      string       // whom to send, if the owner can't come
	Pictures []string     // which pictures to ask for instead
}

// Stop is one place on the walk through the yard.
type Stop struct {
	Part  record.Ref
	Lies  record.Ref // the mould, cradle or bay where it lies, else its assembly
	Steps []Likely   // stages most likely to be seen now, first the likeliest
	Acts  []desk.Act // what to do here
}

// Likely is a step whose sighting is one tap.
type Likely struct {
	Step  record.Ref
	State string // as last known
	Tap   string // the state that a tap would write
}

// Loose is an agreement or decision that is not firm.
type Loose struct {
	About  record.Ref // the agreement or decision
	Says   string
	With   record.Ref
	Why    string     // "only told", "with somebody who may not instruct", "a number is still to be told"
	Before record.Ref // the step
	Ahead  int
}

// Question is a question that has no answer yet.
type Question struct {
	record.Question
	Ahead   int
	Overdue bool
}

// Defect is a defect that was not seen put right.
type Defect struct {
	record.Defect
	State string // as last found
	Told  bool   // said to be put right, not seen
	Ahead int
	Gone  bool
}

// Measurement is a measurement with what it should be.
type Measurement struct {
	record.Measurement
	Out     bool    // out of tolerance
	By      float64 // how far
	Mean    float64 // of repeated ones, in SI as the rest
	Scatter float64 // highest less lowest
	Spread  float64 // standard deviation of the sample; 0 for one reading
	Times   int
	Unlike  bool       // what it should be is of another dimension: nothing is compared
	Other   record.Ref // a reading that says otherwise what it should be than the check does

	readings []record.Ref // all of them
	values   []float64    // theirs, in SI
	allowed  record.Ref   // the reading or check that says what it should be
}

// Check is something to be measured, with the readings that count for it.
type Check struct {
	record.Check
	Got   *Measurement // of the visit that measured it last; nil if nobody has
	Told  bool         // what there is was only told
	Ahead int          // as of acts, for the step before which it must be measured
	Gone  bool
}

// Shown reports whether the reading is the yard's to take, and to show.
func (c Check) Shown() bool { return c.Taken == "reading to be shown" }

// Open reports whether it is still to be measured, or measured again.
func (c Check) Open() bool { return c.Got == nil || c.Got.Out || c.Got.Wide() || c.Got.Unlike }

// LetterLine is one numbered point of a letter, drafted or sent.
type LetterLine struct {
	Number int
	Text   string
	About  record.Ref
	By     calendar.Day
	Told   calendar.Day // the later day that an earlier letter named; By has moved up
	Line   record.Ref   // once sent
	Answer *record.Answer
}
