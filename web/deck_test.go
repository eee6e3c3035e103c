package web_test

import (
	"math"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"dogshore/internal/browser"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/unit"
)

// deckBuild is the typical build with a deck and one line on it.
func deckBuild(t testing.TB) *store.Folder {
	t.Helper()
	f := typicalBuild(t)
	m := func(v float64) unit.Quantity { return unit.Q(v, unit.Length) }
	write(t, f, journal.Always, record.Written, "deck-level", record.Level{Name: "Deck", Plan: record.Outline{{0, -1.4}, {9, -1}, {9, 1}, {0, 1.4}}, Height: m(1)})
	write(t, f, journal.Always, record.Written, "port-edge", record.Edge{Name: "Port side", Path: record.Outline{{0, 1.4}, {9, 1}}, Height: m(1), Rail: m(0.6), Gap: m(0.28)})
	write(t, f, journal.Always, record.Written, "web", record.Rope{Name: "Webbing", Make: "polyester webbing", Size: m(0.025), Breaking: unit.Q(22000, unit.Force)})
	write(t, f, journal.Always, record.Written, "after", record.Fitting{Name: "After eye", Sort: "pad eye", Spot: record.Spot{Known: true, X: 1, Y: 0.5, Z: 1}, Clip: record.Yes})
	write(t, f, journal.Always, record.Written, "fore", record.Fitting{Name: "Fore eye", Sort: "pad eye", Spot: record.Spot{Known: true, X: 8, Y: 0.5, Z: 1}})
	write(t, f, journal.Always, record.Written, "line", record.Jackstay{Name: "Port line", Rope: "rope/web"})
	write(t, f, journal.Always, record.Written, "line-1", record.Support{Jackstay: "jackstay/line", Number: unit.Q(1, unit.Number), How: "end", Fitting: "fitting/after"})
	write(t, f, journal.Always, record.Written, "line-2", record.Support{Jackstay: "jackstay/line", Number: unit.Q(2, unit.Number), How: "end", Fitting: "fitting/fore"})
	write(t, f, journal.Always, record.Written, "bow", record.Task{Name: "Go to the bow", Way: record.Outline{{1, 0}, {7.5, 0}}, Hands: "both"})
	return f
}

// The page says what a line comes to; what is tried on changes the figures and
// writes nothing; what is written changes the record, over what the page
// showed.
func TestDeckPage(t *testing.T) {
	f := deckBuild(t)
	b := visit(t, f)
	page := b.get("/deck").Body.String()
	for _, says := range []string{"Lines on deck", "After a fall", "Go to the bow", "Offshore Special Regulations", "approves no anchorage", `name="at.fitting/after"`} {
		if !strings.Contains(strings.ToLower(page), strings.ToLower(says)) {
			t.Errorf("the page does not say %q", says)
		}
	}
	tried := b.get("/deck?option=&at.fitting%2Fafter=2.5%3B+0.9%3B+1").Body.String()
	if !strings.Contains(tried, "not written down") || !strings.Contains(tried, "On record: 1; 0.5; 1") || tried == page {
		t.Error("a place that was tried on does not show")
	}
	if bad := b.get("/deck?option=&at.fitting%2Fafter=there").Body.String(); !strings.Contains(bad, `aria-invalid="true"`) {
		t.Error("a place that is none is not said to be wrong")
	}
	hand := b.get("/deck/hand?option=&held=fitting%2Fafter&at.fitting%2Fafter=2.5%3B+0.9%3B+1").Body.String()
	if !strings.Contains(hand, `"run":"M`) || !strings.Contains(hand, "after a fall") {
		t.Errorf("in the hand: %s", hand)
	}
	if x, _ := journal.Get[record.Fitting](as(t, f), "fitting/after"); x.Spot.X != 1 {
		t.Error("trying a place on wrote it down")
	}
	w := b.post("/deck/places", url.Values{"option": {""}, "author": {"owner"}, "at.fitting/after": {"2.5; 0.9; 1"}})
	if w.Code != http.StatusSeeOther {
		t.Fatalf("writing: %d %s", w.Code, w.Body)
	}
	if x, _ := journal.Get[record.Fitting](as(t, f), "fitting/after"); x.Spot.X != 2.5 || x.Spot.Y != 0.9 {
		t.Errorf("the eye is at %+v", x.Spot)
	}
	if r := as(t, f); len(r.Doubts()) != len(as(t, deckBuild(t)).Doubts()) {
		t.Error("a place written over what was shown is a doubt")
	}
	if w := b.post("/deck/places", url.Values{"option": {""}}); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("nothing moved: %d", w.Code)
	}
	for _, path := range []string{"/deck?option=none", "/deck.pdf?option=none"} {
		if w := b.do(httptest.NewRequest("GET", path, nil)); w.Code != http.StatusNotFound {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
	if w := b.do(httptest.NewRequest("GET", "/deck.pdf", nil)); w.Code != http.StatusOK || !strings.HasPrefix(w.Body.String(), "%PDF") {
		t.Errorf("the request on paper: %d", w.Code)
	}
}

// A finger drags a ring, arrow keys move it: the page says what the hand holds,
// and every figure follows; the page stands on a phone as on a desk.
func TestDeckInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	srv := httptest.NewServer(visit(t, deckBuild(t)).site)
	t.Cleanup(srv.Close)
	for _, x := range []struct {
		size   browser.Size
		scheme browser.Scheme
	}{{browser.Phone, browser.Light}, {browser.Desk, browser.Dark}} {
		tab := browser.New(t, x.size, x.scheme)
		tab.Go(srv.URL + "/deck")
		if found := append(tab.Stumbles(), tab.Barriers()...); len(found) > 0 {
			t.Errorf("%s: %v", x.size.Name, found)
		}
		tab.Picture("deck-" + string(x.scheme))
		ringAt := func(script string) (x, y, wide float64) {
			var box []float64
			tab.Eval(`(() => { `+script+` const b = document.querySelector(".deck-ring .wide").getBoundingClientRect(); return [b.left + b.width / 2, b.top + b.height / 2, Math.min(b.width, b.height)]; })()`, &box)
			return box[0], box[1], box[2]
		}
		x0, y0, wide := ringAt(`document.querySelector(".deck-ring").scrollIntoView({ block: "center" });`)
		if wide < 44 {
			t.Errorf("%s: a ring is %g wide", x.size.Name, wide)
		}
		at := [2]float64{x0, y0}
		touch(tab, at, [2]float64{at[0] + 10, at[1] + 2}, [2]float64{at[0] + 30, at[1] - 20})
		tab.Settled()
		if search := settledAt(tab, "location.search"); strings.Contains(search, "at.fitting%2Fafter=1%3B+0.5%3B") {
			t.Errorf("%s: dragged: %s", x.size.Name, search)
		}
		if says := tab.Text("#deck-answer"); !strings.Contains(says, "not written down") {
			t.Errorf("%s: after dragging the page says %q", x.size.Name, says)
		}
		if x1, y1, _ := ringAt(""); math.Abs(x1-x0-30) > 2 || math.Abs(y1-y0+20) > 2 {
			t.Errorf("%s: the finger went 30 right and 20 up, the ring %.1f and %.1f", x.size.Name, x1-x0, y0-y1)
		}
		spot := `document.querySelector("input[data-spot]").value`
		before := settledAt(tab, spot)
		tab.Eval(`(() => { const g = document.querySelector(".deck-ring"); g.focus(); g.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowRight", shiftKey: true, bubbles: true, cancelable: true })); return ""; })()`, new(string))
		tab.Settled()
		if after := settledAt(tab, spot); after == before {
			t.Errorf("%s: an arrow key moves nothing: %s", x.size.Name, after)
		}
		tab.Picture("deck-moved-" + string(x.scheme))
		deckLooked(t, tab, x.size.Name)
	}
}

// deckLooked switches a layer off, shows one line alone, and comes closer.
func deckLooked(t *testing.T, tab *browser.Tab, size string) {
	t.Helper()
	seen := func(what string) bool {
		return settledAt(tab, `[...document.querySelectorAll('#deck-drawn [data-layer="`+what+`"]')].some((g) => g.getClientRects().length > 0)`) == "true"
	}
	tab.Eval(`(() => { document.querySelector(".deck-picks details[open] > summary").click(); return ""; })()`, new(string)) // the line that was held
	if !seen("reach") || !seen("task") {
		t.Errorf("%s: reach or the ways of tasks are not drawn", size)
	}
	tab.Eval(`(() => { document.querySelector('.deck-marks input[value="task"]').click(); return ""; })()`, new(string))
	if seen("task") || !seen("reach") {
		t.Errorf("%s: the ways of tasks are not switched off, or more is", size)
	}
	tab.Eval(`(() => { document.querySelector('.deck-marks input[value="task"]').click(); document.querySelector('.deck-picks details[data-of="fitting/after"] > summary').click(); return ""; })()`, new(string))
	if seen("reach") || !seen("alone") {
		t.Errorf("%s: an eye is not shown alone", size)
	}
	grown := settledAt(tab, `(() => { const w = () => document.querySelector(".deck-hands").getBoundingClientRect().width, was = w(); document.querySelector('[data-zoom="1.5"]').click(); return w() / was > 1.4 && document.querySelector(".deck-ring .wide").getBoundingClientRect().width; })()`)
	if !strings.HasPrefix(grown, "4") {
		t.Errorf("%s: closer: the drawing did not grow, or its rings are no longer as wide as a finger: %s", size, grown)
	}
}

// Without a script one thing can be shown alone as well, by its address.
func TestDeckShowsOneAlone(t *testing.T) {
	b := visit(t, deckBuild(t))
	all, one := b.get("/deck").Body.String(), b.get("/deck?option=&show=task%2Fbow").Body.String()
	if strings.Contains(all, `class="apart" data-layer="reach"`) || !strings.Contains(one, `<details name="deck-pick" data-of="task/bow" open>`) {
		t.Error("the task that the address names is not the one that is open")
	}
	if !strings.Contains(one, `class="apart" data-layer="catch"`) {
		t.Error("what a line can catch on is drawn with a task shown alone")
	}
}

// What port and starboard have alike is told once, with both names.
func TestDeckTellsMirrorImagesOnce(t *testing.T) {
	f := deckBuild(t)
	write(t, f, journal.Always, record.Written, "hatch", record.Obstacle{Name: "Hatch to port", Sort: "hatch", Plan: record.Outline{{4, 0.3}, {4.6, 0.3}, {4.6, 0.7}, {4, 0.7}}, Base: unit.Q(1, unit.Length), Swings: unit.Q(0.6, unit.Length)})
	write(t, f, journal.Always, record.Written, "line-s", record.Jackstay{Name: "Starboard line", Rope: "rope/web"})
	for i, x := range []float64{1, 8} {
		write(t, f, journal.Always, record.Written, "line-s-"+string(rune('1'+i)), record.Support{Jackstay: "jackstay/line-s", Number: unit.Q(float64(i+1), unit.Number), How: "end", Spot: record.Spot{Known: true, X: x, Y: -0.5, Z: 1}})
	}
	page := visit(t, f).get("/deck").Body.String()
	if !strings.Contains(page, "alike; one is told") {
		t.Error("two lines that are each other's mirror image are told apart")
	}
}
