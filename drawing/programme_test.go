package drawing_test

import (
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/drawing"
	"dogshore/internal/draw"
	"dogshore/programme"
	"dogshore/record"
)

var today = calendar.Date(2027, 3, 16)

func moment(after int) calendar.Moment { return calendar.At(today + calendar.Day(after)) }

func spreadStep(key string, low, mid, high int) plan.Step {
	s := plan.Step{State: "not started", Ahead: 1}
	s.Self, s.Name, s.Part = record.R("step", key), "Deck "+key, "part/deck"
	s.Outlook = programme.StepOutlook{StartDated: true, Dated: true, Critical: 0.7,
		Start:  programme.Dates{P10: moment(low), P50: moment(mid), P90: moment(high)},
		Finish: programme.Dates{P10: moment(low + 12), P50: moment(mid + 15), P90: moment(high + 20)}}
	return s
}

func invented() drawing.Programme {
	week, err := calendar.New("Mon-Thu 1, Fri 0.5", []calendar.Closure{{From: today + 20, To: today + 27, Why: "Easter"}})
	if err != nil {
		panic(err)
	}
	core := spreadStep("core", 5, 9, 20)
	core.Covers, core.Point = []record.Ref{"cover/deck-core"}, "hold"
	skin := spreadStep("inner skin", 30, 41, 60)
	told := plan.Step{State: "not started"}
	told.Self, told.Name, told.Part = "step/mast", "Mast stepped", "part/rig"
	told.Start = desk.When{Day: today + 70, Basis: desk.YardsWord}
	told.Finish = desk.When{Day: today + 74, Basis: desk.YardsWord}
	reckoned := told
	reckoned.Self, reckoned.Name, reckoned.Part = "step/boom", "Boom fitted", "part/rig"
	reckoned.Start.Basis, reckoned.Finish.Basis = desk.Durations, desk.Durations
	gone := plan.Step{State: "done", Grounds: record.Seen}
	gone.Self, gone.Name, gone.Part = "step/gelcoat", "Deck gelcoat", "part/deck"
	gone.Times = programme.Times{StartFrom: today - 20, StartBy: today - 14, FinishFrom: today - 12, FinishBy: today - 7}
	none := plan.Step{State: "not known"}
	none.Self, none.Name, none.Ahead = "step/later", "Somewhere later", 3
	point := plan.Point{Step: core.Self, By: desk.When{Day: today + 2, Basis: desk.ByChance}}
	return drawing.Programme{
		Steps:  []plan.Step{gone, core, skin, told, reckoned, none},
		Points: []plan.Point{point},
		Looks:  map[record.Ref][]drawing.Look{gone.Self: {{Day: today - 14, State: "under way", Own: true}, {Day: today - 7, State: "done", Own: true}}},
		Path:   map[record.Ref]int{core.Self: 1, skin.Self: 2},
		Called: func(r record.Ref) string { return r.Key() },
		Today:  today, From: today - 30, To: today + 120, Week: week,
	}
}

func svgOf(t *testing.T, s drawing.ProgrammeSheet) string {
	t.Helper()
	var b strings.Builder
	for _, d := range slices.Concat(s.Sheets, s.ByOrder) {
		svg := string(d.SVG())
		for dec := xml.NewDecoder(strings.NewReader(svg)); ; {
			_, err := dec.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		low, high := d.Reach()
		if low.X < 0 || low.Y < -0.5 || high.X > d.W+0.5 || high.Y > d.H+0.5 {
			t.Errorf("%s: drawn from %v to %v on %v by %v", d.Title, low, high, d.W, d.H)
		}
		b.WriteString(svg)
	}
	if dir := os.Getenv("DRAWINGS"); dir != "" {
		_ = os.WriteFile(dir+"/"+t.Name()+".svg", []byte(b.String()), 0o600)
	}
	return b.String()
}

func TestProgrammeShowsEveryStepOnce(t *testing.T) {
	sheet := drawing.DrawProgramme(invented())
	svg := svgOf(t, sheet)
	for _, key := range []string{"gelcoat", "core", "inner skin", "mast", "boom"} {
		if n := strings.Count(svg, `href="/step/`+key+`"`); n != 1 {
			t.Errorf("%s is drawn %d times", key, n)
		}
	}
	if sheet.Undated != 1 || sheet.Outside != 0 || len(sheet.ByOrder) != 1 {
		t.Errorf("left out: %+v", sheet)
	}
	for _, want := range []string{"1. Deck core", "could be as early as", "told", "by durations", "today", "March 2027", "shut", `class="lead"`} {
		if !strings.Contains(svg, want) {
			t.Errorf("the drawing lacks %q", want)
		}
	}
}

func TestProgrammeOutsideTheRange(t *testing.T) {
	g := invented()
	g.From, g.To = today+60, today+90
	sheet := drawing.DrawProgramme(g)
	svgOf(t, sheet)
	if sheet.Outside != 2 { // gelcoat and core; the inner skin may end as late as 80 days from now
		t.Errorf("%d steps outside", sheet.Outside)
	}
}

// Without any date there are no bars, but the order.
func TestProgrammeByOrder(t *testing.T) {
	g := invented()
	for i := range g.Steps {
		s := &g.Steps[i]
		s.State, s.Ahead = "not known", i
		s.Outlook, s.Start, s.Finish, s.Times = programme.StepOutlook{}, desk.When{}, desk.When{}, programme.Times{}
	}
	sheet := drawing.DrawProgramme(g)
	svg := svgOf(t, sheet)
	if sheet.Sheets != nil || strings.Contains(svg, "March 2027") || strings.Contains(svg, `class="hatch"`) {
		t.Error("dates are drawn that nobody earned")
	}
	if n := strings.Count(svg, `href="/step/`); n != len(g.Steps) {
		t.Errorf("%d of %d steps", n, len(g.Steps))
	}
}

// A build of 350 steps stays readable: every name is there, in type of one
// size, and no sheet is taller than a page.
func TestProgrammeOf350Steps(t *testing.T) {
	g := invented()
	g.Steps, g.To = nil, today+500
	for i := range 350 {
		s := spreadStep(fmt.Sprintf("step-%d", i), i, i+7, i+30)
		s.Part = record.R("part", fmt.Sprint(i/16))
		g.Steps = append(g.Steps, s)
	}
	sheet := drawing.DrawProgramme(g)
	svg := svgOf(t, sheet)
	if n := strings.Count(svg, ">Deck step-"); n != 350 {
		t.Errorf("%d names", n)
	}
	for _, d := range sheet.Sheets {
		if d.H > 182 || d.W > 269 {
			t.Errorf("a sheet of %v by %v does not fit A4 across", d.W, d.H)
		}
	}
	if len(svg) > 700_000 {
		t.Errorf("%d bytes", len(svg))
	}
}

func TestProgrammeKeyKeepsToItsSheet(t *testing.T) {
	svg := svgOf(t, drawing.ProgrammeSheet{Sheets: []*draw.Drawing{drawing.ProgrammeKey()}})
	for _, want := range []string{"only told", "covers something up", "last day to settle a point", "today"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the key lacks %q", want)
		}
	}
}
