package record

import (
	"dogshore/calendar"
	"dogshore/unit"
)

// Build is the one boat that a build folder holds. Its key is always "build".
type Build struct {
	Subject
	Name        string        `says:"the boat's name, or what you call her" is:"need,name"`
	HullNumber  string        `says:"the yard's number for her"`
	Boat        string        `says:"how many hulls" of:"catamaran|monohull"`
	Way         string        `says:"way of building" of:"infused sandwich|hand-laid"`
	Hulls       string        `says:"whether a hull is moulded in halves or in one piece" of:"in halves|one piece"`
	Series      string        `says:"whether she is one of a series" of:"series|one-off"`
	Length      unit.Quantity `says:"length of the hull" in:"length"`
	Beam        unit.Quantity `says:"greatest beam" in:"length"`
	Yard        string        `says:"who builds her"`
	Country     string        `says:"where she is built"`
	Zone        string        `says:"time zone of the yard, by which pictures are sorted: Europe/Lisbon, or +01:00"`
	ContractDay calendar.Day  `says:"the day of the contract"`
	Visiting    string        `says:"how the build is visited" of:"every week|every few weeks|a surveyor goes|pictures from the yard"`
	NextVisit   calendar.Day  `says:"the day of the next visit, if it is fixed"`
	Currency    string        `says:"currency of the contract, three letters (ISO 4217)"`
	Heel        unit.Quantity `says:"heel at sea with which the deck's edges are looked at, as 10 to 20°; empty is upright" in:"angle"`
	Wave        unit.Quantity `says:"height of wave that is taken off the freeboard, as 0.3 to 0.8 m; empty is flat water" in:"length"`
	AtSea       unit.Quantity `says:"her speed then, for the drag on somebody in the water" in:"speed"`
	Notice      string        `says:"a line that stands on every sheet, for example that all this is invented"`
}

// Person is somebody the build has to do with, and what their word counts for.
type Person struct {
	Subject
	Name        string `says:"name" is:"need,name"`
	Role        string `says:"what they are to the build" of:"owner|yard lead|yard hand|builder|designer|surveyor|supplier|broker|other"`
	Trade       string `says:"their trade: laminator, joiner, electrician"`
	MayInstruct Flag   `says:"may their yes change what is built?"`
	MayRelease  Flag   `says:"may they release a hold?"`
	MayAccept   Flag   `says:"may they accept work for the owner?"`
	Clause      string `says:"the contract's clause that says so"`
	Contact     string `says:"mail or telephone"`
}

// Place is a region of the boat; what lies in it can be covered up.
type Place struct {
	Subject
	Name    string  `says:"name of the place: foredeck, port engine room" is:"need,name"`
	Within  Ref     `says:"the larger place it belongs to" of:"place"`
	Side    string  `says:"side, as she floats" of:"port|starboard|middle|both"`
	Plan    Outline `says:"outline seen from above: x y; x y; ... in metres"`
	Profile Outline `says:"outline seen from starboard: x z; x z; ... in metres"`
}

// Part is a thing that is built and can be looked at. Parts nest.
type Part struct {
	Subject
	Name      string        `says:"name of the part: deck, port hull, main bulkhead" is:"need,name"`
	Within    Ref           `says:"the part it belongs to" of:"part"`
	Place     Ref           `says:"where on the boat it is" of:"place"`
	Side      string        `says:"side, as she floats" of:"port|starboard|middle|both"`
	Number    string        `says:"number on the drawing"`
	Count     unit.Quantity `says:"how many there are" in:"number"`
	Plan      Outline       `says:"outline seen from above: x y; x y; ... in metres"`
	Profile   Outline       `says:"outline seen from starboard: x z; x z; ... in metres"`
	Withdrawn Flag          `says:"left out of the boat from this day on"`
}

// Stand is a mould, cradle or bay that a limited number of parts at a time can have.
type Stand struct {
	Subject
	Name string        `says:"name of the mould, cradle or bay" is:"need,name"`
	Room unit.Quantity `says:"how many parts fit at a time" in:"number"`
}

// Requirement is a line of the specification, or a lesson of an earlier boat.
type Requirement struct {
	Subject
	Says      string `says:"what must be true of the boat" is:"need,long,name"`
	Part      Ref    `says:"of which part or place" of:"part|place"`
	Source    string `says:"where it stands: contract, drawing, lesson of an earlier boat"`
	ShownBy   string `says:"how it is shown to be met: picture, measurement, certificate"`
	Before    Ref    `says:"the step before which it must be shown" of:"step"`
	Withdrawn Flag   `says:"no longer asked for from this day on"`
}

// Item is something bought in.
type Item struct {
	Subject
	Name      string `says:"what is bought: engines, mast, hatches" is:"need,name"`
	Part      Ref    `says:"the part it goes on" of:"part"`
	BoughtBy  string `says:"who buys it" of:"owner|yard"`
	Supplier  Ref    `says:"who supplies it" of:"person"`
	NeededBy  Ref    `says:"the step that can't start without it" of:"step"`
	Withdrawn Flag   `says:"no longer bought from this day on"`
}

// Order is one ordering of an item.
type Order struct {
	Subject
	Item Ref          `says:"what was ordered" of:"item" is:"need"`
	Day  calendar.Day `says:"on which day" is:"need"`
	By   Ref          `says:"by whom" of:"person"`
}

// Arrival is an item, or some of it, found on the spot.
type Arrival struct {
	Subject
	Item  Ref          `says:"what arrived" of:"item" is:"need"`
	Day   calendar.Day `says:"on which day, or when it was first seen" is:"need"`
	Visit Ref          `says:"the visit it was seen at" of:"visit"`
	Whole Flag         `says:"is it all there?"`
	Note  string       `says:"number, state, where it lies"`
}

// Cutoff is a date that the contract or the yard has named.
type Cutoff struct {
	Subject
	Name   string       `says:"what ends on that day: choice of upholstery, hand-over" is:"need,name"`
	Day    calendar.Day `says:"the day" is:"need"`
	About  Ref          `says:"the open point, step or item that it binds" of:"point|step|item|build"`
	By     Ref          `says:"who named it, if not the contract" of:"person"`
	Clause string       `says:"the contract's clause"`
}

// Sister is a sister hull: one ahead of ours in the series. What was seen
// there feeds expectations and is never evidence for ours.
type Sister struct {
	Subject
	Name  string        `says:"her number or name" is:"need,name"`
	Ahead unit.Quantity `says:"how far she is ahead" in:"time"`
	Note  string        `says:"what differs" is:"long"`
}

// SisterSighting is what was seen on a sister hull of a step that ours has too.
type SisterSighting struct {
	Subject
	Sister Ref          `says:"which hull" of:"sister" is:"need"`
	Step   Ref          `says:"the step of ours that it corresponds to" of:"step"`
	State  string       `says:"what was seen" of:"not started|under way|done"`
	Day    calendar.Day `says:"on which day" is:"need"`
	Lesson string       `says:"what is worth knowing for ours" is:"long"`
}
