package record

import (
	"dogshore/calendar"
	"dogshore/unit"
)

// Point is an open point: a question with options that must be settled before
// a step covers it up or fixes it.
type Point struct {
	Subject
	Question  string       `says:"what is to be settled" is:"need,long,name"`
	Part      Ref          `says:"on which part or place" of:"part|place"`
	Gravity   string       `says:"what it touches" of:"structure|safety|needs cutting|finish"`
	CoveredBy Ref          `says:"the step that covers it up or fixes it" of:"step"`
	Default   string       `says:"what is built if nothing is said" is:"long"`
	Move      Ref          `says:"whose move it is" of:"person"`
	Asked     calendar.Day `says:"on which day it came up"`
	Withdrawn Flag         `says:"no longer a question from this day on"`
}

// Option is one way to settle a point.
type Option struct {
	Subject
	Point  Ref           `says:"of which point" of:"point" is:"need"`
	Name   string        `says:"the option, in a few words" is:"need,name"`
	Reason string        `says:"what speaks for and against it" is:"long"`
	Price  unit.Money    `says:"what it costs, less than nothing for a credit"`
	Weight unit.Quantity `says:"what it weighs" in:"mass"`
	Days   unit.Quantity `says:"what it adds to the work" in:"work"`
	Until  Ref           `says:"the step with which this option ends, if earlier" of:"step"`
}

// Lead is time that something takes before it can be built in. Without a
// quote it is a guess, and its review act is to ask.
type Lead struct {
	Subject
	For      Ref           `says:"the point, option or item it is for" of:"point|option|item" is:"need"`
	What     string        `says:"what takes the time: decide, designer's check, make, deliver" is:"need,name"`
	Work     unit.Quantity `says:"working days" in:"work"`
	Wait     unit.Quantity `says:"or elapsed time: 6 weeks" in:"time"`
	Calendar Ref           `says:"the calendar on which its working days run" of:"calendar"`
	QuotedBy Ref           `says:"who quoted it; empty if it is a guess" of:"person"`
	QuotedOn calendar.Day  `says:"on which day it was quoted"`
}

// Decision settles a point.
type Decision struct {
	Subject
	Point  Ref          `says:"which point" of:"point" is:"need"`
	Option Ref          `says:"the option taken" of:"option"`
	Says   string       `says:"what was decided, each number or \"to be told\"" is:"long"`
	With   Ref          `says:"with whom at the yard" of:"person"`
	Visit  Ref          `says:"at which visit" of:"visit"`
	Day    calendar.Day `says:"on which day" is:"need"`
}

// Agreement is what was agreed, with whom.
type Agreement struct {
	Subject
	Says   string       `says:"what was agreed, each number or \"to be told\"" is:"need,long,name"`
	With   Ref          `says:"with whom" of:"person"`
	Visit  Ref          `says:"at which visit" of:"visit"`
	Day    calendar.Day `says:"on which day" is:"need"`
	About  Ref          `says:"what it is about" of:"point|part|place|step|item|defect|requirement"`
	Before Ref          `says:"the step before which it matters" of:"step"`
}

// Confirmation makes an agreement or decision firm: in writing, by somebody
// who may instruct.
type Confirmation struct {
	Subject
	Of  Ref          `says:"what is confirmed" of:"agreement|decision" is:"need"`
	By  Ref          `says:"who confirmed it" of:"person"`
	Day calendar.Day `says:"on which day" is:"need"`
	How string       `says:"mail, letter, drawing revision"`
}

// Question is the light kind of open point: no options.
type Question struct {
	Subject
	Text   string       `says:"the question" is:"need,long,name"`
	To     Ref          `says:"to whom" of:"person"`
	About  Ref          `says:"what it is about" of:"part|place|step|point|item|defect|requirement"`
	Before Ref          `says:"the step before which the answer is needed" of:"step"`
	Visit  Ref          `says:"asked at which visit" of:"visit"`
	Asked  calendar.Day `says:"on which day it was asked; empty if it is still to be asked"`
}

// Letter is a letter as it was sent; its text is frozen.
type Letter struct {
	Subject
	Visit Ref          `says:"after which visit" of:"visit"`
	To    Ref          `says:"to whom" of:"person"`
	Day   calendar.Day `says:"on which day it was sent"`
	Text  string       `says:"its text, as it was sent" is:"long"`
	Sheet File         `says:"the printed sheet, as it was sent"`
}

// Line is a numbered point of a letter. Numbers are never used twice.
type Line struct {
	Subject
	Letter Ref           `says:"of which letter" of:"letter" is:"need"`
	Number unit.Quantity `says:"its number" in:"number" is:"need,name"`
	Text   string        `says:"what it says" is:"long"`
	About  Ref           `says:"what it is about" of:"point|question|agreement|decision|defect|step|item|part|place|requirement|cover"`
	By     calendar.Day  `says:"answer asked for by this day"`
}

// Answer is an answer to a question or to a line of a letter.
type Answer struct {
	Subject
	To   Ref          `says:"the question or the letter's line" of:"question|line" is:"need"`
	Text string       `says:"the answer, in their words" is:"need,long"`
	By   Ref          `says:"who answered" of:"person"`
	Day  calendar.Day `says:"on which day"`
}

// Ruling is what the owner says to an act that keeps coming back: do it, drop
// it, or waive it with a name and a reason.
type Ruling struct {
	Subject
	Act   string       `says:"the act, by its name in the review" is:"need,name"`
	Says  string       `says:"what becomes of it" of:"do|drop|waive" is:"need"`
	By    Ref          `says:"who says so" of:"person"`
	Why   string       `says:"why" is:"long"`
	Day   calendar.Day `says:"on which day"`
	Until calendar.Day `says:"it comes back on this day"`
}
