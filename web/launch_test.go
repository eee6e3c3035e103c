package web_test

import (
	"html"
	"io"
	"log/slog"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/demo"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/store"
	"dogshore/web"
)

// fullDemo opens the demo build that is on the level of the forecast.
func fullDemo(t *testing.T) (*store.Folder, calendar.Day, func() time.Time) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "boat")
	if err := demo.Make(t.Context(), dir, demo.Full); err != nil {
		t.Fatal(err)
	}
	day, err := demo.Today(demo.Full)
	if err != nil {
		t.Fatal(err)
	}
	evening := func() time.Time { return demo.Evening(day) }
	f, err := store.Open(t.Context(), dir, evening)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	return f, day, evening
}

// What moved the launch between two visits adds up to the whole, group by
// group and step by step, and a visit without another moves nothing.
func TestWhatMovedAddsUp(t *testing.T) {
	if testing.Short() {
		t.Skip("dozens of forecasts")
	}
	f, day, _ := fullDemo(t)
	known := func(d calendar.Day) plan.Known {
		r, err := f.As(t.Context(), d, journal.Now)
		if err != nil {
			t.Fatal(err)
		}
		a := plan.Read(r)
		return a.Known()
	}
	now, then := known(day), known(day-15)
	m, ok := plan.LaunchMoved(t.Context(), then, now)
	if !ok {
		t.Skip("the demo is below the level of the forecast")
	}
	sum := m.Remainder
	for _, p := range m.Parts {
		sum += p.Days
		if p.Group == "sightings" {
			steps := m.Rest
			for _, s := range m.Steps {
				steps += s.Days
			}
			if math.Abs(steps-p.Days) > 1e-9 {
				t.Errorf("steps add up to %v of %v days", steps, p.Days)
			}
		}
	}
	if len(m.Parts) != 5 || math.Abs(sum-m.Days) > 1e-9 {
		t.Errorf("%d groups add up to %v of %v days", len(m.Parts), sum, m.Days)
	}
	if m, _ := plan.LaunchMoved(t.Context(), now, now); m.Days != 0 || !m.None {
		t.Errorf("from now to now: %+v", m)
	}
}

// The launch page says what was to be expected at each visit, in the words of
// chances, with its cautions; asked again it has what there was no time for.
func TestLaunchOverTheVisits(t *testing.T) {
	f, _, evening := fullDemo(t)
	b := &browse{t: t, site: web.New(f, evening, slog.New(slog.NewTextHandler(io.Discard, nil)))}
	body := b.get("/launch").Body.String()
	for _, want := range []string{"The launch over the visits", "says nothing of whether she is ready", "no promise of the yard", "Dates that were said"} {
		if !strings.Contains(body, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if strings.Contains(body, "still being worked out") || strings.Contains(body, "no time yet") {
		return // a slow machine: the rest comes when it is asked for again
	}
	for _, want := range []string{"ould be as early as", "as likely before as after", "4 in 5 by"} {
		if !strings.Contains(body, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
}

// A change that is tried on is answered, and nothing is written.
func TestWhatIfWritesNothing(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	before := b.get("/last").Body.String()
	for path, want := range map[string]string{
		"/programme?if=deck-core&later=2":    "does not start before Mon 5 April 2027 (2 weeks later than now)",
		"/step/deck-core?later=1":            "does not start before Mon 29 March 2027 (1 week later than now)",
		"/programme?if=deck-gelcoat&later=2": "is done: nothing can be tried on it any more",
		"/programme?if=deck-bagged&later=2":  "Nobody has said when",
		"/programme?if=deck-bagged&more=2":   "Nobody has said how long",
		"/programme?if=mast-step&later=2":    "There is no step “mast-step”",
		"/programme?if=deck-core&later=-2":   "“-2” is no number of weeks from 0 to 104",
		"/programme?if=deck-core&later=NaN":  "“NaN” is no number of weeks",
	} {
		if body := b.get(path).Body.String(); !strings.Contains(body, want) {
			t.Errorf("%s does not say %q", path, want)
		}
	}
	if after := b.get("/last").Body.String(); after != before {
		t.Errorf("entry %s after %s", after, before)
	}
}

// The review says what moved the launch since the last visit, once it is worked
// out, and unfolds it; the page never waits for long.
func TestReviewSaysWhatMovedTheLaunch(t *testing.T) {
	if testing.Short() {
		t.Skip("some dozen forecasts")
	}
	f, _, evening := fullDemo(t)
	b := &browse{t: t, site: web.New(f, evening, slog.New(slog.NewTextHandler(io.Discard, nil)))}
	body := ""
	for range 600 { // a slow machine takes its time
		if body = html.UnescapeString(b.get("/?as-of=2026-09-30").Body.String()); !strings.Contains(body, "still being worked out") {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	for _, want := range []string{"What moved the launch", "As likely before as after: ", " 2027 then, ", "Time without news", "Within the sightings",
		`<a href="/step/starboard-`, "Left over by the groups: less than a working day.", "<code>D = P1 + P2 + P3 + P4 + P5 + R</code>"} {
		if !strings.Contains(body, want) {
			t.Errorf("the review does not say %q", want)
		}
	}
	// What /launch says is the same.
	launch := html.UnescapeString(b.get("/launch?as-of=2026-09-30").Body.String())
	for _, want := range []string{"What moved it since the", "Within the sightings", "<code>D = P1 + P2 + P3 + P4 + P5 + R</code>"} {
		if !strings.Contains(launch, want) {
			t.Errorf("the page of the launch does not say %q", want)
		}
	}
}

// Where a part waits for a mould the pages of the programme, of the mould and of
// its steps say who has it after whom, how often that is regretted, and how that
// is reckoned; a step that needs none says nothing of it.
func TestOrderAtAMouldIsShown(t *testing.T) {
	f, _, evening := fullDemo(t)
	b := &browse{t: t, site: web.New(f, evening, slog.New(slog.NewTextHandler(io.Discard, nil)))}
	for _, path := range []string{"/programme", "/of/stand/step-mould", "/step/starboard-transom-steps-gelcoat"} {
		body := html.UnescapeString(b.get(path + "?as-of=2026-06-01").Body.String())
		for _, want := range []string{"At Transom step mould: Port transom steps then Starboard transom steps.", "This order is a guess at the yard", "of 200 trials", "<code>R = sooner(G) / N</code>"} {
			if !strings.Contains(body, want) {
				t.Errorf("%s does not say %q", path, want)
			}
		}
	}
	if body := b.get("/step/deck-core?as-of=2026-06-01").Body.String(); strings.Contains(body, "mould, cradle or bay after") || strings.Contains(body, "of 200 trials") {
		t.Error("a step that needs no mould speaks of one")
	}
}
