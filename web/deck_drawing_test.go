package web_test

import (
	"net/http/httptest"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"

	"dogshore/internal/browser"
	"dogshore/journal"
	"dogshore/record"
)

// A drawing is handed in on the intake page and asked about in turns: what was
// answered stays, an answer may be written in own words, and nothing is on
// record before it is said.
func TestDrawingInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f := typicalBuild(t)
	srv := httptest.NewServer(visit(t, f).site)
	t.Cleanup(srv.Close)
	path, err := filepath.Abs(filepath.Join("..", "dxf", "testdata", "deck.dxf"))
	if err != nil {
		t.Fatal(err)
	}
	for _, size := range []browser.Size{browser.Phone, browser.Desk} {
		tab := browser.New(t, size, browser.Light)
		tab.Go(srv.URL + "/intake")
		tab.Choose("#file", path)
		tab.Click("form button.main")
		if found := append(tab.Stumbles(), tab.Barriers()...); len(found) > 0 {
			t.Errorf("the reading, %s: %v", size.Name, found)
		}
		tab.Picture("drawing-" + size.Name)
		if size == browser.Phone {
			continue
		}
		say := func(id, answer string) {
			tab.Do(chromedp.Click(`input[name="answer:`+id+`"][value="`+answer+`"]`, chromedp.ByQuery))
		}
		say("deck.dxf axes", "x forward, y to port")
		tab.Fill(`input[name="written:deck.dxf zero"]`, "0,5; 0")
		say("deck.dxf, layer COACHROOF", "deck level")
		tab.Fill(`input[name="written:deck.dxf, block CLEAT"]`, "obstacle: winch")
		say("deck.dxf, layer EDGE", "leave it out")
		tab.Click(`button[value="again"]`)
		if n := len(journal.All[record.Level](as(t, f))); n != 0 {
			t.Fatalf("%d levels are on record before it was said", n)
		}
		tab.Fill(`input[name="answer:deck.dxf, layer COACHROOF height"]`, "1,6 m")
		tab.Click(`button[value="again"]`)
		tab.Picture("drawing-again-" + size.Name)
		if found := append(tab.Stumbles(), tab.Barriers()...); len(found) > 0 {
			t.Errorf("read again, %s: %v", size.Name, found)
		}
		tab.Click(`button[value="accept"]`)
		roof, ok := journal.Get[record.Level](as(t, f), "level/coachroof")
		if !ok || roof.Height.SI != 1.6 || len(roof.Plan) < 10 {
			t.Errorf("written: %+v", roof)
		}
		if n := journal.All[record.Obstacle](as(t, f)); len(n) != 6 || n[0].Sort != "winch" {
			t.Errorf("%d obstacles", len(n))
		}
	}
}
