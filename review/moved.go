package review

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"sync"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/figure"
	"dogshore/journal"
	"dogshore/programme"
	"dogshore/record"
)

// Moved is what moved the launch since the last visit, in words, with the
// numbers that they say.
type Moved struct {
	programme.Movement
	Says  string // from when to when, and by how much
	Parts []MovedPart
	Steps []MovedPart   // within the sightings, as far as they can be told
	Over  string        // what is left over, in words
	Work  figure.Figure // down to its parts
}

// MovedPart is what one group, or what was seen of one step, did.
type MovedPart struct {
	Name  string
	About record.Ref // the step
	Says  string     // by how much
	Why   string     // what the group is
	Days  float64
}

// account keeps what moved a launch, and what had been learned by then: the
// next review often asks the same.
type account struct {
	mu       sync.Mutex
	then     plan.Known
	moved    programme.Movement
	ok, held bool
	from, to plan.Known
}

// Moved says what moved the launch since v's last visit; nil where there was
// none, or one of the two has no forecast. It takes as long as some dozen
// forecasts, and learns once more where what was known of that visit has
// changed.
func (m *Memo) Moved(ctx context.Context, from Records, v *Review) (*Moved, error) {
	if !v.Plan.Forecast.Enough || v.Since.Visit.Self == "" {
		return nil, nil
	}
	then, err := from.As(ctx, v.Since.Visit.Day, v.Known)
	if err != nil {
		return nil, err
	}
	return m.movedFrom(ctx, then, v)
}

func (m *Memo) movedFrom(ctx context.Context, then *journal.Record, v *Review) (*Moved, error) {
	a := &m.account
	a.mu.Lock()
	defer a.mu.Unlock()
	if asked := plan.Ask(then); a.then.Learned.Draws == nil || !reflect.DeepEqual(asked, a.then.Case) {
		l, err := programme.Learn(asked)
		if err != nil {
			return nil, nil // then's own review says what is wrong with it
		}
		a.then = plan.Known{Case: asked, Learned: l}
	}
	now := v.Plan.Known()
	if !a.held || !reflect.DeepEqual(a.from, a.then) || !reflect.DeepEqual(a.to, now) {
		a.moved, a.ok = plan.LaunchMoved(ctx, a.then, now)
		if a.held = ctx.Err() == nil; !a.held {
			return nil, ctx.Err()
		}
		a.from, a.to = a.then, now
	}
	if !a.ok {
		return nil, nil
	}
	return v.say(a.moved), nil
}

// groupSays explain what each group is.
var groupSays = map[programme.Group]string{
	programme.ByTime:      "The calendar went on, and nothing new was seen of what was to happen.",
	programme.BySightings: "What was seen, and what was said to be left.",
	programme.ByPace:      "Pace and waiting as they are learned now.",
	programme.ByPlan:      "Steps, links, durations and calendars that were changed.",
	programme.ByBoughtIn:  "Suppliers and what they deliver.",
}

// say puts a movement into words. What the trials can't tell is not told.
func (v *Review) say(m programme.Movement) *Moved {
	out := &Moved{Movement: m, Work: m.Says(func(id string) string { return v.stepName(id) })}
	then, now := desk.Coarse(m.Before.Day(), v.Day), desk.Coarse(m.After.Day(), v.Day)
	if m.None {
		if then != now {
			now = then + " or " + now
		}
		out.Says = fmt.Sprintf("As likely before as after %s, then as now: no difference that can be told.", now)
		return out
	}
	out.Says = fmt.Sprintf("As likely before as after: %s then, %s now: %s", then, now, daysSaid(m.Days))
	if all := math.Abs(float64(m.After-m.Before)) / 86400; all > 7+2*math.Abs(m.Days) {
		out.Says += ", with a time between in which nothing is worked"
	}
	out.Says += "."
	told := func(days float64) string {
		if math.Abs(days) < m.Band {
			return "nothing that can be told"
		}
		return daysSaid(days)
	}
	for _, p := range m.Parts {
		out.Parts = append(out.Parts, MovedPart{Name: string(p.Group), Why: groupSays[p.Group], Days: p.Days, Says: told(p.Days)})
	}
	out.Over = "Left over by the groups: " + daysSaid(m.Remainder) + "."
	if math.Abs(m.Parts[1].Days) < m.Band {
		return out // what steps did to so little can't be told either
	}
	named := 0.0
	for _, s := range m.Steps {
		if math.Abs(s.Days) < leastTold {
			continue
		}
		named += s.Days
		ref := record.R("step", s.ID)
		out.Steps = append(out.Steps, MovedPart{Name: v.stepName(s.ID), About: ref, Days: s.Days, Says: daysSaid(s.Days)})
	}
	if out.Steps != nil {
		out.Over = fmt.Sprintf("All other steps together: %s; no step's: %s. %s", daysSaid(m.Parts[1].Days-named-m.Rest), told(m.Rest), out.Over)
	}
	return out
}

// leastTold is the least part of one step that is named, in working days.
const leastTold = 1

func (v *Review) stepName(id string) string {
	ref := record.R("step", id)
	if s := v.Plan.Step(ref); s != nil {
		return s.Name
	}
	return id
}

// daysSaid says working days later or earlier, in whole days.
func daysSaid(days float64) string {
	n := int(math.Round(math.Abs(days)))
	switch {
	case n == 0:
		return "less than a working day"
	case days < 0:
		return desk.Count(n, "working day") + " earlier"
	}
	return desk.Count(n, "working day") + " later"
}
