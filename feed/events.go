// Package feed writes the dates of a build for an ordinary calendar program
// (RFC 5545): visits, decide-by and look-before dates, holds, cut-offs, and
// the answers that letters ask for.
//
// Every event is of whole days: a build's dates are civil days, and a day that
// is told in one zone must not begin the evening before in another.
package feed

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/review"
)

// Event is one thing with a day.
type Event struct {
	ID          string // stable while the reason stands, as an act's name is
	Sort        string // visit, settle, look, release, order, cut-off, answer
	Summary     string
	Description string
	First, Last calendar.Day // both belong to it
}

// Events gathers the dates of a review, soonest first.
//
// A date that is firm (a contract's cut-off, a visit that is fixed, the day by
// which a letter that was sent asked for an answer) is one day, and stays that
// day whatever is reckoned since. Every other date is as coarse as the review
// prints it: within two weeks a day, within eight the days of its week up to
// it, beyond those of its month. So an event only ever grows narrower towards
// its last day, which is the day by which the thing is to be done.
func Events(r *journal.Record, v review.Review) []Event {
	out := slices.Concat(visits(r, v), acts(v), cutoffs(r, v), answers(v))
	slices.SortStableFunc(out, func(a, b Event) int {
		return cmp.Or(cmp.Compare(a.Last, b.Last), cmp.Compare(a.ID, b.ID))
	})
	return out
}

func visits(r *journal.Record, v review.Review) []Event {
	var out []Event
	days := map[calendar.Day]bool{}
	add := func(id string, day calendar.Day, who string) {
		if !day.Known() || day < v.Day || days[day] {
			return
		}
		days[day] = true
		out = append(out, Event{
			ID: id, Sort: "visit", Summary: "Visit to the yard: " + v.Build.Name, First: day, Last: day,
			Description: lines(who, v.Visit.Next.Why, "The walking sheet says what to look at, ask and measure."),
		})
	}
	for _, x := range journal.All[record.Visit](r) {
		if x.Planned == record.Yes || x.Day > v.Day {
			who := ""
			if x.Who != "" {
				who = "Goes: " + r.Name(x.Who) + "."
			}
			add(string(x.Self), x.Day, who)
		}
	}
	add("build/next-visit", v.Build.NextVisit, "")
	return out
}

// verbs are the acts that belong in a calendar: those that have to be done by
// a day because something can't be undone after it.
var verbs = map[desk.Do]string{
	desk.Settle: "settle", desk.Look: "look", desk.Measure: "look", desk.Release: "release", desk.Order: "order",
}

func acts(v review.Review) []Event {
	var out []Event
	for _, a := range v.Acts {
		sort, ok := verbs[a.Do]
		if !ok || !a.By.Known() || a.Gone {
			continue
		}
		e := Event{ID: a.ID, Sort: sort, Last: a.By.Day}
		var width string
		e.First, width = coarse(a.By, v.Day)
		e.Summary = width + a.Say
		e.Description = lines(
			desk.Sentence(desk.Capital(a.By.Line(v.Day))),
			desk.Sentence(desk.Capital(a.Event(v.Names[a.Before]))),
			"Level: "+level(a.By.Basis)+".",
			strings.Join(a.How, "\n"), a.Missed, a.Caution)
		out = append(out, e)
	}
	return out
}

// coarse returns the first day of a date as coarse as it deserves, and words
// for its width.
func coarse(w desk.When, from calendar.Day) (first calendar.Day, words string) {
	t := w.Day.Time()
	switch text := desk.Coarse(w.Day, from); {
	case w.Basis == desk.Contract, w.Basis == desk.OurLetter: // that day was named, and to others
		return w.Day, ""
	case strings.HasPrefix(text, "week of"):
		return w.Day - calendar.Day((int(t.Weekday())+6)%7), "In the week: "
	case t.Format("January 2006") == text:
		return max(w.Day-calendar.Day(t.Day()-1), from), "In the month: "
	}
	return w.Day, ""
}

func level(b desk.Basis) string {
	switch b {
	case desk.OurLetter:
		return "a day that our letter told the yard"
	case desk.ByChance:
		return string(desk.ByForecast)
	case desk.Durations:
		return "reckoned from durations"
	}
	return string(desk.ByDates)
}

func cutoffs(r *journal.Record, v review.Review) []Event {
	var out []Event
	for _, x := range journal.All[record.Cutoff](r) {
		if !x.Day.Known() || x.Day < v.Day {
			continue
		}
		whose := "Named by the contract"
		if x.By != "" {
			whose = "Named by " + r.Name(x.By)
		}
		if x.Clause != "" {
			whose += ", clause " + x.Clause
		}
		about := ""
		if x.About != "" && x.About.Kind() != "build" {
			about = "It binds: " + desk.Sentence(r.Name(x.About))
		}
		out = append(out, Event{ID: string(x.Self), Sort: "cut-off", Summary: "Cut-off: " + x.Name, Description: lines(whose+".", about), First: x.Day, Last: x.Day})
	}
	return out
}

// answers are the days by which letters asked for answers that are not there.
func answers(v review.Review) []Event {
	var out []Event
	for _, x := range v.Visit.Unanswered {
		if x.By.Known() {
			out = append(out, Event{
				ID: string(x.Line), Sort: "answer", Summary: fmt.Sprintf("Answer asked for by today: point %d", x.Number),
				Description: lines(x.Text, "Asked for in a letter that was sent; this day was told to the yard."), First: x.By, Last: x.By,
			})
		}
	}
	return out
}

func lines(all ...string) string {
	return strings.Join(slices.DeleteFunc(all, func(s string) bool { return strings.TrimSpace(s) == "" }), "\n")
}
