package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/emersion/go-ical"

	"dogshore/calendar"
	"dogshore/record"
)

// A date that moves moves its event: the same UID, a higher SEQUENCE, and no
// second one. The day that a letter told the yard stays, and what is settled
// goes.
func TestCalendarFeed(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	write(t, f, calendar.Date(2027, 3, 3), record.Written, "l1", record.Letter{Day: calendar.Date(2027, 3, 3), Text: "7. Where?"})
	write(t, f, calendar.Date(2027, 3, 3), record.Written, "l1-7", record.Line{Letter: "letter/l1", Text: "Where does it go?", About: "point/stem-eye", By: calendar.Date(2027, 3, 18)})
	first := b.events(t)
	look, line := "look/cover/deck-core", "line/l1-7"
	if first[look].start != "20270319" { // the last working day before Monday 22 March, the yard's word
		t.Fatalf("events %v", first)
	}
	write(t, f, calendar.Date(2027, 3, 16), record.Told, "later", record.Statement{About: "step/deck-core", What: "starts", When: calendar.On(calendar.Date(2027, 3, 24)), By: "person/ada", On: calendar.Date(2027, 3, 16)})
	moved := b.events(t)
	if moved[look].start != "20270323" || moved[look].uid != first[look].uid || len(moved) != len(first) {
		t.Errorf("moved to %+v, was %+v; %d events, were %d", moved[look], first[look], len(moved), len(first))
	}
	if moved[look].sequence <= first[look].sequence || moved[look].stamp < first[look].stamp {
		t.Errorf("revision %+v after %+v", moved[look], first[look])
	}
	if moved[line].start != "20270318" || moved[line].start != first[line].start {
		t.Errorf("the day told to the yard went from %s to %s", first[line].start, moved[line].start)
	}
	write(t, f, calendar.Date(2027, 3, 16), record.Written, "an", record.Answer{To: "line/l1-7", Text: "on the stem", Day: calendar.Date(2027, 3, 16)})
	if _, ok := b.events(t)[line]; ok {
		t.Error("an answered line still stands in the calendar")
	}
	if w := b.get("/calendar.ics?as-of=2027-02-10"); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a past day's calendar: %d", w.Code)
	}
	if a, b := b.get("/calendar.ics").Body.String(), b.get("/calendar.ics").Body.String(); a != b {
		t.Error("the same build gave two different calendars")
	}
}

type fed struct {
	uid, start, stamp string
	sequence          int
}

// events reads the feed, each event by what stands before the @ of its UID.
func (b *browse) events(t *testing.T) map[string]fed {
	t.Helper()
	w := b.get("/calendar.ics")
	if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "text/calendar; charset=utf-8" {
		t.Fatalf("%d %v", w.Code, w.Header())
	}
	cal, err := ical.NewDecoder(w.Body).Decode()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]fed{}
	for _, e := range cal.Events() {
		n, err := e.Props.Get("SEQUENCE").Int()
		if err != nil {
			t.Fatal(err)
		}
		x := fed{e.Props.Get("UID").Value, e.Props.Get("DTSTART").Value, e.Props.Get("DTSTAMP").Value, n}
		id, _, _ := strings.Cut(x.uid, "@")
		if _, twice := out[id]; twice {
			t.Errorf("%s stands there twice", id)
		}
		out[id] = x
	}
	return out
}

// A build with hostile names gives a calendar that another parser reads, with
// the same events.
func TestHostileCalendarFeed(t *testing.T) {
	plain, hostile := visit(t, typicalBuild(t)).events(t), visit(t, hostileBuild(t)).events(t)
	if len(plain) != len(hostile) || len(plain) < 3 {
		t.Errorf("%d events, %d with hostile names", len(plain), len(hostile))
	}
}
