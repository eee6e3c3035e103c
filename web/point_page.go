package web

import (
	"net/http"
	"strings"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

// pointPage shows one point: the options side by side, the time it takes, and
// how it was decided.
type pointPage struct {
	Sheet
	Point     Named
	State     plan.PointState
	Step      string // before which step
	Dates     Row
	Values    []Valued
	Options   []OptionColumn
	Leads     []Row
	Decisions []DecisionLine
	Guess     bool
	Doubts    []Doubt
	History   []HistoryLine
	Decide    *DecideForm
	AddLead   Add
	AddOption Add
	Withdrawn bool
}

// OptionColumn is one option as it stands beside the others.
type OptionColumn struct {
	Name   Named
	Reason string
	Values []Valued // price, weight, days, until
	Taken  bool
}

// DecisionLine is one decision and what makes it firm.
type DecisionLine struct {
	Decision  Named
	Says      string
	Option    Named
	With      Named
	Day       string
	Confirmed []Named
	Confirm   Add
}

// DecideForm is the short form for a decision.
type DecideForm struct {
	Point   record.Ref
	Options []Choice
	People  []Choice
	Visits  []VisitDay
	Day     string
	Author  string
	Back    string
}

func (s *Site) pointPage(w http.ResponseWriter, r *http.Request) error {
	self := record.R("point", r.PathValue("key"))
	v, said, err := s.opened(r, self)
	if err != nil {
		return err
	}
	v.Name = "Point" // open or settled
	page := &pointPage{Sheet: v.Sheet, Point: v.Ref(self), Values: v.values(self, "question"), Doubts: v.doubts(self), History: said}
	v.fillPoint(page, self)
	page.AddLead = v.adding("lead", "Add a lead: what takes time before it can be built in", "for", string(self))
	page.AddOption = v.adding("option", "Add an option", "point", string(self))
	if v.Owns() {
		page.Decide = v.decideForm(self, page.Options, author(r))
	}
	return s.render(w, http.StatusOK, "point", page)
}

// fillPoint takes what the plan desk says of the point.
func (v *view) fillPoint(page *pointPage, self record.Ref) {
	p, _ := journal.Get[record.Point](v.rec, self)
	page.Withdrawn = p.Withdrawn == record.Yes
	answer := plan.Point{Point: p, Ahead: -1, State: plan.Open}
	for _, list := range [][]plan.Point{v.rev.Plan.Points, v.rev.Plan.Settled} {
		for _, x := range list {
			if x.Self == self {
				answer = x
			}
		}
	}
	page.State, page.Guess = answer.State, answer.Guess
	step := answer.Step
	if step == "" {
		step = p.CoveredBy
	}
	page.Step = desk.Capital(v.event(step, answer.Ahead, answer.Gone))
	v.date(&page.Dates, "decide by", answer.By)
	v.date(&page.Dates, "cut-off", answer.Cutoff)
	for _, o := range journal.All[record.Option](v.rec) {
		if o.Point == self {
			page.Options = append(page.Options, v.optionColumn(o, answer))
		}
	}
	for _, l := range journal.All[record.Lead](v.rec) {
		if l.For == self || v.optionOf(l.For, self) {
			page.Leads = append(page.Leads, v.leadRow(l))
		}
	}
	for _, d := range journal.All[record.Decision](v.rec) {
		if d.Point == self {
			page.Decisions = append(page.Decisions, v.decisionLine(d))
		}
	}
}

func (v *view) optionOf(option, point record.Ref) bool {
	o, ok := journal.Get[record.Option](v.rec, option)
	return ok && o.Point == point
}

func (v *view) optionColumn(o record.Option, p plan.Point) OptionColumn {
	c := OptionColumn{Name: v.Ref(o.Self), Reason: o.Reason, Values: v.values(o.Self, "point", "name", "reason")}
	if p.Decision != nil && p.Decision.Option == o.Self {
		c.Taken = true
	}
	return c
}

func (v *view) leadRow(l record.Lead) Row {
	row := Row{Link: v.Ref(l.Self), State: "a guess: ask who can quote it"}
	if l.QuotedBy != "" {
		row.State = "quoted by " + v.rec.Name(l.QuotedBy) + onDay(" on", l.QuotedOn)
	}
	for _, name := range []string{"work", "wait"} {
		if h, ok := v.rec.Held(l.Self, name); ok {
			row.line(map[string]string{"work": "working days", "wait": "elapsed"}[name], record.KindOf("lead").Field(name).Format(h.Value))
		}
	}
	if l.For.Kind() == "option" {
		row.link("for the option", v.Ref(l.For))
	}
	return row
}

func (v *view) decisionLine(d record.Decision) DecisionLine {
	x := DecisionLine{Decision: v.Ref(d.Self), Says: d.Says, Option: v.Ref(d.Option), With: v.Ref(d.With), Day: d.Day.Said()}
	for _, c := range journal.All[record.Confirmation](v.rec) {
		if c.Of == d.Self {
			n := v.Ref(c.Self)
			n.Name = strings.TrimSpace(c.How + " " + c.Day.Said())
			x.Confirmed = append(x.Confirmed, n)
		}
	}
	x.Confirm = v.adding("confirmation", "It is confirmed in writing", "of", string(d.Self), "day", v.Today.String())
	return x
}

func (v *view) decideForm(self record.Ref, options []OptionColumn, by string) *DecideForm {
	f := &DecideForm{Point: self, People: v.names([]string{"person"}), Visits: v.Visits, Day: v.Today.String(), Author: by, Back: v.Here}
	for _, o := range options {
		f.Options = append(f.Options, Choice{Value: string(o.Name.Ref), Text: o.Name.Name})
	}
	return f
}
