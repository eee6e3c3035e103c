package web_test

import (
	"bytes"
	"fmt"
	"io"
	"log/slog"
	"net/http/httptest"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"dogshore/internal/browser"
	"dogshore/record"
	"dogshore/web"
)

// counted drives a tab and counts what a person would have to do.
type counted struct {
	*browser.Tab
	taps, fields int
}

func (c *counted) tap(selector string) { c.taps++; c.Click(selector) }

func (c *counted) fill(selector, text string) { c.fields++; c.Fill(selector, text) }

// The whole start on a phone, from an empty folder to the first review: within
// 12 stage taps, 5 open points and one visit.
func TestStartInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	site := web.NewIn(filepath.Join(t.TempDir(), "boat"), clock, slog.New(slog.NewTextHandler(io.Discard, nil)))
	t.Cleanup(func() {
		if err := site.Close(); err != nil {
			t.Error(err)
		}
	})
	srv := httptest.NewServer(site)
	t.Cleanup(srv.Close)
	c := &counted{Tab: browser.New(t, browser.Phone, browser.Light)}

	c.Go(srv.URL + "/")
	c.fill("#f-name", "Number 12")
	for _, choice := range []string{"catamaran", "infused sandwich", "one piece", "series", "every few weeks"} {
		c.choose(choice)
	}
	c.fill("#f-length", "14,9 m")
	c.Picture("start-questions")
	c.tap(`form[action="/start"] button.main`)
	if c.taps > 1 || c.fields > 7 {
		t.Errorf("the six questions took %d taps and %d fields", c.taps, c.fields)
	}

	c.taps, c.fields = 0, 0
	c.tap(`form[action="/start/visit"] button`)
	for part, stage := range map[string]string{"hull-port": "demoulded", "hull-starboard": "demoulded", "deck": "skin-coat", "bulkheads": "fitted"} {
		c.tap(fmt.Sprintf(`button[value="done/%s-%s"]`, part, stage))
		if got := c.Text("#part-" + part + " .row-line"); !strings.Contains(got, "done") {
			t.Fatalf("after a tap on %s the page says of the %s %q", stage, part, got)
		}
	}
	if c.taps > 1+12 {
		t.Errorf("one visit and the stages took %d taps", c.taps)
	}
	for i, question := range []string{"Where do the jackstays end?", "Which anchor winch?", "How many portlights?", "Where does the gas go?", "Teak or none?"} {
		c.fill(fmt.Sprintf(`[name="point.question.%d"]`, i), question)
	}
	c.fill(`[name="point.covered_by.0"]`, "Deck core")
	c.tap(`form[action="/start/lines/point"] button`)
	c.Picture("start-sheet-filled")
	c.tap("main > p.buttons .button.main")
	if got := c.Text("main"); !strings.Contains(got, "At the visit") || !strings.Contains(got, "jackstays") {
		t.Errorf("the first review says %.600q", got)
	}
	if got := c.Text(".acts"); !strings.Contains(strings.ToLower(got), "deck core") {
		t.Errorf("no act knows of the step that comes next: %.600q", got)
	}
	c.Picture("first-review")
	if got := append(c.Stumbles(), c.Barriers()...); len(got) > 0 {
		t.Errorf("the first review:\n  %s", strings.Join(got, "\n  "))
	}
}

func (c *counted) choose(value string) {
	c.fields++
	c.Eval(fmt.Sprintf(`document.querySelector('input[type=radio][value="%s"]').click()`, value), nil)
}

// What is written in one window is offered in the other, and what is typed
// there stays.
func TestTwoWindowsInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f := typicalBuild(t)
	srv := httptest.NewServer(visit(t, f).site)
	t.Cleanup(srv.Close)
	tab := browser.New(t, browser.Desk, browser.Light)
	tab.Go(srv.URL + "/add/note")
	tab.Fill("#f-text", "half a sentence")
	write(t, f, 46000, record.Told, "elsewhere", record.Note{Text: "written in another window"})
	tab.Eval(`new Promise((done) => { const note = document.querySelector(".fresh"); const look = () => note.hidden ? setTimeout(look, 50) : done(); look(); })`, nil)
	var typed string
	tab.Eval(`document.querySelector("#f-text").value`, &typed)
	if typed != "half a sentence" {
		t.Errorf("what was typed became %q", typed)
	}
	tab.Picture("something-new")
}

// On paper the sheet stands alone: no list of sheets, no buttons.
func TestPaperInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	srv := httptest.NewServer(visit(t, typicalBuild(t)).site)
	t.Cleanup(srv.Close)
	tab := browser.New(t, browser.Desk, browser.Light)
	tab.Go(srv.URL + "/")
	if text := pdfText(t, tab.Paper()); !strings.Contains(text, "Test sloop") || !strings.Contains(text, "At the visit") || !strings.Contains(text, "sheet 1 of") || strings.Contains(text, "Do, drop or waive") || strings.Contains(text, "Bought in") {
		t.Errorf("on paper stands: %.1500s", text)
	}
}

// pdfText reads the text of a PDF with pdftotext.
func pdfText(t *testing.T, pdf []byte) string {
	t.Helper()
	cmd := exec.Command("pdftotext", "-layout", "-", "-")
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("pdftotext (Debian's poppler-utils): %v", err)
	}
	return string(out)
}
