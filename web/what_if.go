package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/record"
)

// whatIf is a change of the programme that is tried on in thought, and what
// it would do. Nothing is written.
type whatIf struct {
	Step        string // as it was typed or chosen
	Weeks, Days string
	Steps       []Choice
	Fixed       bool   // the step is the page's own
	Action      string // the page that answers
	Says        string // what is tried on
	Refused     string
	Effects     []effectLine
	None        bool // nothing would move
}

// effectLine is one date as it stands and as it would be.
type effectLine struct {
	About     Named
	What      string // "launch", "is done", "settle by"
	Now, Then string
	Says      string
	Grave     bool
}

// Bounds of a change in thought.
const (
	mostWeeks = 104
	mostDays  = 250
)

// whatIf reads the change that the address asks for, and asks the plan desk
// for it. of is the step of the page, if it is the page of one.
func (v *view) whatIf(r *http.Request, of record.Ref) (*whatIf, error) {
	q := r.URL.Query()
	f := &whatIf{Step: q.Get("if"), Weeks: q.Get("later"), Days: q.Get("more"), Action: r.URL.Path}
	if of != "" {
		f.Fixed, f.Step = true, v.rec.Name(of)
	} else {
		for _, st := range v.rev.Plan.Steps {
			if st.State != "done" {
				f.Steps = append(f.Steps, Choice{Value: st.Key(), Text: st.Name, Chosen: st.Key() == f.Step})
			}
		}
		of = record.R("step", f.Step)
	}
	if f.Weeks == "" && f.Days == "" || f.Step == "" {
		return f, nil
	}
	st := v.rev.Plan.Step(of)
	if st == nil {
		f.Refused = fmt.Sprintf("There is no step “%s” in the programme. Choose one of the list.", f.Step)
		return f, nil
	}
	change, refused := v.change(st, f.Weeks, f.Days)
	if f.Refused = refused; refused != "" {
		return f, nil
	}
	f.Says = v.changeSays(st, change, f)
	for _, e := range plan.Effects(r.Context(), v.rec, v.rev.Plan, []plan.Change{change}) {
		f.Effects = append(f.Effects, v.effect(e))
	}
	f.None = len(f.Effects) == 0
	return f, nil
}

// change makes the change of what was typed, or says why there is none.
func (v *view) change(st *plan.Step, weeks, days string) (c plan.Change, refused string) {
	c.Step = st.Self
	n, ok := upTo(weeks, mostWeeks)
	if !ok {
		return c, fmt.Sprintf("“%s” is no number of weeks from 0 to %d.", weeks, mostWeeks)
	}
	if c.More, ok = upTo(days, mostDays); !ok {
		return c, fmt.Sprintf("“%s” is no number of working days from 0 to %d.", days, mostDays)
	}
	switch {
	case st.State == "done":
		return c, desk.Capital(the(st.Name)) + " is done: nothing can be tried on it any more."
	case n > 0 && st.State == "under way":
		return c, desk.Capital(the(st.Name)) + " has begun: it can take longer, but not start later."
	case n > 0 && !st.Start.Known():
		return c, "Nobody has said when " + the(st.Name) + " starts, and no duration tells: later than what can't be said."
	case c.More > 0 && !st.Work.Known && !st.Lasts.Known && !st.Finish.Known():
		return c, "Nobody has said how long " + the(st.Name) + " takes: days more than what can't be said."
	}
	if n > 0 {
		start := st.Start.Day
		if st.Outlook.StartDated && st.Start.Basis == desk.ByChance {
			start = st.Outlook.Start.P50.Day()
		}
		c.NotBefore = start + calendar.Day(n*7+0.5)
	}
	return c, ""
}

// upTo reads a number from nothing to most; an empty text is nothing.
func upTo(s string, most float64) (float64, bool) {
	s = strings.Replace(strings.TrimSpace(s), ",", ".", 1)
	if s == "" {
		return 0, true
	}
	n, err := strconv.ParseFloat(s, 64)
	return n, err == nil && n >= 0 && n <= most
}

func (v *view) changeSays(st *plan.Step, c plan.Change, f *whatIf) string {
	var say []string
	if c.NotBefore.Known() {
		say = append(say, fmt.Sprintf("does not start before %s (%s later than now)", c.NotBefore.Said(), many(f.Weeks, "week")))
	}
	if c.More > 0 {
		say = append(say, fmt.Sprintf("takes %s more", many(f.Days, "working day")))
	}
	if say == nil {
		say = append(say, "stays as it is")
	}
	return fmt.Sprintf("If %s %s:", the(st.Name), strings.Join(say, " and "))
}

// many says a number as it was typed with its noun.
func many(n, one string) string {
	if n = strings.TrimSpace(n); n == "1" {
		return "1 " + one
	}
	return n + " " + one + "s"
}

func (v *view) effect(e plan.Effect) effectLine {
	l := effectLine{About: v.Ref(e.About), Now: desk.Coarse(e.Now.Day, v.Day), Then: desk.Coarse(e.Then.Day, v.Day), Says: moveSays(e)}
	switch {
	case e.About == v.rev.Plan.Launch.Step || e.About == "build/build":
		l.What, l.About.Name = e.Now.On(), "Launch"
	case e.About.Kind() == "point":
		l.What = "settle by; " + e.Now.On()
		l.Grave = e.Gone
	default:
		l.What = "is done; " + e.Now.On()
	}
	if e.Gone {
		l.Says += "; that day is over"
	}
	return l
}

// moveSays says how far a date would move.
func moveSays(e plan.Effect) string {
	n, way := e.Days, "later"
	if n < 0 {
		n, way = -n, "earlier"
	}
	switch {
	case e.None:
		return "no difference that can be told"
	}
	return count(n, "day", "days") + " " + way
}
