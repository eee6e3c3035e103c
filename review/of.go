package review

import (
	"slices"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/deck"
	"dogshore/desk/plan"
	"dogshore/desk/visit"
	"dogshore/journal"
	"dogshore/record"
)

// Past is what a review needs beside the record itself: the same build at
// earlier visits. The zero Past compares with nothing.
type Past struct {
	Visit record.Visit    // the last visit before the record's day
	Then  *journal.Record // as of that visit, with all that is known now
	Knew  *journal.Record // as of that visit, with what was known then

	// Two are the last two visits at which somebody of the owner's side stood
	// before the boat, and Going the record going into the first of them.
	Two   [2]record.Visit
	Going *journal.Record
	Stood map[string]bool // Standing(Going), where the caller has kept it; else nil
	Deck  *deck.Memo      // what the deck's engines answered before; nil remembers nothing
}

// Of reviews a record. It is a function of its arguments alone. The desks run
// once, in the order plan, deck, visit; and once more on past.Going, to know what
// was passed over (see Standing), unless past.Stood says it.
func Of(now *journal.Record, past Past) Review {
	v := Review{Day: now.Day, Known: now.Known, Names: map[record.Ref]string{}}
	v.Build, _ = journal.Get[record.Build](now, record.R("build", "build"))
	v.run(now, plan.Read(now), past.Deck)
	v.Level = v.Plan.Level
	v.Facts = facts(now, v.Plan)
	v.First = firstPage(v.Acts, now.Day)
	v.Since = since(now, past)
	v.Begin = begin(now, v.Plan)
	v.Doubts = doubts(now, v.Plan)
	v.asks(now, past)
	v.name(now)
	return v
}

// run runs the desks and settles which acts are left.
func (v *Review) run(r *journal.Record, p plan.Answer, keep *deck.Memo) {
	v.Plan = p
	v.Deck = deck.Read(r, v.Plan, keep)
	v.Visit = visit.Read(r, v.Plan, v.Deck.Acts...)
	v.Runs++
	v.Acts, v.Ruled = desk.Rule(r, desk.Merge(slices.Concat(v.Plan.Acts, v.Deck.Acts, v.Visit.Acts)))
	desk.Sort(v.Acts, r.Day)
}

// firstPage fills the budgets in the order of acts, with what is due.
func firstPage(acts []desk.Act, day calendar.Day) FirstPage {
	var p FirstPage
	put := func(list *[]desk.Act, most int, a desk.Act) {
		if len(*list) < most {
			*list = append(*list, a)
			return
		}
		p.More++
	}
	for _, a := range acts {
		switch {
		case !a.Due(day):
			p.Later++
		case a.Where == desk.AtVisit:
			put(&p.AtVisit, mostAtVisit, a)
		case a.Where == desk.AtHome:
			put(&p.AtHome, mostAtHome, a)
		default:
			put(&p.ToYard, mostToYard, a)
		}
	}
	return p
}

// All returns the first page as it is read: the visit, home, the yard.
func (p FirstPage) All() []desk.Act { return slices.Concat(p.AtVisit, p.AtHome, p.ToYard) }

// Rest returns the acts that did not fit on the first page, in their order:
// first those that are due, then those that are not due yet.
func (v Review) Rest() []desk.Act {
	on := map[string]bool{}
	for _, a := range v.First.All() {
		on[a.ID] = true
	}
	var due, later []desk.Act
	for _, a := range v.Acts {
		switch {
		case on[a.ID]:
		case a.Due(v.Day):
			due = append(due, a)
		default:
			later = append(later, a)
		}
	}
	return append(due, later...)
}

// Act finds an act by its name, also among those that were ruled on.
func (v Review) Act(id string) (desk.Act, bool) {
	for _, a := range v.Acts {
		if a.ID == id {
			return a, true
		}
	}
	for _, x := range v.Ruled {
		if x.Act.ID == id {
			return x.Act, true
		}
	}
	return desk.Act{}, false
}

// name gathers what the acts name.
func (v *Review) name(r *journal.Record) {
	put := func(refs ...record.Ref) {
		for _, ref := range refs {
			if ref != "" {
				v.Names[ref] = r.Name(ref)
			}
		}
	}
	for _, a := range v.Acts {
		put(a.Subject, a.On, a.Before)
	}
	for _, x := range v.Ruled {
		put(x.Act.Subject, x.Act.On, x.Act.Before, x.Ruling.By)
	}
	for _, x := range slices.Concat(v.Since.Happened, v.Since.Learned) {
		put(x.About)
	}
	for _, s := range v.Visit.Walk {
		put(s.Part, s.Lies)
	}
	for _, o := range v.Plan.Forecast.Stands {
		put(o.Stand)
	}
	for _, a := range v.Deck.Arrangements {
		put(a.Point, a.Option)
		for _, f := range a.Findings {
			put(f.Of)
		}
		for _, x := range a.Anchors {
			put(x.Self)
		}
		for _, x := range a.Figures {
			put(x.Of)
		}
	}
}

// doubts gathers what makes no sense: of the fold, and of the plan.
func doubts(r *journal.Record, p plan.Answer) []journal.Doubt {
	out := slices.Clone(r.Doubts())
	for i := range out {
		for _, side := range out[i].Sides { // a day as people say it
			if day, err := calendar.ParseISO(side); err == nil && day.Known() {
				out[i].Says = strings.ReplaceAll(out[i].Says, side, day.Said())
			}
		}
	}
	for _, d := range p.Doubts {
		x := journal.Doubt{Kind: journal.Rule, Says: d.Says, Sides: d.Sides}
		if len(d.About) > 0 {
			x.About = d.About[0]
		}
		out = append(out, x)
	}
	return out
}
