// Package figure holds the working of a number: what it is, by which rule it
// follows from which others, and where the last of them were entered.
//
// Numeric code knows nothing of figures. Beside each engine one file,
// working.go, says what its numbers are; a test evaluates every rule with the
// inputs shown and must get the value shown (see Check).
package figure

import "dogshore/source"

// Figure is one value that a page shows, and its working.
type Figure struct {
	Symbol string        `json:"symbol,omitempty"` // as it stands in rules: "LS"
	Says   string        `json:"says"`             // in words: "latest start of the deck core"
	Value  float64       `json:"value"`            // what the rule yields
	Unit   string        `json:"unit,omitempty"`   // of Value: "working days", "day" (a civil day's number), ""
	Text   string        `json:"text"`             // as printed: "Mon 12 April 2027", "35 working days"
	Rule   string        `json:"rule,omitempty"`   // "LS = LF - OD"; empty for what was entered
	Of     []Figure      `json:"of,omitempty"`     // what the rule's right side names
	Source source.Source `json:"source"`           //
	Entry  *Entered      `json:"entry,omitempty"`  // for what was typed, seen or measured
}

// Entered is the end of a working: who wrote a value, when, and how they knew.
type Entered struct {
	As      string `json:"as"`               // as it was written
	Who     string `json:"who"`              // author
	Day     string `json:"day"`              // since when it holds, ISO 8601
	Grounds string `json:"grounds"`          // inferred, told, shown, written, seen, measured, weighed, certified
	Origin  string `json:"origin,omitempty"` // file, sheet and cell, or the form
	ID      string `json:"id,omitempty"`     // the entry
}
