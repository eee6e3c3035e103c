package web_test

import (
	"bytes"
	"context"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/unit"
	"dogshore/web"
)

// The invented day on which the tests take place.
var now = time.Date(2027, 3, 16, 10, 30, 0, 0, time.UTC)

func clock() time.Time { return now }

// emptyBuild opens a build folder that holds nothing.
func emptyBuild(t testing.TB) *store.Folder {
	t.Helper()
	f, err := store.Create(context.Background(), t.TempDir(), clock)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	})
	return f
}

// write puts one subject into the record.
func write[T any](t testing.TB, f *store.Folder, since calendar.Day, how record.Grounds, key string, subject T) {
	t.Helper()
	e := f.Draft("owner", since, how)
	e.Origin = "test"
	e.Facts = journal.Facts(record.R(record.KindFor[T]().Name, key), record.Values(subject))
	if _, err := f.Accept(context.Background(), e); err != nil {
		t.Fatal(err)
	}
}

// typicalBuild is a small invented sloop with something of every kind that a
// page shows.
func typicalBuild(t testing.TB) *store.Folder {
	t.Helper()
	f := emptyBuild(t)
	fill(t, f, func(s string) string { return s })
	return f
}

// hostileBuild is the same boat with names and texts that try to break out of
// a page.
func hostileBuild(t testing.TB) *store.Folder {
	t.Helper()
	f := emptyBuild(t)
	fill(t, f, func(s string) string {
		return s + ` "><script>document.title='broken'</script><img src=x onerror=alert(1)> ' & ` + strings.Repeat("W", 120) + " \u202e\u0000 {{.}} ../..%2f"
	})
	return f
}

func fill(t testing.TB, f *store.Folder, say func(string) string) {
	t.Helper()
	always := journal.Always
	day := func(m time.Month, d int) calendar.Day { return calendar.Date(2027, m, d) }
	write(t, f, always, record.Written, "build", record.Build{Name: say("Test sloop"), Boat: "monohull", Way: "infused sandwich", Hulls: "one piece", Length: unit.Q(9.8, unit.Length), Yard: say("An invented yard"), Notice: say("Invented: no such boat, yard or person exists.")})
	write(t, f, always, record.Written, "ada", record.Person{Name: say("Ada Quill"), Role: "yard lead", MayInstruct: record.Yes, Clause: "7.2"})
	write(t, f, always, record.Written, "bo", record.Person{Name: say("Bo Marsh"), Role: "yard hand"})
	write(t, f, always, record.Written, "foredeck", record.Place{Name: say("Foredeck")})
	write(t, f, always, record.Inferred, "hull", record.Part{Name: say("Hull"), Profile: record.Outline{{0.2, 0.9}, {9.8, 1.2}, {8.6, -0.4}, {1, -0.3}}, Plan: record.Outline{{0, -1}, {0, 1}, {5, 1.6}, {9.8, 0}, {5, -1.6}}})
	write(t, f, always, record.Inferred, "deck", record.Part{Name: say("Deck"), Place: "place/foredeck", Plan: record.Outline{{0.3, -0.9}, {0.3, 0.9}, {5, 1.4}, {9, 0}, {5, -1.4}}})
	write(t, f, always, record.Inferred, "bulkhead", record.Part{Name: say("Main bulkhead"), Within: "part/hull"})
	stages := []struct{ part, stage string }{{"hull", "skin-coat"}, {"hull", "core"}, {"hull", "infused"}, {"deck", "gelcoat"}, {"deck", "skin-coat"}, {"deck", "core"}, {"deck", "bagged"}, {"bulkhead", "bonded"}}
	for i, x := range stages {
		write(t, f, always, record.Inferred, x.part+"-"+x.stage, record.Step{Name: say(x.part + " " + x.stage), Part: record.R("part", x.part), Stage: x.stage, Rank: unit.Q(float64(i), unit.Number), Usual: "usual order, no source", Look: "look at it"})
		if i > 0 && stages[i-1].part == x.part {
			write(t, f, always, record.Inferred, x.part+"-"+x.stage, record.Link{From: record.R("step", stages[i-1].part+"-"+stages[i-1].stage), To: record.R("step", x.part+"-"+x.stage), Type: "FS"})
		}
	}
	write(t, f, always, record.Inferred, "deck-core", record.Cover{Step: "step/deck-core", What: "place/foredeck", Hides: say("solid laminate under the deck gear"), Look: "inserts against the plan", Evidence: "a photo for each insert, with a tape", Gravity: "structure"})
	write(t, f, day(2, 2), record.Seen, "v1", record.Visit{Day: day(2, 2), By: "owner", Closed: record.Yes})
	write(t, f, day(3, 2), record.Seen, "v2", record.Visit{Day: day(3, 2), By: "owner", Note: say("cold in the shed")})
	write(t, f, day(2, 2), record.Seen, "s1", record.Sighting{Visit: "visit/v1", Step: "step/deck-gelcoat", State: "done"})
	write(t, f, day(3, 2), record.Seen, "s2", record.Sighting{Visit: "visit/v2", Step: "step/deck-skin-coat", State: "done"})
	write(t, f, day(3, 2), record.Seen, "s3", record.Sighting{Visit: "visit/v2", Step: "step/hull-infused", State: "done"})
	write(t, f, day(2, 2), record.Written, "stem-eye", record.Point{Question: say("Where does the stem eye go?"), Part: "place/foredeck", Gravity: "structure", CoveredBy: "step/deck-core", Default: say("The yard puts it on the drawing's centre line"), Move: "person/ada", Asked: day(2, 2)})
	write(t, f, day(2, 2), record.Written, "a", record.Option{Point: "point/stem-eye", Name: say("on the stem"), Reason: say("straight pull"), Price: unit.Money{Minor: 12000, Currency: "EUR", As: "120 EUR"}, Weight: unit.Q(1.2, unit.Mass), Days: unit.Q(1, unit.Work)})
	write(t, f, day(2, 2), record.Written, "b", record.Option{Point: "point/stem-eye", Name: say("on the foredeck"), Reason: say("dry locker")})
	write(t, f, day(2, 2), record.Written, "l", record.Lead{For: "point/stem-eye", What: say("designer's check"), Wait: unit.Q(14*86400, unit.Time)})
	write(t, f, day(3, 2), record.Written, "galley", record.Point{Question: say("Which worktop?"), Gravity: "finish"})
	write(t, f, day(3, 2), record.Told, "d1", record.Decision{Point: "point/galley", Says: say("oak"), With: "person/bo", Visit: "visit/v2", Day: day(3, 2)})
	write(t, f, day(3, 2), record.Told, "ag1", record.Agreement{Says: say("limber holes of 25 mm"), With: "person/bo", Visit: "visit/v2", Day: day(3, 2), Before: "step/bulkhead-bonded"})
	write(t, f, day(3, 2), record.Seen, "df1", record.Defect{What: say("dry spot at the port edge"), Part: "part/deck", Visit: "visit/v2", Gravity: "structure", Before: "step/deck-core"})
	write(t, f, day(3, 2), record.Told, "st1", record.Statement{About: "step/deck-core", What: "starts", When: calendar.On(day(3, 22)), By: "person/ada", On: day(3, 2), Said: say("we lay it on the 22nd")})
	write(t, f, day(2, 2), record.Told, "st0", record.Statement{About: "step/deck-skin-coat", What: "is done", When: calendar.On(day(2, 12)), By: "person/ada", On: day(2, 2)})
	write(t, f, day(3, 2), record.Measured, "m1", record.Measurement{Visit: "visit/v2", What: say("thickness at the hatch"), Of: "part/deck", Got: unit.Q(0.025, unit.Length), Should: record.Tolerance{Known: true, Value: 0.024, Minus: 0.0005, Plus: 0.0005, Dim: unit.Length}})
	write(t, f, day(3, 2), record.Seen, "ph1", record.Photo{Name: say("IMG_0001.jpg"), Visit: "visit/v2", Part: "part/deck"})
	write(t, f, always, record.Written, "mast", record.Item{Name: say("mast"), Part: "part/deck", BoughtBy: "yard", NeededBy: "step/deck-bagged"})
	write(t, f, always, record.Written, "req", record.Requirement{Says: say("No balsa below the waterline"), Part: "part/hull", Source: "contract 4", ShownBy: "picture", Before: "step/hull-infused"})
	write(t, f, always, record.Written, "sis", record.Sister{Name: say("number 6"), Ahead: unit.Q(56*86400, unit.Time)})
	write(t, f, day(3, 2), record.Seen, "ss", record.SisterSighting{Sister: "sister/sis", Step: "step/deck-core", State: "done", Day: day(3, 2), Lesson: say("drains between the core blocks were forgotten")})
	write(t, f, always, record.Written, "yard", record.Calendar{Name: say("yard"), Week: "Mon-Thu 1, Fri 0.5"})
	write(t, f, always, record.Written, "easter", record.Closure{Calendar: "calendar/yard", From: day(3, 26), To: day(3, 29), Why: say("Easter")})
	write(t, f, always, record.Written, "cut", record.Cutoff{Name: say("choice of deck gear"), Day: day(4, 1), About: "point/stem-eye", Clause: "9"})
	write(t, f, day(3, 2), record.Written, "n1", record.Note{Text: say("The mast maker wrote."), About: "item/mast", Day: day(3, 2)})
	// Two values that nobody has written over.
	write(t, f, day(2, 2), record.Told, "deck-core", record.Step{Trade: say("laminators")})
	write(t, f, day(2, 2), record.Told, "deck-core", record.Step{Trade: say("joiners")})
}

// browse is a site with a client that keeps cookies off and does not follow
// redirects.
type browse struct {
	t    testing.TB
	site http.Handler
	log  bytes.Buffer
}

func visit(t testing.TB, f *store.Folder) *browse {
	t.Helper()
	b := &browse{t: t}
	b.site = web.New(f, clock, slog.New(slog.NewTextHandler(&b.log, nil)))
	return b
}

func (b *browse) do(r *http.Request) *httptest.ResponseRecorder {
	b.t.Helper()
	r.Host = "127.0.0.1:4630"
	w := httptest.NewRecorder()
	b.site.ServeHTTP(w, r)
	return w
}

func (b *browse) get(path string) *httptest.ResponseRecorder {
	b.t.Helper()
	return b.do(httptest.NewRequest("GET", path, nil))
}

func (b *browse) post(path string, fields url.Values) *httptest.ResponseRecorder {
	b.t.Helper()
	r := httptest.NewRequest("POST", path, strings.NewReader(fields.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return b.do(r)
}

// as reads the record of today.
func as(t testing.TB, f *store.Folder) *journal.Record {
	t.Helper()
	r, err := f.As(context.Background(), calendar.Of(now), journal.Now)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
