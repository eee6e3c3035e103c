package review

import (
	"fmt"
	"slices"
	"strings"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

// leastRegret is the least chance that an order at a mould, cradle or bay is
// regretted that belongs to the launch's line.
const leastRegret = 0.05

// mostNamed bounds how many steps a fact names.
const mostNamed = 3

// facts are the lines above the acts. Weight and money stand there once the
// record can carry them; until then there is nothing to say of them, and
// nothing is said.
func facts(r *journal.Record, p plan.Answer) []Fact {
	var out []Fact
	for _, f := range []Fact{stands(r, p), launch(r, p), points(r, p), keeps(p)} {
		if f.Says != "" {
			out = append(out, f)
		}
	}
	return out
}

// stands says where the build stands: what was noted done and on what
// grounds, what is under way, what can come next.
func stands(r *journal.Record, p plan.Answer) Fact {
	var seen, told, never int
	var under, next []string
	for _, s := range p.Steps {
		switch {
		case s.State == "under way":
			under = append(under, s.Name)
		case s.State != "done":
		case s.Grounds == record.Inferred || s.NeverSeen:
			never++
		case s.Grounds == record.Told:
			told++
		default:
			seen++
		}
	}
	for _, ref := range p.Next {
		if name := r.Name(ref); !slices.Contains(under, name) {
			next = append(next, name)
		}
	}
	if len(p.Steps) == 0 {
		return Fact{}
	}
	var say []string
	switch n := seen + told + never; {
	case n == 0 && len(under) == 0:
		say = append(say, fmt.Sprintf("Of %d steps none was noted yet.", len(p.Steps)))
	default:
		line := fmt.Sprintf("%d of %d steps noted done", n, len(p.Steps))
		var but []string
		if told > 0 {
			but = append(but, fmt.Sprintf("%d only told", told))
		}
		if never > 0 {
			but = append(but, fmt.Sprintf("%d never seen, known only from a later step", never))
		}
		if but != nil {
			line += " (" + strings.Join(but, ", ") + ")"
		}
		say = append(say, line+".")
	}
	if under != nil {
		say = append(say, "Under way: "+few(under)+".")
	}
	if next != nil {
		say = append(say, "Can come next: "+few(next)+".")
	}
	if v := p.LastVisit; v.Self != "" {
		say = append(say, "Last visit "+desk.Coarse(v.Day, r.Day)+byWhom(r, v)+".")
	} else {
		say = append(say, "No visit is on record.")
	}
	return Fact{Name: "where the build stands", Says: strings.Join(say, " ")}
}

func byWhom(r *journal.Record, v record.Visit) string {
	switch {
	case v.Who != "":
		return ", by " + r.Name(v.Who)
	case v.By == "surveyor":
		return ", by a surveyor"
	case v.By == "pictures":
		return ", by the yard's pictures"
	}
	return ""
}

// foreseen is the launch by chance, and the chance of each contract date.
func foreseen(r *journal.Record, f plan.Forecast) string {
	say := fmt.Sprintf("by the forecast it could be as early as %s, as likely before as after %s, 4 in 5 by %s",
		desk.Coarse(f.Early.Day, r.Day), desk.CoarseBetween(f.Launch.Even[0].Day(), f.Launch.Even[1].Day(), r.Day), desk.Coarse(f.Late.Day, r.Day))
	for _, by := range f.Launch.By {
		say += fmt.Sprintf("; chance of %s or before: %.0f in 100", desk.Coarse(by.Day, r.Day), 100*by.Chance)
	}
	return say
}

// few names the first of a list and counts the rest.
func few(names []string) string {
	if len(names) <= mostNamed+1 {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:mostNamed], ", "), len(names)-mostNamed)
}

// launch says on whose word she is launched when; without a word or a
// duration it says only what stands before it.
func launch(r *journal.Record, p plan.Answer) Fact {
	l := p.Launch
	f := Fact{Name: "launch"}
	var say []string
	add := func(w desk.When, lead string) {
		if !w.Known() {
			return
		}
		say = append(say, lead+desk.Coarse(w.Day, r.Day)+", "+w.On())
		if w.Work.Says != "" {
			f.Why = append(f.Why, w.Work)
		}
	}
	add(l.Said, "")
	if l.First.Known() && l.Said.Known() && l.First.Day != l.Said.Day {
		say = append(say, fmt.Sprintf("first said for %s, %s since", desk.Coarse(l.First.Day, r.Day), moved(int(l.Said.Day-l.First.Day))))
	}
	add(l.Contract, "contract: ")
	if p.Forecast.Even.Known() {
		say = append(say, foreseen(r, p.Forecast))
		f.Why = append(f.Why, p.Forecast.Early.Work, p.Forecast.Even.Work, p.Forecast.Late.Work)
	} else {
		add(l.Computed, "reckoned: ")
	}
	if say != nil {
		f.Says = desk.Sentence(desk.Capital(strings.Join(say, "; ")))
		for _, o := range p.Forecast.Stands {
			if o.Work.Value >= leastRegret {
				f.Says += " " + o.Order + " " + o.Regret
				f.Why = append(f.Why, o.Work)
			}
		}
		return f
	}
	for _, s := range p.Steps {
		if s.Self == l.Step && s.Ahead > 0 {
			f.Says = fmt.Sprintf("No date: nobody has said one. %d steps stand before it in the order on record.", s.Ahead)
		}
	}
	return f
}

func moved(days int) string {
	way := "later"
	if days < 0 {
		days, way = -days, "earlier"
	}
	if days >= 14 {
		return fmt.Sprintf("moved %d weeks %s", days/7, way)
	}
	return fmt.Sprintf("moved %d days %s", days, way)
}

// points counts the open points and names the first one due.
func points(r *journal.Record, p plan.Answer) Fact {
	f := Fact{Name: "open points"}
	if len(p.Points) == 0 {
		if len(p.Settled) > 0 {
			f.Says = fmt.Sprintf("None is open; %d settled.", len(p.Settled))
		}
		return f
	}
	gone, first := 0, -1
	for i, x := range p.Points {
		if x.Gone {
			gone++
		} else if first < 0 {
			first = i
		}
	}
	f.Says = fmt.Sprintf("%d open", len(p.Points))
	if len(p.Points) == gone {
		f.Says += "; the steps that cover them up have all begun."
		return f
	}
	if gone > 0 {
		f.Says += fmt.Sprintf(", %d of them covered up undecided", gone)
	}
	x := p.Points[first]
	a := desk.Act{Before: x.Step, Ahead: x.Ahead, By: x.By}
	if x.Cutoff.Known() && (!x.By.Known() || x.Cutoff.Day < x.By.Day) {
		a.By = x.Cutoff
	}
	f.Says += ". First: " + desk.Sentence(x.Question)
	if event := joined(a.Event(r.Name(x.Step)), a.By.Line(r.Day)); event != "" {
		f.Says += " " + desk.Sentence(desk.Capital(event))
	}
	return f
}

func joined(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), "; ")
}

// keeps counts the dates that were said and what became of them.
func keeps(p plan.Answer) Fact {
	n := map[plan.PromiseState]int{}
	for _, x := range p.Promises {
		n[x.State]++
	}
	if n[plan.Kept]+n[plan.Broken]+n[plan.Unseen]+n[plan.Moved]+n[plan.EitherWay] == 0 {
		return Fact{}
	}
	var say []string
	for _, s := range said {
		if n[s.state] > 0 {
			say = append(say, fmt.Sprintf("%d %s", n[s.state], s.words))
		}
	}
	return Fact{Name: "dates that were said", Says: fmt.Sprintf("Of %d: %s.", len(p.Promises), strings.Join(say, ", "))}
}

// said counts dates by what became of them.
var said = []struct {
	state plan.PromiseState
	words string
}{
	{plan.Kept, "kept"}, {plan.Broken, "not kept"}, {plan.Moved, "moved before they were due"},
	{plan.EitherWay, "of which nobody can tell"}, {plan.Unseen, "due that nobody has looked at"}, {plan.Pending, "still to come"},
}
