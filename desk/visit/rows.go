package visit

import (
	"dogshore/desk"
	"dogshore/record"
)

// Row is a numbered row of the walking sheet: what stands on paper is typed in
// by the same numbers.
type Row struct {
	Number int
	Part   record.Ref // of the stop where it stands
	Of     record.Ref // the step, the check, or the reading that is taken again
}

// Steps reports whether r is a row of boxes for a step; else it has room for
// a value.
func (r Row) Steps() bool { return r.Of.Kind() == "step" }

// Rows numbers what the walk of an answer asks to be ticked and measured, in
// walking order: the steps from 1, then what is to be measured from 1.
func Rows(a Answer) []Row {
	var steps, values []Row
	seen := map[record.Ref]bool{}
	for _, s := range a.Walk {
		for _, l := range s.Steps {
			if !seen[l.Step] {
				seen[l.Step] = true
				steps = append(steps, Row{len(steps) + 1, s.Part, l.Step})
			}
		}
		for _, act := range s.Acts {
			if measures(act) && !seen[act.Subject] {
				seen[act.Subject] = true
				values = append(values, Row{len(values) + 1, s.Part, act.Subject})
			}
		}
	}
	return append(steps, values...)
}

// measures reports whether a value is noted for an act.
func measures(a desk.Act) bool {
	return a.Where == desk.AtVisit && (a.Subject.Kind() == "check" || a.Subject.Kind() == "measurement")
}

// PartOf returns the part at which a check is measured, "" if none is known.
func (a Answer) PartOf(check record.Ref) record.Ref { return a.at[check] }
