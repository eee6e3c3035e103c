package calendar_test

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/internal/test"
	"dogshore/unit"
)

// today of these tests is a Thursday.
var today = calendar.Date(2027, 4, 1)

func TestParseSpan(t *testing.T) {
	for text, want := range map[string]string{
		"2027-04-12":             "2027-04-12",
		"2027-04-12 00:00:00":    "2027-04-12",
		"12.4.2027":              "2027-04-12",
		"12.04.27":               "2027-04-12",
		"12.4.":                  "2027-04-12",
		"12 April 2027":          "2027-04-12",
		"12. April 2027":         "2027-04-12",
		"12th of April 2027":     "2027-04-12",
		"April 12, 2027":         "2027-04-12",
		"Apr 12":                 "2027-04-12",
		"12-Apr-2027":            "2027-04-12",
		"12-Apr-27":              "2027-04-12",
		"12 Apr":                 "2027-04-12",
		"Mon 12 April":           "2027-04-12",
		"Monday, 12 April 2027":  "2027-04-12",
		"20 December":            "2026-12-20", // nearer than that of 2027
		"25/12/2026":             "2026-12-25",
		"12/25/2026":             "2026-12-25",
		"4/4/2027":               "2027-04-04", // both readings are the same day
		"W34":                    "2027-W34",
		"w 34":                   "2027-W34",
		"week 34":                "2027-W34",
		"KW 34":                  "2027-W34",
		"KW34/2026":              "2026-W34",
		"week 34 of 2026":        "2026-W34",
		"2027-W34":               "2027-W34",
		"2027W34":                "2027-W34",
		"2027-W09-1":             "2027-03-01",
		"week of 14 April":       "2027-W15",
		"week 50":                "2026-W50",
		"May 2027":               "2027-05",
		"in May":                 "2027-05",
		"2027-05":                "2027-05",
		"end of May":             "2027-05-21/2027-05-31",
		"early June":             "2027-06-01/2027-06-10",
		"mid June":               "2027-06-11/2027-06-20",
		"mid-June 2028":          "2028-06-11/2028-06-20",
		"end of February 2028":   "2028-02-21/2028-02-29",
		"2027-04-12/2027-04-20":  "2027-04-12/2027-04-20",
		"12 to 20 April":         "2027-04-12/2027-04-20",
		"12–20 April 2027":       "2027-04-12/2027-04-20",
		"28 April to 3 May 2027": "2027-04-28/2027-05-03",
		"12.4.2027 - 20.4.2027":  "2027-04-12/2027-04-20",
		"29 February 2028":       "2028-02-29",
	} {
		s, err := calendar.ParseSpan(text, today)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if s.String() != want || s.As != text {
			t.Errorf("%q = %s as %q, want %s", text, s, s.As, want)
		}
	}
}

// A date without a year that has a 29th of February finds a leap year.
func TestNearestYear(t *testing.T) {
	for _, c := range []struct {
		text  string
		today calendar.Day
		want  string
	}{
		{"29 Feb", calendar.Date(2027, 4, 1), "2028-02-29"},
		{"3 January", calendar.Date(2026, 12, 28), "2027-01-03"},
		{"28 December", calendar.Date(2027, 1, 3), "2026-12-28"},
		{"W01", calendar.Date(2026, 12, 20), "2027-01-04"},
		{"W53", calendar.Date(2027, 1, 3), "2026-12-28"},
		{"1 October", calendar.Date(2027, 4, 1), "2026-10-01"}, // 182 days back, 183 on
	} {
		s, err := calendar.ParseSpan(c.text, c.today)
		if err != nil || s.First.String() != c.want {
			t.Errorf("%q said on %s = %s, %v; want %s", c.text, c.today, s.First, err, c.want)
		}
	}
}

func TestDayAsked(t *testing.T) {
	_, err := calendar.ParseDay("03/04/2026", today)
	var a *unit.Ambiguous
	if !errors.As(err, &a) || !slices.Equal(a.Readings, []string{"3 April 2026", "4 March 2026"}) {
		t.Fatalf("03/04/2026: %v", err)
	}
	for _, r := range a.Readings {
		if _, err := calendar.ParseDay(r, 0); err != nil {
			t.Errorf("%q is offered and not read: %v", r, err)
		}
	}
	var n *unit.Absent
	if _, err := calendar.ParseDay("tbc", today); !errors.As(err, &n) || !n.Due {
		t.Errorf("tbc: %v, want it absent and due", err)
	}
}

func TestDayRefused(t *testing.T) {
	for text, says := range map[string]string{
		"Mon 13 April 2027":     "is a Tuesday; the nearest Monday is 12 April 2027",
		"Sunday 12 April 2027":  "is a Monday; the nearest Sunday is 11 April 2027",
		"30 February 2027":      "no such day",
		"2027-13-01":            "no such day",
		"2026-W54":              "has no week 54",
		"2027-W53":              "has no week 53",
		"W34":                   "one day is asked for",
		"soon":                  "write 2027-04-12",
		"12 Apricot":            "write 2027-04-12",
		"1.200":                 "write",
		"12 April 1823":         "outside the years",
		"20 April to 12 April":  "ends",
		strings.Repeat("9", 90): "not 90 characters",
	} {
		d, err := calendar.ParseDay(text, today)
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q = %s, %v; want a refusal that says %q", text, d, err, says)
		}
	}
	if _, err := calendar.ParseDay("12 April", 0); err == nil || !strings.Contains(err.Error(), "year") {
		t.Errorf("a day without a year and no today: %v", err)
	}
}

// ISO 8601 weeks at the end of the year.
func TestISOWeekTraps(t *testing.T) {
	const src = "ISO 8601 week dates, schedule sheet section 7 [computed]: 2027-01-01 is 2026-W53-5, 2024-12-30 is 2025-W01-1"
	for _, c := range []struct {
		week string
		want calendar.Day
	}{
		{"2026-W53-5", calendar.Date(2027, 1, 1)},
		{"2025-W01-1", calendar.Date(2024, 12, 30)},
	} {
		d, err := calendar.ParseDay(c.week, 0)
		if err != nil {
			t.Fatal(err)
		}
		test.Check(t, c.week+" as a day number from 1900", src, float64(c.want), float64(d), 0)
		y, w := d.Week()
		if s, _ := calendar.ParseSpan(c.week[:8], 0); s.First > d || s.Last < d || y*100+w != num(c.week[:4])*100+num(c.week[6:8]) {
			t.Errorf("%s is %s, of week %d-W%02d", c.week, d, y, w)
		}
	}
}

func num(s string) (n int) {
	for _, c := range s {
		n = 10*n + int(c-'0')
	}
	return n
}

// Every day and every week prints so that it is read back.
func TestDaysReadBack(t *testing.T) {
	for d := calendar.Date(2019, 12, 1); d < calendar.Date(2034, 2, 1); d++ {
		for _, text := range []string{d.String(), d.Said(), d.Time().Format("2.1.2006"), d.Time().Format("Jan 2 2006")} {
			if back, err := calendar.ParseDay(text, 0); err != nil || back != d {
				t.Fatalf("%s printed as %q reads as %s, %v", d, text, back, err)
			}
		}
		monday := d - calendar.Day((int(d.Weekday())+6)%7)
		week := calendar.Span{First: monday, Last: monday + 6}
		if back, err := calendar.ParseSpan(week.String(), 0); err != nil || back.First != week.First || back.Last != week.Last {
			t.Fatalf("the week of %s printed as %q reads as %+v, %v", d, week, back, err)
		}
	}
}

func FuzzParseSpan(f *testing.F) {
	for _, s := range []string{"12.4.2027", "03/04/2026", "W34", "end of May", "Mon 13 April", "12 to 20 April", "29 feb", "2027-W53-7", "99/99/9999", "week of week of 3 May", "\u00a0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := calendar.ParseSpan(text, today)
		if err != nil {
			return
		}
		if s.First > s.Last || !s.Known() {
			t.Fatalf("%q = %+v", text, s)
		}
		back, err := calendar.ParseSpan(s.String(), 0)
		if err != nil || back.First != s.First || back.Last != s.Last {
			t.Fatalf("%q prints as %q, which reads as %+v, %v", text, s, back, err)
		}
	})
}

// Far days are themselves: 1900 to 2199 are 300 years of 365 days and 73 leap
// days (every fourth year from 1904 to 2196, but 2100).
func TestFarDays(t *testing.T) {
	if last := calendar.Date(2199, time.December, 31); last != 300*365+73 || last.String() != "2199-12-31" {
		t.Errorf("the last day is %d, %s", last, last)
	}
	for _, text := range []string{"2200-01-01", "2226-01-01", "9999-12-31", "1949-12-31", "1200-01-01"} {
		if d, err := calendar.ParseISO(text); err == nil {
			t.Errorf("%s is read as %s", text, d)
		}
	}
	for y := 1950; y <= 2199; y++ {
		text := time.Date(y, time.March, 1, 0, 0, 0, 0, time.UTC).Format("2006-01-02")
		if d, err := calendar.ParseISO(text); err != nil || d.String() != text {
			t.Errorf("%s is read as %s, %v", text, d, err)
		}
	}
}
