package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// A sheet printed before the visit is typed in by its own numbers, however
// much was noted since it was printed.
func TestPrintedSheetIsTypedIn(t *testing.T) {
	f := typicalBuild(t)
	write(t, f, journal.Always, record.Written, "overlap", record.Check{What: "Overlap at the side deck", Of: "part/deck", Taken: "own measure", Before: "step/deck-core", Should: record.Tolerance{Known: true, Value: 0.05, Plus: 0.02, Dim: unit.Length}})
	b := visit(t, f)
	pdf := pdfText(t, b.get("/walk.pdf").Body.Bytes())
	number := regexp.MustCompile(`No\. (\d+), of 2027-03-16`).FindStringSubmatch(pdf)
	if number == nil || !strings.Contains(pdf, "M1") {
		t.Fatalf("on paper stands\n%s", pdf)
	}
	to, _ := url.Parse(b.post("/visits", url.Values{"day": {"2027-03-16"}, "by": {"owner"}}).Header().Get("Location"))
	first := b.get(to.Path + "/paper").Body.String()
	b.post(to.Path+"/sighting", url.Values{"step": {"step/deck-core"}, "state": {"done"}}) // the walk is another from here on
	page := b.get(to.Path + "/paper?sheet=" + number[1] + "&of=2027-03-16").Body.String()
	rows := func(body string) string {
		return strings.Join(regexp.MustCompile(`class="number">M?\d+</span> [^<]+`).FindAllString(body, -1), "|")
	}
	if rows(page) != rows(first) || !strings.Contains(rows(page), "1</span> deck core") || !strings.Contains(rows(page), "M1</span> Overlap") {
		t.Errorf("the rows are\n%s\nand before\n%s", rows(page), rows(first))
	}
	for _, line := range []string{`1\s+deck core`, `2\s+bulkhead bonded`} {
		if !regexp.MustCompile(line).MatchString(pdf) {
			t.Errorf("on paper no row is %s:\n%s", line, pdf)
		}
	}
	for typed, why := range map[string]string{"9": "has no row 9", "1-": "is no number of a row", "x": "is no number of a row", "1-99999999": "has no row 99999999"} {
		bad := url.Values{"sheet": {number[1]}, "of": {"2027-03-16"}, "rows.done": {typed}}
		if w := b.post(to.Path+"/paper", bad); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), why) || !strings.Contains(w.Body.String(), `value="`+typed+`"`) {
			t.Errorf("rows %q: %d", typed, w.Code)
		}
	}
	twice := url.Values{"sheet": {number[1]}, "of": {"2027-03-16"}, "rows.begun": {"1"}, "rows.done": {"2 1"}}
	if w := b.post(to.Path+"/paper", twice); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "row 1, deck core, is ticked twice") {
		t.Errorf("a row ticked twice: %d", w.Code)
	}
	form := url.Values{"sheet": {number[1]}, "of": {"2027-03-16"}, "rows.begun": {"1"}, "rows.unseen": {"2"}, "value.1": {"55"}, "agreed.1": {"drains of 25 mm"}, "agreed.1.before": {"deck bagged"}}
	was, _ := f.Last(t.Context())
	w := b.post(to.Path+"/paper", form)
	if is, _ := f.Last(t.Context()); w.Code != http.StatusUnprocessableEntity || is != was || !strings.Contains(w.Body.String(), "one field needs another look") || !strings.Contains(w.Body.String(), `value="drains of 25 mm"`) {
		t.Errorf("a value that may be 55 metres: %d, %d written", w.Code, is-was)
	}
	form.Set("value.1", "55 mm")
	if w := b.post(to.Path+"/paper", form); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, between(w.Body.String(), `role="alert">`, "<"))
	}
	r := as(t, f)
	self := record.R("visit", strings.TrimPrefix(to.Path, "/visit/"))
	if g, _ := journal.Get[record.Sighting](r, record.R("sighting", self.Key()+".deck-core")); g.State != "under way" {
		t.Errorf("the core is %q", g.State)
	}
	if g, _ := journal.Get[record.Sighting](r, record.R("sighting", self.Key()+".bulkhead-bonded")); g.State != "could not see" {
		t.Errorf("the bulkhead is %q", g.State)
	}
	found := 0
	for _, m := range journal.All[record.Measurement](r) {
		if m.Visit == self && m.Check == "check/overlap" && m.Got.SI == 0.055 {
			found++
		}
	}
	for _, a := range journal.All[record.Agreement](r) {
		if a.Visit == self && a.Before == "step/deck-bagged" {
			found++
		}
	}
	if found != 2 {
		t.Errorf("%d of a value and an agreement are on record", found)
	}
	for path, want := range map[string]int{"?sheet=99999": 422, "?sheet=x": 422, "?of=someday": 422, "": 200} {
		if w := b.get(to.Path + "/paper" + path); w.Code != want {
			t.Errorf("%s: %d, want %d", path, w.Code, want)
		}
	}
}
