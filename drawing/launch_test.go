package drawing_test

import (
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/drawing"
	"dogshore/programme"
)

func TestLaunchDrawsEveryVisit(t *testing.T) {
	visits := []drawing.LaunchAt{
		{Visit: today - 60},
		{Visit: today - 40, Reckoned: today + 80, Said: today + 50},
		{Visit: today - 20, Dated: true, Said: today + 60, P80: moment(130), Dates: programme.Dates{P10: moment(60), P50: moment(90), P90: moment(150)}, Even: [2]calendar.Moment{moment(89), moment(91)}},
		{Visit: today, Dated: true, Said: today + 60, P80: moment(110), Dates: programme.Dates{P10: moment(70), P50: moment(95), P90: moment(120)}, Even: [2]calendar.Moment{moment(76), moment(101)}},
	}
	d := drawing.Launch(visits, today+75, today)
	svg := string(d.SVG())
	wellFormed(t, svg)
	low, high := d.Reach()
	if low.X < 0 || low.Y < -0.5 || high.X > d.W || high.Y > d.H+0.5 {
		t.Errorf("drawn from %v to %v on %v by %v", low, high, d.W, d.H)
	}
	for _, v := range visits {
		if !strings.Contains(svg, v.Visit.Time().Format("2 Jan 2006")) {
			t.Errorf("the visit of %s is missing", v.Visit)
		}
	}
	for _, want := range []string{"no date by reckoning", "contract"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the drawing lacks %q", want)
		}
	}
	for i, want := range []string{"no date by reckoning", "by the durations entered", "could be as early as", "4 in 5 by"} {
		if says := visits[i].Says(visits[i].Visit); !strings.Contains(says, want) {
			t.Errorf("%q lacks %q", says, want)
		}
	}
	if says := (drawing.LaunchAt{Afloat: today}).Says(today); says != "seen afloat by Tue 16 March 2027" {
		t.Error(says)
	}
}

// A launch that is seen needs no forecast, and no visit draws nothing.
func TestLaunchOfNothing(t *testing.T) {
	wellFormed(t, string(drawing.Launch(nil, 0, today).SVG()))
	wellFormed(t, string(drawing.Launch([]drawing.LaunchAt{{Visit: today, Afloat: today - 3}}, 0, today).SVG()))
}
