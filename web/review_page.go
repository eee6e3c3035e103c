package web

import (
	"fmt"
	"net/http"
	"strings"
	"time"

	"dogshore/desk"
	"dogshore/record"
	"dogshore/review"
)

// reviewPage is the home page: what the owner must look at, ask and settle,
// by what can't be undone soonest.
type reviewPage struct {
	Sheet
	Begin  []string
	Facts  []review.Fact
	Groups []ActGroup
	Rest   string // how many acts stand one tap down
	Asks   []AskedTwice
	Ruled  []RuledAct
	Since  Since
	Moved  *movedLaunch // what moved the launch since the last visit
	Doubts []Doubt
}

// ActGroup is what is done in one place: at the visit, at home, to the yard.
type ActGroup struct {
	Where desk.Where
	Come  string // by when to come, at the head of the visit's acts
	Acts  []ActLine
	Empty string
}

// Anchor is the group's address within the sheet.
func (g ActGroup) Anchor() string { return strings.ReplaceAll(string(g.Where), " ", "-") }

// ActLine is one act as the sheet shows it.
type ActLine struct {
	desk.Act
	Number  int
	Event   string // before which step
	Due     string // by when, and on whose word
	Subject Named
	On      Named
	Grave   bool // can't be undone if missed
	Again   bool // its caution stands at an act above: here it is one tap down
	Page    string
}

// AskedTwice is an act that was passed over at two visits.
type AskedTwice struct {
	ActLine
	Visits []Named
	Author string
}

// RuledAct is an act that somebody dropped or waived.
type RuledAct struct {
	ActLine
	Ruling Named
	Says   string
	By     Named
	Why    string
	Until  string
}

// Since is what changed since the last visit: what happened on the boat, and
// apart from it what was learned of earlier days.
type Since struct {
	Visit             Named
	Happened, Learned Changes
}

// Changes are the first of a list, and the rest one tap down.
type Changes struct{ First, Rest []review.Difference }

const mostChanges = 8

func changesOf(all []review.Difference) Changes {
	n := min(len(all), mostChanges)
	return Changes{all[:n], all[n:]}
}

func (s *Site) reviewPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Review")
	if err != nil {
		return err
	}
	rev := v.rev
	page := &reviewPage{Sheet: v.Sheet, Begin: rev.Begin, Facts: rev.Facts, Rest: restSaid(rev.First), Doubts: v.doubts("")}
	n, cautions := 0, map[string]bool{}
	for _, g := range []struct {
		where desk.Where
		acts  []desk.Act
		empty string
	}{
		{desk.AtVisit, rev.First.AtVisit, "Nothing to look at, ask or measure before the next step."},
		{desk.AtHome, rev.First.AtHome, "Nothing to settle at home for the next steps."},
		{desk.ToYard, rev.First.ToYard, "Nothing to tell the yard."},
	} {
		group := ActGroup{Where: g.where, Empty: g.empty}
		for _, a := range g.acts {
			n++
			group.Acts = append(group.Acts, v.act(a, n))
		}
		cautionsOnce(group.Acts, cautions)
		if g.where == desk.AtVisit {
			group.Come = v.come()
		}
		page.Groups = append(page.Groups, group)
	}
	for _, x := range rev.Asks {
		ask := AskedTwice{ActLine: v.act(x.Act, 0), Author: author(r)}
		for _, at := range x.Visits {
			ask.Visits = append(ask.Visits, v.visitNamed(at))
		}
		page.Asks = append(page.Asks, ask)
	}
	page.Ruled = v.ruled()
	page.Since = v.since()
	page.Moved = s.movedLaunch(r, v, time.Now().Add(reviewWait), false)
	return s.render(w, http.StatusOK, "review", page)
}

// come says in a line by when to come.
func (v *view) come() string {
	c := v.rev.Visit.Next
	switch {
	case c.Day.Known():
		return "Come " + c.Day.Line(v.Day) + ". " + c.Why
	case c.Why != "" && v.rev.Visit.Last.Self != "":
		return c.Why
	}
	return ""
}

// restSaid says how many acts did not fit on the first page.
func restSaid(p review.FirstPage) string {
	switch {
	case p.More > 0 && p.Later > 0:
		return count(p.More, "more act", "more acts") + fmt.Sprintf(", and %d for later steps", p.Later)
	case p.More > 0:
		return count(p.More, "more act", "more acts")
	case p.Later > 0:
		return count(p.Later, "act", "acts") + " for later steps"
	}
	return ""
}

// cautionsOnce leaves each caution open at the first act that carries it.
func cautionsOnce(acts []ActLine, shown map[string]bool) {
	for i := range acts {
		acts[i].Again = shown[acts[i].Caution]
		shown[acts[i].Caution] = acts[i].Caution != ""
	}
}

func (v *view) act(a desk.Act, n int) ActLine {
	return ActLine{
		Act: a, Number: n, Event: v.event(a.Before, a.Ahead, a.Gone), Due: a.By.Line(v.Day),
		Subject: v.Ref(a.Subject), On: v.Ref(a.On), Page: v.Link("/act?id=" + query(a.ID)),
		Grave: graveWords[string(a.Gravity)] && a.Missed != "",
	}
}

func (v *view) visitNamed(at record.Ref) Named {
	n := v.Ref(at)
	for _, x := range v.Visits {
		if x.Ref == at {
			n.Name = x.Day.Said()
		}
	}
	return n
}

func (v *view) ruled() []RuledAct {
	var out []RuledAct
	for _, x := range v.rev.Ruled {
		line := RuledAct{ActLine: v.act(x.Act, 0), Ruling: v.Ref(x.Ruling.Self), By: v.Ref(x.Ruling.By), Why: x.Ruling.Why, Until: onDay("until", x.Ruling.Until)}
		line.Says = map[string]string{"drop": "dropped", "waive": "waived", "do": "to be done"}[x.Ruling.Says]
		out = append(out, line)
	}
	return out
}

func (v *view) since() Since {
	c := v.rev.Since
	out := Since{}
	if c.Visit.Self != "" {
		out.Visit = v.visitNamed(c.Visit.Self)
		out.Visit.Name = c.Visit.Day.Said()
	}
	out.Happened, out.Learned = changesOf(c.Happened), changesOf(c.Learned)
	return out
}
