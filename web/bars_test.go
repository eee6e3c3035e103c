package web_test

import (
	"io"
	"log/slog"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"

	"dogshore/internal/browser"
	"dogshore/web"
)

// Keys move the bars along and draw them nearer; the server draws what is in
// sight, and the address keeps it. A bar that has the focus waits by keys.
func TestBarsByKeyboard(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f, _, evening := fullDemo(t)
	srv := httptest.NewServer(web.New(f, evening, slog.New(slog.NewTextHandler(io.Discard, nil))))
	t.Cleanup(srv.Close)
	tab := browser.New(t, browser.Desk, browser.Light)
	tab.Go(srv.URL + "/programme?part=part/deck")
	tab.Click("#sift button") // the first answer is slow: the review is computed
	press := func(selector, key string) string {
		var at string
		tab.Eval(`(() => { const e = document.querySelector("`+selector+`"); e.focus();
			e.dispatchEvent(new KeyboardEvent("keydown", { key: "`+key+`", bubbles: true, cancelable: true })); return ""; })()`, &at)
		tab.Eval(`new Promise((done) => { const look = () => document.documentElement.dataset.settled !== undefined && !document.querySelector(".hand:not([hidden])") ? done(location.search) : setTimeout(look, 20); setTimeout(look, 40); })`, &at)
		return at
	}
	whole := press("#bars", "0")
	nearer := press("#bars", "+")
	along := press("#bars", "ArrowRight")
	if whole == nearer || nearer == along || !strings.Contains(along, "from=20") || !strings.Contains(along, "part=part") {
		t.Errorf("whole %s, nearer %s, along %s", whole, nearer, along)
	}
	if at := press(`#bars a[href*='/step/deck-bonded']`, "ArrowRight"); !strings.Contains(at, "if=deck-bonded&later=1") {
		t.Errorf("a bar that waits: %s", at)
	}
	if says := tab.Text("#what-if-box"); !strings.Contains(says, "1 week later than now") {
		t.Errorf("what if: %s", says)
	}
}

// A bar that is dragged to the right tries a later start on; what lies beside
// the bars moves along; and a tap still leads to the step.
func TestBarsByHand(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f, _, evening := fullDemo(t)
	srv := httptest.NewServer(web.New(f, evening, slog.New(slog.NewTextHandler(io.Discard, nil))))
	t.Cleanup(srv.Close)
	tab := browser.New(t, browser.Desk, browser.Light)
	tab.Go(srv.URL + "/programme?part=part/deck")
	drag := func(selector string, by float64) string {
		var at []float64
		tab.Eval(`(() => { const e = document.querySelector("`+selector+`"); e.scrollIntoView({ block: "center" });
			const b = e.getBoundingClientRect(); return [b.left + 3, b.top + b.height / 2]; })()`, &at)
		tab.Do(
			chromedp.MouseEvent(input.MousePressed, at[0], at[1], chromedp.ButtonLeft),
			chromedp.MouseEvent(input.MouseMoved, at[0]+by/2, at[1], chromedp.ButtonLeft),
			chromedp.MouseEvent(input.MouseMoved, at[0]+by, at[1], chromedp.ButtonLeft),
			chromedp.MouseEvent(input.MouseReleased, at[0]+by, at[1], chromedp.ButtonLeft),
		)
		var where string
		tab.Eval(`new Promise((done) => setTimeout(function look() { document.documentElement.dataset.settled !== undefined ? done(location.href) : setTimeout(look, 20); }, 60))`, &where)
		return where
	}
	if where := drag(`#bars a[href*='/step/deck-bonded'] .hatch, #bars a[href*='/step/deck-bonded'] text`, 120); !strings.Contains(where, "if=deck-bonded&later=") {
		t.Errorf("a dragged bar: %s", where)
	}
	before := drag("#bars .rule", 1)
	if after := drag("#bars .rule", -200); after == before || !strings.Contains(after, "from=20") {
		t.Errorf("moved along: %s, then %s", before, after)
	}
	var at []float64
	tab.Eval(`(() => { const e = document.querySelector("#bars a[href*='/step/deck-core'] text"); e.scrollIntoView({ block: "center" });
		const b = e.getBoundingClientRect(); return [b.left + 3, b.top + b.height / 2]; })()`, &at)
	tab.Do(chromedp.MouseClickXY(at[0], at[1]), chromedp.WaitReady("html[data-settled] h1", chromedp.ByQuery))
	var path string
	tab.Eval(`new Promise((done) => setTimeout(function look() { location.pathname !== "/programme" ? done(location.pathname) : setTimeout(look, 20); }, 20))`, &path)
	if path != "/step/deck-core" {
		t.Errorf("a tap leads to %s", path)
	}
}
