package picture

import (
	"strings"
	"testing"
	"time"

	"dogshore/calendar"
)

func clockAt(s string) time.Time {
	t, err := time.Parse("2006-01-02 15:04:05", s)
	if err != nil {
		panic(err)
	}
	return t
}

func day(s string) calendar.Day {
	d, err := calendar.ParseISO(s)
	if err != nil {
		panic(err)
	}
	return d
}

func zone(t *testing.T, name string) Zone {
	t.Helper()
	z, err := ParseZone(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// Days on which clocks change: in the European Union the last Sundays of March
// and October at 01:00 UTC (Directive 2000/84/EC), 29 March and 25 October
// 2026; the zone names are those of the IANA time zone database.
func TestTimesAtTheYard(t *testing.T) {
	for _, c := range []struct {
		zone, wall string
		has        bool
		off        int // hours
		day, time  string
		doubt      string
	}{
		{"", "2026-03-11 14:05:31", false, 0, "2026-03-11", "14:05:31", ""},
		{"", "2026-03-11 14:05:31", true, 1, "2026-03-11", "14:05:31 +01:00", ""},
		{"Europe/Stockholm", "2026-03-11 14:05:31", false, 0, "2026-03-11", "14:05:31 +01:00", ""},
		{"Europe/Stockholm", "2026-07-01 09:30:00", false, 0, "2026-07-01", "09:30:00 +02:00", ""},
		{"Europe/Stockholm", "2026-07-01 23:30:00", true, 0, "2026-07-02", "01:30:00 +02:00", ""}, // its clock is on UTC: at the yard it is tomorrow
		{"Europe/Stockholm", "2026-07-01 18:00:00", true, -8, "2026-07-02", "04:00:00 +02:00", ""},
		{"Europe/Stockholm", "2026-03-29 02:30:00", false, 0, "2026-03-29", "02:30:00", "left out"},
		{"Europe/Stockholm", "2026-10-25 02:30:00", false, 0, "2026-10-25", "02:30:00", "twice"},
		{"Europe/Stockholm", "2026-10-25 02:30:00", true, 1, "2026-10-25", "02:30:00 +01:00", ""},
		{"Europe/Stockholm", "2026-10-25 03:00:00", false, 0, "2026-10-25", "03:00:00 +01:00", ""},
		{"Europe/Stockholm", "2026-10-25 01:59:59", false, 0, "2026-10-25", "01:59:59 +02:00", ""},
		{"+05:30", "2026-03-11 20:00:00", true, 0, "2026-03-12", "01:30:00 +05:30", ""},
		{"Asia/Kolkata", "2026-03-11 20:00:00", false, 0, "2026-03-11", "20:00:00 +05:30", ""},
	} {
		got := zone(t, c.zone).at(Taken{clockAt(c.wall), c.has, c.off * 3600})
		if got.day != day(c.day) || got.time != c.time || (c.doubt == "") != (got.why == "") || !strings.Contains(got.why, c.doubt) {
			t.Errorf("%s in %q: %s %s (%s), want %s %s (%s)", c.wall, c.zone, got.day, got.time, got.why, c.day, c.time, c.doubt)
		}
	}
	for _, bad := range []string{"Local", "../../etc/passwd", "Atlantis", "/etc/localtime"} {
		if _, err := ParseZone(bad); err == nil {
			t.Errorf("%q was taken for a zone", bad)
		}
	}
}

var visits = []Visit{
	{Key: "a", Day: day("2026-03-11"), By: "owner"}, {Key: "b", Day: day("2026-03-18"), By: "owner"},
	{Key: "yard", Day: day("2026-06-03"), By: "pictures"}, {Key: "call", Day: day("2026-07-29"), By: "call"},
	{Key: "c", Day: day("2026-08-26"), By: "surveyor"}, {Key: "c2", Day: day("2026-08-26"), By: "owner"},
	{Key: "next", Day: day("2026-09-09"), Planned: true},
}

func TestSort(t *testing.T) {
	for _, c := range []struct {
		name, wall, visit, doubt string
	}{
		{"its day", "2026-03-11 10:00:00", "a", ""},
		{"just before midnight", "2026-03-11 23:59:59", "a", ""},
		{"the day after", "2026-03-12 08:00:00", "a", "the day after the visit of Wed 11 March 2026"},
		{"the day before", "2026-03-17 08:00:00", "b", "the day before"},
		{"between", "2026-03-14 08:00:00", "", "no visit"},
		{"sent by the yard", "2026-05-29 08:00:00", "yard", "5 days before the yard's pictures"},
		{"long before the yard sent", "2026-05-19 08:00:00", "", "no visit"},
		{"after the yard sent", "2026-06-05 08:00:00", "", "no visit"},
		{"a call shows nothing", "2026-07-29 08:00:00", "", "no visit"},
		{"two visits", "2026-08-26 08:00:00", "c", "2 visits"},
		{"still to come", "2026-09-09 08:00:00", "next", "one to come"},
		{"a clock never set", "1980-01-01 00:03:00", "", "no visit"},
	} {
		got := Sort([]Shot{{Name: "IMG_1.jpg", Taken: Taken{Wall: clockAt(c.wall)}}}, visits, Clock{}, Zone{})[0]
		if got.Visit != c.visit || got.Asks || (c.doubt == "") != (got.Doubt == "") || !strings.Contains(got.Doubt, c.doubt) {
			t.Errorf("%s: %+v, want %q, %q", c.name, got, c.visit, c.doubt)
		}
	}
}

// The camera's clock is corrected once for a batch, or for one camera of it.
func TestClock(t *testing.T) {
	shots := []Shot{
		{Name: "a.jpg", Camera: "Box 3", Taken: Taken{Wall: clockAt("2026-03-10 23:10:00")}},
		{Name: "b.jpg", Camera: "Slab 9", Taken: Taken{Wall: clockAt("2026-03-11 00:05:00")}},
	}
	all := Sort(shots, visits, Clock{Add: 73 * time.Minute}, zone(t, "+01:00"))
	if all[0].Day != day("2026-03-11") || all[0].Time != "00:23:00 +01:00" || all[0].Doubt != "" || all[1].Time != "01:18:00 +01:00" {
		t.Errorf("all of them: %+v", all)
	}
	one := Sort(shots, visits, Clock{Add: 73 * time.Minute, Of: "Box 3"}, Zone{})
	if one[0].Time != "00:23:00" || one[1].Time != "00:05:00" {
		t.Errorf("one camera's: %+v", one)
	}
}

// A picture that says no time is asked about; its name and its neighbours
// speak for a visit, and no more.
func TestAsksByNameAndNeighbours(t *testing.T) {
	at := func(s string) Taken { return Taken{Wall: clockAt(s)} }
	shots := []Shot{
		{Name: "DCIM/IMG_0099.jpg", Taken: at("2026-03-11 09:00:00")},
		{Name: "DCIM/IMG_0100.jpg"},
		{Name: "DCIM/IMG_0101.jpg", Taken: at("2026-03-11 09:10:00")},
		{Name: "DCIM/IMG_0102.jpg"},
		{Name: "DCIM/IMG_0103.jpg", Taken: at("2026-03-18 09:10:00")},
		{Name: "20260318_101502.jpg"},
		{Name: "from the yard 2026-03-12.jpg"},
		{Name: "scan.jpg"},
		{Name: "other/IMG_0100.jpg"},
		{Name: "14052026311.jpg"},
	}
	got := Sort(shots, visits, Clock{}, Zone{})
	for i, want := range map[int]string{1: "a", 3: "", 5: "b", 6: "a", 7: "", 8: "", 9: ""} {
		if !got[i].Asks || got[i].Visit != "" || got[i].Guess != want {
			t.Errorf("%s: %+v, want a guess at %q", shots[i].Name, got[i], want)
		}
	}
	if got[1].Why != "its name stands between IMG_0099.jpg and IMG_0101.jpg" {
		t.Errorf("why: %q", got[1].Why)
	}
	if got[5].Day != day("2026-03-18") {
		t.Errorf("the day in its name: %v", got[5].Day)
	}
}

func TestNaturalOrder(t *testing.T) {
	in := []string{"IMG_9", "IMG_10", "IMG_0011", "IMG_a"}
	for i := range in {
		for k := range in {
			if natural(in[i], in[k]) != (i < k) {
				t.Errorf("%s before %s: %v", in[i], in[k], !(i < k))
			}
		}
	}
}

func TestFilmsAroundMidnight(t *testing.T) {
	shot := func(s string) Sorted {
		return Sort([]Shot{{Name: "v.mp4", Film: true, Taken: Taken{clockAt(s), true, 0}}}, visits, Clock{}, Zone{})[0]
	}
	if s := shot("2026-03-11 12:00:00"); s.Visit != "a" || s.Doubt != "" {
		t.Errorf("at noon: %+v", s)
	}
	if s := shot("2026-03-11 23:00:00"); s.Doubt == "" {
		t.Errorf("at eleven at night: %+v", s)
	}
}
