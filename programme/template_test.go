package programme_test

import (
	"testing"

	"dogshore/calendar"
	"dogshore/internal/test"
	"dogshore/programme"
)

// templateYard is the calendar of the worked catamaran: a five-day week and
// four holidays.
var templateYard = programme.Calendar{ID: "yard", Week: "Mon-Fri", Closures: []calendar.Closure{
	{From: calendar.Date(2027, 3, 26), To: calendar.Date(2027, 3, 26)},
	{From: calendar.Date(2027, 3, 29), To: calendar.Date(2027, 3, 29)},
	{From: calendar.Date(2027, 5, 3), To: calendar.Date(2027, 5, 3)},
	{From: calendar.Date(2027, 5, 31), To: calendar.Date(2027, 5, 31)},
}}

const template = `
	HM 8
	HL 12 HM
	HI 2 HL
	HP 3 HI+2
	BF 20 HM SS+3
	HB 15 HP, BF
	HT 6 HB SS+8
	EN 8 HB SS+5
	FM 12 HB
	DM 6 HM
	DC 8 DM, HI
	DI 2 DC
	DP 4 DI+2
	BD 10 FM, HT, EN
	MB 6 BD SS+4
	EL 3 BD
	S1 15 BD
	DJ 6 BD, DP, EL, MB, S1 SS+8
	TP 8 DJ
	FA 20 TP
	PA 15 FA
	S2 25 TP, S1
	IN 30 TP, S2 FF+5
	DH 10 PA
	RG 80 HM SS
	LA 2 DH, S2, IN
	SR 3 LA, RG
	TR 8 SR`

const templateSource = "schedule-money sheet, section 8: durations invented there, times by an independent program [computed]"

// templateRows are ES EF LS LF TF FF.
var templateRows = []struct {
	id   string
	want [6]float64
}{
	{"HM", [6]float64{0, 8, 0, 8, 0, 0}},
	{"HL", [6]float64{8, 20, 8, 20, 0, 0}},
	{"HI", [6]float64{20, 22, 20, 22, 0, 0}},
	{"HP", [6]float64{24, 27, 24, 27, 0, 0}},
	{"BF", [6]float64{3, 23, 7, 27, 4, 4}},
	{"HB", [6]float64{27, 42, 27, 42, 0, 0}},
	{"HT", [6]float64{35, 41, 48, 54, 13, 13}},
	{"EN", [6]float64{32, 40, 46, 54, 14, 14}},
	{"FM", [6]float64{42, 54, 42, 54, 0, 0}},
	{"DM", [6]float64{8, 14, 50, 56, 42, 8}},
	{"DC", [6]float64{22, 30, 56, 64, 34, 0}},
	{"DI", [6]float64{30, 32, 64, 66, 34, 0}},
	{"DP", [6]float64{34, 38, 68, 72, 34, 34}},
	{"BD", [6]float64{54, 64, 54, 64, 0, 0}},
	{"MB", [6]float64{58, 64, 66, 72, 8, 8}},
	{"EL", [6]float64{64, 67, 69, 72, 5, 5}},
	{"S1", [6]float64{64, 79, 64, 79, 0, 0}},
	{"DJ", [6]float64{72, 78, 72, 78, 0, 0}},
	{"TP", [6]float64{78, 86, 78, 86, 0, 0}},
	{"FA", [6]float64{86, 106, 86, 106, 0, 0}},
	{"PA", [6]float64{106, 121, 106, 121, 0, 0}},
	{"S2", [6]float64{86, 111, 101, 126, 15, 0}},
	{"IN", [6]float64{86, 116, 101, 131, 15, 15}},
	{"DH", [6]float64{121, 131, 121, 131, 0, 0}},
	{"RG", [6]float64{0, 80, 53, 133, 53, 53}},
	{"LA", [6]float64{131, 133, 131, 133, 0, 0}},
	{"SR", [6]float64{133, 136, 133, 136, 0, 0}},
	{"TR", [6]float64{136, 144, 136, 144, 0, 0}},
}

func templateCase(t testing.TB) programme.Case {
	return lines(t, []programme.Calendar{templateYard}, template)
}

func TestWorkedCatamaran(t *testing.T) {
	r := pass(t, templateCase(t))
	test.Check(t, "length of the catamaran, working days", templateSource, 144, worked(t, templateYard, r.Finish), 0)
	for _, row := range templateRows {
		s := times(t, r, row.id)
		got := [6]float64{
			worked(t, templateYard, s.EarlyStart), worked(t, templateYard, s.EarlyFinish),
			worked(t, templateYard, s.LateStart), worked(t, templateYard, s.LateFinish), s.Total, s.Free,
		}
		for i, what := range []string{"ES", "EF", "LS", "LF", "TF", "FF"} {
			test.Check(t, what+" of "+row.id+", working days", templateSource, row.want[i], got[i], 0)
		}
		if s.Critical != (row.want[4] == 0) {
			t.Errorf("%s critical = %v, with a float of %g", row.id, s.Critical, row.want[4])
		}
	}
	for _, d := range []struct {
		what      string
		got, want calendar.Day
	}{
		{"DC starts", times(t, r, "DC").FirstDay, calendar.Date(2027, 4, 2)},
		{"DJ starts", times(t, r, "DJ").FirstDay, calendar.Date(2027, 6, 15)},
		{"LA starts", times(t, r, "LA").FirstDay, calendar.Date(2027, 9, 6)},
		{"last day of TR", times(t, r, "TR").LastDay, calendar.Date(2027, 9, 22)},
	} {
		test.Check(t, d.what+", day number", templateSource, float64(d.want), float64(d.got), 0)
	}
}

// S1 drives DJ by its start, though its own finish has days to spare towards
// S2: the chain must run through it.
func TestChainThroughAStart(t *testing.T) {
	r := pass(t, templateCase(t))
	want := []string{"HM", "HL", "HI", "HP", "HB", "FM", "BD", "S1", "DJ", "TP", "FA", "PA", "DH", "LA", "SR", "TR"}
	got := r.LongestPath()
	if len(got) != len(want) {
		t.Fatalf("longest path %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Fatalf("longest path %v, want %v", got, want)
		}
	}
}

func TestDecideBy(t *testing.T) {
	r := pass(t, templateCase(t))
	yard, err := calendar.New(templateYard.Week, templateYard.Closures)
	if err != nil {
		t.Fatal(err)
	}
	leads := []programme.Lead{
		{Says: "decide", Days: 3, Calendar: yard},
		{Says: "designer's check", Days: 8, Calendar: yard},
		{Says: "insert made", Days: 10, Calendar: yard},
	}
	src := "schedule-money sheet, check 16 [computed]"
	for _, c := range []struct {
		what string
		from calendar.Moment
		d    float64
		day  calendar.Day
	}{
		{"deck pad, early", times(t, r, "DC").EarlyStart, 1, calendar.Date(2027, 3, 1)},
		{"deck pad, late", times(t, r, "DC").LateStart, 35, calendar.Date(2027, 4, 20)},
		{"bulkheads", times(t, r, "HB").EarlyStart, 6, calendar.Date(2027, 3, 8)},
		{"deck joined", times(t, r, "DJ").EarlyStart, 51, calendar.Date(2027, 5, 13)},
		{"bridgedeck", times(t, r, "BD").EarlyStart, 33, calendar.Date(2027, 4, 16)},
	} {
		d := programme.DecideBy(c.from, leads)
		test.Check(t, "decide-by of "+c.what+", working days", src, c.d, worked(t, templateYard, d), 0)
		test.Check(t, "decide-by of "+c.what+", by the end of day number", src, float64(c.day), float64(yard.ByEndOf(d)), 0)
	}
	var wednesdays []calendar.Day
	for d := calendar.Date(2027, 3, 3); d < calendar.Date(2027, 10, 1); d += 7 {
		wednesdays = append(wednesdays, d)
	}
	late, _ := calendar.LatestOf(wednesdays, calendar.Date(2027, 4, 20))
	test.Check(t, "last Wednesday for the late date, day number", src, float64(calendar.Date(2027, 4, 14)), float64(late), 0)
	if d, ok := calendar.LatestOf(wednesdays, calendar.Date(2027, 3, 1)); ok {
		t.Errorf("the early date has a visit left on %s, want none (%s)", d, src)
	}
}

// A supplier's weeks run on the supplier's own calendar.
func TestDecideByOnTwoCalendars(t *testing.T) {
	yard, err := calendar.New("Mon-Fri", nil)
	if err != nil {
		t.Fatal(err)
	}
	maker, err := calendar.New("Mon-Fri", []calendar.Closure{{From: calendar.Date(2027, 8, 2), To: calendar.Date(2027, 8, 20)}})
	if err != nil {
		t.Fatal(err)
	}
	start := calendar.At(calendar.Date(2027, 8, 23)) // a Monday, just after the maker's shutdown
	d := programme.DecideBy(start, []programme.Lead{
		{Says: "decide", Days: 2, Calendar: yard},
		{Says: "make", Days: 5, Calendar: maker},
		{Says: "sea freight", Hours: 48},
	})
	// 48 h before Monday 00:00 is Saturday 21 August; the five days before are
	// 26 to 30 July; two yard days before Monday 26 July begin on Thursday 22.
	if got := d.String(); got != "2027-07-22 08:00" {
		t.Errorf("decide by %s, want 2027-07-22 08:00", got)
	}
}
