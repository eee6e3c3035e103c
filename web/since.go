package web

import (
	"encoding/json"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// holdsFrom is the day from which new values hold, by default.
func (v *view) holdsFrom(k *record.Kind, values map[string]record.Value) calendar.Day {
	day := journal.OwnDay(k, values)
	if !day.Known() {
		day = v.visitOf(k, values).Day
	}
	return journal.Since(k, day, v.Today)
}

// groundsFor is how something new is known, by default.
func (v *view) groundsFor(k *record.Kind, values map[string]record.Value) record.Grounds {
	return journal.Grounds(k, v.visitOf(k, values).By)
}

// visitOf is the visit that values belong to; of a visit itself only how it
// was made.
func (v *view) visitOf(k *record.Kind, values map[string]record.Value) record.Visit {
	if k.Name == "visit" {
		return record.Visit{By: plain(values["by"])}
	}
	var ref record.Ref
	if x, ok := values["visit"]; !ok || json.Unmarshal([]byte(x), &ref) != nil {
		return record.Visit{}
	}
	visit, _ := journal.Get[record.Visit](v.rec, ref)
	return visit
}
