package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"dogshore/journal"
	"dogshore/record"
)

// The owner's own words: added many at a time, changed in place, refused as a
// whole with what was typed.
func TestWordsInTheYardsLanguage(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	if page := b.get("/words").Body.String(); !strings.Contains(page, "please confirm =\n") || !strings.Contains(page, "Deck =\n") {
		t.Error("the form does not name the words that lack a second one")
	}
	taken(t, b.post("/words", url.Values{"terms": {"Deck = dek\r\nHull =\r\nanswer by = antwoord vóór\r\n"}}))
	taken(t, b.post("/words", url.Values{"terms": {"deck = het dek"}}))
	terms := journal.All[record.Term](as(t, f))
	if len(terms) != 2 || terms[0].Other != "antwoord vóór" || terms[1].Other != "het dek" {
		t.Errorf("on file: %+v", terms)
	}
	if d := as(t, f).Doubts(); len(d) > 1 { // the fixture has one of its own
		t.Errorf("changing a word is a doubt: %+v", d)
	}
	for typed, why := range map[string]string{"dek": "as “deck = dek”", "a = b\na = c": "stands there twice", "hull =": "no line has a word in both"} {
		w := b.post("/words", url.Values{"terms": {typed}})
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), why) || !strings.Contains(w.Body.String(), typed+"</textarea>") {
			t.Errorf("%q: %d, or what was typed is lost, or it is not said why", typed, w.Code)
		}
	}
	if n := len(journal.All[record.Term](as(t, f))); n != 2 {
		t.Errorf("%d words after lines that were refused", n)
	}
	if text := b.get("/letter-draft").Body.String(); !strings.Contains(text, "Deck / het dek") {
		t.Error("the letter does not say it in both languages")
	}
}
