package programme

import (
	"fmt"
	"slices"
)

// widest is the most that a spread's High may be of its Low.
const widest = 50

// check finds what is wrong with the parts of c that Case has not.
func (c *ForecastCase) check() *Invalid {
	bad := &Invalid{}
	has := make(map[string]bool, len(c.Steps))
	for i := range c.Steps {
		s := &c.Steps[i]
		has[s.ID] = true
		if s.Spread.Known() && s.Hours != 0 {
			bad.add(BadLength, 0, []string{s.ID}, "step %q has both a spread in working days and elapsed hours: give one", s.ID)
		}
		if wrong := s.Spread.wrong(); wrong != "" {
			bad.add(BadLength, 0, []string{s.ID}, "step %q: %s", s.ID, wrong)
		}
	}
	if c.Launch != "" && !has[c.Launch] {
		bad.add(NoStep, 0, nil, "the launch is step %q, which the case does not have", c.Launch)
	}
	if c.VisitEvery < 0 {
		bad.add(BadPoint, 0, nil, "visits every %d days: give a number of days, or 0 where none is known of", c.VisitEvery)
	}
	c.checkStands(bad, has)
	c.checkPoints(bad, has)
	return bad
}

// wrong says what is wrong with s, nothing where 0 < Low <= Mode <= High within
// reason, or Low = Mode = High.
func (s Spread) wrong() string {
	switch {
	case !s.Known():
		return ""
	case !(s.Low > 0 && s.Low <= s.Mode && s.Mode <= s.High && s.High <= longest):
		return fmt.Sprintf("the spread %g, %g, %g: give low, most likely and high, rising, above 0 and within %d days", s.Low, s.Mode, s.High, longest)
	case s.High > widest*s.Low:
		return fmt.Sprintf("the spread from %g to %g says nothing: high may be %d times low, in nine cases of ten it takes no longer", s.Low, s.High, widest)
	}
	return ""
}

func (c *ForecastCase) checkStands(bad *Invalid, has map[string]bool) {
	var seen []string
	for _, s := range c.Stands {
		if s.ID == "" || slices.Contains(seen, s.ID) {
			bad.add(Duplicate, 0, nil, "stand %q: each stand needs an id of its own", s.ID)
		}
		seen = append(seen, s.ID)
		if s.Capacity < 0 {
			bad.add(BadStand, 0, nil, "stand %q has room for %d: give 1 or more", s.ID, s.Capacity)
		}
		for _, h := range s.Holdings {
			for _, id := range []string{h.First, h.last()} {
				if !has[id] {
					bad.add(NoStep, 0, nil, "stand %q is held by step %q, which the case does not have", s.ID, id)
				}
			}
			if h.need() < 1 || h.need() > s.room() {
				bad.add(BadStand, 0, []string{h.First}, "step %q needs %d of stand %q, which has room for %d", h.First, h.Need, s.ID, s.room())
			}
		}
	}
}

func (h Holding) last() string {
	if h.Last == "" {
		return h.First
	}
	return h.Last
}

func (h Holding) need() int {
	if h.Need == 0 {
		return 1
	}
	return h.Need
}

func (s Stand) room() int { return max(s.Capacity, 1) }

func (c *ForecastCase) checkPoints(bad *Invalid, has map[string]bool) {
	cals := make(map[string]bool)
	for _, cal := range c.Calendars {
		cals[cal.ID] = true
	}
	var seen []string
	for _, p := range c.Points {
		if p.ID == "" || slices.Contains(seen, p.ID) {
			bad.add(Duplicate, 0, nil, "point %q: each point needs an id of its own", p.ID)
		}
		seen = append(seen, p.ID)
		if !(p.Cost >= 0) {
			bad.add(BadPoint, 0, nil, "point %q: what it costs when too late is %g: give 0 or more", p.ID, p.Cost)
		}
		for _, d := range p.doors() {
			if len(d.Covers) == 0 {
				bad.add(BadPoint, 0, nil, "point %q names no step that covers it up or fixes it", p.ID)
			}
			for _, id := range d.Covers {
				if !has[id] {
					bad.add(NoStep, 0, nil, "point %q is covered up by step %q, which the case does not have", p.ID, id)
				}
			}
			for _, l := range d.Leads {
				l.check(bad, p.ID, cals)
			}
		}
	}
}

func (l PointLead) check(bad *Invalid, point string, cals map[string]bool) {
	who := "point " + quoted([]string{point}) + ", lead " + quoted([]string{l.Says})
	given := 0
	for _, is := range []bool{l.Spread.Known(), l.Days != 0, l.Hours != 0} {
		if is {
			given++
		}
	}
	if given > 1 || !inRange(l.Days) || !inRange(l.Hours/24) || l.Days < 0 || l.Hours < 0 {
		bad.add(BadPoint, 0, nil, "%s: give a spread, or working days, or hours, 0 to %d days", who, longest)
	}
	if wrong := l.Spread.wrong(); wrong != "" {
		bad.add(BadLength, 0, nil, "%s: %s", who, wrong)
	}
	if !cals[l.Calendar] && (l.Calendar != "" || len(cals) == 0 && (l.Days != 0 || l.Spread.Known())) {
		bad.add(NoCalendar, 0, nil, "%s is on calendar %q, which the case does not have", who, l.Calendar)
	}
}

// doors returns the doors of p with what they take from it; the point itself
// is the only one where it has none.
func (p Point) doors() []Door {
	if len(p.Doors) == 0 {
		return []Door{{Covers: p.Covers, Leads: p.Leads}}
	}
	out := slices.Clone(p.Doors)
	for i := range out {
		if len(out[i].Covers) == 0 {
			out[i].Covers = p.Covers
		}
		if len(out[i].Leads) == 0 {
			out[i].Leads = p.Leads
		}
	}
	return out
}
