package web_test

import (
	"bytes"
	"context"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"dogshore/web"
)

// A page elsewhere could have its own name point to this computer; only names
// of this computer are answered.
func TestOnlyThisComputersNamesAreAnswered(t *testing.T) {
	b := visit(t, emptyBuild(t))
	for host, want := range map[string]int{
		"127.0.0.1:4630": 200, "localhost:4630": 200, "[::1]:4630": 200, "localhost": 200, "127.0.0.1": 200,
		"boat.example:4630": 421, "127.0.0.1.boat.example": 421, "192.168.0.7:4630": 421, "": 421,
	} {
		r := httptest.NewRequest("GET", "/", nil)
		r.Host = host
		w := httptest.NewRecorder()
		b.site.ServeHTTP(w, r)
		if w.Code != want {
			t.Errorf("host %q: %d, want %d", host, w.Code, want)
		}
	}
}

// An address that was put together by hand is said to be wrong; nothing broke.
func TestAddressesThatCantBeRead(t *testing.T) {
	b := visit(t, typicalBuild(t))
	for _, at := range []string{"/deck/hand?at=1;2", "/deck.pdf?option=%zz", "/?as-of=1;2"} {
		if w := b.get(at); w.Code != http.StatusBadRequest {
			t.Errorf("%s: %d", at, w.Code)
		}
	}
}

func TestWritesFromOtherSitesAreRefused(t *testing.T) {
	f := emptyBuild(t)
	b := visit(t, f)
	for header, value := range map[string]string{"Sec-Fetch-Site": "cross-site", "Origin": "http://boat.example"} {
		r := httptest.NewRequest("POST", "/add/person", strings.NewReader("name=Eve"))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set(header, value)
		if w := b.do(r); w.Code != http.StatusForbidden {
			t.Errorf("%s %s: %d", header, value, w.Code)
		}
	}
	if n := len(as(t, f).Refs("person")); n != 0 {
		t.Errorf("%d people were written", n)
	}
}

func TestPagesLoadNothingFromElsewhere(t *testing.T) {
	w := visit(t, typicalBuild(t)).get("/")
	policy := w.Header().Get("Content-Security-Policy")
	for _, part := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "frame-ancestors 'none'", "form-action 'self'"} {
		if !strings.Contains(policy, part) {
			t.Errorf("the policy lacks %s: %s", part, policy)
		}
	}
	if strings.Contains(policy, "unsafe") {
		t.Errorf("the policy is loose: %s", policy)
	}
	if w.Header().Get("Cache-Control") != "no-store" {
		t.Error("a page is kept by the browser, and would show what no longer holds")
	}
}

func TestAssetsAreKeptForEver(t *testing.T) {
	b := visit(t, emptyBuild(t))
	body := b.get("/words").Body.String()
	_, rest, ok := strings.Cut(body, `href="/static/`)
	if !ok {
		t.Fatal("the page has no style sheet")
	}
	path, _, _ := strings.Cut("/static/"+rest, `"`)
	w := b.get(path)
	if w.Code != 200 || !strings.Contains(w.Header().Get("Cache-Control"), "immutable") || !strings.Contains(w.Body.String(), "--paper") {
		t.Errorf("%s: %d %v", path, w.Code, w.Header())
	}
	dir := path[:strings.LastIndex(path, "/")]
	for _, name := range []string{"/font/next-latin-normal.woff2", "/font/LICENSE-next.txt", "/script/page.js", "/mark.svg"} {
		if w := b.get(dir + name); w.Code != 200 || w.Body.Len() == 0 {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
	if w := b.get("/static/0000000000000000/sheet.css"); w.Code != 404 {
		t.Errorf("an asset under another hash: %d", w.Code)
	}
}

func TestBodiesAreBounded(t *testing.T) {
	b := visit(t, emptyBuild(t))
	r := httptest.NewRequest("POST", "/add/note", strings.NewReader("text="+strings.Repeat("a", 2<<20)))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	if w := b.do(r); w.Code != http.StatusRequestEntityTooLarge || !strings.Contains(w.Body.String(), "1024 kB that a form takes") {
		t.Errorf("a form of 2 MB: %d", w.Code)
	}
	if w := b.send("/intake", nil, map[string]string{"file=long.csv": strings.Repeat("a", 65<<20)}); w.Code != http.StatusRequestEntityTooLarge || !strings.Contains(w.Body.String(), "64 MB that are taken at once") {
		t.Errorf("a file of 65 MB: %d", w.Code)
	}
}

// What the door refuses is told, whichever form it came by: it is no mistake
// of the program.
func TestRefusedAtTheDoor(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	for path, form := range map[string]url.Values{
		"/add/note": {"text": {"x"}}, "/visits": {"day": {"2027-03-16"}, "by": {"owner"}}, "/visit/v2/note": {"text": {"x"}}, "/visit/v2/close": {},
		"/start/visit": {"day": {"2027-03-16"}, "by": {"owner"}}, "/start/lines/person": {"person.name.0": {"Eve"}}, "/start/stage": {"tap": {"done/deck-core"}},
	} {
		form.Set("author", "two\nlines")
		w := b.post(path, form)
		if body := w.Body.String(); w.Code != http.StatusUnprocessableEntity || !strings.Contains(body, "It was refused: ") || strings.Contains(body, "refused: refused") || !strings.Contains(body, "one line without control characters") {
			t.Errorf("%s: %d %s", path, w.Code, between(body, "<h1>", "</h1>"))
		}
	}
	if w := b.post("/start/visit", url.Values{"day": {"2027-03-16"}, "by": {"telepathy"}}); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a visit by telepathy: %d", w.Code)
	}
}

func TestADayThatIsNone(t *testing.T) {
	b := visit(t, typicalBuild(t))
	for path, want := range map[string]int{"/?as-of=tomorrow": 400, "/?as-of=1066-10-14": 400, "/?as-of=": 200, "/?as-of=2027-02-10": 200} {
		if w := b.get(path); w.Code != want {
			t.Errorf("%s: %d, want %d", path, w.Code, want)
		}
	}
}

func TestServeEndsWhenAskedTo(t *testing.T) {
	l, err := web.Listen(0)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(web.Address(l), "http://127.0.0.1:") {
		t.Errorf("it listens at %s", web.Address(l))
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	site := web.New(emptyBuild(t), clock, slog.New(slog.NewTextHandler(io.Discard, nil)))
	go func() { ended <- web.Serve(ctx, l, site) }()
	client := http.Client{Timeout: 10 * time.Second}
	answer, err := client.Get(web.Address(l) + "last")
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(answer.Body)
	if err != nil || answer.Body.Close() != nil || string(body) != "0" {
		t.Errorf("/last of an empty build: %q, %v", body, err)
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// send posts files as a browser does.
func (b *browse) send(path string, fields map[string]string, files map[string]string) *httptest.ResponseRecorder {
	b.t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	for name, value := range fields {
		if err := m.WriteField(name, value); err != nil {
			b.t.Fatal(err)
		}
	}
	for name, text := range files {
		field, file, _ := strings.Cut(name, "=")
		w, err := m.CreateFormFile(field, file)
		if err == nil {
			_, err = io.WriteString(w, text)
		}
		if err != nil {
			b.t.Fatal(err)
		}
	}
	if err := m.Close(); err != nil {
		b.t.Fatal(err)
	}
	r := httptest.NewRequest("POST", path, &body)
	r.Header.Set("Content-Type", m.FormDataContentType())
	return b.do(r)
}
