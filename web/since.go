package web

import (
	"encoding/json"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/journal"
	"dogshore/record"
)

// dated lists the kinds of definitions that come up on a day; all others are
// structure and hold always unless somebody says otherwise.
var dated = map[string]bool{"point": true, "option": true, "lead": true, "cutoff": true, "item": true}

// days are the fields that say on which day an observation was made.
var days = []string{"day", "on", "asked", "quoted_on"}

// holdsFrom is the day from which new values hold, by default: an
// observation's own day, else that of its visit; structure always. It never
// lies ahead: what is written of a day to come is known from today.
func (v *view) holdsFrom(k *record.Kind, values map[string]record.Value) calendar.Day {
	if !k.Adds && !dated[k.Name] {
		return journal.Always
	}
	since := v.Today
	if day := v.visitOf(values).Day; day.Known() {
		since = day
	}
	if k.Name != "cutoff" { // its day is the one that it names, not the one it was named on
		for _, name := range days {
			var d calendar.Day
			if x, ok := values[name]; ok && json.Unmarshal([]byte(x), &d) == nil && d.Known() {
				since = d
				break
			}
		}
	}
	return min(since, v.Today)
}

func (v *view) visitOf(values map[string]record.Value) record.Visit {
	var ref record.Ref
	if x, ok := values["visit"]; !ok || json.Unmarshal([]byte(x), &ref) != nil {
		return record.Visit{}
	}
	visit, _ := journal.Get[record.Visit](v.rec, ref)
	return visit
}

// groundsFor is how something new is known, by default.
func (v *view) groundsFor(k *record.Kind, values map[string]record.Value) record.Grounds {
	return intake.Grounds(k, v.visitOf(values).By)
}
