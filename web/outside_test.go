package web_test

import (
	"context"
	"crypto/tls"
	"io"
	"net"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"dogshore/journal"
	"dogshore/people"
	"dogshore/record"
	"dogshore/web"
)

// concrete makes an address of a pattern.
func concrete(pattern string) (method, path string) {
	method, path, _ = strings.Cut(pattern, " ")
	path = strings.ReplaceAll(path, "{$}", "")
	for name, value := range map[string]string{"{kind}": "defect", "{key}": "v2", "{id}": "none", "{batch}": "none", "{hash}": strings.Repeat("a", 64), "{name}": "x.jpg"} {
		path = strings.ReplaceAll(path, name, value)
	}
	return method, path
}

// Before anybody is signed in nothing is served but the page to sign in on,
// what it loads, and the root certificate with how to trust it: every address
// is tried, as a person would open it and as a script would.
func TestNothingIsServedBeforeSignIn(t *testing.T) {
	o := outdoors(t, false)
	open := []string{"GET /trust", "GET /dogshore-root.crt"}
	tried := 0
	for _, pattern := range append(o.site.Patterns(), "GET /static/0000000000000000/sheet.css", "HEAD /boat", "PUT /sign-in", "DELETE /boat", "GET /sign-in/", "GET /static/", "GET /nothing") {
		method, path := concrete(pattern)
		for _, as := range []func(*http.Request){opens, func(*http.Request) {}} {
			tried++
			a := o.ask(method, path, "", as)
			led := a.StatusCode == http.StatusSeeOther && strings.HasPrefix(a.Header.Get("Location"), "/sign-in?")
			if slices.Contains(open, pattern) {
				if a.StatusCode != http.StatusOK {
					t.Errorf("%s: %d", pattern, a.StatusCode)
				}
			} else if !led && a.StatusCode != http.StatusUnauthorized {
				t.Errorf("%s: %d %s", pattern, a.StatusCode, a.Header.Get("Location"))
			}
			if led && method != http.MethodGet {
				t.Errorf("%s is led on: what was sent would be lost without a word", pattern)
			}
			for _, tells := range []string{"Test sloop", "Ada Quill", "stem-eye", "Title block", `href="/boat"`} {
				if strings.Contains(a.body, tells) {
					t.Errorf("%s tells of %q", pattern, tells)
				}
			}
		}
	}
	if tried < 100 {
		t.Errorf("only %d requests were tried", tried)
	}
	page := o.ask("GET", "/sign-in", "", opens)
	for _, path := range regexp.MustCompile(`(?:href|src)="(/static/[^"]+)"`).FindAllStringSubmatch(page.body, -1) {
		if a := o.ask("GET", path[1], ""); a.StatusCode != http.StatusOK {
			t.Errorf("the page to sign in on lacks %s: %d", path[1], a.StatusCode)
		}
		if a := o.ask("GET", strings.Replace(path[1], "sheet.css", "script/tap.js", 1), ""); strings.Contains(path[1], "sheet.css") && a.StatusCode != http.StatusUnauthorized {
			t.Errorf("a script of the pages is served: %d", a.StatusCode)
		}
	}
}

func TestSignInAndOut(t *testing.T) {
	o := outdoors(t, false)
	a := o.ask("GET", "/point/stem-eye?as-of=2027-02-10", "", opens)
	to, err := url.Parse(a.Header.Get("Location"))
	if err != nil || to.Path != "/sign-in" || to.Query().Get("next") != "/point/stem-eye?as-of=2027-02-10" {
		t.Errorf("led to %q", a.Header.Get("Location"))
	}
	c := o.in(passphrase, "Ada")
	if c.Name != "__Host-dogshore-"+o.port || !c.Secure || !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Path != "/" || c.Domain != "" {
		t.Errorf("the cookie is %v", c)
	}
	a = o.ask("GET", "/boat", "", with(c), opens)
	if a.StatusCode != http.StatusOK || !strings.Contains(a.body, "Main bulkhead") || a.Header.Get("Cache-Control") != "no-store" || a.Header.Get("Strict-Transport-Security") != "" {
		t.Errorf("signed in: %d %v", a.StatusCode, a.Header)
	}
	if strings.Contains(a.body, c.Value) || strings.Contains(a.body, passphrase) {
		t.Error("the page holds a secret")
	}
	if a := o.ask("GET", "/sign-in?next=/boat", "", with(c), opens); a.StatusCode != http.StatusSeeOther || a.Header.Get("Location") != "/boat" {
		t.Errorf("signing in twice: %d", a.StatusCode)
	}
	a = o.ask("POST", "/sign-out", "", with(c))
	if a.StatusCode != http.StatusSeeOther || len(a.Cookies()) != 1 || a.Cookies()[0].MaxAge >= 0 {
		t.Errorf("signing out: %d %v", a.StatusCode, a.Cookies())
	}
	if a := o.ask("GET", "/boat", "", with(c), opens); a.StatusCode != http.StatusSeeOther {
		t.Errorf("signed out, the old cookie still opens: %d", a.StatusCode)
	}
	for _, next := range []string{"https://elsewhere.example/", "//elsewhere.example/", `/\elsewhere.example/`, "", "/a\r\nSet-Cookie: x=y"} {
		a := o.ask("POST", "/sign-in", url.Values{"secret": {passphrase}, "who": {"Ada"}, "device": {"phone"}, "next": {next}}.Encode())
		if a.StatusCode != http.StatusSeeOther || a.Header.Get("Location") != "/" {
			t.Errorf("next %q leads to %q", next, a.Header.Get("Location"))
		}
	}
}

// A session is never taken over from whoever was in before: each sign-in makes
// a token, and ends the one that the phone held.
func TestEachSignInMakesASession(t *testing.T) {
	o := outdoors(t, false)
	first := o.in(passphrase, "Ada")
	a := o.ask("POST", "/sign-in", knock(passphrase, "Ada"), with(first))
	if len(a.Cookies()) != 1 || a.Cookies()[0].Value == first.Value {
		t.Fatalf("signed in again: %d %v", a.StatusCode, a.Cookies())
	}
	if a := o.ask("GET", "/boat", "", with(first)); a.StatusCode != http.StatusUnauthorized {
		t.Errorf("the session before still opens: %d", a.StatusCode)
	}
}

func TestWrongPassphrasesAreSlowedDown(t *testing.T) {
	o := outdoors(t, false)
	for i := range 5 {
		a := o.ask("POST", "/sign-in", knock("not the passphrase", "Eve"))
		if a.StatusCode != http.StatusForbidden || !strings.Contains(a.body, "neither the passphrase nor a code") || len(a.Cookies()) != 0 || strings.Contains(a.body, "not the passphrase") {
			t.Fatalf("attempt %d: %d %s", i+1, a.StatusCode, between(a.body, "<main", "</main>"))
		}
	}
	a := o.ask("POST", "/sign-in", knock(passphrase, "Ada"))
	if a.StatusCode != http.StatusTooManyRequests || a.Header.Get("Retry-After") != "2" || !strings.Contains(a.body, "counts in 1 seconds") {
		t.Errorf("the sixth: %d %q", a.StatusCode, a.Header.Get("Retry-After"))
	}
	o.pass(2 * time.Second)
	o.in(passphrase, "Ada")
}

// A phone that is put out is out at its next request, and is told to forget
// the pages that it kept, and not what was noted on it; so is every phone when all are put out.
func TestPutOutAtTheNextRequest(t *testing.T) {
	for name, path := range map[string]func(people.Session) string{
		"one": func(s people.Session) string { return "/phones/" + s.ID + "/end" },
		"all": func(people.Session) string { return "/phones/end-all" },
	} {
		t.Run(name, func(t *testing.T) {
			o := outdoors(t, false)
			mate, owner := o.mate("Bo"), o.in(passphrase, "Ada")
			if a := o.ask("GET", "/boat", "", with(mate)); a.StatusCode != http.StatusOK {
				t.Fatalf("before: %d", a.StatusCode)
			}
			all, err := o.access.Sessions(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			bo := slices.IndexFunc(all, func(s people.Session) bool { return s.Who == "Bo" })
			if a := o.ask("POST", path(all[bo]), "", with(owner)); a.StatusCode != http.StatusSeeOther {
				t.Fatalf("putting out: %d %s", a.StatusCode, a.body)
			}
			a := o.ask("POST", "/visit/v2/note", "text=still+here", with(mate))
			if a.StatusCode != http.StatusUnauthorized || a.Header.Get("Clear-Site-Data") != `"cache"` || !strings.Contains(a.Header.Get("WWW-Authenticate"), "put out") {
				t.Errorf("afterwards: %d %v", a.StatusCode, a.Header)
			}
			if n := len(journal.All[record.Note](as(t, o.folder))); n != 1 {
				t.Errorf("%d notes are on record", n)
			}
			if a := o.ask("GET", "/boat", "", with(owner)); (a.StatusCode == http.StatusOK) != (name == "one") {
				t.Errorf("the owner's own phone: %d", a.StatusCode)
			}
		})
	}
}

// What other sites send is refused, signed in or not: neither can they write
// with somebody's session, nor sign somebody in as another.
func TestOtherSitesCanSendNothing(t *testing.T) {
	o := outdoors(t, false)
	owner := o.in(passphrase, "Ada")
	for _, path := range []string{"/sign-in", "/sign-out", "/phones/end-all", "/phones/code", "/phones/passphrase", "/visit/v2/note", "/entry/none/strike"} {
		for header, value := range map[string]string{"Sec-Fetch-Site": "cross-site", "Origin": "https://boat.example"} {
			a := o.ask("POST", path, knock(passphrase, "Eve")+"&text=from+elsewhere", with(owner), func(r *http.Request) { r.Header.Set(header, value) })
			if a.StatusCode != http.StatusForbidden || len(a.Cookies()) != 0 || !strings.Contains(a.body, "sent from another site") {
				t.Errorf("%s with %s: %d", path, header, a.StatusCode)
			}
		}
	}
	all, err := o.access.Sessions(context.Background())
	if err != nil || len(all) != 1 || !all[0].In() {
		t.Errorf("in are %+v, %v", all, err)
	}
}

// Only the names and addresses that are listened at are answered, so that a
// name of somebody else's can't be made to point here.
func TestOnlyOurNamesAreAnswered(t *testing.T) {
	for _, plain := range []bool{false, true} {
		o := outdoors(t, plain)
		c := o.in(passphrase, "Ada")
		for host, ok := range map[string]bool{
			"boat.local": true, "boat.local:4643": true, "BOAT.local": true, "127.0.0.1:1": true,
			"evil.example": false, "boat.local.evil.example": false, "localhost": false, "127.0.0.2": false, "192.168.0.7": false, "0.0.0.0": false, "[::1]": false, "boat.local.": false, "xboat.local": false,
		} {
			a := o.ask("GET", "/boat", "", with(c), func(r *http.Request) { r.Host = host })
			if (a.StatusCode == http.StatusOK) != ok || !ok && a.StatusCode != http.StatusMisdirectedRequest {
				t.Errorf("plain %v, host %q: %d", plain, host, a.StatusCode)
			}
			if !ok && strings.Contains(a.body, "Test sloop") {
				t.Errorf("host %q is told the build's name", host)
			}
		}
	}
}

// Before sign-in a body is short.
func TestBodiesBeforeSignInAreShort(t *testing.T) {
	o := outdoors(t, false)
	a := o.ask("POST", "/sign-in", "secret="+strings.Repeat("a", 5<<10))
	if a.StatusCode != http.StatusRequestEntityTooLarge {
		t.Errorf("5 kB to sign in: %d", a.StatusCode)
	}
	if all, err := o.access.Sessions(context.Background()); err != nil || len(all) != 0 {
		t.Errorf("%v %v", all, err)
	}
}

// Without encryption the pages work with sign-in, and say what is missing.
func TestPlainSaysWhatIsMissing(t *testing.T) {
	o := outdoors(t, true)
	page := o.ask("GET", "/sign-in", "", opens).body
	for _, says := range []string{"not encrypted", "can read the passphrase", "without a network need encryption"} {
		if !strings.Contains(page, says) {
			t.Errorf("the page to sign in on does not say %q", says)
		}
	}
	c := o.in(passphrase, "Ada")
	if c.Name != "dogshore-"+o.port || c.Secure || !c.HttpOnly || c.SameSite != http.SameSiteStrictMode {
		t.Errorf("the cookie is %v", c)
	}
	if a := o.ask("GET", "/boat", "", with(c)); a.StatusCode != http.StatusOK {
		t.Errorf("signed in: %d", a.StatusCode)
	}
	if a := o.ask("GET", "/phones", "", with(c)); !strings.Contains(a.body, "served without encryption") || !strings.Contains(a.body, "What is missing") {
		t.Error("the sheet of phones does not say what is missing")
	}
	if a := o.ask("GET", "/trust", "", with(c)); a.StatusCode != http.StatusNotFound {
		t.Errorf("there is nothing to trust: %d", a.StatusCode)
	}
}

// Plain http at the port of the encrypted pages says how to trust the root,
// and takes nothing.
func TestPlainHTTPOnTheStep(t *testing.T) {
	o := outdoors(t, false)
	owner := o.in(passphrase, "Ada")
	o.scheme = "http"
	a := o.ask("GET", "/", "", opens)
	if a.StatusCode != http.StatusOK || !strings.Contains(a.body, o.root.Fingerprint()) || !strings.Contains(a.body, `href="https://boat.local:`+o.port+`/"`) || strings.Contains(a.body, "Test sloop") {
		t.Errorf("on the step: %d %s", a.StatusCode, between(a.body, "<main", "</main>"))
	}
	a = o.ask("GET", "/dogshore-root.crt", "")
	if a.body != string(o.root.Certificate()) || a.Header.Get("Content-Type") != "application/x-x509-ca-cert" {
		t.Errorf("the root: %v", a.Header)
	}
	if a := o.ask("GET", "/boat", "", with(owner), opens); a.StatusCode != http.StatusSeeOther || a.Header.Get("Location") != "/" {
		t.Errorf("a page in clear: %d", a.StatusCode)
	}
	for _, path := range []string{"/sign-in", "/visit/v2/note"} {
		if a := o.ask("POST", path, knock(passphrase, "Ada"), with(owner)); a.StatusCode != http.StatusForbidden || len(a.Cookies()) != 0 {
			t.Errorf("%s in clear: %d", path, a.StatusCode)
		}
	}
	if a := o.ask("GET", "/", "", func(r *http.Request) { r.Host = "evil.example" }); a.StatusCode != http.StatusMisdirectedRequest {
		t.Errorf("another name on the step: %d", a.StatusCode)
	}
}

func TestTLSIsOfOurDay(t *testing.T) {
	o := outdoors(t, false)
	for version, ok := range map[uint16]bool{tls.VersionTLS10: false, tls.VersionTLS11: false, tls.VersionTLS12: true, tls.VersionTLS13: true} {
		c := o.client.Transport.(*http.Transport).TLSClientConfig.Clone()
		c.MinVersion, c.MaxVersion, c.ServerName = version, version, "boat.local"
		conn, err := tls.Dial("tcp", "127.0.0.1:"+o.port, c)
		if (err == nil) != ok {
			t.Errorf("%s: %v", tls.VersionName(version), err)
		}
		if err == nil {
			if err := conn.Close(); err != nil {
				t.Error(err)
			}
		}
	}
	if a := o.ask("GET", "/sign-in", ""); a.ProtoMajor != 2 {
		t.Errorf("it speaks %s", a.Proto)
	}
}

// One address gets so many connections and no more; when some are given back
// it gets others.
func TestConnectionsAreBounded(t *testing.T) {
	l, err := web.ListenOutside("127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	taken := make(chan net.Conn, 2*web.MostFromOne)
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			taken <- c
		}
	}()
	dial := func() net.Conn {
		c, err := net.Dial("tcp", l.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = c.Close() }) // may be closed by the other side
		return c
	}
	var held []net.Conn
	for range web.MostFromOne {
		dial()
		held = append(held, <-taken)
	}
	if _, err := dial().Read(make([]byte, 1)); err != io.EOF && !strings.Contains(err.Error(), "reset") {
		t.Errorf("one more than is allowed: %v", err)
	}
	if err := held[0].Close(); err != nil {
		t.Fatal(err)
	}
	_ = held[0].Close() // given back once, however often it is closed
	dial()
	held[0] = <-taken
	if _, err := dial().Read(make([]byte, 1)); err != io.EOF && !strings.Contains(err.Error(), "reset") {
		t.Errorf("after one was closed twice, two more came in: %v", err)
	}
	if err := l.Close(); err != nil {
		t.Error(err)
	}
	for _, c := range held {
		_ = c.Close() // the test is over
	}
	if web.MostFromOne*3 > web.MostConnections {
		t.Error("three computers can keep all others out")
	}
}
