package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/emersion/go-ical"
)

// A calendar program elsewhere reads the dates at its address without signing
// in: the dates that the pages have, and no more; written is nothing, and once
// it is ended it is shut.
func TestCalendarAtAnAddressOfItsOwn(t *testing.T) {
	o := outdoors(t, false)
	owner := with(o.in(passphrase, "Ada"))
	made := o.ask("POST", "/phones/feed", url.Values{"who": {"Ada"}, "device": {"kitchen computer"}}.Encode(), owner)
	at := regexp.MustCompile(`https://boat\.local:\d+(/feed/[A-Za-z0-9_-]{43}/build\.ics)`).FindStringSubmatch(made.body)
	if at == nil {
		t.Fatalf("%d %s", made.StatusCode, between(made.body, "<main", "</main>"))
	}
	if page := o.ask("GET", "/phones", "", owner); strings.Contains(page.body, at[1]) || !strings.Contains(page.body, "Ada, kitchen computer") || !strings.Contains(page.body, "never") {
		t.Error("the address is shown a second time, or not listed")
	}
	got, signedIn := o.ask("GET", at[1]+"?as-of=2027-02-10", ""), o.ask("GET", "/calendar.ics", "", owner)
	if got.StatusCode != http.StatusOK || got.Header.Get("Content-Type") != "text/calendar; charset=utf-8" || got.Header.Get("Cache-Control") != "no-store" || len(got.Cookies()) != 0 {
		t.Fatalf("%d %v", got.StatusCode, got.Header)
	}
	if got.body != signedIn.body {
		t.Error("it has other dates than the pages")
	}
	cal, err := ical.NewDecoder(strings.NewReader(got.body)).Decode()
	if err != nil || len(cal.Events()) < 3 {
		t.Errorf("another parser reads %v", err)
	}
	secret := strings.Split(at[1], "/")[2]
	for _, try := range []struct {
		method, path string
		cookie       string
		want         int
	}{
		{"GET", "/feed/" + secret[:42] + "/build.ics", "", http.StatusNotFound},
		{"GET", "/feed/" + strings.Repeat("A", 43) + "/build.ics", "", http.StatusNotFound},
		{"GET", "/feed/" + secret + "/boat", "", http.StatusUnauthorized},
		{"POST", at[1], "", http.StatusUnauthorized},
		{"GET", "/boat", secret, http.StatusUnauthorized},
		{"GET", "/calendar.ics", secret, http.StatusUnauthorized},
	} {
		a := o.ask(try.method, try.path, "", with(&http.Cookie{Name: "__Host-dogshore-" + o.port, Value: try.cookie}))
		if a.StatusCode != try.want || strings.Contains(a.body, "Test sloop") {
			t.Errorf("%s %s: %d", try.method, try.path, a.StatusCode)
		}
	}
	if refused := o.ask("POST", "/phones/feed", url.Values{"who": {""}, "device": {"desk"}}.Encode(), owner); refused.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(refused.body, `value="desk"`) {
		t.Errorf("without a name: %d", refused.StatusCode)
	}
	feeds, err := o.access.Feeds(t.Context())
	if err != nil || len(feeds) != 1 || feeds[0].Read.IsZero() {
		t.Fatalf("on file are %+v, %v", feeds, err)
	}
	if a := o.ask("POST", "/phones/feed/"+feeds[0].ID+"/end", "", owner); a.StatusCode != http.StatusSeeOther {
		t.Errorf("ending it: %d", a.StatusCode)
	}
	if a := o.ask("GET", at[1], ""); a.StatusCode != http.StatusNotFound || strings.Contains(a.body, "BEGIN:VCALENDAR") {
		t.Errorf("ended, it answers %d", a.StatusCode)
	}
}
