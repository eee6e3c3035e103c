package record

import (
	"dogshore/calendar"
	"dogshore/unit"
)

// Calendar is a way of counting working time: the yard's week, a supplier's.
type Calendar struct {
	Subject
	Name string `says:"name: yard, mast maker" is:"need,name"`
	Week string `says:"the working week, as Mon-Thu 1, Fri 0.5; 24/7 for work that never stops" is:"need"`
}

// Closure is a run of days on which a calendar works less or not at all.
type Closure struct {
	Subject
	Calendar Ref           `says:"whose calendar" of:"calendar" is:"need"`
	From     calendar.Day  `says:"first day" is:"need"`
	To       calendar.Day  `says:"last day" is:"need"`
	Working  unit.Quantity `says:"how much of each day is worked: 0, 0.5 or 1" in:"number"`
	Why      string        `says:"shutdown, public holiday"`
}

// Step is a line of the programme: a stage of a part, with what it takes.
// Nothing but Name is ever needed; a step without Work has no computed dates.
type Step struct {
	Subject
	Name      string        `says:"what is done: deck core" is:"need,name"`
	Part      Ref           `says:"the part it is done to" of:"part"`
	Stage     string        `says:"the stage of the picture key that one sees when it is done"`
	Rank      unit.Quantity `says:"place in the usual order, small first" in:"number"`
	Trade     string        `says:"whose work it is: laminators, joiners"`
	Work      ThreePoint    `says:"working days: one in ten quicker, most likely, one in ten longer" in:"work"`
	Lasts     unit.Quantity `says:"elapsed time where nobody works: cure, post-cure" in:"time"`
	Calendar  Ref           `says:"the calendar it is worked on" of:"calendar"`
	Stand     Ref           `says:"the mould, cradle or bay it needs" of:"stand"`
	Point     string        `says:"whether it waits for a release (hold), is announced (witness) or recorded" of:"hold|witness|record"`
	Clause    string        `says:"the contract's clause for the hold; without one it binds nobody"`
	Releaser  Ref           `says:"who may release it" of:"person"`
	Notice    unit.Quantity `says:"notice to be given before it" in:"work"`
	Look      string        `says:"what to look at" is:"long"`
	Measure   string        `says:"what to measure" is:"long"`
	Usual     string        `says:"where the order comes from, if not from this yard"`
	NotDone   Flag          `says:"the yard does not do this"`
	Withdrawn Flag          `says:"left out of the programme from this day on; what waits for it then waits for what it waited for"`
}

// Link says that one step waits for another.
type Link struct {
	Subject
	From      Ref           `says:"the step that is waited for" of:"step" is:"need"`
	To        Ref           `says:"the step that waits" of:"step" is:"need"`
	Type      string        `says:"finish to start (FS), start to start (SS), finish to finish (FF), start to finish (SF)" of:"FS|SS|FF|SF"`
	Lag       unit.Quantity `says:"working days between them; less than nothing for an overlap" in:"work"`
	Wait      unit.Quantity `says:"elapsed time between them: cure" in:"time"`
	Calendar  Ref           `says:"the calendar on which the lag runs" of:"calendar"`
	Withdrawn Flag          `says:"no longer waited for from this day on"`
}

// Cover says that a step covers something up: it can't be seen or reached
// afterwards without cutting.
type Cover struct {
	Subject
	Step     Ref    `says:"the step that covers it up" of:"step" is:"need"`
	What     Ref    `says:"the part or place that is covered" of:"part|place|item"`
	Hides    string `says:"what can't be seen afterwards" is:"need,name"`
	Look     string `says:"what to look at before" is:"long"`
	Evidence string `says:"what to have on file before" is:"long"`
	Gravity  string `says:"what is lost if it is missed" of:"structure|safety|needs cutting|finish"`
	Usual    string `says:"where this comes from, if not from this yard"`
}

// Statement is what somebody said of a date: by whom, on which day, as said.
type Statement struct {
	Subject
	About Ref           `says:"the step, item, point or boat it is about" of:"step|item|point|question|build|defect" is:"need"`
	What  string        `says:"what is said to happen then" of:"starts|is done|arrives|is ordered|launch|hand-over|is answered"`
	When  calendar.Span `says:"the day, week or month as said: 14 April, W34, end of May"`
	Left  unit.Quantity `says:"or: how much work is left, in working days" in:"work"`
	By    Ref           `says:"who said it" of:"person"`
	On    calendar.Day  `says:"on which day it was said" is:"need"`
	Said  string        `says:"in their words" is:"long"`
}
