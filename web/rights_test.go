package web_test

import (
	"context"
	"html"
	"io"
	"log/slog"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"dogshore/journal"
	"dogshore/people"
	"dogshore/record"
	"dogshore/web"
)

// matesMay is what somebody may do who looks and notes, written out a second
// time: whoever gives them more has to say so here too.
var matesMay = []string{
	"GET /{$}", "GET /acts", "GET /act", "GET /points", "GET /point/{key}", "GET /boat", "GET /part/{key}", "GET /deck", "GET /deck/hand", "GET /deck.pdf", "GET /deck/trace", "GET /deck/trace/{key}", "GET /programme", "GET /step/{key}", "GET /launch", "GET /promises", "GET /items",
	"GET /requirements", "GET /people", "GET /sisters", "GET /calendar", "GET /key", "GET /picture-key.pdf", "GET /kinds", "GET /words", "GET /visits", "GET /walk", "GET /walk.pdf",
	"GET /visit/{key}", "GET /letter-draft", "GET /letter/{key}", "GET /of/{kind}/{key}", "GET /list/{kind}", "GET /file/{hash}/{name}", "GET /entry/{id}", "GET /last", "GET /trust", "GET /dogshore-root.crt", "GET /",
	"GET /photos", "GET /same-view", "GET /behind", "GET /behind/at", "GET /behind/{kind}/{key}", "GET /photo/{key}", "GET /visit/blank", "GET /visit/{key}/paper", "POST /visit/{key}/paper", "POST /visit/{key}/sent", "GET /visit/{key}/sent/{hash}", "POST /visit/{key}/sent/{hash}", "GET /service.js", "GET /manifest.webmanifest", "GET /away",
	"GET /calendar.ics", "GET /diary", "GET /diary/{key}", "GET /letter-draft.pdf", "GET /picture/{hash}/{size}",
	"POST /visits", "POST /visit/{key}/{kind}", "POST /visit/{key}/close", "POST /sign-out",
}

func TestEveryAddressHasItsRight(t *testing.T) {
	site := web.New(emptyBuild(t), clock, slog.New(slog.NewTextHandler(io.Discard, nil)))
	lines := web.Lines()
	for _, p := range site.Patterns() {
		if !lines[p] {
			t.Errorf("%s has no line in the table of rights: say who may use it", p)
		}
		delete(lines, p)
	}
	for p := range lines {
		t.Errorf("the table of rights has a line for %s, which is no address", p)
	}
}

// Every address is tried by somebody who looks and notes, and by an owner.
func TestRightsByRole(t *testing.T) {
	o := outdoors(t, false)
	for _, pattern := range o.site.Patterns() {
		if pattern == "POST /sign-out" || pattern == "POST /phones/end-all" {
			continue // end the session; tried elsewhere
		}
		method, path := concrete(pattern)
		if got := o.ask(method, path, "", with(o.matesCookie(t))); (got.StatusCode == http.StatusForbidden) == slices.Contains(matesMay, pattern) {
			t.Errorf("looks and notes, %s: %d", pattern, got.StatusCode)
		} else if got.StatusCode >= 500 {
			t.Errorf("looks and notes, %s: %d", pattern, got.StatusCode)
		}
		if got := o.ask(method, path, "", with(o.ownersCookie(t))); got.StatusCode == http.StatusForbidden || got.StatusCode == http.StatusUnauthorized || got.StatusCode >= 500 {
			t.Errorf("an owner, %s: %d", pattern, got.StatusCode)
		}
	}
	if got := o.ask("POST", "/phones/end-all", "", with(o.matesCookie(t))); got.StatusCode != http.StatusForbidden {
		t.Errorf("looks and notes puts all out: %d", got.StatusCode)
	}
}

var jar = map[*outside]map[string]*http.Cookie{}

func (o *outside) kept(t *testing.T, who string, make func() *http.Cookie) *http.Cookie {
	t.Helper()
	if jar[o] == nil {
		jar[o] = map[string]*http.Cookie{}
		t.Cleanup(func() { delete(jar, o) })
	}
	if jar[o][who] == nil {
		jar[o][who] = make()
	}
	return jar[o][who]
}

func (o *outside) matesCookie(t *testing.T) *http.Cookie {
	return o.kept(t, "mate", func() *http.Cookie { return o.mate("Bo") })
}

func (o *outside) ownersCookie(t *testing.T) *http.Cookie {
	return o.kept(t, "owner", func() *http.Cookie { return o.in(passphrase, "Ada") })
}

// Who looks and notes writes what was found at a visit, under their own name
// whatever the form says, and decides nothing.
func TestWhoLooksAndNotes(t *testing.T) {
	o := outdoors(t, false)
	mate := o.mate("Bo")
	forged := with(&http.Cookie{Name: "author", Value: "owner"})
	a := o.ask("POST", "/visit/v2/note", url.Values{"text": {"a crack at the stern"}, "author": {"owner"}}.Encode(), with(mate), forged)
	if a.StatusCode != http.StatusSeeOther {
		t.Fatalf("a note: %d %s", a.StatusCode, a.body)
	}
	if a := o.ask("POST", "/visit/v2/decision", url.Values{"point": {"stem-eye"}, "says": {"on the stem"}}.Encode(), with(mate)); a.StatusCode != http.StatusForbidden || !strings.Contains(a.body, "for the owner to do") {
		t.Errorf("a decision: %d", a.StatusCode)
	}
	r := as(t, o.folder)
	if n := len(journal.All[record.Decision](r)); n != 1 {
		t.Errorf("%d decisions are on record", n)
	}
	if got := authorOf(t, r, "a crack at the stern"); got != "Bo" {
		t.Errorf("the note was written by %q", got)
	}
	page := o.ask("GET", "/", "", with(mate), opens).body
	if strings.Contains(page, `href="/intake"`) || strings.Contains(page, `href="/phones"`) || !strings.Contains(page, `href="/visits"`) || !strings.Contains(page, "Bo, on blue phone") {
		t.Error("the list of sheets is not that of somebody who looks and notes")
	}
}

// An owner's name is that of the session, until a form says another.
func TestAnOwnerOutsideWritesUnderTheSessionsName(t *testing.T) {
	o := outdoors(t, false)
	owner := o.in(passphrase, "Ada")
	for text, form := range map[string]url.Values{"one": {"text": {"one"}}, "two": {"text": {"two"}, "author": {"Ada, for Bo"}}} {
		if a := o.ask("POST", "/visit/v2/note", form.Encode(), with(owner), with(&http.Cookie{Name: "author", Value: "Eve"})); a.StatusCode != http.StatusSeeOther || len(a.Cookies()) != 0 {
			t.Fatalf("%s: %d %v", text, a.StatusCode, a.Cookies())
		}
	}
	r := as(t, o.folder)
	if one, two := authorOf(t, r, "one"), authorOf(t, r, "two"); one != "Ada" || two != "Ada, for Bo" {
		t.Errorf("written by %q and %q", one, two)
	}
}

func authorOf(t *testing.T, r *journal.Record, text string) string {
	t.Helper()
	for _, n := range journal.All[record.Note](r) {
		if n.Text == text {
			h, _ := r.Held(n.Self, "text")
			return h.Entry.Author
		}
	}
	t.Fatalf("%q is not on record", text)
	return ""
}

// The whole way of a phone that is let in by a code, by the pages alone.
func TestPhonesByThePages(t *testing.T) {
	o := outdoors(t, false)
	owner := o.in(passphrase, "Ada")
	a := o.ask("POST", "/phones/code", url.Values{"who": {"Bo"}, "device": {"blue phone"}, "role": {string(people.Mate)}}.Encode(), with(owner))
	code := between(a.body, `<code class="code">`, "</code>")
	if a.StatusCode != http.StatusOK || len(code) != 14 {
		t.Fatalf("the code is %q: %d", code, a.StatusCode)
	}
	if a := o.ask("GET", "/phones", "", with(owner)); strings.Contains(a.body, code) || !strings.Contains(a.body, "Codes not used yet") {
		t.Error("the code is shown again, or not listed")
	}
	bo := o.in(code, "")
	all, err := o.access.Sessions(context.Background())
	if err != nil || len(all) != 2 {
		t.Fatal(all, err)
	}
	id := all[slices.IndexFunc(all, func(s people.Session) bool { return s.Who == "Bo" })].ID
	if a := o.ask("POST", "/phones/"+id+"/name", url.Values{"who": {"Bo Marsh"}, "device": {"grey phone"}}.Encode(), with(owner)); a.StatusCode != http.StatusSeeOther {
		t.Errorf("renaming: %d", a.StatusCode)
	}
	if a := o.ask("GET", "/", "", with(bo)); !strings.Contains(a.body, "Bo Marsh, on grey phone") {
		t.Error("the phone is not called so")
	}
	if a := o.ask("POST", "/phones/"+id+"/name", "who=&device=x", with(owner)); a.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(a.body, "Write whose phone it is. Nothing was changed.") {
		t.Errorf("without a name: %d", a.StatusCode)
	}
	if a := o.ask("GET", "/address.svg?n=0", "", with(owner)); a.StatusCode != http.StatusOK || a.Header.Get("Content-Type") != "image/svg+xml" {
		t.Errorf("the code for a camera: %d", a.StatusCode)
	}
	if a := o.ask("GET", "/address.svg?n=9", "", with(owner)); a.StatusCode != http.StatusNotFound {
		t.Errorf("an address that is none: %d", a.StatusCode)
	}
	for why, form := range map[string]url.Values{
		"not the same":               {"present": {passphrase}, "passphrase": {passphrase + " two"}, "again": {passphrase}},
		"needs at least 15":          {"present": {passphrase}, "passphrase": {"short"}, "again": {"short"}},
		"not the present passphrase": {"present": {"x"}, "passphrase": {passphrase + " two"}, "again": {passphrase + " two"}},
	} {
		if a := o.ask("POST", "/phones/passphrase", form.Encode(), with(owner)); a.StatusCode < 400 || !strings.Contains(a.body, why) {
			t.Errorf("%s: %d", why, a.StatusCode)
		}
	}
	a = o.ask("POST", "/phones/passphrase", url.Values{"present": {passphrase}, "passphrase": {passphrase + " two"}, "again": {passphrase + " two"}}.Encode(), with(owner))
	if a.StatusCode != http.StatusSeeOther {
		t.Errorf("changing the passphrase: %d %s", a.StatusCode, between(a.body, "<main", "</main>"))
	}
	for _, c := range []*http.Cookie{owner, bo} {
		if a := o.ask("GET", "/boat", "", with(c)); a.StatusCode != http.StatusUnauthorized {
			t.Errorf("after the passphrase was changed: %d", a.StatusCode)
		}
	}
	o.in(passphrase+" two", "Ada")
}

// On this computer nobody signs in, as ever; the sheet of phones says how to
// let others in, and does what it can where they are.
func TestPhonesOnThisComputer(t *testing.T) {
	b := visit(t, typicalBuild(t))
	if w := b.get("/phones"); w.Code != 200 || !strings.Contains(w.Body.String(), "dogshore passphrase") {
		t.Errorf("/phones: %d", w.Code)
	}
	for path, code := range map[string]int{"/phones/end-all": 409, "/phones/code": 409, "/phones/x/end": 409, "/sign-out": 409} {
		if w := b.post(path, nil); w.Code != code {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
	if w := b.get("/trust"); w.Code != 404 {
		t.Errorf("/trust: %d", w.Code)
	}
	o := outdoors(t, false)
	bo := o.mate("Bo")
	inside := &browse{t: t, site: o.site}
	if w := inside.get("/boat"); w.Code != 200 {
		t.Errorf("on this computer: %d", w.Code)
	}
	if w := inside.get("/trust"); w.Code != 200 || !strings.Contains(w.Body.String(), o.root.Fingerprint()) || !strings.Contains(w.Body.String(), "This is that sheet") {
		t.Errorf("the fingerprint on this computer: %d", w.Code)
	}
	if w := inside.post("/phones/passphrase", url.Values{"passphrase": {passphrase + " two"}, "again": {passphrase + " two"}}); w.Code != 303 {
		t.Errorf("a new passphrase on this computer: %d", w.Code)
	}
	if a := o.ask("GET", "/boat", "", with(bo)); a.StatusCode != http.StatusUnauthorized {
		t.Errorf("afterwards the phone is in: %d", a.StatusCode)
	}
}

// What whoever looks and notes is shown leads nowhere that refuses them: every
// page they can reach is opened, every link followed, and each form's address
// asked of the table of rights.
func TestNothingRefusedIsOffered(t *testing.T) {
	o := outdoors(t, false)
	mate := with(o.matesCookie(t))
	mux := http.NewServeMux()
	for _, p := range o.site.Patterns() {
		mux.HandleFunc(p, func(http.ResponseWriter, *http.Request) {})
	}
	link := regexp.MustCompile(`href="(/[^"#]*)[^"]*"`)
	form := regexp.MustCompile(`<form [^>]*>`)
	action := regexp.MustCompile(`(?:form)?action="([^"#?]+)`)
	seen, todo, forms := map[string]bool{"/": true}, []string{"/"}, 0
	for len(todo) > 0 && len(seen) < 600 {
		at := todo[0]
		todo = todo[1:]
		page := o.ask("GET", at, "", mate, opens)
		if page.StatusCode == http.StatusForbidden {
			t.Errorf("a link leads to %s, which is the owner's", at)
		}
		if !strings.HasPrefix(page.Header.Get("Content-Type"), "text/html") {
			continue
		}
		for _, m := range link.FindAllStringSubmatch(page.body, -1) {
			to := html.UnescapeString(m[1])
			if !seen[to] && !strings.Contains(to, "as-of") && !strings.HasPrefix(to, "/static/") {
				seen[to] = true
				todo = append(todo, to)
			}
		}
		for _, f := range form.FindAllString(page.body, -1) {
			m := action.FindStringSubmatch(f)
			method := http.MethodGet
			if strings.Contains(f, `method="post"`) {
				method = http.MethodPost
			}
			if m == nil {
				continue
			}
			r, err := http.NewRequest(method, html.UnescapeString(m[1]), nil)
			if err != nil {
				t.Fatal(err)
			}
			forms++
			if _, pattern := mux.Handler(r); !slices.Contains(matesMay, pattern) {
				t.Errorf("%s shows a form for %s %s, which is the owner's", at, method, m[1])
			}
		}
	}
	if len(seen) < 60 || forms < 30 {
		t.Errorf("only %d pages and %d forms were looked at", len(seen), forms)
	}
}
