package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"dogshore/journal"
	"dogshore/record"
)

// A visit, from beginning it to the answers to its letter.
func TestVisitFromFirstTapToAnswer(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	at := func(w interface{ Header() http.Header }) string {
		t.Helper()
		to, err := url.Parse(w.Header().Get("Location"))
		if err != nil || to.Path == "" {
			t.Fatalf("no page to go on to: %q", w.Header().Get("Location"))
		}
		return to.Path
	}
	began := at(b.post("/visits", url.Values{"day": {"2027-03-16"}, "by": {"owner"}}))
	if !strings.HasPrefix(began, "/visit/") {
		t.Fatalf("began at %s", began)
	}
	for _, x := range []struct {
		form   string
		fields url.Values
	}{
		{"sighting", url.Values{"step": {"step/deck-core"}, "state": {"under way"}}},
		{"sighting", url.Values{"step": {"deck core"}, "state": {"done"}}}, // by name, and over the first tap
		{"agreement", url.Values{"says": {"Four drains of 25 mm"}, "with": {"Ada Quill"}, "before": {"deck bagged"}}},
		{"defect", url.Values{"what": {"gap at a joint"}, "part": {"Deck"}, "gravity": {"structure"}}},
		{"question", url.Values{"text": {"Which resin batch?"}, "to": {"Ada Quill"}}},
		{"measurement", url.Values{"what": {"core thickness"}, "of": {"Deck"}, "got": {"25 mm"}, "should": {"25 mm ±0,5"}}},
		{"statement", url.Values{"about": {"deck bagged"}, "what": {"starts"}, "when": {"22 March"}, "by": {"Ada Quill"}}},
		{"arrival", url.Values{"item": {"item/mast"}, "whole": {"no"}}},
		{"remedy", url.Values{"defect": {"defect/df1"}, "state": {"put right"}}},
		{"photo", url.Values{"name": {"IMG_0100"}, "part": {"Deck"}}},
		{"note", url.Values{"text": {"loud in the shed"}}},
	} {
		if w := b.post(began+"/"+x.form, x.fields); w.Code != http.StatusSeeOther {
			t.Errorf("%s: %d %s", x.form, w.Code, between(w.Body.String(), `role="alert">`, "<"))
		}
	}
	r := as(t, f)
	self := record.R("visit", strings.TrimPrefix(began, "/visit/"))
	sightings := 0
	for _, g := range journal.All[record.Sighting](r) {
		if g.Visit == self {
			sightings++
			if g.Step != "step/deck-core" || g.State != "done" {
				t.Errorf("sighting %+v", g)
			}
		}
	}
	if sightings != 1 {
		t.Errorf("%d sightings; a second tap takes the place of the first", sightings)
	}
	for _, d := range r.Doubts() {
		if strings.HasPrefix(string(d.About), "sighting/") {
			t.Errorf("doubt: %s", d.Says)
		}
	}
	if to := at(b.post(began+"/close", url.Values{})); to != "/letter-draft" {
		t.Errorf("closing leads to %s", to)
	}
}

func TestRefusedFormKeepsWhatWasTyped(t *testing.T) {
	b := visit(t, typicalBuild(t))
	w := b.post("/visit/v2/agreement", url.Values{"says": {"as <we> said"}, "with": {"Nobody Known"}})
	body := w.Body.String()
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(body, "as &lt;we&gt; said") || !strings.Contains(body, "Nobody Known") {
		t.Errorf("%d: %s", w.Code, between(body, `role="alert">`, "<"))
	}
	if w := b.post("/visit/v2/kitchen", url.Values{}); w.Code != http.StatusNotFound {
		t.Errorf("an unknown form: %d", w.Code)
	}
	if w := b.post("/visits", url.Values{"day": {"2031-01-01"}, "by": {"owner"}}); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a visit in the future: %d", w.Code)
	}
}

func between(s, from, to string) string {
	_, s, _ = strings.Cut(s, from)
	s, _, _ = strings.Cut(s, to)
	return s
}

// Without script too a defect is a picture and a word: the picture is kept, and
// it is said that it shows the defect.
func TestDefectWithItsPicture(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	w := b.send("/visit/v2/defect", map[string]string{"what": "void at the stem", "part": "part/deck"}, map[string]string{"picture=IMG_9.jpg": "\xff\xd8\xffnot much of a picture"})
	if w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, between(w.Body.String(), `role="alert">`, "<"))
	}
	r := as(t, f)
	for _, e := range journal.All[record.Evidence](r) {
		d, _ := journal.Get[record.Defect](r, e.Shows)
		p, _ := journal.Get[record.Photo](r, e.Photo)
		if d.What == "void at the stem" && p.Name == "IMG_9.jpg" && p.File.Known() && p.Part == "part/deck" && p.Visit == "visit/v2" {
			return
		}
	}
	t.Error("no picture is said to show it")
}
