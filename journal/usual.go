package journal

import (
	"encoding/json"

	"dogshore/calendar"
	"dogshore/record"
)

// DayFields returns the fields that say on which day something of a kind came
// up, the first that is said counts. A cut-off's day is the one that it names,
// not the one on which it was named.
func DayFields(k *record.Kind) []string {
	var out []string
	for _, name := range []string{"day", "on", "asked", "quoted_on"} {
		if f := k.Field(name); f != nil && f.Type == record.DayType && k.Name != "cutoff" {
			out = append(out, name)
		}
	}
	return out
}

// OwnDay returns the day that values themselves say they came up on, 0 if none.
// A visit to come is known before its day.
func OwnDay(k *record.Kind, values map[string]record.Value) calendar.Day {
	if k.Name == "visit" && values["planned"] == record.Encode(record.Yes) {
		return 0
	}
	for _, name := range DayFields(k) {
		var d calendar.Day
		if v, ok := values[name]; ok && json.Unmarshal([]byte(v), &d) == nil && d.Known() {
			return d
		}
	}
	return 0
}

// Since returns the day from which news of a kind holds if nobody says
// otherwise; day is its own day, else that of its visit, 0 if neither is known.
// What has a day holds from it, though never from a day to come; an
// observation without one holds from today, and anything else always.
func Since(k *record.Kind, day, today calendar.Day) calendar.Day {
	switch {
	case day.Known():
		return min(day, today)
	case k.Adds:
		return today
	}
	return Always
}

// Grounds returns how news of a kind is known if nobody says otherwise; by is
// how the visit was made that it belongs to, "" if none.
func Grounds(k *record.Kind, by string) record.Grounds {
	atVisit := map[string]record.Grounds{"owner": record.Seen, "surveyor": record.Seen, "pictures": record.Shown, "call": record.Told}
	switch k.Name {
	case "measurement":
		if g := atVisit[by]; g == record.Shown || g == record.Told {
			return g
		}
		return record.Measured
	case "visit", "sighting", "arrival", "defect", "remedy":
		if g, ok := atVisit[by]; ok {
			return g
		}
		return record.Seen
	case "sister_sighting":
		return record.Seen
	case "photo":
		return record.Shown
	case "statement", "agreement", "decision", "release", "order", "question", "ruling":
		return record.Told
	}
	return record.Written
}

// Facts says values of a subject, in the order of the table of kinds.
func Facts(self record.Ref, values map[string]record.Value) []Fact {
	k := record.KindOf(self.Kind())
	out := make([]Fact, 0, len(values))
	for i := range k.Fields {
		if v, ok := values[k.Fields[i].Name]; ok {
			out = append(out, Fact{Kind: self.Kind(), Key: self.Key(), Field: k.Fields[i].Name, Value: v})
		}
	}
	return out
}
