package web_test

import (
	"bytes"
	"context"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/review"
	"dogshore/unit"
)

// What is sent is frozen as the printed sheet too; what the sheet shows before
// it is sent is written nowhere.
func TestPrintedSheetIsFrozen(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	draft := fieldsOf(t, b.get("/letter-draft").Body.String())
	draft.Set("do", "paper")
	w := b.post("/letter-draft", draft)
	if w.Code != http.StatusOK || !bytes.HasPrefix(w.Body.Bytes(), []byte("%PDF-")) {
		t.Fatalf("on paper: %d %.60q", w.Code, w.Body.String())
	}
	if g := b.get("/letter-draft.pdf"); !bytes.HasPrefix(g.Body.Bytes(), []byte("%PDF-")) {
		t.Errorf("the draft as the desk drafted it: %d", g.Code)
	}
	if n := len(journal.All[record.Letter](as(t, f))); n != 0 {
		t.Fatalf("%d letters are on file before any was sent", n)
	}
	draft.Set("do", "sent")
	taken(t, b.post("/letter-draft", draft))
	l := journal.All[record.Letter](as(t, f))
	if len(l) != 1 || l[0].Sheet.Name != "letter-2027-03-16.pdf" {
		t.Fatalf("on file: %+v", l)
	}
	page := b.get("/letter/" + l[0].Key()).Body.String()
	at := regexp.MustCompile(`href="(/file/[0-9a-f]{64}/letter-2027-03-16\.pdf)"`).FindStringSubmatch(page)
	if at == nil {
		t.Fatal("the letter's page does not lead to its sheet")
	}
	if sheet := b.get(at[1]); !bytes.Equal(sheet.Body.Bytes(), w.Body.Bytes()) {
		t.Error("the sheet on file is not the one that was looked at")
	}
}

// Signs that paper can't carry are named before the letter is sent; the plain
// text has them. What only the second type has is printed and needs no word.
func TestSignsThatPaperLacksAreNamed(t *testing.T) {
	b := visit(t, typicalBuild(t))
	draft := fieldsOf(t, b.get("/letter-draft").Body.String())
	draft.Set("do", "show")
	draft.Set("more", "Палуба: the deck 甲板 is dry.")
	page := b.post("/letter-draft", draft).Body.String()
	if !strings.Contains(page, "these signs can't be printed:</b> 甲板.") {
		t.Errorf("the page says %q", between(page, "<main", "<form"))
	}
	if !strings.Contains(between(page, `<pre class="letter-text"`, "</pre>"), "Палуба: the deck 甲板 is dry.") {
		t.Error("the plain text lacks what was written")
	}
	draft.Set("do", "paper")
	if got := pdfText(t, b.post("/letter-draft", draft).Body.Bytes()); !strings.Contains(got, "Палуба: the deck □□ is dry.") || strings.Contains(got, "??") || !strings.Contains(got, "stands for a sign that can't be printed here") {
		t.Errorf("on paper stands\n%s", got)
	}
	draft.Set("more", "Палуба")
	draft.Set("do", "show")
	if page := b.post("/letter-draft", draft).Body.String(); strings.Contains(page, "signs can't be printed") {
		t.Error("letters that are printed are warned of")
	}
}

// What is refused comes back as it was typed: texts, days, points left out.
func TestRefusedLetterKeepsWhatWasTyped(t *testing.T) {
	b := visit(t, typicalBuild(t))
	n := regexp.MustCompile(`name="text\.(\d+)"`).FindStringSubmatch(b.get("/letter-draft").Body.String())[1]
	w := b.post("/letter-draft", url.Values{"day": {"some day"}, "by." + n: {"next week"}, "text." + n: {"My own words."}, "more": {"And this."}, "do": {"sent"}})
	page := w.Body.String()
	for _, want := range []string{`value="some day"`, `value="next week"`, "My own words.", "And this."} {
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(page, want) {
			t.Errorf("%d: what was typed as %s is lost", w.Code, want)
		}
	}
}

// Answers typed point by point: refused they come back, right they are
// written against their lines.
func TestAnswersPointByPoint(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	draft := fieldsOf(t, b.get("/letter-draft").Body.String())
	draft.Set("do", "sent")
	taken(t, b.post("/letter-draft", draft))
	self := journal.All[record.Letter](as(t, f))[0].Self
	lines := journal.All[record.Line](as(t, f))
	field := "answer." + strings.TrimSuffix(lines[0].Number.Text(), ".")
	bad := b.post("/"+string(self)+"/answers", url.Values{field: {"yes, by Friday"}, "on": {"never"}, "by": {"Ada Quill"}, "do": {"write"}})
	if bad.Code != http.StatusUnprocessableEntity || !strings.Contains(bad.Body.String(), `value="yes, by Friday"`) || !strings.Contains(bad.Body.String(), `value="never"`) {
		t.Errorf("%d: what was typed is lost", bad.Code)
	}
	taken(t, b.post("/"+string(self)+"/answers", url.Values{field: {"yes, by Friday"}, "on": {"2027-03-16"}, "by": {"Ada Quill"}, "do": {"write"}}))
	if a := journal.All[record.Answer](as(t, f)); len(a) != 1 || a[0].Text != "yes, by Friday" || a[0].To != lines[0].Self {
		t.Errorf("on file: %+v", a)
	}
}

// What has no answer by its date comes back in the review, and once answered
// is gone from it.
func TestOverdueAnswersComeBack(t *testing.T) {
	f := typicalBuild(t)
	due := calendar.Date(2027, 3, 10)
	write(t, f, due-10, record.Written, "l1", record.Letter{Day: due - 10, Text: "8. Please tell us the batch."})
	write(t, f, due-10, record.Written, "l1-8", record.Line{Letter: "letter/l1", Number: unit.Q(8, unit.Number), Text: "Please tell us the batch.", By: due})
	asked := func() bool {
		v, err := review.Read(context.Background(), f, calendar.Of(now), journal.Now)
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range v.First.ToYard {
			if a.ID == "ask/line/l1-8" && strings.Contains(a.Say, "line 8") {
				return true
			}
		}
		return false
	}
	if !asked() {
		t.Error("an answer that is overdue does not come back on the first page")
	}
	write(t, f, calendar.Of(now), record.Written, "a1", record.Answer{To: "line/l1-8", Text: "batch 12", Day: calendar.Of(now)})
	if asked() {
		t.Error("it comes back although it was answered")
	}
}
