package web_test

import (
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
		var box []float64
		tab.Eval(`(() => { const b = document.querySelector(".deck-ring .wide").getBoundingClientRect(); return [b.left + b.width / 2, b.top + b.height / 2, b.width, b.height]; })()`, &box)
		if box[2] < 44 || box[3] < 44 {
			t.Errorf("%s: a ring is %g by %g", x.size.Name, box[2], box[3])
		}
		at := [2]float64{box[0], box[1]}
		touch(tab, at, [2]float64{at[0] + 10, at[1] + 2}, [2]float64{at[0] + 30, at[1] + 6})
		tab.Settled()
		if search := settledAt(tab, "location.search"); strings.Contains(search, "at.fitting%2Fafter=1%3B+0.5%3B") {
			t.Errorf("%s: dragged: %s", x.size.Name, search)
		}
		if says := tab.Text("#deck-answer"); !strings.Contains(says, "not written down") {
			t.Errorf("%s: after dragging the page says %q", x.size.Name, says)
		}
		before := settledAt(tab, `document.querySelector("input[data-x]").value`)
		tab.Eval(`(() => { const g = document.querySelector(".deck-ring"); g.focus(); g.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowRight", shiftKey: true, bubbles: true, cancelable: true })); return ""; })()`, new(string))
		tab.Settled()
		if after := settledAt(tab, `document.querySelector("input[data-x]").value`); after == before {
			t.Errorf("%s: an arrow key moves nothing: %s", x.size.Name, after)
		}
	}
}
