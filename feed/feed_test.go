package feed_test

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-ical"
	"github.com/google/go-cmp/cmp"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/visit"
	"dogshore/feed"
	"dogshore/internal/test"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/review"
)

var today = calendar.Date(2027, 3, 16)

// read reads a feed with a parser of other people's making, after the outer
// form that RFC 5545 asks for: CRLF, no line over 75 octets (3.1).
func read(t *testing.T, data []byte) []ical.Event {
	t.Helper()
	longest := 0
	for _, line := range strings.SplitAfter(string(data), "\n") {
		if line != "" && !strings.HasSuffix(line, "\r\n") {
			t.Fatalf("a line does not end in CRLF: %q", line)
		}
		longest = max(longest, len(strings.TrimSuffix(line, "\r\n")))
	}
	if longest > 75 {
		t.Errorf("a line of %d octets", longest)
	}
	cal, err := ical.NewDecoder(bytes.NewReader(data)).Decode()
	if err != nil {
		t.Fatalf("%v\n%s", err, data)
	}
	return cal.Events()
}

func write(t *testing.T, c feed.Calendar, events []feed.Event) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := feed.Write(&b, c, events); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

var head = feed.Calendar{Name: "Test, sloop", Build: "0198", Arrivals: 7, Day: today, Revised: time.Date(2027, 3, 16, 5, 0, 0, 0, time.FixedZone("", 3600))}

// RFC 5545 gives an event from 28 June to 8 July 2007 the DTEND of 9 July.
func TestWholeDaysEndTheDayAfter(t *testing.T) {
	e := feed.Event{ID: "x", Sort: "look", Summary: "s", First: calendar.Date(2007, 6, 28), Last: calendar.Date(2007, 7, 8)}
	got := read(t, write(t, head, []feed.Event{e}))
	number := func(name string) float64 {
		p := got[0].Props.Get(name)
		if p == nil || p.Params.Get("VALUE") != "DATE" {
			t.Fatalf("%s is %+v, not a DATE", name, p)
		}
		day, err := calendar.ParseISO(p.Value[:4] + "-" + p.Value[4:6] + "-" + p.Value[6:])
		if err != nil {
			t.Fatal(err)
		}
		return float64(day - calendar.Date(2007, 1, 1))
	}
	const rfc = "from memory: RFC 5545, 2009, 3.6.1, the event of several days; read back by another parser"
	test.Check(t, "calendar feed: first day, days after 1 January 2007", rfc, 178, number("DTSTART"), 0)
	test.Check(t, "calendar feed: DTEND, days after 1 January 2007", rfc, 189, number("DTEND"), 0)
}

// Whatever somebody wrote comes back as it was, and starts no line of its own.
func TestHostileTexts(t *testing.T) {
	for _, text := range []string{
		"a, b; c: d \\ e \"f\" \\n g", "END:VEVENT", "one\nBEGIN:VEVENT\nUID:other", strings.Repeat("ü", 100), strings.Repeat("甲板", 60), "😀" + strings.Repeat("y", 74),
		"x\r\nDTSTART:19700101T000000Z", "bell\x07 and \u202eover", strings.Repeat("word ", 500), "\xff\xfe", "",
	} {
		e := feed.Event{ID: text, Sort: "look", Summary: text, Description: text, First: today, Last: today}
		got := read(t, write(t, head, []feed.Event{e, {ID: "after", Sort: "visit", Summary: "after", First: today, Last: today}}))
		if len(got) != 2 {
			t.Fatalf("%q: %d events", text, len(got))
		}
		said, err := got[0].Props.Text("DESCRIPTION")
		if err != nil {
			t.Fatal(err)
		}
		want := strings.TrimSpace(strings.NewReplacer("\r", "", "\x07", "", "\u202e", "", "\xff\xfe", "").Replace(text))
		if len(want) > 1600 {
			want = want[:1594]
			if !strings.HasSuffix(said, "…") || len([]rune(said)) > 1600 {
				t.Errorf("a text of %d letters", len([]rune(said)))
			}
			said, want = said[:100], want[:100]
		}
		if said != want {
			t.Errorf("%q came back as %q", text, said)
		}
		if at, err := got[0].DateTimeStart(time.UTC); err != nil || calendar.Of(at) != today {
			t.Errorf("%q: it starts %v, %v", text, at, err)
		}
	}
}

// A day is that day in every zone, also where clocks are put forward at
// midnight.
func TestDaysDoNotShiftWithTheZone(t *testing.T) {
	for _, name := range []string{"UTC", "Europe/Berlin", "America/Los_Angeles", "Pacific/Auckland", "Asia/Beirut", "Pacific/Kiritimati"} {
		zone, err := time.LoadLocation(name)
		if err != nil {
			t.Skip("no zones here: ", err)
		}
		for _, day := range []calendar.Day{calendar.Date(2027, 3, 14), calendar.Date(2027, 3, 28), calendar.Date(2027, 4, 4), calendar.Date(2027, 9, 26), calendar.Date(2027, 10, 31)} {
			c := head
			c.Revised = time.Date(2027, 3, 16, 0, 0, 0, 0, zone)
			got := read(t, write(t, c, []feed.Event{{ID: "x", Sort: "look", First: day, Last: day}}))
			at, err := got[0].DateTimeStart(zone)
			if p := got[0].Props.Get("DTSTART").Value; p != day.Time().Format("20060102") || err != nil || calendar.Of(at.Add(12*time.Hour)) != day {
				t.Errorf("%s: %s is written %s and read as %v, %v", name, day, p, at, err)
			}
			stamp, err := got[0].Props.DateTime("DTSTAMP", time.UTC)
			if err != nil || !stamp.Equal(c.Revised) {
				t.Errorf("%s: stamped %v, %v", name, stamp, err)
			}
		}
	}
}

func act(id string, do desk.Do, by calendar.Day, basis desk.Basis) desk.Act {
	return desk.Act{ID: id, Do: do, Subject: record.Ref("point/x"), Say: "Settle it.", By: desk.When{Day: by, Basis: basis, Said: "on the yard's word of 3 March"}, Missed: "It is closed in."}
}

// Which dates stand in the calendar, and how wide.
func TestEvents(t *testing.T) {
	var j journal.Journal
	put := func(self record.Ref, values map[string]record.Value) {
		j.Add(journal.Entry{ID: string(self), Stamp: j.Stamp() + 1, Since: journal.Always, Author: "owner", Grounds: record.Written, Version: journal.Version, Facts: journal.Facts(self, values)})
	}
	put("visit/next", record.Values(record.Visit{Day: today + 6, Planned: record.Yes}))
	put("visit/missed", record.Values(record.Visit{Day: today - 6, Planned: record.Yes}))
	put("visit/been", record.Values(record.Visit{Day: today - 1}))
	put("cutoff/cut", record.Values(record.Cutoff{Name: "second payment", Day: today + 90, Clause: "3b", About: "build/build"}))
	put("cutoff/past", record.Values(record.Cutoff{Name: "first payment", Day: today - 90}))
	gone := act("look/cover/gone", desk.Look, today+1, desk.YardsWord)
	gone.Gone = true
	v := review.Review{Day: today, Build: record.Build{Name: "Test sloop", NextVisit: today + 6},
		Acts: []desk.Act{
			act("settle/point/soon", desk.Settle, today+3, desk.YardsWord),
			act("settle/point/weeks", desk.Settle, calendar.Date(2027, 4, 15), desk.ByChance),
			act("look/cover/months", desk.Look, calendar.Date(2027, 7, 20), desk.Durations),
			act("settle/point/contract", desk.Settle, calendar.Date(2027, 7, 21), desk.Contract),
			act("settle/point/letter", desk.Settle, calendar.Date(2027, 7, 22), desk.OurLetter),
			act("release/step/hold", desk.Release, today+2, desk.YardsWord),
			act("confirm/point/x", desk.Confirm, today+2, desk.YardsWord),
			act("look/cover/undated", desk.Look, 0, ""),
			act("settle/point/overdue", desk.Settle, today-5, desk.YardsWord),
			gone,
		}}
	v.Visit.Unanswered = []visit.LetterLine{{Number: 4, Text: "Please tell us.", By: today - 2, Line: "line/a-4"}, {Number: 5, Text: "No day.", Line: "line/a-5"}}
	type row struct {
		ID          string
		First, Last string
	}
	var got []row
	for _, e := range feed.Events(j.As(today, journal.Now), v) {
		got = append(got, row{e.ID, e.First.String(), e.Last.String()})
		if strings.Contains(e.Summary+e.Description, "EUR") {
			t.Errorf("%s speaks of prices", e.ID)
		}
	}
	want := []row{
		{"settle/point/overdue", "2027-03-11", "2027-03-11"},
		{"line/a-4", "2027-03-14", "2027-03-14"},
		{"release/step/hold", "2027-03-18", "2027-03-18"},
		{"settle/point/soon", "2027-03-19", "2027-03-19"},
		{"visit/next", "2027-03-22", "2027-03-22"},
		{"settle/point/weeks", "2027-04-12", "2027-04-15"},
		{"cutoff/cut", "2027-06-14", "2027-06-14"},
		{"look/cover/months", "2027-07-01", "2027-07-20"},
		{"settle/point/contract", "2027-07-21", "2027-07-21"},
		{"settle/point/letter", "2027-07-22", "2027-07-22"},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("events (-want +got):\n%s", d)
	}
}

// As its date comes nearer, an event grows narrower, and never ends on another
// day than the one by which the thing is to be done.
func TestCoarseEventsOnlyNarrow(t *testing.T) {
	due := calendar.Date(2027, 7, 20)
	var before calendar.Day
	for day := due - 120; day <= due+10; day++ {
		v := review.Review{Day: day, Acts: []desk.Act{act("settle/point/x", desk.Settle, due, desk.ByChance)}}
		var j journal.Journal
		e := feed.Events(j.As(day, journal.Now), v)[0]
		if e.Last != due || e.First > e.Last || e.First < before {
			t.Fatalf("on %s it stands from %s to %s, before from %s", day, e.First, e.Last, before)
		}
		before = e.First
	}
}
