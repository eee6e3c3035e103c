package review

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// guesses are three guesses about so many days.
func guesses(days float64) record.ThreePoint {
	return record.ThreePoint{Known: true, Low: days / 1.5, Mode: days, High: days * 1.5, Dim: unit.Work, As: fmt.Sprintf("%g d", days)}
}

// foreseen is a build on the level of the forecast by the 30th: six small steps
// seen from before their start to their end at weekly visits, and a chain to the
// launch of which nobody has seen anything yet. Two hulls need one mould.
func atForecast(t testing.TB) *build {
	b := newBuild(t)
	step := func(key string, days float64, after ...string) {
		always(b, key, record.Step{Name: key, Work: guesses(days)})
		for _, a := range after {
			always(b, a+"-"+key, record.Link{From: record.R("step", a), To: record.R("step", key), Type: "FS"})
		}
	}
	for i := range 6 {
		step(fmt.Sprint("fix-", i), 4)
	}
	step("core", 10)
	step("skin", 8, "core")
	step("joined", 10, "skin")
	mould := always(b, "mould", record.Stand{Name: "hull mould"})
	for _, side := range []string{"port", "starboard"} {
		part := always(b, side, record.Part{Name: side + " hull"})
		always(b, side+"-laid", record.Step{Name: side + " hull laid", Part: part, Stand: mould, Work: guesses(9)})
		step(side+"-fitted", 30, side+"-laid")
		always(b, side+"-fitted-joined", record.Link{From: record.R("step", side+"-fitted"), To: "step/joined", Type: "FS"})
	}
	always(b, "afloat", record.Step{Name: "afloat", Stage: "launched", Work: guesses(2)})
	always(b, "joined-afloat", record.Link{From: "step/joined", To: "step/afloat", Type: "FS"})
	for k := range 5 {
		b.today = day(1 + 7*k)
		v := b.visit("owner")
		for i := range 6 {
			if at := k - i/2; at >= 0 && at <= 2 {
				b.see(v, fmt.Sprint("fix-", i), []string{"not started", "under way", "done"}[at])
			}
		}
		b.see(v, "core", "not started")
	}
	b.today = day(30)
	return b
}

// A week later the core was seen under way, late: what moved the launch says so,
// in words whose numbers add up, and unfolds to a working that does.
func TestWhatMovedTheLaunch(t *testing.T) {
	b := atForecast(t)
	b.today = day(36)
	v := b.visit("owner")
	b.see(v, "core", "under way")
	b.see(v, "port-laid", "not started")
	got := b.review(day(37))
	m := got.Since.Launch
	if got.Level != desk.ByForecast || got.Since.Visit.Self != v || m == nil {
		t.Fatalf("level %s, since %s: %+v", got.Level, got.Since.Visit.Self, m)
	}
	if !m.None || !strings.HasSuffix(m.Says, "no difference that can be told.") || m.Parts != nil || m.Steps != nil || m.Over != "" {
		t.Errorf("a day after a visit: %+v", m)
	}
	// A fortnight on, at the next visit.
	b.today = day(50)
	w := b.visit("owner")
	b.see(w, "core", "under way")
	b.see(w, "port-laid", "under way")
	got = b.review(day(50))
	m = got.Since.Launch
	if got.Since.Visit.Self != v || m == nil || m.None {
		t.Fatalf("since %s: %+v", got.Since.Visit.Self, m)
	}
	sum, steps := m.Remainder, m.Rest
	for _, p := range m.Parts {
		sum += p.Days
	}
	for _, s := range m.Movement.Steps {
		steps += s.Days
	}
	if len(m.Parts) != 5 || math.Abs(sum-m.Days) > 1e-9 || math.Abs(steps-m.Parts[1].Days) > 1e-9 || math.Abs(m.Missed) > 0.05 {
		t.Errorf("groups add up to %g of %g days, steps to %g of %g, %g no step's", sum, m.Days, steps, m.Parts[1].Days, m.Missed)
	}
	if !strings.Contains(m.Says, " then, ") || !strings.Contains(m.Over, "Left over by the groups: less than a working day.") {
		t.Errorf("%q, %q", m.Says, m.Over)
	}
	for _, p := range m.Parts {
		if told := math.Abs(p.Days) >= m.Band; told == (p.Says == "nothing that can be told") || p.Why == "" {
			t.Errorf("%+v in a band of %g days", p, m.Band)
		}
	}
	for _, s := range m.Steps {
		if s.About == "" || s.Name != s.About.Key() && !strings.HasSuffix(s.Name, " laid") || math.Abs(s.Days) < 1 {
			t.Errorf("step %+v", s)
		}
	}
	if err := figure.Check(m.Work, nil); err != nil || m.Work.Value != m.Days {
		t.Errorf("working of %g: %v", m.Work.Value, err)
	}
}

// The document has what moved the launch and the order at the mould, and the
// launch's fact the order in words.
func TestDocumentOfAForecast(t *testing.T) {
	b := atForecast(t)
	b.today = day(43)
	b.see(b.visit("owner"), "core", "under way")
	v := b.review(day(43))
	d := v.document()
	l := d.Since.Launch
	if l == nil || len(l.Groups) != 5 || l.Groups[1].Group != "sightings" || len(l.Steps) == 0 || l.Steps[0].Name == "" || l.Working.Rule == "" || l.Words != v.Since.Launch.Says {
		t.Fatalf("%+v", l)
	}
	if len(d.Stands) != 1 || d.Stands[0].Stand.Name != "hull mould" || len(d.Stands[0].Turns) != 2 || d.Stands[0].Trials != 200 || d.Stands[0].Working.Rule == "" {
		t.Fatalf("%+v", d.Stands)
	}
	for _, f := range v.Facts {
		if f.Name == "launch" && (!strings.Contains(f.Says, "At the hull mould: the ") || !strings.Contains(f.Says, "of 200 trials") || f.Why[len(f.Why)-1].Rule == "") {
			t.Errorf("launch: %q", f.Says)
		}
	}
}

// A memo says the same as a reading that keeps nothing, learns of a visit once,
// and again only when something new is known of it.
func TestMemoOfWhatMovedChangesNothing(t *testing.T) {
	b := atForecast(t)
	b.today = day(43)
	b.see(b.visit("owner"), "core", "under way")
	var memo Memo
	ask := func(d int) *Moved {
		v, err := memo.Read(context.Background(), b, day(d), journal.Now)
		if err != nil {
			t.Fatal(err)
		}
		if v.Since.Launch != nil {
			t.Fatal("said without being asked")
		}
		m, err := memo.Moved(context.Background(), b, &v)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	for range 2 {
		if got, want := ask(43), b.review(day(43)).Since.Launch; !reflect.DeepEqual(got, want) {
			t.Errorf("by memo %+v, afresh %+v", got, want)
		}
	}
	kept := memo.account.then
	b.today = day(44)
	put(b, record.Told, "q", record.Point{Question: "which colour?"})
	if ask(43); &kept.Learned.Draws[0] != &memo.account.then.Learned.Draws[0] {
		t.Error("learned once more though nothing new was known of the visit")
	}
	putSince(b, day(20), record.Written, "fix-0", record.Step{Work: guesses(9)})
	got, want := ask(43), b.review(day(43)).Since.Launch
	if !reflect.DeepEqual(got, want) {
		t.Errorf("after news of earlier days: by memo %+v, afresh %+v", got, want)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	v, err := new(Memo).Read(context.Background(), b, day(43), journal.Now)
	if err != nil {
		t.Fatal(err)
	}
	if m, err := new(Memo).Moved(ctx, b, &v); m != nil || err == nil {
		t.Errorf("broken off: %+v, %v", m, err)
	}
	below := thin(t).review(day(8))
	if m, err := memo.Moved(context.Background(), b, &below); m != nil || err != nil {
		t.Errorf("below the forecast: %+v, %v", m, err)
	}
}

// What is far off is said coarsely wherever a review says a day: an act's day
// within two weeks as a day, within eight as a week, beyond as a month; and the
// launch, which is months off, never as a day.
func TestFarDaysAreCoarse(t *testing.T) {
	b := atForecast(t)
	for i, step := range []string{"core", "skin", "joined", "port-fitted", "starboard-fitted", "afloat"} {
		put(b, record.Told, step, record.Point{Question: "what of " + step + "?", CoveredBy: record.R("step", step), Gravity: []string{"finish", "structure"}[i%2]})
		put(b, record.Told, step, record.Lead{For: record.R("point", step), What: "choose", Work: unit.Q(1, unit.Work), QuotedBy: "person/lead"})
	}
	v := b.review(day(30))
	kinds := map[string]int{}
	for _, a := range v.Acts {
		if !a.By.Known() {
			continue
		}
		words, day := a.By.Line(v.Day), a.By.Day.Time()
		exact := strings.Contains(words, day.Format("Mon 2 January"))
		switch ahead := int(a.By.Day - v.Day); {
		case ahead <= 14:
			kinds["day"]++
			if !exact {
				t.Errorf("%d days off: %q", ahead, words)
			}
		case ahead <= 56:
			kinds["week"]++
			if exact || !strings.Contains(words, "the week of ") {
				t.Errorf("%d days off: %q", ahead, words)
			}
		default:
			kinds["month"]++
			if exact || strings.Contains(words, "week of") || !strings.Contains(words, day.Format("January 2006")) {
				t.Errorf("%d days off: %q", ahead, words)
			}
		}
	}
	if kinds["day"] == 0 || kinds["week"] == 0 || kinds["month"] == 0 {
		t.Errorf("acts by %v", kinds)
	}
	for _, f := range v.Facts {
		if f.Name == "launch" && (!strings.Contains(f.Says, "July 2026") || strings.Contains(f.Says, "Mon ") || strings.Contains(f.Says, "Fri ")) {
			t.Errorf("the launch: %q", f.Says)
		}
	}
}
