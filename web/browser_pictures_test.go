package web_test

import (
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"dogshore/internal/browser"
	"dogshore/journal"
	"dogshore/picture"
	"dogshore/record"
)

// Pictures are handed in by script, one after the other, listed, taken in, and
// seen at their visit.
func TestPicturesInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	b := visit(t, typicalBuild(t))
	rest(t, b)
	srv := httptest.NewServer(b.site)
	t.Cleanup(srv.Close)
	dir := t.TempDir()
	var files []string
	for name, from := range map[string]string{"IMG_0001.jpg": "stripped.jpg", "2027-03-02 deck.jpg": "progressive.jpg", "wrong.jpg": "webp.jpg"} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(madePicture(t, from)), 0o644); err != nil {
			t.Fatal(err)
		}
		files = append(files, path)
	}
	for _, size := range []browser.Size{browser.Phone, browser.Desk} {
		tab := browser.New(t, size, browser.Light)
		tab.Go(srv.URL + "/pictures")
		tab.Do(chromedp.SetUploadFiles("#file", files, chromedp.ByQuery), chromedp.Click(".drop button.main", chromedp.ByQuery), chromedp.WaitVisible(`button[value="drop"]`, chromedp.ByQuery))
		tab.Settled()
		if got := tab.Text("h1"); got != "3 files handed in" {
			t.Errorf("%s: %q", size.Name, got)
		}
		if got := append(tab.Stumbles(), tab.Barriers()...); len(got) > 0 {
			t.Errorf("the list, %s:\n  %s", size.Name, strings.Join(got, "\n  "))
		}
		tab.Picture("tray-" + size.Name)
		if size == browser.Phone {
			tab.Click(`button[value="drop"]`)
			continue
		}
		tab.Do(chromedp.Click(`input[type=radio][value^="the visit"]`, chromedp.ByQuery))
		tab.Click(`button[value="accept"]`)
		tab.Go(srv.URL + "/visit/v2")
		var broken, all int
		tab.Do(chromedp.Evaluate(`document.querySelector(".strip")?.scrollIntoView()`, nil), chromedp.Poll(`[...document.querySelectorAll(".strip img")].every((i) => i.complete)`, nil))
		tab.Eval(`document.querySelectorAll(".strip img").length`, &all)
		tab.Eval(`[...document.querySelectorAll(".strip img")].filter((i) => i.naturalWidth < 40).length`, &broken)
		if all < 1 || broken > 0 {
			t.Errorf("%d pictures at the visit, %d of them not shown", all, broken)
		}
		if got := append(tab.Stumbles(), tab.Barriers()...); len(got) > 0 {
			t.Errorf("the visit:\n  %s", strings.Join(got, "\n  "))
		}
	}
}

// A HEIC picture stands as being made until it is, and then appears by itself.
func TestHEICAppears(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	if !picture.DecodesHEIC() {
		t.Skip("built without HEIC: the tag is nodynamic")
	}
	f := typicalBuild(t)
	file, err := f.Put(t.Context(), "a.heic", strings.NewReader(madePicture(t, "plain.heic")), 1<<20)
	if err != nil {
		t.Fatal(err)
	}
	write(t, f, journal.Always, record.Seen, "ph1", record.Photo{File: file})
	b := visit(t, f)
	rest(t, b)
	first := b.get("/picture/" + file.SHA256 + "/thumb")
	if first.Code != 200 || !strings.Contains(first.Body.String(), "being made") || first.Header().Get("Cache-Control") != "no-store" {
		t.Errorf("before it is made: %d %v", first.Code, first.Header())
	}
	srv := httptest.NewServer(b.site)
	t.Cleanup(srv.Close)
	tab := browser.New(t, browser.Phone, browser.Light)
	tab.Go(srv.URL + "/photo/ph1")
	tab.Until(`document.querySelector("#photo-image").naturalWidth === 192`) // as heif-enc packed it
}
