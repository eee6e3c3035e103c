package visit

import (
	"fmt"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// mostPictures bounds the list of pictures to ask for: a yard takes five, and
// passes over fifteen.
const mostPictures = 5

// coming says by when to come: at the earliest last look at something that
// can't be seen later. Where no look has a date it is by event; a visit that
// is fixed already is held against it.
func (t *table) coming(last record.Visit, acts []desk.Act) Coming {
	c := Coming{Fixed: t.fixed(last), Who: t.send()}
	looks := lastLooks(acts, t.r.Day)
	for _, a := range looks {
		if len(c.Pictures) < mostPictures {
			c.Pictures = append(c.Pictures, t.picture(a))
		}
	}
	if len(looks) == 0 {
		c.Why = "Nothing that is on record gets covered up next."
		return c
	}
	first, dated := looks[0], false
	for _, a := range looks {
		if a.By.Known() && (!dated || sooner(a.By.Day, first.By.Day, t.r.Day)) {
			first, dated = a, true
		}
	}
	c.Day, c.Why = first.By, t.lastLook(first)
	switch {
	case dated && first.By.Day < t.r.Day:
		c.Why = fmt.Sprintf("Come now. %s The last day for it was %s, %s; nobody has seen that step begin since.", c.Why, desk.Coarse(first.By.Day, t.r.Day), first.By.On())
		c.Day = desk.When{}
	case dated && c.Fixed.Known() && c.Fixed > first.By.Day:
		c.Why += fmt.Sprintf(" The visit fixed for %s comes after it: come earlier, send somebody, or ask for the pictures.", desk.Coarse(c.Fixed, t.r.Day))
	case dated && c.Fixed.Known():
		c.Why += fmt.Sprintf(" The visit fixed for %s comes in time.", desk.Coarse(c.Fixed, t.r.Day))
	case !dated:
		c.Why += " Nobody has said when that starts: ask the yard, and ask to be told before it does."
	}
	return c
}

// sooner reports whether one comes for day a before day b. A day that is past
// was reckoned or told, and the step was not seen begun: whatever is still to
// come goes before it.
func sooner(a, b, today calendar.Day) bool {
	if (a < today) != (b < today) {
		return b < today
	}
	return a < b
}

// fixed is the day of the next visit, if one is fixed.
func (t *table) fixed(last record.Visit) calendar.Day {
	var day calendar.Day
	take := func(d calendar.Day) {
		if d >= t.r.Day && d > last.Day && (day == 0 || d < day) {
			day = d
		}
	}
	if b, ok := journal.Get[record.Build](t.r, record.R("build", "build")); ok {
		take(b.NextVisit)
	}
	for _, v := range journal.All[record.Visit](t.r) {
		if v.Planned == record.Yes || v.Day > t.r.Day {
			take(v.Day)
		}
	}
	return day
}

// lastLooks are the acts that only a visit meets and that can't be made good
// later, soonest first: by date where there is one, else by event.
func lastLooks(acts []desk.Act, day calendar.Day) []desk.Act {
	var out []desk.Act
	for _, a := range acts {
		look := a.Do == desk.Look || a.Do == desk.Measure || a.Do == desk.Release
		if look && a.Where == desk.AtVisit && a.Before != "" && !a.Gone && a.Due(day) {
			out = append(out, a)
		}
	}
	desk.Sort(out, day)
	return out
}

func (t *table) lastLook(a desk.Act) string {
	what := "The last look before " + desk.The(t.name(a.Before))
	if on := t.name(a.On); on != "" && !strings.Contains(strings.ToLower(t.name(a.Before)), strings.ToLower(on)) {
		what += " on " + on
	}
	if c, ok := journal.Get[record.Cover](t.r, a.Subject); ok && c.Hides != "" {
		what += ": it hides " + c.Hides
	}
	return desk.Sentence(what)
}

// send names whom to send when the owner can't come.
func (t *table) send() string {
	var surveyors []string
	for _, x := range journal.All[record.Person](t.r) {
		if x.Role == "surveyor" {
			surveyors = append(surveyors, x.Name)
		}
	}
	if len(surveyors) > 0 {
		return strings.Join(surveyors, " or ") + " (surveyor)"
	}
	return "a surveyor near the yard (nobody is on record as one)"
}

// picture says which picture to ask for instead of a look: what the cover
// asks to have on file, else one from afar and one close by with a tape in it.
// (The wide and the close one: common practice, no source.)
func (t *table) picture(a desk.Act) string {
	what := t.name(a.Subject)
	c, ok := journal.Get[record.Cover](t.r, a.Subject)
	if ok && c.Hides != "" {
		what = c.Hides
	}
	if on := t.name(a.On); on != "" && !strings.Contains(strings.ToLower(what), strings.ToLower(on)) {
		what = on + ", " + what
	}
	if ok && c.Evidence != "" {
		return what + ": " + c.Evidence
	}
	return what + ": one from afar, one close by with a tape and a label in it"
}
