package desk

import (
	"cmp"

	"dogshore/journal"
	"dogshore/record"
)

// Ruled is an act that somebody dropped or waived.
type Ruled struct {
	Act    Act           `json:"act"`
	Ruling record.Ruling `json:"ruling"`
}

// Rulings returns what was last said of each act, by its name.
func Rulings(r *journal.Record) map[string]record.Ruling {
	out := map[string]record.Ruling{}
	for _, x := range journal.All[record.Ruling](r) {
		x.Day = cmp.Or(x.Day, r.From(x.Self).Since)
		if x.By == "" {
			// A waiver stands with a name: its writer's, if no other was given.
			x.By = record.R("person", r.From(x.Self).Author)
		}
		was, ok := out[x.Act]
		if !ok || was.Day < x.Day || was.Day == x.Day && was.Self < x.Self {
			out[x.Act] = x
		}
	}
	return out
}

// Rule takes the acts that were dropped or waived out of acts, until the day
// on which they come back.
func Rule(r *journal.Record, acts []Act) (left []Act, ruled []Ruled) {
	rulings := Rulings(r)
	for _, a := range acts {
		x, ok := rulings[a.ID]
		over := x.Until.Known() && x.Until <= r.Day
		if ok && !over && (x.Says == "drop" || x.Says == "waive") {
			ruled = append(ruled, Ruled{a, x})
			continue
		}
		left = append(left, a)
	}
	return left, ruled
}
