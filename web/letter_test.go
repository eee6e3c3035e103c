package web_test

import (
	"bytes"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"dogshore/journal"
	"dogshore/record"
)

// The letter is drafted from the visit, changed, frozen, and answered.
func TestLetterIsFrozenAndAnswered(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	page := b.get("/letter-draft").Body.String()
	numbers := regexp.MustCompile(`name="text\.(\d+)"`).FindAllStringSubmatch(page, -1)
	if len(numbers) < 3 {
		t.Fatalf("%d points are drafted; the visit found more", len(numbers))
	}
	first, second := numbers[0][1], numbers[1][1]
	form := url.Values{"to": {"Ada Quill"}, "day": {"2027-03-16"}, "do": {"sent"}, "more": {"Please keep the off-cuts."},
		"text." + first: {"We saw the core. Please confirm."}, "by." + first: {"2027-03-26"}, "text." + second: {"left out"}, "out." + second: {"yes"}}
	form.Set("do", "show")
	shown := b.post("/letter-draft", form).Body.String()
	if text := between(shown, `<pre class="letter-text" tabindex="0">`, "</pre>"); !strings.Contains(text, "off-cuts") || strings.Contains(text, "left out") {
		t.Errorf("with the changes it reads %q", text)
	}
	form = fieldsOf(t, shown) // as the browser sends it back
	form.Set("do", "sent")
	sent := b.post("/letter-draft", form)
	if sent.Code != http.StatusSeeOther {
		t.Fatalf("sending: %d %s", sent.Code, between(sent.Body.String(), `role="alert">`, "<"))
	}
	at, err := url.Parse(sent.Header().Get("Location"))
	if err != nil {
		t.Fatal(err)
	}
	letter := record.R("letter", strings.TrimPrefix(at.Path, "/letter/"))
	l, ok := journal.Get[record.Letter](as(t, f), letter)
	if !ok || !strings.Contains(l.Text, first+". We saw the core.") || !strings.Contains(l.Text, "off-cuts") || strings.Contains(l.Text, "left out") {
		t.Errorf("the frozen text: %q", l.Text)
	}
	read := b.post(at.Path+"/answers", url.Values{"pasted": {"Hello, " + first + " yes, on Thursday"}, "by": {"Ada Quill"}, "on": {"2027-03-16"}, "do": {"read"}})
	if !strings.Contains(read.Body.String(), `value="yes, on Thursday"`) {
		t.Errorf("what was understood is not shown: %s", between(read.Body.String(), `role="alert">`, "<"))
	}
	if n := len(journal.All[record.Answer](as(t, f))); n != 0 {
		t.Errorf("%d answers are written before they are confirmed", n)
	}
	written := b.post(at.Path+"/answers", url.Values{"answer." + first: {"yes, on Thursday"}, "by": {"Ada Quill"}, "on": {"2027-03-16"}, "do": {"write"}})
	answers := journal.All[record.Answer](as(t, f))
	if written.Code != http.StatusSeeOther || len(answers) != 1 || answers[0].Text != "yes, on Thursday" || answers[0].By != "person/ada" {
		t.Errorf("%d %+v", written.Code, answers)
	}
}

func TestUnreadableAnswersKeepTheText(t *testing.T) {
	f := typicalBuild(t)
	write(t, f, journal.Always, record.Written, "l1", record.Letter{Text: "1. Please confirm."})
	w := visit(t, f).post("/letter/l1/answers", url.Values{"pasted": {"Thank you <all>"}, "on": {"2027-03-16"}, "do": {"read"}})
	if !strings.Contains(w.Body.String(), "Thank you &lt;all&gt;") || !strings.Contains(w.Body.String(), "No numbered answer") {
		t.Errorf("%d: what was pasted is lost", w.Code)
	}
}

func TestWalkingSheetIsOnePage(t *testing.T) {
	w := visit(t, typicalBuild(t)).get("/walk.pdf")
	if w.Code != http.StatusOK || !bytes.HasPrefix(w.Body.Bytes(), []byte("%PDF-")) {
		t.Fatalf("%d %.40q", w.Code, w.Body.String())
	}
	if n := bytes.Count(w.Body.Bytes(), []byte("/Type /Page\n")); n != 1 {
		t.Errorf("%d pages", n)
	}
}
