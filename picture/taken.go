package picture

import (
	"fmt"
	"time"
	_ "time/tzdata" // zones by name, also where the computer has no list of them

	"dogshore/calendar"
)

// Taken is when a picture was taken, as its camera says: the time on its
// clock, and how far that clock's zone was ahead of UTC, if it says so.
type Taken struct {
	Wall    time.Time // the time on the clock, written as if it were UTC
	HasZone bool
	Zone    int // seconds ahead of UTC
}

// Known reports whether a time is known.
func (t Taken) Known() bool { return !t.Wall.IsZero() }

// Zone is the time zone of the yard, by its name (Europe/Lisbon) or as an
// offset (+01:00). The zero Zone is not known.
type Zone struct{ loc *time.Location }

// ParseZone reads a zone.
func ParseZone(name string) (Zone, error) {
	if name == "" {
		return Zone{}, nil
	}
	for _, form := range []string{"-07:00", "-0700", "Z07:00"} {
		if t, err := time.Parse(form, name); err == nil {
			_, off := t.Zone()
			return Zone{time.FixedZone("", off)}, nil
		}
	}
	loc, err := time.LoadLocation(name)
	if err != nil || name == "Local" {
		return Zone{}, fmt.Errorf("%q is no time zone: write its name, as Europe/Lisbon, or its offset, as +01:00", name)
	}
	return Zone{loc}, nil
}

// local is a time at the yard.
type local struct {
	day  calendar.Day
	time string // 14:05:31 +01:00, without the zone where it is not known
	why  string // what is doubtful about it
	wall time.Time
}

// at reads a camera's time as that of the yard's clocks. A time without zone
// is the yard's already: it takes the yard's zone, summer time and all.
func (z Zone) at(t Taken) local {
	if t.HasZone {
		abs := t.Wall.Add(-time.Duration(t.Zone) * time.Second)
		where := time.FixedZone("", t.Zone)
		if z.loc != nil {
			where = z.loc
		}
		return written(abs.In(where), true, "")
	}
	if z.loc == nil {
		return written(t.Wall, false, "")
	}
	w := t.Wall
	abs := time.Date(w.Year(), w.Month(), w.Day(), w.Hour(), w.Minute(), w.Second(), 0, z.loc)
	if abs.Hour() != w.Hour() || abs.Minute() != w.Minute() {
		return written(w, false, "its clock shows an hour that was left out for summer time")
	}
	for _, h := range []time.Duration{-time.Hour, time.Hour} {
		if other := abs.Add(h); other.Hour() == w.Hour() {
			return written(w, false, "its clock shows an hour that came twice, at the end of summer time")
		}
	}
	return written(abs, true, "")
}

func written(t time.Time, zone bool, why string) local {
	l := local{day: calendar.Of(t), time: t.Format("15:04:05"), why: why, wall: time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), t.Second(), 0, time.UTC)}
	if zone {
		l.time = t.Format("15:04:05 -07:00")
	}
	return l
}

// Later is the day and the time of day that lie by after a day and a time as
// Sort writes them: when a still was taken that lies so far into a film. A
// time that is not known, or that somebody wrote in another way, stays
// unknown, and the day stays.
func Later(day calendar.Day, at string, by time.Duration) (calendar.Day, string) {
	if !day.Known() || at == "" {
		return day, ""
	}
	for _, form := range []string{"15:04:05 -07:00", "15:04:05", "15:04"} {
		t, err := time.Parse(form, at)
		if err != nil {
			continue
		}
		d := day.Time()
		t = time.Date(d.Year(), d.Month(), d.Day(), t.Hour(), t.Minute(), t.Second(), 0, t.Location()).Add(by)
		return calendar.Of(t), t.Format(form)
	}
	return day, ""
}
