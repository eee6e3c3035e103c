package record

import (
	"dogshore/calendar"
	"dogshore/unit"
)

// Visit is one look at the build, past or planned.
type Visit struct {
	Subject
	Day     calendar.Day `says:"the day" is:"need,name"`
	By      string       `says:"how: by the owner, a surveyor, the yard's pictures, a call" of:"owner|surveyor|pictures|call"`
	Who     Ref          `says:"who went, if not the owner" of:"person"`
	Planned Flag         `says:"still to come"`
	Closed  Flag         `says:"all that it found is written down"`
	Note    string       `says:"anything else" is:"long"`
}

// Sighting is what was seen of one step at one visit.
type Sighting struct {
	Subject
	Visit Ref    `says:"at which visit" of:"visit" is:"need"`
	Step  Ref    `says:"of which step" of:"step" is:"need"`
	State string `says:"what was seen" of:"not started|under way|done|could not see|not sure" is:"need"`
	Note  string `says:"a word on it"`
}

// Check is something to be measured, and what it should be.
type Check struct {
	Subject
	What    string    `says:"what is to be measured, from where to where" is:"need,name"`
	Of      Ref       `says:"the part, place, step or requirement it belongs to" of:"part|place|step|requirement"`
	Taken   string    `says:"by one's own hand, or the yard's to do and to show" of:"own measure|reading to be shown"`
	State   string    `says:"bare laminate or finished surface" of:"bare|finished"`
	Should  Tolerance `says:"what it should be: 25 mm +-0,5" in:"any"`
	Drawing string    `says:"on which drawing it stands, with number and revision"`
	Before  Ref       `says:"the step after which it can't be measured any more" of:"step"`
}

// Measurement is a value taken, with what it should be.
type Measurement struct {
	Subject
	Visit   Ref           `says:"at which visit" of:"visit"`
	Check   Ref           `says:"what was to be measured" of:"check"`
	What    string        `says:"what was measured, from where to where, bare or finished" is:"need,name"`
	Of      Ref           `says:"the part, place or step it belongs to" of:"part|place|step|requirement"`
	Got     unit.Quantity `says:"the value" in:"any" is:"need"`
	Should  Tolerance     `says:"what it should be: 25 mm +-0,5" in:"any"`
	By      string        `says:"with what: tape, film gauge"`
	Taken   string        `says:"by one's own hand, shown by the yard, or on a picture from a length known there" of:"own measure|reading shown|on a picture"`
	State   string        `says:"bare laminate or finished surface" of:"bare|finished"`
	Drawing string        `says:"the drawing that says what it should be, with number and revision"`
	Photo   Ref           `says:"the picture it was taken on" of:"photo"`
}

// Photo is a picture by time, part and place. It shows nothing until somebody
// says that it does (Evidence).
type Photo struct {
	Subject
	Name  string `says:"file name or number of the picture" is:"need,name"`
	Visit Ref    `says:"at which visit" of:"visit"`
	Part  Ref    `says:"of which part" of:"part"`
	Place Ref    `says:"of which place" of:"place"`
	File  File   `says:"the file itself"`
	Note  string `says:"what is on it"`

	Day    calendar.Day `says:"the day it was taken"`
	Time   string       `says:"the time of day it was taken, with its zone: 14:05:31 +01:00"`
	Doubt  string       `says:"what is doubtful about its day or its visit"`
	By     Ref          `says:"who took it, if not the owner" of:"person"`
	Spot   Spot         `says:"where on the boat: x; y; z in metres"`
	Facing string       `says:"which way the camera looked, on the boat" of:"forward|forward and to port|to port|aft and to port|aft|aft and to starboard|to starboard|forward and to starboard|up|down"`
	View   string       `says:"the view it repeats, so that it stands beside the same view of other visits"`
	Before Ref          `says:"the picture is from before this step" of:"step"`

	Film Ref           `says:"the film that it was taken out of" of:"photo"`
	At   unit.Quantity `says:"how far into that film" in:"time"`
}

// Evidence says that a picture or paper shows something.
type Evidence struct {
	Subject
	Shows Ref          `says:"what it shows" of:"cover|step|requirement|defect|item|point|agreement" is:"need"`
	Photo Ref          `says:"the picture" of:"photo"`
	What  string       `says:"or the paper: certificate 12, gauge log, delivery note"`
	Visit Ref          `says:"at which visit it was taken or handed over" of:"visit"`
	Day   calendar.Day `says:"its date"`

	Left unit.Quantity `says:"where on the picture it is, from its left edge as it stands upright, in parts of its width: 0.4" in:"number"`
	Down unit.Quantity `says:"and from its upper edge, in parts of its height" in:"number"`
}

// Term is a word of the build in a second language, for labels and letters.
type Term struct {
	Subject
	Word  string `says:"the word as the pages say it" is:"need,name"`
	Other string `says:"the same in the yard's language" is:"need"`
	Note  string `says:"what it means, if it needs saying"`
}

// Defect is something wrong. Snag marks one of finish only.
type Defect struct {
	Subject
	What    string `says:"what is wrong" is:"need,long,name"`
	Part    Ref    `says:"on which part or place" of:"part|place"`
	Visit   Ref    `says:"found at which visit" of:"visit"`
	Gravity string `says:"what it touches" of:"structure|safety|needs cutting|finish"`
	Snag    Flag   `says:"is it one of finish only?"`
	Before  Ref    `says:"the step before which it must be right" of:"step"`
}

// Remedy is a look at a defect afterwards.
type Remedy struct {
	Subject
	Defect Ref          `says:"which defect" of:"defect" is:"need"`
	State  string       `says:"how it was found" of:"put right|not yet right|left as it is" is:"need"`
	Visit  Ref          `says:"at which visit" of:"visit"`
	Day    calendar.Day `says:"on which day"`
	By     Ref          `says:"who says so" of:"person"`
	Note   string       `says:"how it was put right" is:"long"`
}

// Release is the release of a hold, by somebody who may.
type Release struct {
	Subject
	Step Ref          `says:"which step may go on" of:"step" is:"need"`
	By   Ref          `says:"who released it" of:"person" is:"need"`
	Day  calendar.Day `says:"on which day" is:"need"`
	Note string       `says:"on what evidence" is:"long"`
}

// Note is anything worth keeping that fits nowhere else: a pasted message, a
// remark.
type Note struct {
	Subject
	Text  string       `says:"the text" is:"need,long,name"`
	About Ref          `says:"what it is about" of:"part|place|step|point|item|person|defect|requirement|sister|build"`
	Visit Ref          `says:"at which visit" of:"visit"`
	From  Ref          `says:"who wrote it" of:"person"`
	Day   calendar.Day `says:"its date"`
}
