package feed

import (
	"fmt"
	"io"
	"strings"
	"time"
	"unicode"

	ics "github.com/arran4/golang-ical"

	"dogshore/calendar"
)

// Calendar is what stands around the events.
type Calendar struct {
	Name  string // "Ailsane"
	Build string // never changes for a build: part of every event's UID
	// Arrivals counts the entries that had arrived, and Day is the day that was
	// reviewed. Both only grow; together they are every event's SEQUENCE, so
	// that whichever way a date moved, the later feed is the one that counts.
	Arrivals int64
	Day      calendar.Day
	Revised  time.Time // when the last of it arrived or was reviewed anew
}

// Bounds of the texts of an event: a calendar program shows one line of the
// summary, and not much more of the description.
const (
	longestSummary     = 160
	longestDescription = 1600
)

// MIME is the media type of what Write writes.
const MIME = "text/calendar; charset=utf-8"

// Write writes the events as an iCalendar object, RFC 5545, with CRLF, UTF-8
// and lines folded at 75 octets. An event keeps its UID for as long as its
// reason stands: in a calendar program that has read the feed before, a date
// that moved moves the event. The same events give the same bytes.
func Write(w io.Writer, c Calendar, events []Event) error {
	cal := ics.NewCalendar()
	cal.SetProductId("-//Dogshore//Dogshore//EN")
	cal.SetCalscale("GREGORIAN")
	cal.SetMethod(ics.MethodPublish)
	cal.SetName(clean(c.Name, longestSummary))
	cal.SetRefreshInterval("PT6H")
	cal.SetXPublishedTTL("PT6H")
	for _, e := range events {
		x := cal.AddEvent(uid(c.Build, e.ID))
		x.SetDtStampTime(c.Revised)
		x.SetModifiedAt(c.Revised)
		x.SetSequence(int(c.Arrivals) + int(c.Day-calendar.Date(2020, time.January, 1)))
		x.SetAllDayStartAt(e.First.Time())
		x.SetAllDayEndAt((e.Last + 1).Time()) // the day after the last one, RFC 5545 3.6.1
		x.SetSummary(clean(e.Summary, longestSummary))
		x.SetDescription(clean(e.Description, longestDescription))
		x.AddCategory(e.Sort)
		x.SetTimeTransparency(ics.TransparencyTransparent) // it takes up nobody's time
		x.SetClass(ics.ClassificationPrivate)
	}
	if err := cal.SerializeTo(w, ics.WithNewLineWindows); err != nil {
		return fmt.Errorf("write the calendar: %w", err)
	}
	return nil
}

// uid is globally unique since the build's part is: the id of its first entry.
func uid(build, id string) string {
	safe := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r > ' ' && r < 0x7f && !strings.ContainsRune(`",;:\@`, r) {
				return r
			}
			return '-'
		}, s)
	}
	return safe(id) + "@" + safe(build) + ".dogshore"
}

// clean takes out what no calendar line may carry, and cuts at a word.
func clean(s string, most int) string {
	s = strings.Map(func(r rune) rune {
		if r == '\n' || !unicode.IsControl(r) && r != unicode.ReplacementChar && !unicode.Is(unicode.Cf, r) {
			return r
		}
		return -1
	}, strings.ToValidUTF8(s, ""))
	if runes := []rune(s); len(runes) > most {
		s = string(runes[:most-1])
		if i := strings.LastIndexAny(s, " \n"); i > most/2 {
			s = s[:i]
		}
		s += "…"
	}
	return strings.TrimSpace(s)
}
