package journal_test

import (
	"testing"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// From when news holds and how it is known, whether it came by a form or by a
// sheet.
func TestUsual(t *testing.T) {
	const today, visit, own = calendar.Day(20500), calendar.Day(20490), calendar.Day(20480)
	for _, c := range []struct {
		name    string
		kind    string
		values  map[string]record.Value
		visit   record.Visit
		since   calendar.Day
		grounds record.Grounds
	}{
		{"structure", "part", nil, record.Visit{}, journal.Always, record.Written},
		{"a point without its day", "point", nil, record.Visit{}, journal.Always, record.Written},
		{"a point with it", "point", map[string]record.Value{"asked": record.Encode(own)}, record.Visit{}, own, record.Written},
		{"a lead that was quoted", "lead", map[string]record.Value{"quoted_on": record.Encode(own)}, record.Visit{}, own, record.Written},
		{"a cut-off is known before its day", "cutoff", map[string]record.Value{"day": record.Encode(own)}, record.Visit{}, journal.Always, record.Written},
		{"seen at a visit", "sighting", nil, record.Visit{Day: visit, By: "owner"}, visit, record.Seen},
		{"seen in pictures", "sighting", nil, record.Visit{Day: visit, By: "pictures"}, visit, record.Shown},
		{"measured", "measurement", nil, record.Visit{Day: visit, By: "surveyor"}, visit, record.Measured},
		{"measured, as a call says", "measurement", nil, record.Visit{Day: visit, By: "call"}, visit, record.Told},
		{"its own day before its visit's", "agreement", map[string]record.Value{"day": record.Encode(own)}, record.Visit{Day: visit, By: "owner"}, own, record.Told},
		{"an observation without a day", "note", nil, record.Visit{}, today, record.Written},
		{"not from a day to come", "statement", map[string]record.Value{"on": record.Encode(today + 9)}, record.Visit{}, today, record.Told},
		{"a visit", "visit", map[string]record.Value{"day": record.Encode(own)}, record.Visit{By: "pictures"}, own, record.Shown},
		{"a visit to come", "visit", map[string]record.Value{"day": record.Encode(today + 9), "planned": record.Encode(record.Yes)}, record.Visit{}, today, record.Seen},
	} {
		t.Run(c.name, func(t *testing.T) {
			k := record.KindOf(c.kind)
			day := journal.OwnDay(k, c.values)
			if !day.Known() {
				day = c.visit.Day
			}
			if got := journal.Since(k, day, today); got != c.since {
				t.Errorf("it holds from %s, want %s", got, c.since)
			}
			if got := journal.Grounds(k, c.visit.By); got != c.grounds {
				t.Errorf("it is %s, want %s", got, c.grounds)
			}
		})
	}
}

func TestFactsInTheOrderOfTheTable(t *testing.T) {
	facts := journal.Facts("visit/v1", record.Values(record.Visit{Note: "rain", By: "owner", Day: 20500}))
	var got []string
	for _, f := range facts {
		got = append(got, string(f.Ref())+" "+f.Field)
	}
	if len(got) != 3 || got[0] != "visit/v1 day" || got[1] != "visit/v1 by" || got[2] != "visit/v1 note" {
		t.Errorf("%q", got)
	}
}
