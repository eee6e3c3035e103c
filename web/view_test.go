package web_test

import (
	"io"
	"log/slog"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/record"
	"dogshore/web"
)

// However many pages are opened, one review is computed for a day and a state
// of knowledge, and a new one only when something was written.
func TestOneReviewForAllPages(t *testing.T) {
	f := typicalBuild(t)
	site := web.New(f, clock, slog.New(slog.NewTextHandler(io.Discard, nil)))
	b := &browse{t: t, site: site}
	for _, p := range []string{"/", "/points", "/boat", "/part/deck", "/", "/acts"} {
		b.get(p)
	}
	if n := site.Computed(); n != 1 {
		t.Errorf("%d reviews for six pages", n)
	}
	b.get("/?as-of=2027-02-10")
	b.get("/points?as-of=2027-02-10")
	if n := site.Computed(); n != 2 {
		t.Errorf("%d reviews after a past day", n)
	}
	b.post("/add/note", url.Values{"text": {"x"}})
	b.get("/")
	b.get("/boat")
	if n := site.Computed(); n != 3 {
		t.Errorf("%d reviews after an entry", n)
	}
}

// The day that is looked at stays in the links, and nothing can be written
// there.
func TestThePastStays(t *testing.T) {
	b := visit(t, typicalBuild(t))
	body := b.get("/points?as-of=2027-02-10&knew=then").Body.String()
	for _, want := range []string{"You are looking at Wed 10 February 2027", `href="/boat?as-of=2027-02-10&amp;knew=then"`, "Back to today"} {
		if !strings.Contains(body, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if body := b.get("/points?as-of=2027-02-10").Body.String(); !strings.Contains(body, `href="/point/stem-eye?as-of=2027-02-10"`) {
		t.Error("a link leads out of the past")
	}
	for _, p := range []string{"/points", "/point/stem-eye", "/part/deck", "/of/step/deck-core", "/step/deck-core", "/programme", "/launch", "/", "/acts", "/kinds", "/boat", "/intake"} {
		body := b.get(p + "?as-of=2027-02-10").Body.String()
		if strings.Contains(body, `method="post"`) || strings.Contains(body, `href="/add/`) || strings.Contains(body, `href="/edit/`) {
			t.Errorf("%s: something can be written on a past day's sheet", p)
		}
	}
	if w := b.get("/edit/point/stem-eye?as-of=2027-02-10"); w.Code != 422 {
		t.Errorf("a form of a past day: %d", w.Code)
	}
	if strings.Contains(b.get("/points?as-of=2027-02-10").Body.String(), "Which worktop") {
		t.Error("what came up later is shown")
	}
	if svg := b.get("/boat?as-of=2027-02-10").Body.String(); !strings.Contains(svg, `href="/part/deck?as-of=2027-02-10"`) {
		t.Error("the drawing leads out of the past")
	}
}

func TestLastGrows(t *testing.T) {
	f := emptyBuild(t)
	b := visit(t, f)
	one := b.get("/last").Body.String()
	write(t, f, calendar.Of(now), record.Told, "x", record.Note{Text: "written elsewhere"})
	if two := b.get("/last").Body.String(); one == two || one != "0" {
		t.Errorf("%s, then %s", one, two)
	}
}

// A picture that came with a form is shown; anything else is only handed over.
func TestFiles(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	for name, want := range map[string]string{"core.png": "image/png", "trick.html": "application/octet-stream"} {
		w := b.send("/add/photo", map[string]string{"name": name, "part": "part/deck"}, map[string]string{"file=../../" + name: "<script>alert(1)</script>"})
		taken(t, w)
		page := b.get(strings.Split(w.Header().Get("Location"), "?")[0]).Body.String()
		_, rest, ok := strings.Cut(page, `href="/file/`)
		if !ok {
			t.Fatalf("%s: the page does not lead to the file", name)
		}
		path, _, _ := strings.Cut(rest, `"`)
		got := b.get("/file/" + path)
		if got.Code != 200 || got.Header().Get("Content-Type") != want || !strings.Contains(got.Header().Get("Content-Security-Policy"), "sandbox") {
			t.Errorf("%s: %d %v", name, got.Code, got.Header())
		}
	}
	if w := b.get("/file/" + strings.Repeat("0", 64) + "/none.png"); w.Code != 404 {
		t.Errorf("a file that is not there: %d", w.Code)
	}
	for _, bad := range []string{"/file/../build.db", "/file/%2e%2e/build.db"} {
		if w := b.do(httptest.NewRequest("GET", bad, nil)); w.Code == 200 {
			t.Errorf("%s: %d", bad, w.Code)
		}
	}
}
