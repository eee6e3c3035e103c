package web_test

import (
	"io"
	"log/slog"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dogshore/demo"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/web"
)

// Every page of a build as large as a real one opens; one review serves them
// all, and no page is heavier than a phone in a shed can load.
func TestPagesOfTheDemoBuilds(t *testing.T) {
	const heaviest, heaviestVisit = 1 << 20, 200_000
	for _, which := range demo.Builds {
		t.Run(string(which), func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "boat")
			if err := demo.Make(t.Context(), dir, which); err != nil {
				t.Fatal(err)
			}
			day, err := demo.Today(which)
			if err != nil {
				t.Fatal(err)
			}
			evening := func() time.Time { return demo.Evening(day) }
			f, err := store.Open(t.Context(), dir, evening)
			if err != nil {
				t.Fatal(err)
			}
			defer func() { _ = f.Close() }()
			site := web.New(f, evening, slog.New(slog.NewTextHandler(io.Discard, nil)))
			b := &browse{t: t, site: site}
			rec, err := f.As(t.Context(), day, 1<<62)
			if err != nil {
				t.Fatal(err)
			}
			all := []string{"/", "/acts", "/boat", "/points", "/programme", "/launch", "/promises", "/items", "/requirements", "/people", "/sisters", "/calendar", "/start", "/intake", "/kinds", "/visits", "/walk", "/diary", "/diary?word=deck", "/calendar.ics", "/letter-draft", "/words", "/deck", "/deck/trace", "/photos", "/pictures", "/behind", "/behind?lies=yes", "/phones"}
			for _, kind := range []string{"part", "point", "visit"} {
				for _, ref := range rec.Refs(kind) {
					all = append(all, "/"+kind+"/"+ref.Key())
				}
			}
			for _, ref := range rec.Refs("visit") {
				if x, ok := journal.Get[record.Visit](rec, ref); ok && x.Planned != record.Yes && x.Day <= day {
					all = append(all, "/diary/"+ref.Key())
				}
			}
			for _, kind := range []string{"step", "defect", "agreement", "statement"} {
				for _, ref := range rec.Refs(kind)[:min(1, len(rec.Refs(kind)))] {
					all = append(all, "/of/"+kind+"/"+ref.Key(), "/edit/"+kind+"/"+ref.Key())
				}
			}
			for _, ref := range rec.Refs("step")[:min(12, len(rec.Refs("step")))] {
				all = append(all, "/step/"+ref.Key())
			}
			for _, ref := range rec.Refs("option") {
				if path := "/deck?option=" + ref.Key(); strings.Contains(b.get("/deck").Body.String(), path+`"`) {
					all = append(all, path)
				}
			}
			for _, ref := range rec.Refs("photo")[:min(6, len(rec.Refs("photo")))] {
				all = append(all, "/photo/"+ref.Key())
			}
			for _, path := range all {
				if w := b.get(path); w.Code != 200 || w.Body.Len() > heaviest || strings.HasPrefix(path, "/visit/") && w.Body.Len() > heaviestVisit {
					t.Errorf("%s: %d, %d kB", path, w.Code, w.Body.Len()>>10)
				}
			}
			if which == demo.Full {
				body := b.get("/deck?option=anchors-six").Body.String()
				for _, want := range []string{`<dt>Not known</dt><dd>3 findings</dd>`, `Eye at the foot of the companionway <span class="state">not known</span>`} {
					if !strings.Contains(body, want) {
						t.Errorf("the page of an arrangement that leaves three eyes unknown lacks %q", want)
					}
				}
			}
			if paper := pdfText(t, b.get("/walk.pdf").Body.Bytes()); strings.Count(paper, "\f") != 1 || which == demo.Full && !strings.Contains(paper, "more in the program") {
				t.Errorf("the walking sheet is no single page that counts what it leaves out:\n%s", paper)
			}
			if n := site.Computed(); n != 1 {
				t.Errorf("%d reviews for %d pages", n, len(all))
			}
		})
	}
}
