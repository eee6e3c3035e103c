// Package browser drives one real headless browser for the tests of pages:
// it opens a page at the size of a desk or a phone, in light or dark, waits
// for the page's own mark that it is done, looks for what a person would
// stumble over, and keeps pictures for eyes.
package browser

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/serviceworker"
	"github.com/chromedp/chromedp"
)

// Size is the size of a window in CSS pixels.
type Size struct {
	Name          string
	Width, Height int64
	Touch         bool
}

// The sizes at which pages are looked at.
var (
	Desk  = Size{"desk", 1280, 900, false}
	Phone = Size{"phone", 390, 844, true}
)

// Scheme is the colour scheme that the reader prefers.
type Scheme string

// The schemes.
const (
	Light Scheme = "light"
	Dark  Scheme = "dark"
)

// patience bounds one action; a page that takes longer hangs.
const patience = 90 * time.Second

var shared = sync.OnceValues(func() (context.Context, error) {
	alloc, _ := chromedp.NewExecAllocator(context.Background(), options()...) // it ends with the test's process
	ctx, _ := chromedp.NewContext(alloc)
	return ctx, chromedp.Run(ctx)
})

func options() []chromedp.ExecAllocatorOption {
	return append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("font-render-hinting", "none"))
}

// Tab is one window of the shared browser.
type Tab struct {
	t      testing.TB
	ctx    context.Context
	size   Size
	scheme Scheme
}

// New opens a window. The test fails if there is no browser: the check script
// installs one.
func New(t testing.TB, size Size, scheme Scheme) *Tab {
	t.Helper()
	root, err := shared()
	if err != nil {
		t.Fatalf("start chromium: %v", err)
	}
	return open(t, root, size, scheme)
}

// Own opens a window of a browser of its own, which keeps what it keeps in
// dir: Kill ends it, and another Own with the same folder finds what was on
// disk by then.
func Own(t testing.TB, dir string, size Size, scheme Scheme, more ...chromedp.ExecAllocatorOption) *Tab {
	t.Helper()
	alloc, cancel := chromedp.NewExecAllocator(context.Background(), append(append(options(), chromedp.UserDataDir(dir)), more...)...)
	t.Cleanup(func() {
		cancel()
		empty(dir)
	})
	return open(t, alloc, size, scheme)
}

// empty takes away what a browser that has ended kept, as soon as the last of
// its processes writes no more.
func empty(dir string) {
	for until := time.Now().Add(patience); time.Now().Before(until); time.Sleep(100 * time.Millisecond) {
		if _, err := os.Stat(dir); os.IsNotExist(err) {
			return // and nothing has made it anew
		}
		_ = os.RemoveAll(dir) // what is still written is met the next time
	}
}

// Secure is Own with a browser that takes certificates with one key (key is
// the SHA-256 of its public part, base64), as a phone does that trusts their
// root, and finds host at this computer. By another name than localhost, what
// is secure and what is not can be told apart.
func Secure(t testing.TB, dir string, size Size, scheme Scheme, key, host string) *Tab {
	t.Helper()
	return Own(t, dir, size, scheme,
		chromedp.Flag("ignore-certificate-errors-spki-list", key), chromedp.Flag("host-resolver-rules", "MAP "+host+" 127.0.0.1"))
}

func open(t testing.TB, in context.Context, size Size, scheme Scheme) *Tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(in)
	t.Cleanup(cancel)
	if err := chromedp.Run(ctx); err != nil { // without a deadline: it would end the window too
		t.Fatalf("open a window: %v", err)
	}
	tab := &Tab{t: t, ctx: ctx}
	tab.Do(page.BringToFront())
	tab.Look(size, scheme)
	return tab
}

// Kill ends the browser of an Own window as a phone does that needs the room,
// or whose battery is empty: nothing is shut properly.
func (b *Tab) Kill() {
	b.t.Helper()
	p := chromedp.FromContext(b.ctx).Browser.Process()
	if err := p.Kill(); err != nil {
		b.t.Fatal(err)
	}
	<-chromedp.FromContext(b.ctx).Browser.LostConnection
}

// Look makes the window another size, or its reader prefer another scheme; the
// page stays as it is.
func (b *Tab) Look(size Size, scheme Scheme) {
	b.t.Helper()
	b.size, b.scheme = size, scheme
	b.Do(
		emulation.SetDeviceMetricsOverride(size.Width, size.Height, 1, size.Touch),
		emulation.SetTouchEmulationEnabled(size.Touch),
		emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: string(scheme)}}),
	)
}

// Do runs actions in the window.
func (b *Tab) Do(actions ...chromedp.Action) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	if err := chromedp.Run(ctx, actions...); err != nil {
		b.t.Fatalf("%s, %s: %v", b.size.Name, b.scheme, err)
	}
}

// Go opens an address and waits until the page is done.
func (b *Tab) Go(url string) {
	b.t.Helper()
	b.Do(chromedp.Navigate(url))
	b.Settled()
}

// Settled waits for the mark that a page sets when it is done.
func (b *Tab) Settled() {
	b.t.Helper()
	b.Do(chromedp.WaitReady("html[data-settled]", chromedp.ByQuery))
}

// Click presses what the selector names, where nothing that stays at the
// window's edge lies over it, and waits for the page that it leads to.
func (b *Tab) Click(selector string) {
	b.t.Helper()
	b.Do(
		chromedp.WaitVisible(selector, chromedp.ByQuery),
		chromedp.Evaluate(fmt.Sprintf(`delete document.documentElement.dataset.settled; document.querySelector(%q).scrollIntoView({ block: "center", behavior: "instant" })`, selector), nil),
		chromedp.Click(selector, chromedp.ByQuery),
	)
	b.Settled()
}

// Sync tells the service worker of a site that there is a connection, as a
// browser does that kept its wish to be told (its tag).
func (b *Tab) Sync(origin, tag string) {
	b.t.Helper()
	found := make(chan serviceworker.RegistrationID, 1)
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	chromedp.ListenTarget(ctx, func(event any) {
		if e, ok := event.(*serviceworker.EventWorkerRegistrationUpdated); ok {
			for _, r := range e.Registrations {
				if strings.HasPrefix(r.ScopeURL, origin) && !r.IsDeleted {
					select {
					case found <- r.RegistrationID:
					default: // it is known already
					}
				}
			}
		}
	})
	b.Do(serviceworker.Enable())
	select {
	case id := <-found:
		b.Do(serviceworker.DispatchSyncEvent(origin+"/", id, tag, false))
	case <-ctx.Done():
		b.t.Fatalf("no service worker of %s is there", origin)
	}
}

// Choose hands a file to the field that the selector names.
func (b *Tab) Choose(selector, path string) {
	b.t.Helper()
	b.Do(chromedp.SetUploadFiles(selector, []string{path}, chromedp.ByQuery))
}

// Until waits until script in the page yields true.
func (b *Tab) Until(script string) {
	b.t.Helper()
	b.Do(chromedp.Poll(script, nil, chromedp.WithPollingInterval(50*time.Millisecond), chromedp.WithPollingTimeout(patience)))
}

// Fill types a text into the field that the selector names.
func (b *Tab) Fill(selector, text string) {
	b.t.Helper()
	b.Do(
		chromedp.WaitVisible(selector, chromedp.ByQuery),
		chromedp.Evaluate(fmt.Sprintf(`document.querySelector(%q).value = ""`, selector), nil),
		chromedp.SendKeys(selector, text, chromedp.ByQuery),
	)
}

// Text reads the text that one sees of what the selector names.
func (b *Tab) Text(selector string) string {
	b.t.Helper()
	var s string
	b.Do(chromedp.Text(selector, &s, chromedp.ByQuery))
	return s
}

// Eval runs script in the page and reads what it yields, promises awaited.
func (b *Tab) Eval(script string, into any) {
	b.t.Helper()
	b.Do(chromedp.Evaluate(script, into, chromedp.EvalAsValue, awaited))
}

// Picture keeps a picture of the whole page in the folder that
// DOGSHORE_PICTURES names; without it none is taken.
func (b *Tab) Picture(name string) {
	b.t.Helper()
	b.keep(name, func(png *[]byte) chromedp.Action { return chromedp.FullScreenshot(png, 100) })
}

// Sight keeps a picture of what of the page is in sight.
func (b *Tab) Sight(name string) {
	b.t.Helper()
	b.keep(name, func(png *[]byte) chromedp.Action { return chromedp.CaptureScreenshot(png) })
}

func (b *Tab) keep(name string, take func(*[]byte) chromedp.Action) {
	b.t.Helper()
	dir := os.Getenv("DOGSHORE_PICTURES")
	if dir == "" {
		return
	}
	var png []byte
	b.Do(take(&png))
	if err := os.MkdirAll(dir, 0o755); err != nil {
		b.t.Fatal(err)
	}
	file := filepath.Join(dir, name+"-"+b.size.Name+"-"+string(b.scheme)+".png")
	if err := os.WriteFile(file, png, 0o644); err != nil {
		b.t.Fatal(err)
	}
}

// Paper prints the page as a browser would and returns the PDF.
func (b *Tab) Paper() []byte {
	b.t.Helper()
	var pdf []byte
	b.Do(chromedp.ActionFunc(func(ctx context.Context) (err error) {
		pdf, _, err = page.PrintToPDF().WithPreferCSSPageSize(true).WithPaperWidth(8.27).WithPaperHeight(11.69).Do(ctx)
		return err
	}))
	return pdf
}
