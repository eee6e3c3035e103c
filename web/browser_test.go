package web_test

import (
	"net/http/httptest"
	"strings"
	"testing"

	"dogshore/internal/browser"
)

// looks lists the pages that are looked at in a real browser, at both sizes,
// in light and dark.
var looks = []struct{ name, path string }{
	{"review", "/"},
	{"record", "/of/step/deck-core"},
	{"edit", "/edit/step/deck-core"},
	{"add", "/add/defect"},
	{"list", "/list/part"},
	{"boat", "/boat"},
	{"part", "/part/deck"},
	{"points", "/points"},
	{"point", "/point/stem-eye"},
	{"programme", "/programme"},
	{"promises", "/promises"},
	{"people", "/people"},
	{"items", "/items"},
	{"requirements", "/requirements"},
	{"sisters", "/sisters"},
	{"calendar", "/calendar"},
	{"kinds", "/kinds"},
	{"words", "/words"},
	{"acts", "/acts"},
	{"act", "/act?id=settle/point/stem-eye"},
	{"key", "/key"},
	{"start-sheet", "/start"},
	{"past", "/?as-of=2027-02-10"},
	{"problem", "/nothing"},
}

func TestPagesInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	for _, b := range []struct {
		name string
		site *browse
	}{{"typical", visit(t, typicalBuild(t))}, {"hostile", visit(t, hostileBuild(t))}, {"empty", visit(t, emptyBuild(t))}} {
		srv := httptest.NewServer(b.site.site)
		t.Cleanup(srv.Close)
		for _, size := range []browser.Size{browser.Desk, browser.Phone} {
			for _, scheme := range []browser.Scheme{browser.Light, browser.Dark} {
				if b.name != "typical" && scheme == browser.Dark {
					continue // names do not change the ink
				}
				t.Run(strings.Join([]string{b.name, size.Name, string(scheme)}, "-"), func(t *testing.T) {
					tab := browser.New(t, size, scheme)
					for _, l := range looks {
						tab.Go(srv.URL + l.path)
						if got := tab.Stumbles(); len(got) > 0 {
							t.Errorf("%s:\n  %s", l.path, strings.Join(got, "\n  "))
						}
						tab.Picture(b.name + "-" + l.name)
					}
				})
			}
		}
	}
}
