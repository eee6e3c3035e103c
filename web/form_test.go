package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// What is refused comes back with what was typed and the reason beside its
// field, and nothing is written.
func TestRefusedFormsKeepWhatWasTyped(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	before := as(t, f)
	for _, c := range []struct {
		name, path string
		fields     url.Values
		want       []string
	}{
		{"needed field", "/add/defect", url.Values{"what": {""}, "part": {"part/deck"}}, []string{"This can&#39;t be left empty.", `<option value="Deck" selected>`}},
		{"unknown name", "/add/defect", url.Values{"what": {"dry spot"}, "part": {"keel bolts"}}, []string{"There is no part or place called", "dry spot"}},
		{"two readings", "/add/option", url.Values{"name": {"teak"}, "point": {"point/stem-eye"}, "weight": {"1.200 kg"}}, []string{"1.200", "teak"}},
		{"no choice", "/add/visit", url.Values{"day": {"2027-03-01"}, "by": {"telepathy"}}, []string{"telepathy"}},
		{"no day", "/add/visit", url.Values{"day": {"the other day"}}, []string{"the other day"}},
		{"nothing", "/add/statement", url.Values{}, []string{"This can&#39;t be left empty."}},
		{"day ahead", "/add/part", url.Values{"name": {"Rudder"}, "holds": {"day"}, "holds-from": {"2030-01-01"}}, []string{"can&#39;t lie ahead", "Rudder"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := b.post(c.path, c.fields)
			if w.Code != http.StatusUnprocessableEntity {
				t.Errorf("%d, want 422", w.Code)
			}
			for _, s := range c.want {
				if !strings.Contains(w.Body.String(), s) {
					t.Errorf("the page does not say %q", s)
				}
			}
		})
	}
	if after := as(t, f); after != before {
		t.Error("something was written")
	}
}

func TestAddWritesOnItsDayAndGround(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	w := b.post("/add/defect", url.Values{"what": {"Void at the hatch"}, "part": {"Deck"}, "visit": {"visit/v2"}, "gravity": {"structure"}, "back": {"/part/deck"}, "author": {"Bo"}})
	if w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/part/deck?wrote=") {
		t.Fatalf("%d to %q", w.Code, w.Header().Get("Location"))
	}
	_, id, _ := strings.Cut(w.Header().Get("Location"), "wrote=")
	e, err := f.Entry(t.Context(), id)
	if err != nil || e == nil {
		t.Fatal(err)
	}
	if e.Since != calendar.Date(2027, 3, 2) || e.Grounds != record.Seen || e.Author != "Bo" || e.Visit != "visit/v2" {
		t.Errorf("since %s, %s, by %s, at %s", e.Since, e.Grounds, e.Author, e.Visit)
	}
	if c := w.Result().Cookies(); len(c) != 1 || c[0].Value != "Bo" {
		t.Errorf("the next form won't know who writes: %v", c)
	}
}

// A form holds from the same day and is known in the same way as a line of a
// sheet that says the same.
func TestFormsHoldFromTheDayThatSheetsDo(t *testing.T) {
	for _, c := range []struct {
		name, path string
		form       url.Values
		since      calendar.Day
		how        record.Grounds
	}{
		{"point as the form offers it", "/add/point", url.Values{"question": {"Which windlass?"}, "asked": {"2027-03-16"}, "holds": {"own"}}, calendar.Of(now), record.Written},
		{"point of an earlier day", "/add/point", url.Values{"question": {"Which windlass?"}, "asked": {"2027-03-01"}, "holds": {"own"}}, calendar.Date(2027, 3, 1), record.Written},
		{"point without a day", "/add/point", url.Values{"question": {"Which windlass?"}, "holds": {"own"}}, journal.Always, record.Written},
		{"item", "/add/item", url.Values{"name": {"Windlass"}}, journal.Always, record.Written},
		{"pictures, as a form", "/add/visit", url.Values{"day": {"2027-03-14"}, "by": {"pictures"}}, calendar.Date(2027, 3, 14), record.Shown},
		{"pictures, begun", "/visits", url.Values{"day": {"2027-03-14"}, "by": {"pictures"}}, calendar.Date(2027, 3, 14), record.Shown},
		{"a call, on the start sheet", "/start/visit", url.Values{"day": {"2027-03-14"}, "by": {"call"}}, calendar.Date(2027, 3, 14), record.Told},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := typicalBuild(t)
			if w := visit(t, f).post(c.path, c.form); w.Code != http.StatusSeeOther {
				t.Fatalf("%d %.300s", w.Code, w.Body)
			}
			last, err := f.Last(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			var e *journal.Entry
			for _, k := range record.Kinds() {
				for _, ref := range as(t, f).Refs(k.Name) {
					if x := as(t, f).From(ref); x.Arrival == last {
						e = x
					}
				}
			}
			if e == nil || e.Since != c.since || e.Grounds != c.how {
				t.Errorf("written was %+v, want since %s and %s", e, c.since, c.how)
			}
		})
	}
	form := shown(t, visit(t, typicalBuild(t)), "/add/point")
	if form.Get("asked") != "2027-03-16" || form.Get("holds") != "own" {
		t.Errorf("a new point is offered as %v", form)
	}
}

func TestFormsLeadOnlyBackHere(t *testing.T) {
	b := visit(t, typicalBuild(t))
	for _, bad := range []string{"//boat.example/", "https://boat.example/", "/\\boat.example", "boat.example"} {
		w := b.post("/add/note", url.Values{"text": {"x"}, "back": {bad}})
		if to := w.Header().Get("Location"); !strings.HasPrefix(to, "/of/note/") {
			t.Errorf("back to %q leads to %q", bad, to)
		}
	}
}

func TestKeysOfOneNameDiffer(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	for range 2 {
		if w := b.post("/add/part", url.Values{"name": {"Deck"}, "holds": {"always"}}); w.Code != http.StatusSeeOther {
			t.Fatal(w.Code)
		}
	}
	r := as(t, f)
	if !r.Has("part/deck-2") || !r.Has("part/deck-3") {
		t.Errorf("parts: %v", r.Refs("part"))
	}
}

// A correction takes the since of what it corrects, a change the day that is
// named; both are written over what the form showed, and only what changed.
func TestCorrectionAndChange(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	form := shown(t, b, "/edit/point/stem-eye")
	form.Set("gravity", "safety")
	form.Set("holds", "correction")
	if w := b.post("/edit/point/stem-eye", form); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %.300s", w.Code, w.Body)
	}
	h, _ := as(t, f).Held("point/stem-eye", "gravity")
	if h.Entry.Since != calendar.Date(2027, 2, 2) || len(h.Entry.Facts) != 1 || h.Entry.Facts[0].Over == "" {
		t.Errorf("correction: since %s, facts %v", h.Entry.Since, h.Entry.Facts)
	}
	form = shown(t, b, "/edit/point/stem-eye")
	form.Set("default", "They leave it out")
	form.Set("holds", "change")
	form.Set("holds-from", "2027-03-10")
	if w := b.post("/edit/point/stem-eye", form); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %.300s", w.Code, w.Body)
	}
	h, _ = as(t, f).Held("point/stem-eye", "default")
	if h.Entry.Since != calendar.Date(2027, 3, 10) {
		t.Errorf("change: since %s", h.Entry.Since)
	}
	form = shown(t, b, "/edit/point/stem-eye")
	if w := b.post("/edit/point/stem-eye", form); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "Nothing was changed") {
		t.Errorf("nothing changed: %d", w.Code)
	}
	form.Set("gravity", "")
	form.Set("holds", "correction")
	b.post("/edit/point/stem-eye", form)
	if _, ok := as(t, f).Held("point/stem-eye", "gravity"); ok {
		t.Error("a value that was taken away still holds")
	}
	for _, d := range as(t, f).Doubts() {
		if d.About == "point/stem-eye" && d.Kind == journal.Conflict {
			t.Errorf("the edits left a conflict: %s", d.Says)
		}
	}
}

// Two people who change the same value from the same form leave a doubt with
// both sides, and a choice settles it either way.
func TestTwoWindowsOneValue(t *testing.T) {
	for _, choose := range []int{0, 1} {
		f := typicalBuild(t)
		b := visit(t, f)
		one, two := shown(t, b, "/edit/person/ada"), shown(t, b, "/edit/person/ada")
		one.Set("trade", "laminator")
		two.Set("trade", "boatbuilder")
		b.post("/edit/person/ada", one)
		b.post("/edit/person/ada", two)
		d := conflict(as(t, f), "person/ada")
		if len(d.From) != 2 {
			t.Fatalf("no conflict: %+v", d)
		}
		if body := b.get("/of/person/ada").Body.String(); !strings.Contains(body, "It is laminator") || !strings.Contains(body, "It is boatbuilder") {
			t.Error("the page does not show both sides")
		}
		want := d.Sides[choose]
		w := b.post("/doubt", url.Values{"about": {"person/ada"}, "field": {"trade"}, "choose": {d.From[choose]}})
		if w.Code != http.StatusSeeOther {
			t.Fatalf("choose: %d", w.Code)
		}
		r := as(t, f)
		p, _ := journal.Get[record.Person](r, "person/ada")
		if p.Trade != want || len(conflict(r, "person/ada").From) != 0 {
			t.Errorf("chosen %q, holds %q, doubts %v", want, p.Trade, r.Doubts())
		}
		if w := b.post("/doubt", url.Values{"about": {"person/ada"}, "field": {"trade"}, "choose": {d.From[choose]}}); w.Code != http.StatusConflict {
			t.Errorf("choosing twice: %d", w.Code)
		}
	}
}

func conflict(r *journal.Record, about record.Ref) journal.Doubt {
	for _, d := range r.Doubts() {
		if d.About == about && d.Kind == journal.Conflict {
			return d
		}
	}
	return journal.Doubt{}
}

func TestStrikeAndBack(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	h, _ := as(t, f).Held("defect/df1", "what")
	w := b.post("/entry/"+h.Entry.ID+"/strike", url.Values{})
	if w.Code != http.StatusSeeOther || as(t, f).Has("defect/df1") {
		t.Fatalf("strike: %d", w.Code)
	}
	_, strike, _ := strings.Cut(w.Header().Get("Location"), "wrote=")
	if body := b.get("/entry/" + h.Entry.ID).Body.String(); !strings.Contains(body, "Struck as a mistake") {
		t.Error("the entry does not say that it is struck")
	}
	if w := b.post("/entry/"+strike+"/strike", url.Values{}); w.Code != http.StatusSeeOther || !as(t, f).Has("defect/df1") {
		t.Errorf("taking it back: %d", w.Code)
	}
}

func TestRuling(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	body := b.get("/acts").Body.String()
	_, rest, ok := strings.Cut(body, `href="/act?id=`)
	if !ok {
		t.Fatal("no act leads to its page")
	}
	escaped, _, _ := strings.Cut(rest, `"`)
	id, err := url.QueryUnescape(escaped)
	if err != nil {
		t.Fatal(err)
	}
	if w := b.post("/ruling", url.Values{"act": {id}, "says": {"waive"}}); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "Say why") {
		t.Errorf("waived without a reason: %d", w.Code)
	}
	if w := b.post("/ruling", url.Values{"act": {id}, "says": {"drop"}, "why": {"not worth it"}, "until": {"2027-01-01"}}); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("comes back on a day that is past: %d", w.Code)
	}
	if w := b.post("/ruling", url.Values{"act": {id}, "says": {"waive"}, "why": {"the surveyor saw it"}, "author": {"Ada Quill"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("waive: %d %.300s", w.Code, w.Body)
	}
	rulings := journal.All[record.Ruling](as(t, f))
	if len(rulings) != 1 || rulings[0].Says != "waive" || rulings[0].By != "person/ada" || rulings[0].Day != calendar.Of(now) {
		t.Errorf("%+v", rulings)
	}
	if body := b.get("/").Body.String(); !strings.Contains(body, "Dropped or waived (1)") || !strings.Contains(body, "the surveyor saw it") {
		t.Error("the review does not say what was waived")
	}
}

// shown reads the form of a page as a browser would send it back untouched.
func shown(t *testing.T, b *browse, path string) url.Values {
	t.Helper()
	return fieldsOf(t, b.get(path).Body.String())
}
