package drawing

import (
	"fmt"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/programme"
)

// whenSays says the dates that a bar shows, in one line; nothing of what is
// done.
func whenSays(s *plan.Step, today calendar.Day) string {
	if s.State == "done" {
		return ""
	}
	var say []string
	switch {
	case s.State == "under way":
	case s.Outlook.StartDated:
		say = append(say, "starts: "+SpreadSays(s.Outlook.Start, today))
	case s.Start.Known():
		say = append(say, "starts "+s.Start.Line(today))
	}
	switch {
	case s.Outlook.Dated:
		say = append(say, "is done: "+SpreadSays(s.Outlook.Finish, today))
	case s.Finish.Known():
		say = append(say, "is done "+s.Finish.Line(today))
	}
	if s.Outlook.Critical >= plan.MayDrive {
		say = append(say, DrivesSays(s.Outlook.Critical))
	}
	return strings.Join(say, "; ")
}

// SpreadSays says a spread of dates: what it could be at the earliest, its
// middle, and by when nine in ten. A spread within one word of the calendar is
// that word.
func SpreadSays(d programme.Dates, today calendar.Day) string {
	early, even, late := desk.Coarse(d.P10.Day(), today), desk.Coarse(d.P50.Day(), today), desk.Coarse(d.P90.Day(), today)
	if early == late {
		return "about " + even
	}
	return fmt.Sprintf("could be as early as %s, as likely before as after %s, 9 in 10 by %s", early, even, late)
}

// DrivesSays says how often a step drives the launch.
func DrivesSays(chance float64) string {
	return fmt.Sprintf("drives the launch in %.0f of 100 trials", 100*chance)
}
