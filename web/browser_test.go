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
	{"intake", "/intake"},
	{"pictures", "/pictures"},
	{"boat", "/boat"},
	{"part", "/part/deck"},
	{"points", "/points"},
	{"traces", "/deck/trace"},
	{"point", "/point/stem-eye"},
	{"programme", "/programme"},
	{"what-if", "/programme?if=deck-core&later=2"},
	{"step", "/step/deck-core"},
	{"launch", "/launch"},
	{"promises", "/promises"},
	{"people", "/people"},
	{"items", "/items"},
	{"requirements", "/requirements"},
	{"sisters", "/sisters"},
	{"calendar", "/calendar"},
	{"phones-off", "/phones"},
	{"kinds", "/kinds"},
	{"words", "/words"},
	{"acts", "/acts"},
	{"act", "/act?id=settle/point/stem-eye"},
	{"key", "/key"},
	{"start-sheet", "/start"},
	{"visits", "/visits"},
	{"walk", "/walk"},
	{"visit", "/visit/v2"},
	{"visit-blank", "/visit/blank"},
	{"visit-paper", "/visit/v2/paper"},
	{"away", "/away"},
	{"letter-draft", "/letter-draft"},
	{"diary", "/diary"},
	{"diary-found", "/diary?word=deck"},
	{"diary-visit", "/diary/v2"},
	{"past", "/?as-of=2027-02-10"},
	{"problem", "/nothing"},
}

// Every page is looked at on a desk and on a phone, in light and dark: no page
// is wider than its window, no control too small for a thumb, no text too
// faint; and the accessibility checker finds nothing.
func TestPagesInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	typical, hostile, empty := visit(t, typicalBuild(t)), visit(t, hostileBuild(t)), visit(t, emptyBuild(t))
	for _, x := range []struct {
		name     string
		site     *browse
		size     browser.Size
		scheme   browser.Scheme
		barriers bool
	}{
		{"typical", typical, browser.Phone, browser.Light, true},
		{"typical", typical, browser.Desk, browser.Light, false},
		{"typical", typical, browser.Desk, browser.Dark, false},
		{"hostile", hostile, browser.Phone, browser.Light, false},
		{"empty", empty, browser.Phone, browser.Dark, false},
	} {
		t.Run(strings.Join([]string{x.name, x.size.Name, string(x.scheme)}, "-"), func(t *testing.T) {
			srv := httptest.NewServer(x.site.site)
			t.Cleanup(srv.Close)
			tab := browser.New(t, x.size, x.scheme)
			for _, l := range looks {
				tab.Go(srv.URL + l.path)
				got := tab.Stumbles()
				if x.barriers {
					got = append(got, tab.Barriers()...)
				}
				if len(got) > 0 {
					t.Errorf("%s:\n  %s", l.path, strings.Join(got, "\n  "))
				}
				tab.Picture(x.name + "-" + l.name)
			}
		})
	}
}
