package jackstay

import "dogshore/source"

// FigureKey names what has to be known for a rule.
type FigureKey string

// Given is a value that was entered, for the rules: lengths in m, forces in N,
// parts from 0 to 1; 1 for yes and 0 for no.
type Given struct {
	Key   FigureKey `json:"key"`
	Value float64   `json:"value"`
}

// Clause is one line of a rule or standard.
type Clause struct {
	Key     string        `json:"key"`
	Book    string        `json:"book"`
	Edition string        `json:"edition"`
	Clause  string        `json:"clause,omitempty"`
	Says    string        `json:"says"`
	Needs   FigureKey     `json:"needs"`
	AtLeast *float64      `json:"at_least,omitempty"`
	AtMost  *float64      `json:"at_most,omitempty"`
	OrPart  *PartOf       `json:"or_part,omitempty"`
	Unit    string        `json:"unit,omitempty"`
	Only    []Limit       `json:"only_if,omitempty" says:"applies where all of these hold"`
	Source  source.Source `json:"source"`
}

// PartOf allows more than AtMost where so much of another figure is more.
type PartOf struct {
	Of   FigureKey `json:"of"`
	Part float64   `json:"part"`
}

// Limit is a condition of a clause: the figure from At up to, not with, Below.
type Limit struct {
	Of    FigureKey `json:"of"`
	At    float64   `json:"from"`
	Below float64   `json:"below"`
}

// Kept says how a clause stands to the figures entered.
type Kept string

// How a clause can stand.
const (
	Met         Kept = "met by the figures entered"
	NotMet      Kept = "not met by the figures entered"
	KeptUnknown Kept = "not known"
	NotHer      Kept = "does not apply to her"
	KeptTwice   Kept = "entered twice, differently"
)

// Answer is a clause with how it stands.
type Answer struct {
	Clause
	Kept  Kept      `json:"kept"`
	Value *float64  `json:"value,omitempty"`
	Asks  FigureKey `json:"asks,omitempty" says:"the figure that is missing"`
}

// Rules goes through all clauses with the figures that were entered. Editions
// and numbers of clauses change every other year: the rule in force goes before.
func Rules(figures []Given) []Answer {
	known := map[FigureKey]float64{}
	twice := map[FigureKey]bool{}
	for _, f := range figures {
		if v, ok := known[f.Key]; ok && v != f.Value {
			twice[f.Key] = true
		}
		known[f.Key] = f.Value
	}
	out := make([]Answer, 0, len(clauses))
	for _, c := range clauses {
		out = append(out, c.answer(known, twice))
	}
	return out
}

func (c Clause) answer(known map[FigureKey]float64, twice map[FigureKey]bool) Answer {
	a := Answer{Clause: c, Kept: KeptUnknown}
	for _, l := range c.Only {
		v, ok := known[l.Of]
		switch {
		case !ok:
			a.Asks = l.Of
			return a
		case twice[l.Of]:
			a.Kept, a.Asks = KeptTwice, l.Of
			return a
		case !(v >= l.At && v < l.Below):
			a.Kept = NotHer
			return a
		}
	}
	v, ok := known[c.Needs]
	switch {
	case !ok:
		a.Asks = c.Needs
		return a
	case twice[c.Needs]:
		a.Kept, a.Asks = KeptTwice, c.Needs
		return a
	}
	a.Value, a.Kept = &v, Met
	if p := c.OrPart; p != nil && c.AtMost != nil && v > *c.AtMost {
		whole, ok := known[p.Of]
		if !ok || twice[p.Of] {
			a.Kept, a.Asks = KeptUnknown, p.Of
			return a
		}
		most := max(*c.AtMost, p.Part*whole)
		c.AtMost = &most
	}
	if c.AtLeast != nil && !(v >= *c.AtLeast) || c.AtMost != nil && !(v <= *c.AtMost) {
		a.Kept = NotMet
	}
	return a
}

// Clauses lists all clauses.
func Clauses() []Clause { return append([]Clause(nil), clauses...) }
