package plan

import (
	"fmt"
	"sort"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
)

// assumedWeek is counted with when nobody entered a calendar.
const assumedWeek = "Mon-Fri 1"

// assumed names the calendar that nobody entered.
const assumed = record.Ref("calendar/assumed")

// calendars are the working calendars of a record.
type calendars struct {
	cases []programme.Calendar
	count map[record.Ref]*calendar.Calendar
	yard  record.Ref // counts for what names no calendar
}

// gatherCalendars reads the calendars and their closures. What can't be read
// is a doubt, and the plain week stands in for it.
func (d *reading) gatherCalendars() {
	closures := map[record.Ref][]calendar.Closure{}
	for _, c := range journal.All[record.Closure](d.r) {
		one := calendar.Closure{From: c.From, To: c.To, Working: c.Working.SI, Why: c.Why}
		if _, err := calendar.New(assumedWeek, []calendar.Closure{one}); err != nil {
			d.doubt(Unreadable, fmt.Sprintf("A closure can't be read and is left out: %v.", err), []record.Ref{c.Self})
			continue
		}
		closures[c.Calendar] = append(closures[c.Calendar], one)
	}
	d.cals.count = map[record.Ref]*calendar.Calendar{}
	for _, c := range journal.All[record.Calendar](d.r) {
		d.addCalendar(c.Self, c.Week, closures[c.Self])
	}
	d.chooseYard()
}

func (d *reading) addCalendar(self record.Ref, week string, closures []calendar.Closure) {
	sort.Slice(closures, func(i, k int) bool {
		a, b := closures[i], closures[k]
		if a.From != b.From {
			return a.From < b.From
		}
		if a.To != b.To {
			return a.To < b.To
		}
		return a.Working < b.Working
	})
	c, err := calendar.New(week, closures)
	if err != nil {
		d.doubt(Unreadable, fmt.Sprintf("%v; %s is counted with instead.", err, assumedWeek), []record.Ref{self})
		week = assumedWeek
		if c, err = calendar.New(week, closures); err != nil {
			panic("plan: internal error: " + err.Error())
		}
	}
	d.cals.count[self] = c
	d.cals.cases = append(d.cals.cases, programme.Calendar{ID: self.Key(), Week: week, Closures: closures})
}

// chooseYard settles which calendar counts for what names none: the one with
// the key "yard", else the only one, else the one that most steps name, else
// a plain week that nobody has said.
func (d *reading) chooseYard() {
	named := map[record.Ref]int{}
	for _, s := range d.live {
		named[d.steps[s].Calendar]++
	}
	best := record.Ref("")
	for _, c := range d.cals.cases {
		ref := record.R("calendar", c.ID)
		if ref == "calendar/yard" {
			best = ref
			break
		}
		if c.Week != "24/7" && (best == "" || named[ref] > named[best]) {
			best = ref
		}
	}
	if best == "" {
		d.addCalendar(assumed, assumedWeek, nil)
		best = assumed
	}
	d.cals.yard = best
}

// calendarOf returns the calendar that a reference names, else the yard's.
func (d *reading) calendarOf(ref record.Ref) record.Ref {
	if d.cals.count[ref] != nil {
		return ref
	}
	return d.cals.yard
}

// on returns the calendar that counts for a reference.
func (d *reading) on(ref record.Ref) *calendar.Calendar { return d.cals.count[d.calendarOf(ref)] }

// calendarSays names a calendar in a working.
func (d *reading) calendarSays(ref record.Ref) string {
	ref = d.calendarOf(ref)
	if ref == assumed {
		return "Monday to Friday, assumed: nobody has said the yard's week"
	}
	return d.name(ref)
}
