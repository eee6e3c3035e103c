package plan

import (
	"fmt"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/figure"
	"dogshore/internal/test"
	"dogshore/record"
	"dogshore/unit"
)

// template is the worked catamaran network of the reference sheet on build
// schedules, section 8: all durations invented there.
const template = `
HM 8 -
HL 12 HM
HI 2 HL
HP 3 HI+2
BF 20 HM:SS+3
HB 15 HP BF
HT 6 HB:SS+8
EN 8 HB:SS+5
FM 12 HB
DM 6 HM
DC 8 DM HI
DI 2 DC
DP 4 DI+2
BD 10 FM HT EN
MB 6 BD:SS+4
EL 3 BD
S1 15 BD
DJ 6 BD DP EL MB S1:SS+8
TP 8 DJ
FA 20 TP
PA 15 FA
S2 25 TP S1
IN 30 TP S2:FF+5
DH 10 PA
RG 80 HM:SS
LA 2 DH S2 IN
SR 3 LA RG
TR 8 SR`

// worked lays the template with its calendar: five days a week from Monday 1
// March 2027, four holidays.
func worked() *boat {
	b := newBoat("2027-03-01")
	put(b, "", "yard", record.Calendar{Name: "yard", Week: "Mon-Fri 1"})
	for _, day := range []string{"2027-03-26", "2027-03-29", "2027-05-03", "2027-05-31"} {
		put(b, "", day, record.Closure{Calendar: "calendar/yard", From: on(day), To: on(day)})
	}
	for _, line := range strings.Split(strings.TrimSpace(template), "\n") {
		f := strings.Fields(line)
		var days float64
		fmt.Sscan(f[1], &days)
		s := record.Step{Name: f[0], Part: "part/hull", Work: work(days)}
		if f[0] == "LA" {
			s.Stage = "launched"
		}
		put(b, "", f[0], s)
		for _, p := range f[2:] {
			if p == "-" {
				continue
			}
			l := record.Link{To: record.R("step", f[0]), Type: "FS"}
			from, lag, _ := strings.Cut(p, "+")
			from, typ, ok := strings.Cut(from, ":")
			if ok {
				l.Type = typ
			}
			if lag != "" {
				var x float64
				fmt.Sscan(lag, &x)
				l.Lag = wd(x)
			}
			l.From = record.R("step", from)
			put(b, "", from+"-"+f[0], l)
		}
	}
	return b
}

// pads adds a point before a step whose leads come to 21 working days, quoted.
func (b *boat) pads(step string) {
	put(b, "", "pads", record.Point{Question: "where do the deck pads sit?", CoveredBy: record.R("step", step), Gravity: "structure"})
	for what, days := range map[string]float64{"decide": 3, "designer's check": 8, "insert made": 10} {
		put(b, "", "lead-"+strings.Fields(what)[0], record.Lead{For: "point/pads", What: what, Work: wd(days), QuotedBy: "person/lead", QuotedOn: on("2027-03-01")})
	}
}

func days(d calendar.Day) float64 { return float64(d) }

func TestDecideByOnTheWorkedTemplate(t *testing.T) {
	const src = "reference sheet on build schedules, check 16: decide-by on the worked template, 21 working days of leads [computed there; durations invented]"
	for _, c := range []struct{ step, by string }{
		{"DC", "2027-03-01"}, {"HB", "2027-03-08"}, {"DJ", "2027-05-13"}, {"BD", "2027-04-16"},
	} {
		b := worked()
		b.pads(c.step)
		a := b.read()
		p := a.Points[0]
		test.Check(t, "decide by the end of, before "+c.step+" (day number)", src, days(on(c.by)), days(p.By.Day), 0)
		if p.By.Basis != desk.Durations || p.Guess {
			t.Errorf("%s: basis %q, guess %v", c.step, p.By.Basis, p.Guess)
		}
		checkWorking(t, p.By.Work)
		if x := act(t, a, "settle/point/pads"); x.By.Day != on(c.by) || x.Caution == "" {
			t.Errorf("%s: act by %s, caution %q", c.step, x.By.Day, x.Caution)
		}
	}
}

func TestStartsOnTheWorkedTemplate(t *testing.T) {
	const src = "reference sheet on build schedules, section 8: dates of the worked template [computed there; durations invented]"
	a := worked().read()
	for _, c := range []struct{ step, day string }{{"DC", "2027-04-02"}, {"DJ", "2027-06-15"}, {"LA", "2027-09-06"}} {
		test.Check(t, "start of "+c.step+" (day number)", src, days(on(c.day)), days(step(t, a, c.step).Start.Day), 0)
	}
	test.Check(t, "last day of TR (day number)", src, days(on("2027-09-22")), days(step(t, a, "TR").Finish.Day), 0)
	if a.Launch.Step != "step/LA" || a.Launch.Computed.Day != on("2027-09-07") || a.Launch.Caution == "" {
		t.Errorf("launch %+v", a.Launch)
	}
}

// checkWorking evaluates every rule "X = A - B" or "X = A + B ..." of a
// working with the inputs shown.
func checkWorking(t *testing.T, f figure.Figure) {
	t.Helper()
	if f.Rule != "" {
		words := strings.Fields(f.Rule)
		value := map[string]float64{}
		for _, of := range f.Of {
			value[of.Symbol] = of.Value
		}
		got, sign := 0.0, 1.0
		for _, w := range words[2:] {
			switch w {
			case "+":
				sign = 1
			case "-":
				sign = -1
			default:
				v, ok := value[w]
				if !ok {
					t.Fatalf("%q: %s is not shown", f.Rule, w)
				}
				got += sign * v
			}
		}
		if words[0] != f.Symbol || got-f.Value > 1e-9 || f.Value-got > 1e-9 {
			t.Errorf("%q gives %v, shown as %v", f.Rule, got, f.Value)
		}
	}
	for _, of := range f.Of {
		checkWorking(t, of)
	}
}

func TestSettleByCountsNoticeAndRemedy(t *testing.T) {
	const src = "reference sheet on yard practice, CV-18: settle-by of a headliner panel [computed there]; it names the day on whose morning the lead must begin"
	b := newBoat("2026-02-01")
	put(b, "", "lining", record.Step{Name: "lining", Part: "part/deck", Point: "witness", Notice: wd(3)})
	b.says("st", "2026-02-01", "step/lining", starts, "2026-03-16", "2026-03-16")
	put(b, "", "panel", record.Point{Question: "an access panel over the track nuts?", CoveredBy: "step/lining", Gravity: "finish"})
	put(b, "", "remedy", record.Lead{For: "point/panel", What: "remedy", Work: wd(10), QuotedBy: "person/lead"})
	p := b.read().Points[0]
	begin := p.By.Work.Of[0]
	test.Check(t, "settle-by: the lead begins on the morning of (day number)", src, days(on("2026-02-25")),
		days(on("2026-02-01"))+daysOn(begin, on("2026-02-01")), 0)
	if p.By.Day != on("2026-02-24") || p.By.Basis != desk.YardsWord || p.By.Said != "on Yard lead's word of 1 February" {
		t.Errorf("settle by the end of %s, %s", p.By.Day, p.By.Said)
	}
	checkWorking(t, p.By.Work)
}

// daysOn reads the civil day off a working's text.
func daysOn(f figure.Figure, from calendar.Day) float64 {
	for d := from; d < from+400; d++ {
		if f.Text == "start of "+d.Said() {
			return float64(d - from)
		}
	}
	return -1
}

func TestGuessesGiveNoDate(t *testing.T) {
	b := worked()
	b.pads("DC")
	put(b, "", "guess", record.Lead{For: "point/pads", What: "delivery", Wait: unit.Q(7*86400, unit.Time)})
	a := b.read()
	if p := a.Points[0]; !p.Guess || p.By.Known() {
		t.Errorf("guess %v, by %s: a lead that nobody quoted gives no date", p.Guess, p.By.Day)
	}
	if x := act(t, a, "lead/point/pads"); x.Before != "step/DC" || len(x.Why) != 1 {
		t.Errorf("ask the lead: %+v", x)
	}
	if x := act(t, a, "settle/point/pads"); x.By.Known() {
		t.Errorf("settle by %s", x.By.Day)
	}
}

func TestCutoffAndDecideByAreBothShown(t *testing.T) {
	for _, c := range []struct{ cutoff, governs string }{{"2027-05-01", "2027-05-01"}, {"2027-06-01", "2027-05-13"}} {
		b := worked()
		b.pads("DJ")
		put(b, "", "cut", record.Cutoff{Name: "choice of pads", Day: on(c.cutoff), About: "point/pads", Clause: "7"})
		a := b.read()
		p := a.Points[0]
		if p.By.Day != on("2027-05-13") || p.Cutoff.Day != on(c.cutoff) || p.Cutoff.Said != "by the contract, clause 7" {
			t.Errorf("by %s, cut-off %s %q", p.By.Day, p.Cutoff.Day, p.Cutoff.Said)
		}
		x := act(t, a, "settle/point/pads")
		if x.By.Day != on(c.governs) {
			t.Errorf("governs %s, want the earlier, %s", x.By.Day, c.governs)
		}
		if len(x.Why) < 4 {
			t.Errorf("the act shows %d reasons, not both dates", len(x.Why))
		}
	}
}

func TestDoorsCloseOneByOne(t *testing.T) {
	b := worked()
	put(b, "", "galley", record.Point{Question: "which worktop?", CoveredBy: "step/DJ", Gravity: "finish"})
	put(b, "", "stone", record.Option{Point: "point/galley", Name: "stone"})
	put(b, "", "wood", record.Option{Point: "point/galley", Name: "wood"})
	put(b, "", "stone-made", record.Lead{For: "option/stone", What: "made", Work: wd(30), QuotedBy: "person/lead"})
	put(b, "", "wood-made", record.Lead{For: "option/wood", What: "made", Work: wd(5), QuotedBy: "person/lead"})
	first := b.read().Points[0]
	if first.By.Day != first.Doors[0].By.Day || first.Doors[0].By.Day >= first.Doors[1].By.Day {
		t.Errorf("by %s, doors %s and %s", first.By.Day, first.Doors[0].By.Day, first.Doors[1].By.Day)
	}
	b.says("late", "2027-03-02", "step/DJ", starts, "2027-05-03", "2027-05-03")
	b.day = on("2027-04-20")
	p := b.read().Points[0]
	if p.Doors[0].By.Day >= b.day || p.By.Day != p.Doors[1].By.Day {
		t.Errorf("stone ended %s; the next door, %s, governs, not %s", p.Doors[0].By.Day, p.Doors[1].By.Day, p.By.Day)
	}
}

func TestElapsedLeadsRunThroughWeekends(t *testing.T) {
	b := newBoat("2027-03-01")
	put(b, "", "fit", record.Step{Name: "hardware", Part: "part/deck"})
	b.says("st", "2027-03-01", "step/fit", starts, "2027-05-03", "2027-05-03")
	put(b, "", "q", record.Point{Question: "which hatch?", CoveredBy: "step/fit", Gravity: "finish"})
	put(b, "", "deliver", record.Lead{For: "point/q", What: "made and delivered", Wait: unit.Q(42*86400, unit.Time), QuotedBy: "person/lead"})
	put(b, "", "choose", record.Lead{For: "point/q", What: "choose", Work: wd(3), QuotedBy: "person/lead"})
	p := b.read().Points[0]
	// Mon 3 May less 42 days is Mon 22 March; less 3 working days Wed 17; so by the end of Tue 16.
	if p.By.Day != on("2027-03-16") {
		t.Errorf("by the end of %s, want Tue 16 March", p.By.Day)
	}
	checkWorking(t, p.By.Work)
}

// A point of the next step that has earned no date stands above a dated point
// of a later step.
func TestUndatedPointOfTheNextStepComesFirst(t *testing.T) {
	b := newBoat("2027-03-10")
	b.chain("deck", "gelcoat", "core", "skin")
	put(b, "", "far", record.Point{Question: "Which paint?", CoveredBy: "step/deck-skin"})
	put(b, "", "near", record.Point{Question: "Which foam?", CoveredBy: "step/deck-gelcoat"})
	put(b, "", "c", record.Cutoff{Name: "paint", About: "point/far", Day: on("2027-03-12")})
	if got := b.read().Points[0].Key(); got != "near" {
		t.Errorf("first stands %s", got)
	}
}
