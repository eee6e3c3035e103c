package web_test

import (
	"io"
	"log/slog"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/web"
)

// answers are the six answers for an invented boat.
func answers() url.Values {
	return url.Values{"name": {"Number 12"}, "boat": {"catamaran"}, "way": {"infused sandwich"}, "hulls": {"one piece"}, "series": {"series"},
		"length": {"14,9 m"}, "yard": {"An invented yard"}, "country": {"Nowhere"}, "contract_day": {"2026-05-04"}, "visiting": {"every few weeks"}}
}

// From an empty folder: the pages make the build, the start sheet fills it,
// and the first review says what to look at.
func TestStartFromAnEmptyFolder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "boat")
	site := web.NewIn(dir, clock, slog.New(slog.NewTextHandler(io.Discard, nil)))
	b := &browse{t: t, site: site}
	t.Cleanup(func() {
		if err := site.Close(); err != nil {
			t.Error(err)
		}
	})
	for _, path := range []string{"/", "/boat", "/points"} {
		if w := b.get(path); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/start" {
			t.Errorf("%s of an empty folder: %d to %q", path, w.Code, w.Header().Get("Location"))
		}
	}
	if w := b.get("/start"); w.Code != 200 || strings.Count(w.Body.String(), "<h2>") != 6 {
		t.Errorf("six questions: %d, %d of them", w.Code, strings.Count(w.Body.String(), "<h2>"))
	}
	wrong := answers()
	wrong.Del("boat")
	wrong.Set("length", "about as long as hers")
	if w := b.post("/start", wrong); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "about as long as hers") || !strings.Contains(w.Body.String(), "Choose one") {
		t.Errorf("refused answers: %d", w.Code)
	}
	if _, err := os.Stat(dir); !os.IsNotExist(err) {
		t.Errorf("a folder was made for answers that were refused: %v", err)
	}
	if w := b.post("/start", answers()); w.Code != http.StatusSeeOther {
		t.Fatalf("lay the template: %d %.300s", w.Code, w.Body)
	}
	if w := b.post("/start", answers()); w.Code != http.StatusConflict {
		t.Errorf("lay it twice: %d", w.Code)
	}
	if w := b.post("/start/stage", url.Values{"tap": {"done/deck-core"}}); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a tap before there is a visit: %d", w.Code)
	}
	if w := b.post("/start/visit", url.Values{"day": {"2030-01-01"}, "by": {"owner"}}); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a visit to come: %d", w.Code)
	}
	taken(t, b.post("/start/visit", url.Values{"day": {"2027-03-12"}, "by": {"pictures"}}))
	taken(t, b.post("/start/stage", url.Values{"tap": {"done/deck-skin-coat"}}))
	taken(t, b.post("/start/lines/point", url.Values{"point.question.0": {"Where do the jackstays end?"}, "point.covered_by.0": {"Deck core"}, "point.question.3": {"Which fridge?"}}))
	body := b.get("/").Body.String()
	for _, want := range []string{"Number 12", "Where do the jackstays end?", "before deck core"} {
		if !strings.Contains(strings.ToLower(body), strings.ToLower(want)) {
			t.Errorf("the first review does not say %q", want)
		}
	}
}

func taken(t *testing.T, w interface{ Result() *http.Response }) {
	t.Helper()
	if r := w.Result(); r.StatusCode != http.StatusSeeOther {
		body, _ := io.ReadAll(r.Body)
		t.Fatalf("%d %.500s", r.StatusCode, body)
	}
}

// laid is a build with a template and one visit.
func laid(t *testing.T, by string) (*store.Folder, *browse) {
	t.Helper()
	f := emptyBuild(t)
	b := visit(t, f)
	taken(t, b.post("/start", answers()))
	taken(t, b.post("/start/visit", url.Values{"day": {"2027-03-12"}, "by": {by}}))
	return f, b
}

func sightings(t *testing.T, f *store.Folder) map[record.Ref]string {
	t.Helper()
	out := map[record.Ref]string{}
	for _, s := range journal.All[record.Sighting](as(t, f)) {
		out[s.Step] = s.State
	}
	return out
}

// One tap is one sighting, on the ground that the visit gives; a tap by
// mistake is mended by the next, and leaves no contradiction.
func TestTaps(t *testing.T) {
	f, b := laid(t, "pictures")
	tap := func(v string) { t.Helper(); taken(t, b.post("/start/stage", url.Values{"tap": {v}})) }
	tap("done/deck-core")
	if h, ok := as(t, f).Held(record.Ref("sighting/"+visitKey(t, f)+".deck-core"), "state"); !ok || h.Entry.Grounds != record.Shown {
		t.Errorf("a tap from pictures: %v", h.Entry)
	}
	tap("done/deck-skin-coat") // the tap before was a mistake
	if got := sightings(t, f); len(got) != 1 || got["step/deck-skin-coat"] != "done" {
		t.Errorf("after the second tap: %v", got)
	}
	tap("under way/deck-core")
	if got := sightings(t, f); len(got) != 2 || got["step/deck-core"] != "under way" {
		t.Errorf("a later stage under way: %v", got)
	}
	if w := b.post("/start/stage", url.Values{"tap": {"could not see/none"}}); w.Code != http.StatusNotFound {
		t.Errorf("a tap on no step: %d", w.Code)
	}
}

func visitKey(t *testing.T, f *store.Folder) string {
	t.Helper()
	return as(t, f).Refs("visit")[0].Key()
}

func TestTheYardDoesNotDoThis(t *testing.T) {
	f, b := laid(t, "owner")
	taken(t, b.post("/start/stage", url.Values{"tap": {"not done here/deck-outer-skin"}}))
	st, _ := journal.Get[record.Step](as(t, f), "step/deck-outer-skin")
	if st.NotDone != record.Yes {
		t.Error("the step is still done")
	}
	if body := b.get("/start").Body.String(); !strings.Contains(body, "done after all: Outer skin") {
		t.Error("it can't be taken back")
	}
	taken(t, b.post("/start/stage", url.Values{"tap": {"done here/deck-outer-skin"}}))
	st, _ = journal.Get[record.Step](as(t, f), "step/deck-outer-skin")
	if st.NotDone == record.Yes {
		t.Error("taken back, and still left out")
	}
	for _, d := range as(t, f).Doubts() {
		if d.Kind == journal.Conflict {
			t.Error(d.Says)
		}
	}
}

// Lines are written all or none; what was typed comes back.
func TestLines(t *testing.T) {
	f, b := laid(t, "owner")
	w := b.post("/start/lines/statement", url.Values{"statement.when.0": {"end of May"}, "statement.when.1": {"when the wind turns"}, "statement.about.1": {"Deck core"}})
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "when the wind turns") || !strings.Contains(w.Body.String(), "end of May") {
		t.Errorf("a line that can't be read: %d", w.Code)
	}
	if n := len(as(t, f).Refs("statement")); n != 0 {
		t.Errorf("%d lines were written", n)
	}
	taken(t, b.post("/start/lines/statement", url.Values{"statement.when.0": {"end of May"}, "statement.by.0": {""}}))
	all := journal.All[record.Statement](as(t, f))
	if len(all) != 1 || all[0].About != "build/build" || all[0].What != "launch" || !all[0].When.Known() {
		t.Errorf("%+v", all)
	}
	taken(t, b.post("/start/lines/person", url.Values{"person.name.0": {"Ada Quill"}, "person.may_instruct.0": {"yes"}, "person.name.1": {"Ada Quill"}}))
	if n := len(as(t, f).Refs("person")); n != 2 {
		t.Errorf("two people of one name became %d", n)
	}
	if w := b.post("/start/lines/entry", nil); w.Code != http.StatusNotFound {
		t.Errorf("lines of a kind that has none: %d", w.Code)
	}
}

func TestPaperAndWorkbooks(t *testing.T) {
	_, b := laid(t, "owner")
	for path, begins := range map[string]string{"/start-sheet.pdf": "%PDF-", "/picture-key.pdf": "%PDF-", "/workbook.xlsx": "PK", "/start-sheet.xlsx": "PK"} {
		if w := b.get(path); w.Code != 200 || !strings.HasPrefix(w.Body.String(), begins) {
			t.Errorf("%s: %d %.10q", path, w.Code, w.Body)
		}
	}
}
