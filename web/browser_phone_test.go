package web_test

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

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
}

func newYard(t *testing.T, f *store.Folder) *yard {
	t.Helper()
	y := &yard{t: t, f: f, addr: "127.0.0.1:0"}
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
	y := newYard(t, f)
	before, _ := f.Last(t.Context())
	c := &counted{Tab: browser.New(t, browser.Phone, browser.Light)}
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

	c = &counted{Tab: browser.New(t, browser.Phone, browser.Light)}
	c.Go(y.url("/visit/v2"))
	_ = before
	y.start()
	_ = fmt.Sprint
}
