package plan

import (
	"fmt"
	"strings"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/programme"
	"dogshore/record"
)

// StandOrder is the order in which parts have a mould, cradle or bay, as the
// forecast counts with it, and how often another one would be better.
type StandOrder struct {
	Stand     record.Ref
	Turns     []StandTurn
	Trials    int     // in which the order was sought anew
	Regretted int     // of these: another order launches her a day or more earlier
	Sooner    float64 // by so many days in their mean
	Order     string  // who has it after whom, in words
	Regret    string  // how often that is regretted, in words
	Work      figure.Figure
}

// StandTurn is a part's time at a stand, from one step to another.
type StandTurn struct {
	Part        record.Ref
	First, Last record.Ref
	Has         bool // it has begun
}

// readStands takes over the order at each stand at which a part waits for
// another.
func (d *reading) readStands(all []programme.StandOutlook) {
	for _, s := range all {
		o := StandOrder{Stand: record.R("stand", s.ID), Trials: s.Trials, Regretted: s.Regretted, Sooner: s.Sooner, Work: s.Regret()}
		for _, t := range s.Turns {
			first := record.R("step", t.First)
			o.Turns = append(o.Turns, StandTurn{Part: d.steps[first].Part, First: first, Last: record.R("step", t.Last), Has: t.Has})
		}
		name := d.name(o.Stand)
		o.Order, o.Regret = d.turnsSaid(name, o.Turns), o.regretSaid()
		o.Work.Says = "chance that the order at " + desk.The(name) + " is regretted"
		d.a.Forecast.Stands = append(d.a.Forecast.Stands, o)
	}
}

// turnsSaid says who has a stand after whom.
func (d *reading) turnsSaid(stand string, turns []StandTurn) string {
	var say []string
	for _, t := range turns {
		part := d.name(t.First)
		if t.Part != "" {
			part = d.name(t.Part)
		}
		if part = desk.The(part); t.Has {
			part += ", which has it,"
		}
		say = append(say, part)
	}
	return fmt.Sprintf("At %s: %s.", desk.The(stand), strings.TrimSuffix(strings.Join(say, " then "), ","))
}

func (o *StandOrder) regretSaid() string {
	how := fmt.Sprintf("in none of %d trials would another launch her a day or more earlier", o.Trials)
	if o.Regretted > 0 {
		how = fmt.Sprintf("in %d of %d trials another would launch her a day or more earlier, in the mean of these by %s", o.Regretted, o.Trials, desk.Count(int(o.Sooner+0.5), "day"))
	}
	return "This order is a guess at the yard's; " + how + "."
}

// At returns the order at the stand that a step takes part in, or nil.
func (f *Forecast) At(stand record.Ref) *StandOrder {
	for i := range f.Stands {
		if f.Stands[i].Stand == stand {
			return &f.Stands[i]
		}
	}
	return nil
}
