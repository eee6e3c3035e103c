package diary_test

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"dogshore/diary"
	"dogshore/internal/browser"
)

// unpacked writes an archive to the disk and returns the address of a file in
// it.
func unpacked(t *testing.T, data []byte) func(name string) string {
	t.Helper()
	dir := t.TempDir()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS(dir, z); err != nil {
		t.Fatal(err)
	}
	return func(name string) string {
		return (&url.URL{Scheme: "file", Path: filepath.ToSlash(filepath.Join(dir, "diary-test-sloop", name))}).String()
	}
}

// The archive opens from the disk with the network cut: pictures load, words
// are found, nothing is asked of anywhere else, and the accessibility checker
// finds nothing. Without script the lists lead everywhere.
func TestArchiveInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	data, _ := archived(t, diary.Read(sloop(t), diary.Leave{Names: true}))
	at := unpacked(t, data)
	tab := browser.New(t, browser.Phone, browser.Light)
	tab.Do(network.Enable(), chromedp.ActionFunc(func(ctx context.Context) error {
		return network.OverrideNetworkState(true, 0, 0, 0).Do(ctx)
	}))
	tab.Go(at("index.html"))
	var online bool
	if tab.Eval(`navigator.onLine`, &online); online {
		t.Error("the network is not cut")
	}
	search(t, tab)
	looked(t, tab, "diary-index")
	tab.Do(chromedp.Navigate(at("visit-2027-03-02.html")), chromedp.WaitReady("main"))
	var shown, all int
	tab.Eval(`Promise.all([...document.images].map((i) => { i.loading = "eager"; return i.decode().catch(() => {}); })).then(() => [...document.images].filter((i) => i.naturalWidth > 0).length)`, &shown)
	if tab.Eval(`document.images.length`, &all); shown != all || all != 3 {
		t.Errorf("%d of %d pictures load", shown, all)
	}
	looked(t, tab, "diary-leaf")
	tab.Do(chromedp.Click(`nav a`, chromedp.ByQuery))
	tab.Settled()
	var where string
	if tab.Eval(`location.href`, &where); where != at("index.html") {
		t.Errorf("All visits leads to %s", where)
	}
}

// search finds by word, place and stage.
func search(t *testing.T, tab *browser.Tab) {
	t.Helper()
	for _, c := range []struct {
		word, place, stage string
		many               int
	}{{"PADS", "", "", 1}, {"pads nowhere", "", "", 0}, {"", "Deck", "Core", -1}, {"released", "Deck", "Core", 1}, {"", "", "", -1}} {
		tab.Eval(fmt.Sprintf(`(() => { word.value = %q; place.value = %q; stage.value = %q; word.dispatchEvent(new Event("input")); })()`, c.word, c.place, c.stage), nil)
		var seen int
		tab.Eval(`[...document.querySelectorAll(".shelf li")].filter((li) => li.checkVisibility()).length`, &seen)
		var says string
		tab.Eval(`document.getElementById("many").textContent`, &says)
		switch {
		case c.many >= 0 && (seen != c.many || says != fmt.Sprintf("%d found", c.many)):
			t.Errorf("%+v: %d are seen, and it says %q", c, seen, says)
		case c.many < 0 && c.place != "" && (seen < 3 || says != fmt.Sprintf("%d found", seen)):
			t.Errorf("%+v: %d are seen, and it says %q", c, seen, says)
		case c == struct {
			word, place, stage string
			many               int
		}{many: -1} && (seen != 0 || says != ""):
			t.Errorf("nothing asked: %d are seen, and it says %q", seen, says)
		}
	}
}

// looked looks at a page of the archive at each size and in each scheme.
func looked(t *testing.T, tab *browser.Tab, name string) {
	t.Helper()
	var away []string
	tab.Eval(`performance.getEntries().map((e) => e.name).filter((n) => /^(https?|wss?|ftp):/.test(n))`, &away)
	if len(away) > 0 {
		t.Errorf("%s asks elsewhere: %s", name, strings.Join(away, ", "))
	}
	for _, size := range []browser.Size{browser.Desk, browser.Phone} {
		for _, scheme := range []browser.Scheme{browser.Dark, browser.Light} {
			tab.Look(size, scheme)
			if got := tab.Stumbles(); len(got) > 0 {
				t.Errorf("%s, %s, %s:\n  %s", name, size.Name, scheme, strings.Join(got, "\n  "))
			}
			tab.Picture(name)
		}
	}
	if got := tab.Barriers(); len(got) > 0 {
		t.Errorf("%s:\n  %s", name, strings.Join(got, "\n  "))
	}
}
