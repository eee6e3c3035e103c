package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"dogshore/journal"
	"dogshore/record"
)

var readingAt = regexp.MustCompile(`action="(/intake/[A-Z0-9]+)"`)

// A list is shown before it is written, its question answered on the page,
// and all of it can be taken back and brought in again.
func TestIntakeOfAList(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	csv := "\ufeffname;role;may instruct\nTom Reed;designer;no\nUna Field;surveyor;\n"
	w := b.send("/intake", nil, map[string]string{"file=people.csv": csv})
	body := w.Body.String()
	if w.Code != 200 || !strings.Contains(body, "Tom Reed") || !strings.Contains(body, "Nothing is written yet") {
		t.Fatalf("%d %.600s", w.Code, body)
	}
	if n := len(as(t, f).Refs("person")); n != 2 {
		t.Errorf("%d people before the button", n)
	}
	at := readingAt.FindStringSubmatch(body)[1]
	taken(t, b.post(at, url.Values{"do": {"accept"}}))
	if n := len(as(t, f).Refs("person")); n != 4 {
		t.Errorf("%d people after it", n)
	}
	if w := b.post(at, url.Values{"do": {"accept"}}); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "once more") {
		t.Errorf("the same button twice: %d", w.Code)
	}
	again := b.send("/intake", nil, map[string]string{"file=people.csv": csv}).Body.String()
	if !strings.Contains(again, "Nothing that the record does not say already") {
		t.Error("the same file twice counts twice")
	}
	page := b.get("/intake").Body.String()
	undo := regexp.MustCompile(`action="(/batch/[^"]+/undo)"`).FindStringSubmatch(page)
	if undo == nil {
		t.Fatalf("the intake can't be taken back: %.500s", page)
	}
	taken(t, b.post(undo[1], nil))
	if n := len(as(t, f).Refs("person")); n != 2 {
		t.Errorf("%d people after undoing", n)
	}
}

func TestIntakeAsksAndRefuses(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	csv := "name;point;weight\nteak;Where does the stem eye go?;1.200 kg\n"
	body := b.send("/intake", nil, map[string]string{"file=options.csv": csv}).Body.String()
	if !strings.Contains(body, "Not clear (1)") {
		t.Fatalf("1.200 is not asked about: %.800s", body)
	}
	name := regexp.MustCompile(`name="(answer:[^"]+)" value="([^"]+)"`).FindStringSubmatch(body)
	at := readingAt.FindStringSubmatch(body)[1]
	taken(t, b.post(at, url.Values{name[1]: {name[2]}, "do": {"accept"}}))
	found := false
	for _, o := range journal.All[record.Option](as(t, f)) {
		found = found || o.Name == "teak" && o.Weight.Known
	}
	if !found {
		t.Error("the answer did not arrive")
	}
}

func TestIntakeOfAMessage(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	message := "From: Ada Quill <ada@example.invalid>\nDate: Mon, 15 Mar 2027 09:12:00 +0000\nSubject: Deck\n\nThe core goes down on Monday.\n"
	body := b.send("/intake", map[string]string{"message": message}, nil).Body.String()
	m := readingAt.FindStringSubmatch(body)
	if m == nil {
		t.Fatalf("%.600s", body)
	}
	taken(t, b.post(m[1], url.Values{"do": {"accept"}}))
	for _, n := range journal.All[record.Note](as(t, f)) {
		if strings.Contains(n.Text, "The core goes down on Monday") {
			e := as(t, f).From(n.Self)
			if n.From != "person/ada" || n.Day.String() != "2027-03-15" || e.Grounds != record.Written {
				t.Errorf("from %s, on %s, %s", n.From, n.Day, e.Grounds)
			}
			return
		}
	}
	t.Error("the message is not on record")
}

// The workbook that is taken away and brought back untouched says nothing
// new.
func TestWorkbookThereAndBack(t *testing.T) {
	b := visit(t, typicalBuild(t))
	book := b.get("/workbook.xlsx").Body.String()
	body := b.send("/intake", nil, map[string]string{"file=build.xlsx": book}).Body.String()
	if !strings.Contains(body, "Nothing that the record does not say already") || strings.Contains(body, "Not clear") {
		t.Errorf("%.3000s", body)
	}
}

func TestNothingHandedIn(t *testing.T) {
	b := visit(t, emptyBuild(t))
	if w := b.send("/intake", map[string]string{"message": "  "}, nil); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("%d", w.Code)
	}
}
