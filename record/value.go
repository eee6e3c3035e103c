package record

import (
	"strings"

	"dogshore/unit"
)

// Type is one of the closed set of value types.
type Type string

// The value types. In Go they are string, calendar.Day, calendar.Span, Flag,
// string with choices, Ref, unit.Quantity, unit.Money, ThreePoint, Spot,
// Outline, File and Tolerance. A span is a day said with some width ("W34").
const (
	TextType       Type = "text"
	DayType        Type = "day"
	SpanType       Type = "span"
	FlagType       Type = "flag"
	ChoiceType     Type = "choice"
	RefType        Type = "reference"
	QuantityType   Type = "quantity"
	MoneyType      Type = "money"
	ThreePointType Type = "three-point"
	SpotType       Type = "spot"
	OutlineType    Type = "outline"
	FileType       Type = "file"
	ToleranceType  Type = "tolerance"
)

// Flag is yes, no or, as the zero value, not said.
type Flag string

// The flags.
const (
	Yes Flag = "yes"
	No  Flag = "no"
)

// Ref names a subject as kind/key: "step/deck-core". The zero Ref names
// nothing.
type Ref string

// R makes a Ref.
func R(kind, key string) Ref { return Ref(kind + "/" + key) }

// Kind returns the part before the slash.
func (r Ref) Kind() string { k, _, _ := strings.Cut(string(r), "/"); return k }

// Key returns the part behind the slash.
func (r Ref) Key() string { _, k, _ := strings.Cut(string(r), "/"); return k }

// ThreePoint is a duration or amount as three guesses: as likely to be below
// Low as above High, one time in ten each (P10 and P90), and most likely Mode.
type ThreePoint struct {
	Known bool           `json:"known"`
	Low   float64        `json:"low"`
	Mode  float64        `json:"mode"`
	High  float64        `json:"high"`
	Dim   unit.Dimension `json:"dim"`
	As    string         `json:"as,omitempty"`
}

// Spot is a point on the boat, in metres: x forward from the after end of the
// design waterline, y to port, z up from the design waterline.
type Spot struct {
	Known bool    `json:"known"`
	X     float64 `json:"x"`
	Y     float64 `json:"y"`
	Z     float64 `json:"z"`
	As    string  `json:"as,omitempty"`
}

// Outline is a closed polygon in metres, or, in a field that is a path, an
// open run. In plan its points are (x, y), in profile (x, z). Fewer points
// than the field's Least say nothing.
type Outline [][2]float64

// File is a file of the build folder, by its content.
type File struct {
	SHA256 string `json:"sha256"`
	Name   string `json:"name"`
}

// Known reports whether f names a file.
func (f File) Known() bool { return f.SHA256 != "" }

// Tolerance is a value that something should have, and how far it may be off.
type Tolerance struct {
	Known bool           `json:"known"`
	Value float64        `json:"value"`
	Minus float64        `json:"minus"` // >= 0
	Plus  float64        `json:"plus"`  // >= 0
	Dim   unit.Dimension `json:"dim"`
	As    string         `json:"as,omitempty"`
}

// Grounds is how something is known.
type Grounds string

// The grounds, weakest first.
const (
	Inferred  Grounds = "inferred"  // follows from something else
	Told      Grounds = "told"      // somebody said so
	Shown     Grounds = "shown"     // in somebody else's picture
	Written   Grounds = "written"   // in a letter, message, drawing or list
	Seen      Grounds = "seen"      // with the visitor's own eyes
	Measured  Grounds = "measured"  //
	Weighed   Grounds = "weighed"   //
	Certified Grounds = "certified" // by a document of somebody licensed
)

// AllGrounds lists the grounds, weakest first.
var AllGrounds = []Grounds{Inferred, Told, Shown, Written, Seen, Measured, Weighed, Certified}

// Rank orders grounds; unknown words rank below all.
func (g Grounds) Rank() int {
	for i, x := range AllGrounds {
		if x == g {
			return i
		}
	}
	return -1
}

// Subject is embedded by every kind: which subject a struct was read from.
type Subject struct {
	Self Ref `json:"self"`
}

// Key returns the subject's key.
func (s Subject) Key() string { return s.Self.Key() }
