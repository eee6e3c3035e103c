package web_test

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"dogshore/internal/browser"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/unit"
)

// yard is a program that can be stopped and started again at one address, and
// that can lose its answers on the way.
type yard struct {
	t     *testing.T
	f     *store.Folder
	addr  string
	srv   *http.Server
	loses atomic.Int32 // how many answers to what a phone sends are still lost
	lost  atomic.Int32
	sent  chan struct{} // one for each time that what a phone sent was answered
}

func newYard(t *testing.T, f *store.Folder) *yard {
	t.Helper()
	y := &yard{t: t, f: f, addr: "127.0.0.1:0", sent: make(chan struct{}, 100)}
	y.start()
	t.Cleanup(y.stop)
	return y
}

func (y *yard) url(path string) string { return "http://" + y.addr + path }

func (y *yard) start() {
	y.t.Helper()
	l, err := net.Listen("tcp", y.addr)
	if err != nil {
		y.t.Fatal(err)
	}
	y.addr = l.Addr().String()
	site := visit(y.t, y.f).site
	y.srv = &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodPost && strings.Contains(r.URL.Path, "/sent") && y.loses.Add(-1) >= 0 {
			site.ServeHTTP(&silent{header: http.Header{}}, r) // it is written, and nobody hears of it
			y.lost.Add(1)
			panic(http.ErrAbortHandler)
		}
		site.ServeHTTP(w, r)
		if r.Method == http.MethodPost && strings.HasSuffix(r.URL.Path, "/sent") {
			y.sent <- struct{}{}
		}
	})}
	go func() { _ = y.srv.Serve(l) }() // ends when it is closed
}

func (y *yard) stop() { _ = y.srv.Close() } // at once, as a cable is pulled

// silent swallows an answer.
type silent struct{ header http.Header }

func (s *silent) Header() http.Header         { return s.header }
func (s *silent) Write(b []byte) (int, error) { return len(b), nil }
func (s *silent) WriteHeader(int)             {}

// shot makes a picture as a phone takes one, in more pieces than one.
func shot(t *testing.T) (path string, bytesOf []byte) {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 900, 900))
	for i := range img.Pix {
		img.Pix[i] = byte(i * i >> 3)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 100}); err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.TempDir(), "IMG_7.jpg")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path, b.Bytes()
}

const settledAll = `document.querySelector(".kept-says").textContent.startsWith("Everything noted here")`

// What is noted in a shed without a connection arrives once, and whole: the
// program is stopped, the window killed twice, an answer lost on the way, and
// the program started again.
func TestWithoutAConnection(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f := typicalBuild(t)
	write(t, f, journal.Always, record.Written, "overlap", record.Check{What: "Overlap at the side deck", Of: "part/deck", Taken: "own measure", State: "bare", Drawing: "D-04 rev. B", Before: "step/deck-core", Should: record.Tolerance{Known: true, Value: 0.05, Plus: 0.02, Dim: unit.Length}})
	write(t, f, journal.Always, record.Written, "vacuum", record.Check{What: "Drop of the bag in 30 minutes", Of: "part/deck", Taken: "reading to be shown", Before: "step/deck-bagged"})
	y, profile := newYard(t, f), filepath.Join(t.TempDir(), "profile")
	before, _ := f.Last(t.Context())
	c := &counted{Tab: browser.Own(t, profile, browser.Phone, browser.Light)}
	c.Go(y.url("/visit/v2"))
	c.Until(`navigator.serviceWorker.controller !== null && caches.match("/visit/v2").then(Boolean)`)

	y.stop()
	c.Go(y.url("/visit/v2")) // shown from what the phone keeps
	c.tap(`#stop-deck form.tap[data-step="deck-core"] button[value="under way"]`)
	c.tap(`#stop-deck form.tap[data-step="deck-core"] button[value="done"]`)
	if got := c.Text(`#stop-deck form.tap[data-step="deck-core"] .now`); !strings.Contains(got, "on this phone: done") {
		t.Errorf("without a connection the tap reads %q", got)
	}
	if got := c.Text(".kept-says"); !strings.Contains(got, "2 things still on this phone") || !strings.Contains(got, "no connection") {
		t.Errorf("it says %q", got)
	}
	c.look(t, "phone-away")
	if got := c.Barriers(); len(got) > 0 {
		t.Errorf("without a connection:\n  %s", strings.Join(got, "\n  "))
	}
	c.Kill()

	picture, jpeg := shot(t)

	c = &counted{Tab: browser.Own(t, profile, browser.Phone, browser.Light)}
	c.Go(y.url("/visit/v2"))
	c.away(t, picture)
	y.loses.Store(3) // the words are written, two pieces of the picture are kept: nobody hears of it
	y.start()
	c.Click(".kept-send")
	c.Kill()

	c = &counted{Tab: browser.Own(t, profile, browser.Phone, browser.Light)}
	c.Go(y.url("/visit/v2"))
	c.Until(`(() => { const b = document.querySelector(".kept-send"); if (!b.hidden) b.click(); return ` + settledAll + `; })()`)
	if y.lost.Load() != 3 {
		t.Errorf("%d answers were lost", y.lost.Load())
	}
	arrivedOnce(t, f, before, jpeg)
}

// away notes one of everything without a connection.
func (c *counted) away(t *testing.T, picture string) {
	t.Helper()
	if got := c.Text(`#stop-deck form.tap[data-step="deck-core"] .now`); !strings.Contains(got, "on this phone: done") {
		t.Errorf("after the window was killed the tap reads %q", got)
	}
	c.Click(`#stop-deck form.tap[data-step="deck-core"] button[value="not sure"]`)
	c.Click(".undo") // back to done
	if got := c.Text(`#stop-deck form.tap[data-step="deck-core"] .now`); !strings.Contains(got, "on this phone: done") {
		t.Errorf("taken back, the tap reads %q", got)
	}
	c.Fill(`[id="got-overlap"]`, "62 mm")
	c.Click(`form.measure-one:has([value="check/overlap"]) button`)
	c.Fill("#a-says", "Four drains of 25 mm; the fall is")
	c.Do(chromedp.Click("#form-agreement [data-add]", chromedp.ByQuery))
	c.pick("#a-with", "Ada Quill")
	c.Click("#form-agreement button.main")
	c.Fill("#d-what", "dry spot at the hatch")
	c.Choose("#d-picture", picture)
	c.pick("#d-part", "Deck")
	c.Click("#form-defect button.main")
	c.Fill("#q-text", "Which resin batch?")
	c.Click("#form-question button.main")
	c.Fill("#n-text", "loud in the shed")
	c.Click("#form-note button")
	if got := c.Text(".kept-says"); !strings.Contains(got, "9 things still on this phone") { // 2 taps, value, agreement, defect with 2, question, note
		t.Errorf("it says %q", got)
	}
	c.look(t, "phone-kept")
}

// arrivedOnce looks that what was noted is in the record, each once.
func arrivedOnce(t *testing.T, f *store.Folder, before int64, jpeg []byte) {
	t.Helper()
	after, _ := f.Last(t.Context())
	if n := after - before; n != 9 {
		t.Errorf("%d entries were written, want 9", n)
	}
	r := as(t, f)
	if g, _ := journal.Get[record.Sighting](r, "sighting/v2.deck-core"); g.State != "done" {
		t.Errorf("the core is %+v", g)
	}
	for _, d := range r.Doubts() {
		if d.Kind == journal.Conflict && d.About.Kind() == "sighting" {
			t.Errorf("one hand's taps are in doubt: %s", d.Says)
		}
	}
	count := map[string]int{}
	for _, a := range journal.All[record.Agreement](r) {
		if a.Says == "Four drains of 25 mm; the fall is to be told" && a.With == "person/ada" {
			count["agreement"]++
		}
	}
	var defect record.Ref
	for _, d := range journal.All[record.Defect](r) {
		if d.What == "dry spot at the hatch" {
			count["defect"]++
			defect = d.Self
		}
	}
	for _, q := range journal.All[record.Question](r) {
		if q.Text == "Which resin batch?" {
			count["question"]++
		}
	}
	for _, n := range journal.All[record.Note](r) {
		if n.Text == "loud in the shed" {
			count["note"]++
		}
	}
	for _, m := range journal.All[record.Measurement](r) {
		if m.Check == "check/overlap" && m.Got.SI == 0.062 && m.State == "bare" {
			count["measurement"]++
		}
	}
	for _, e := range journal.All[record.Evidence](r) {
		p, _ := journal.Get[record.Photo](r, e.Photo)
		in, err := f.File(p.File)
		if err != nil || e.Shows != defect {
			continue
		}
		got, err := io.ReadAll(in)
		if err == nil && in.Close() == nil && bytes.Equal(got, jpeg) {
			count["picture of the defect"]++
		}
	}
	for _, what := range []string{"agreement", "defect", "question", "note", "measurement", "picture of the defect"} {
		if count[what] != 1 {
			t.Errorf("%d times: %s", count[what], what)
		}
	}
}

// What is noted without a connection is sent by the browser itself once there
// is one, with no window of these pages open. What was taken back before it was
// ever sent is gone, and no line of it is left.
func TestSentWithNoWindowOpen(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f := typicalBuild(t)
	y := newYard(t, f)
	before, _ := f.Last(t.Context())
	c := &counted{Tab: browser.New(t, browser.Phone, browser.Light)}
	c.Go(y.url("/visit/v2"))
	c.Until(`navigator.serviceWorker.controller !== null && caches.match("/visit/v2").then(Boolean)`)
	y.stop()
	c.Go(y.url("/visit/v2"))
	c.Click(`#stop-deck form.tap[data-step="deck-core"] button[value="done"]`)
	c.Click(".undo")
	if got := c.Text(".kept-says") + c.Text(`#stop-deck form.tap[data-step="deck-core"] .now`); !strings.Contains(got, "Everything noted here is in the record") || strings.Contains(got, "on this phone:") {
		t.Errorf("after a tap was taken back it says %q", got)
	}
	c.Fill("#n-text", "sent by itself")
	c.Click("#form-note button")
	c.Until(`navigator.serviceWorker.ready.then((r) => r.sync.getTags()).then((tags) => tags.includes("send"))`)
	c.Do(chromedp.Navigate("about:blank"))
	y.start()
	c.Sync(y.url(""), "send")
	<-y.sent
	after, _ := f.Last(t.Context())
	notes := 0
	for _, n := range journal.All[record.Note](as(t, f)) {
		if n.Text == "sent by itself" {
			notes++
		}
	}
	if after-before != 1 || notes != 1 {
		t.Errorf("%d entries were written, %d of them the note", after-before, notes)
	}
	c.Go(y.url("/"))
	c.Until(`document.querySelector(".kept").hidden`)
}

// A visit is begun, noted and struck out of without a connection, and what the
// record then refuses stays on the phone until it is mended.
func TestBegunWithoutAConnection(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f := typicalBuild(t)
	y := newYard(t, f)
	c := &counted{Tab: browser.New(t, browser.Phone, browser.Dark)}
	c.Go(y.url("/walk"))
	c.Until(`navigator.serviceWorker.controller !== null && caches.match("/visit/blank").then(Boolean)`)
	c.look(t, "walk-online")
	y.stop()
	c.Go(y.url("/walk"))
	c.Click(".begin-visit button")
	if got := c.Text("#visit-name"); !strings.Contains(got, "2027-03-16, begun on this phone") {
		t.Errorf("the visit is %q", got)
	}
	c.Click(`#stop-deck form.tap[data-step="deck-core"] button[value="done"]`)
	c.Fill("#a-says", "Drains of 25 mm")
	c.Fill("#a-before", "deck bagd")
	c.Click("#form-agreement button.main")
	c.Go(y.url("/launch"))
	if got := c.Text("h1"); got != "No connection" {
		t.Errorf("a page that is not kept: %q", got)
	}
	c.look(t, "away")
	y.start()
	c.Click(".kept-send")
	if got := c.Text(".kept"); !strings.Contains(got, "1 thing still on this phone") || !strings.Contains(got, "deck bagd") {
		t.Errorf("refused, it says %q", got)
	}
	c.look(t, "away-refused")
	c.Click(".kept-list a")
	if got := c.Text(".found"); !strings.Contains(got, "deck core: done") {
		t.Errorf("the visit's own page has %q", got)
	}
	c.Do(chromedp.Click(".kept-list .buttons button", chromedp.ByQuery)) // mend it
	c.Until(`document.querySelector("#a-before").value === "deck bagd"`)
	c.Fill("#a-before", "deck bagged")
	c.Click("#form-agreement button.main")
	if got := c.Text(".kept-says"); !strings.Contains(got, "Everything noted here is in the record") {
		t.Errorf("mended, it says %q", got)
	}
	c.Click(".undo")
	r := as(t, f)
	n := 0
	for _, a := range journal.All[record.Agreement](r) {
		if a.Says == "Drains of 25 mm" {
			n++
		}
	}
	if n != 0 {
		t.Error("what was taken back stands")
	}
	sightings := 0
	for _, g := range journal.All[record.Sighting](r) {
		if g.Step == "step/deck-core" && g.State == "done" {
			sightings++
		}
	}
	if sightings != 1 {
		t.Errorf("%d sightings of the core", sightings)
	}
}

// Where an address is not secure the page says what is missing, and its forms
// are written while the connection holds.
func TestPlainNetworkSaysWhatIsMissing(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f := typicalBuild(t)
	y := newYard(t, f)
	c := &counted{Tab: browser.New(t, browser.Phone, browser.Light)}
	c.Do(chromedp.ActionFunc(func(ctx context.Context) error { // as on a plain local network
		_, err := page.AddScriptToEvaluateOnNewDocument(`Object.defineProperty(window, "isSecureContext", { value: false })`).Do(ctx)
		return err
	}))
	c.Go(y.url("/visit/v2"))
	if got := c.Text(".kept-says"); !strings.Contains(got, "https") {
		t.Errorf("it says %q", got)
	}
	c.Click(`#stop-deck form.tap[data-step="deck-core"] button[value="done"]`)
	if got := c.Text(".found"); !strings.Contains(got, "deck core: done") {
		t.Errorf("noted is %q", got)
	}
	c.look(t, "phone-plain")
}
