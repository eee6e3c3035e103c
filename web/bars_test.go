package web_test

import (
	"context"
	"io"
	"log/slog"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

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

// touch sends what a finger does: down at a place, along a path, and up.
func touch(tab *browser.Tab, path ...[2]float64) {
	tab.Do(input.DispatchTouchEvent(input.TouchStart, []*input.TouchPoint{{X: path[0][0], Y: path[0][1]}}))
	for _, p := range path[1:] {
		tab.Do(input.DispatchTouchEvent(input.TouchMove, []*input.TouchPoint{{X: p[0], Y: p[1]}}))
	}
	tab.Do(input.DispatchTouchEvent(input.TouchEnd, []*input.TouchPoint{}))
}

// settledAt waits until the page moves no more by itself, and returns what the
// script says then.
func settledAt(tab *browser.Tab, script string) string {
	var out string
	tab.Eval(`new Promise((done) => setTimeout(function look() { document.documentElement.dataset.settled !== undefined && !document.querySelector(".hand:not([hidden])") ? Promise.resolve(`+script+`).then((x) => done(String(x))) : setTimeout(look, 20); }, 60))`, &out)
	return out
}

// A finger picks a bar by a tap; its handle is wide enough for it, drags the bar
// along and tries a later start on, while the page stays where it is; beside the
// handle the same finger moves the page. Keys move the handle too, and a second
// tap leads to the step.
func TestBarsByTouch(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f, _, evening := fullDemo(t)
	srv := httptest.NewServer(web.New(f, evening, slog.New(slog.NewTextHandler(io.Discard, nil))))
	t.Cleanup(srv.Close)
	tab := browser.New(t, browser.Phone, browser.Light)
	tab.Go(srv.URL + "/programme?part=part/deck")
	const bar = `#bars a[href*='/step/deck-bonded']`
	where := func(selector string) [2]float64 {
		var at []float64
		tab.Eval(`(() => { const b = document.querySelector("`+selector+`").getBoundingClientRect(); return [b.left + b.width / 2, b.top + b.height / 2]; })()`, &at)
		return [2]float64{at[0], at[1]}
	}
	tab.Eval(`(() => { const e = document.querySelector("`+bar+` text"); e.scrollIntoView({ block: "center", inline: "center" }); return ""; })()`, new(string))
	for range 8 {
		if touch(tab, where(bar+" text")); settledAt(tab, `document.querySelector(".picked").hidden`) == "false" {
			break
		}
	}
	if path := settledAt(tab, "location.pathname + location.search"); path != "/programme?part=part/deck" {
		t.Fatalf("a tap leads to %s", path)
	}
	if says := tab.Text(".picked"); !strings.Contains(says, "Deck bonded") && !strings.Contains(says, "drag the handle") {
		t.Errorf("picked: %q", says)
	}
	var box struct {
		W, H  float64
		Touch string
	}
	tab.Eval(`(() => { const e = document.querySelector(".grip"), b = e.getBoundingClientRect(); return { W: b.width, H: b.height, Touch: getComputedStyle(e).touchAction }; })()`, &box)
	if box.W < 44 || box.H < 44 || box.Touch != "none" {
		t.Errorf("the handle is %g by %g, touch-action %q", box.W, box.H, box.Touch)
	}
	if found := append(tab.Stumbles(), tab.Barriers()...); len(found) > 0 {
		t.Errorf("with a bar picked: %v", found)
	}
	tab.Eval(`(() => { document.querySelector(".grip").scrollIntoView({ block: "center" }); return ""; })()`, new(string))
	tab.Sight("programme-picked")
	before := settledAt(tab, "scrollY")
	var perDay float64
	tab.Eval(`(() => { const f = document.querySelector("#bars"); return f.querySelector("svg").getBoundingClientRect().width / (Number(f.dataset.to) + 1 - Number(f.dataset.from)); })()`, &perDay)
	at := where(".grip")
	touch(tab, at, [2]float64{at[0] + 8, at[1] + 9}, [2]float64{at[0] + 7*perDay, at[1] + 30}, [2]float64{at[0] + 14.2*perDay, at[1] + 60})
	if search := settledAt(tab, "location.search"); !strings.Contains(search, "if=deck-bonded&later=2") {
		t.Errorf("dragged by two weeks: %s", search)
	}
	if after := settledAt(tab, "scrollY"); after != before {
		t.Errorf("the page moved from %s to %s under the handle", before, after)
	}
	if says := tab.Text(".picked"); !strings.Contains(says, "2 weeks later. Launch: ") {
		t.Errorf("picked and tried: %q", says)
	}
	tab.Sight("programme-tried")
	if says := tab.Text("#what-if-box"); !strings.Contains(says, "2 weeks later than now") {
		t.Errorf("what if: %s", says)
	}
	// Keys on the handle: three weeks on, one back.
	tab.Eval(`(() => { const g = document.querySelector(".grip"); g.focus(); for (const key of ["Home", "ArrowRight", "ArrowRight", "ArrowRight", "ArrowLeft", "ArrowRight"]) g.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true })); return g.getAttribute("aria-valuetext"); })()`, new(string))
	if search := settledAt(tab, "location.search"); !strings.Contains(search, "later=3") {
		t.Errorf("by keys: %s", search)
	}
	// The same finger beside the handle moves the page.
	before = settledAt(tab, "scrollY")
	swipe := func(from [2]float64) string {
		path := [][2]float64{from}
		for dy := 10.0; dy <= 150; dy += 10 {
			path = append(path, [2]float64{from[0], from[1] - dy})
		}
		touch(tab, path...)
		return settledAt(tab, "new Promise((done) => setTimeout(() => done(scrollY), 300))")
	}
	at = where(".grip")
	if after := swipe(at); after != before {
		t.Errorf("a finger on the handle moves the page from %s to %s", before, after)
	}
	if after := swipe([2]float64{at[0] + 120, at[1]}); after == before {
		t.Errorf("a finger on the bars does not move the page from %s", after)
	}
	tab.Eval(`(() => { document.querySelector("`+bar+` text").scrollIntoView({ block: "center" }); return ""; })()`, new(string))
	path := ""
	for range 8 { // on a slow machine a tap may take so long that it is none
		touch(tab, where(bar+" text"))
		left := chromedp.ActionFunc(func(ctx context.Context) error {
			_ = chromedp.Poll(`location.pathname !== "/programme"`, nil, chromedp.WithPollingTimeout(3*time.Second)).Do(ctx)
			return nil // not left in time: the tap is tried again
		})
		tab.Do(left, chromedp.WaitReady("html[data-settled] h1", chromedp.ByQuery), chromedp.Evaluate("location.pathname", &path))
		if path != "/programme" {
			break
		}
	}
	if path != "/step/deck-bonded" {
		t.Errorf("a second tap leads to %s", path)
	}
}
