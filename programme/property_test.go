package programme_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/programme"

	"pgregory.net/rapid"
)

// anyNetwork draws steps on the given calendars with links of every type.
// Links run from earlier to later steps, but for a pair that may close a loop
// (one starts after the other starts, which finishes after it finishes).
func anyNetwork(t *rapid.T, cals []programme.Calendar, mixed bool) programme.Case {
	c := programme.Case{DataDate: monday, Calendars: cals}
	n := rapid.IntRange(1, 8).Draw(t, "steps")
	lag := rapid.IntRange(-3, 6)
	for i := range n {
		s := programme.Step{ID: fmt.Sprint(i), Known: true, Calendar: rapid.SampledFrom(cals).Draw(t, "calendar").ID}
		if mixed && rapid.IntRange(0, 3).Draw(t, "kind") == 0 {
			s.Hours = float64(rapid.IntRange(0, 60).Draw(t, "hours"))
		} else {
			s.Work = float64(rapid.IntRange(0, 8).Draw(t, "work"))
		}
		c.Steps = append(c.Steps, s)
	}
	types := []programme.LinkType{programme.FS, programme.FS, programme.SS, programme.FF, programme.SF}
	for range rapid.IntRange(0, 2*n).Draw(t, "links") {
		a, b := rapid.IntRange(0, n-1).Draw(t, "from"), rapid.IntRange(0, n-1).Draw(t, "to")
		if a == b {
			continue
		}
		l := programme.Link{From: fmt.Sprint(min(a, b)), To: fmt.Sprint(max(a, b)), Type: rapid.SampledFrom(types).Draw(t, "type")}
		switch {
		case !mixed || rapid.Bool().Draw(t, "working lag"):
			l.Lag = float64(lag.Draw(t, "lag"))
			l.Calendar = rapid.SampledFrom(cals).Draw(t, "lag's calendar").ID
		default:
			l.Hours = float64(rapid.IntRange(-20, 70).Draw(t, "lag hours"))
		}
		c.Links = append(c.Links, l)
		if l.Type == programme.SS && rapid.IntRange(0, 2).Draw(t, "loop") == 0 {
			c.Links = append(c.Links, programme.Link{From: l.To, To: l.From, Type: programme.FF, Lag: float64(lag.Draw(t, "loop lag"))})
		}
	}
	return c
}

// relax solves the same rules as inequalities between starts on plain numbers,
// sweeping until nothing moves; ok is false when starts are pushed for ever.
func relax(c programme.Case, fixed map[int]float64) (es []float64, finish float64, ok bool) {
	at := make(map[string]int)
	for i, s := range c.Steps {
		at[s.ID] = i
	}
	es = make([]float64, len(c.Steps))
	for i, v := range fixed {
		es[i] = v
	}
	for sweep := 0; sweep < 200; sweep++ {
		moved := false
		for _, l := range c.Links {
			a, b := at[l.From], at[l.To]
			x := es[a]
			if l.Type == programme.FS || l.Type == programme.FF {
				x += c.Steps[a].Work
			}
			x += l.Lag
			if l.Type == programme.FF || l.Type == programme.SF {
				x -= c.Steps[b].Work
			}
			if x > es[b] {
				es[b], moved = x, true
			}
		}
		if !moved {
			for i, s := range c.Steps {
				finish = math.Max(finish, es[i]+s.Work)
			}
			return es, finish, true
		}
	}
	return nil, 0, false
}

// On one calendar the pass must agree with plain numbers: early starts by
// relaxation, and total float by its definition, the longest delay of a start
// that leaves the finish as it is.
func TestPassAgainstRelaxation(t *testing.T) {
	yard := []programme.Calendar{templateYard}
	rapid.Check(t, func(t *rapid.T) {
		c := anyNetwork(t, yard, false)
		want, finish, ok := relax(c, nil)
		r, err := programme.Pass(c)
		if !ok {
			if err == nil {
				t.Fatalf("%+v: passed, yet its starts are pushed for ever", c)
			}
			return
		}
		if err != nil && strings.Contains(err.Error(), "in a ring") {
			t.Skip("an order that leads back to itself is refused, whatever the lengths")
		}
		if err != nil {
			t.Fatalf("%+v: %v", c, err)
		}
		cal, _ := calendar.New(templateYard.Week, templateYard.Closures)
		day := func(m calendar.Moment) float64 { return cal.Between(calendar.At(monday), m) }
		if day(r.Finish) != finish {
			t.Fatalf("%+v: finish %g, want %g", c, day(r.Finish), finish)
		}
		for i, s := range r.Steps {
			if day(s.EarlyStart) != want[i] {
				t.Fatalf("%+v: step %d starts at %g, want %g", c, i, day(s.EarlyStart), want[i])
			}
			float := 0.0
			for {
				if _, f, ok := relax(c, map[int]float64{i: want[i] + float + 1}); !ok || f > finish {
					break
				}
				float++
			}
			if s.Total != float {
				t.Fatalf("%+v: step %d has float %g, want %g", c, i, s.Total, float)
			}
		}
	})
}

// Float identities hold on one calendar without hard dates.
func TestFloatIdentities(t *testing.T) {
	cal, _ := calendar.New(templateYard.Week, templateYard.Closures)
	rapid.Check(t, func(t *rapid.T) {
		c := anyNetwork(t, []programme.Calendar{templateYard}, false)
		r, err := programme.Pass(c)
		if err != nil {
			t.Skip("a loop that can't be met")
		}
		onPath := 0
		for i, s := range r.Steps {
			start, finish := cal.Between(s.EarlyStart, s.LateStart), cal.Between(s.EarlyFinish, s.LateFinish)
			switch {
			case s.Total != start || s.Total != finish:
				t.Fatalf("step %d: float %g, of start %g, of finish %g", i, s.Total, start, finish)
			case s.Free < 0 || s.Free > s.Total:
				t.Fatalf("step %d: free float %g of %g", i, s.Free, s.Total)
			case cal.Between(s.EarlyStart, s.EarlyFinish) != c.Steps[i].Work:
				t.Fatalf("step %d is not one piece", i)
			case s.Critical && s.Total != 0:
				t.Fatalf("step %d is critical with a float of %g", i, s.Total)
			}
			if s.Critical {
				onPath++
			}
		}
		if onPath == 0 {
			t.Fatal("nothing is critical")
		}
		for _, id := range r.LongestPath() {
			if s := r.Steps[int(id[0]-'0')]; !s.Critical {
				t.Fatalf("%s is on the longest path and not critical", id)
			}
		}
	})
}

var threeCalendars = []programme.Calendar{templateYard, {ID: "maker", Week: "Mon-Thu 1, Fri 0.5"}, {ID: "oven", Week: "24/7"}}

// meets says a link's rule in its own words, by forward counting alone.
func meets(c programme.Case, cals map[string]*calendar.Calendar, l programme.Link, r programme.Result, start func(int) calendar.Moment) bool {
	var a, b int
	fmt.Sscan(l.From, &a)
	fmt.Sscan(l.To, &b)
	on := func(i int) *calendar.Calendar {
		if c.Steps[i].Hours != 0 {
			return cals[""]
		}
		return cals[c.Steps[i].Calendar]
	}
	finish := func(i int) calendar.Moment {
		return on(i).Forward(start(i), c.Steps[i].Work+c.Steps[i].Hours/24)
	}
	x, y := finish(a), start(b)
	if l.Type == programme.SS || l.Type == programme.SF {
		x = start(a)
	}
	if l.Type == programme.FF || l.Type == programme.SF {
		y = finish(b)
	}
	lagOn := cals[l.Calendar]
	if l.Calendar == "" {
		lagOn = on(b)
	}
	if l.Hours != 0 {
		x = x.After(l.Hours)
		lagOn = cals[""]
	} else {
		x = lagOn.Forward(x, l.Lag)
	}
	finishes := l.Type == programme.FF || l.Type == programme.SF
	if finishes && on(a) == on(b) && (lagOn == on(b) || l.Lag == 0 && l.Hours == 0) {
		return on(b).Worked(y) >= on(b).Worked(x)
	}
	return y >= x
}

// On several calendars every link is met, no step could start any earlier, and
// the float is exactly the longest delay that leaves the finish: one second
// more moves it.
func TestSeveralCalendars(t *testing.T) {
	cals := map[string]*calendar.Calendar{"": calendar.Elapsed()}
	for _, in := range threeCalendars {
		cals[in.ID], _ = calendar.New(in.Week, in.Closures)
	}
	rapid.Check(t, func(t *rapid.T) {
		c := anyNetwork(t, threeCalendars, true)
		r, err := programme.Pass(c)
		if err != nil {
			t.Skip("a loop that can't be met")
		}
		early := func(i int) calendar.Moment { return r.Steps[i].EarlyStart }
		for _, l := range c.Links {
			if !meets(c, cals, l, r, early) {
				t.Fatalf("%+v: link %+v is not met", c, l)
			}
		}
		for i, s := range r.Steps {
			if on := cals[c.Steps[i].Calendar]; c.Steps[i].Work > 0 && (on.FirstDay(s.EarlyStart) != s.FirstDay || on.LastDay(s.EarlyFinish) != s.LastDay ||
				on.FirstDay(s.LateStart) != s.LateFirstDay || on.LastDay(s.LateFinish) != s.LateLastDay) {
				t.Fatalf("%+v: step %d is shown on other days than its calendar says: %+v", c, i, s)
			}
			leastStart(t, c, cals, r, i)
			delayed(t, c, r, i)
		}
	})
}

// leastStart checks that step i could not begin at the moment of work before.
func leastStart(t *rapid.T, c programme.Case, cals map[string]*calendar.Calendar, r programme.Result, i int) {
	on := cals[c.Steps[i].Calendar]
	if c.Steps[i].Hours != 0 {
		on = cals[""]
	}
	first := on.NextWorking(calendar.At(monday))
	before := on.LastStart(r.Steps[i].EarlyStart - 1)
	if c.Steps[i].Work+c.Steps[i].Hours == 0 {
		before = r.Steps[i].EarlyStart - 1
	}
	if before < first {
		return
	}
	earlier := func(k int) calendar.Moment {
		if k == i {
			return before
		}
		return r.Steps[k].EarlyStart
	}
	for _, l := range c.Links {
		if l.To == c.Steps[i].ID && !meets(c, cals, l, r, earlier) {
			return
		}
	}
	if inLoop(c, c.Steps[i].ID) {
		return // each holds the other: both could only move together, which relaxation checks
	}
	t.Fatalf("%+v: step %d starts at %s, could at %s", c, i, r.Steps[i].EarlyStart, before)
}

func inLoop(c programme.Case, id string) bool {
	for _, a := range c.Links {
		for _, b := range c.Links {
			if a.To == b.From && a.From == b.To && (a.From == id || a.To == id) {
				return true
			}
		}
	}
	return false
}

// delayed holds step i back to its late start, and one second longer.
func delayed(t *rapid.T, c programme.Case, r programme.Result, i int) {
	hold := func(to calendar.Moment) (programme.Result, error) {
		d := c
		d.Steps = append(append([]programme.Step(nil), c.Steps...), programme.Step{ID: "hold", Hours: float64(to-calendar.At(monday)) / 3600})
		d.Links = append(append([]programme.Link(nil), c.Links...), programme.Link{From: "hold", To: c.Steps[i].ID})
		return programme.Pass(d)
	}
	late := r.Steps[i].LateStart
	if late > calendar.At(monday) && late <= r.Finish {
		if got, err := hold(late); err != nil || got.Finish != r.Finish {
			t.Fatalf("%+v: step %d held to its late start %s: finish %s, %v, want %s", c, i, late, got.Finish, err, r.Finish)
		}
	}
	// An error says that a loop then has no course at all.
	if got, err := hold(late + 1); err == nil && got.Finish <= r.Finish {
		t.Fatalf("%+v: step %d held a second beyond its late start %s: finish stays %s", c, i, late, got.Finish)
	}
}

// A longer step, a longer lag or a later data date never makes anything
// earlier.
func TestNothingComesEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyNetwork(t, threeCalendars, true)
		before, err := programme.Pass(c)
		if err != nil {
			t.Skip("a loop that can't be met")
		}
		d := c
		d.Steps = append([]programme.Step(nil), c.Steps...)
		d.Links = nil // loops are met or not by their lengths
		for _, l := range c.Links {
			if !inLoop(c, l.From) || !inLoop(c, l.To) {
				d.Links = append(d.Links, l)
			}
		}
		before, err = programme.Pass(d)
		if err != nil {
			t.Fatal(err)
		}
		e := d
		e.Steps = append([]programme.Step(nil), d.Steps...)
		k := rapid.IntRange(0, len(e.Steps)-1).Draw(t, "which")
		if e.Steps[k].Hours != 0 {
			e.Steps[k].Hours += 5
		} else {
			e.Steps[k].Work += 1.5
		}
		e.DataDate += calendar.Day(rapid.IntRange(0, 3).Draw(t, "later"))
		after, err := programme.Pass(e)
		if err != nil {
			t.Fatal(err)
		}
		for i := range after.Steps {
			// Where only a finish binds, a longer step starts earlier.
			if after.Steps[i].EarlyFinish < before.Steps[i].EarlyFinish && i != k {
				if !bindsFinish(e, k) {
					t.Fatalf("%+v: step %d finishes earlier when %d grows", d, i, k)
				}
			}
		}
	})
}

// bindsFinish reports whether step k has a link into its finish: then a longer
// step k may start earlier, and so let others that wait for its start.
func bindsFinish(c programme.Case, k int) bool {
	for _, l := range c.Links {
		if l.To == c.Steps[k].ID && (l.Type == programme.FF || l.Type == programme.SF) {
			return true
		}
	}
	return false
}

func TestSameCaseSameResult(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyNetwork(t, threeCalendars, true)
		a, errA := programme.Pass(c)
		b, errB := programme.Pass(c)
		if fmt.Sprintf("%+v %v", a, errA) != fmt.Sprintf("%+v %v", b, errB) {
			t.Fatal("two passes of one case differ")
		}
	})
}
