package drawing

import (
	"fmt"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/programme"
)

// StepSays says what a bar shows, in one line.
func StepSays(s *plan.Step, today calendar.Day) string {
	say := []string{s.Name + ": " + s.State}
	switch {
	case s.State == "done":
	case s.Outlook.StartDated && s.State != "under way":
		say = append(say, "starts "+spreadSays(s.Outlook.Start, today))
	case s.Start.Known() && s.State != "under way":
		say = append(say, "starts "+s.Start.Line(today))
	}
	switch {
	case s.State == "done":
	case s.Outlook.Dated:
		say = append(say, "is done "+spreadSays(s.Outlook.Finish, today))
	case s.Finish.Known():
		say = append(say, "is done "+s.Finish.Line(today))
	}
	if s.Outlook.Critical >= mayDriver {
		say = append(say, DrivesSays(s.Outlook.Critical))
	}
	return strings.Join(say, "; ")
}

// SpreadSays says a spread of dates: what it could be at the earliest, its
// middle, and by when nine in ten. A spread within one word of the calendar is
// that word.
func SpreadSays(d programme.Dates, today calendar.Day) string { return spreadSays(d, today) }

func spreadSays(d programme.Dates, today calendar.Day) string {
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
