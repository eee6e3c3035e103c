package browser

import (
	"context"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// Secure opens a window of a browser of its own, which takes certificates with
// one key (key is the SHA-256 of its public part, base64), as a phone does
// that trusts their root, and finds host at this computer. By another name
// than localhost, what is secure and what is not can be told apart.
func Secure(t testing.TB, size Size, scheme Scheme, key, host string) *Tab {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("font-render-hinting", "none"),
		chromedp.Flag("ignore-certificate-errors-spki-list", key), chromedp.Flag("host-resolver-rules", "MAP "+host+" 127.0.0.1"))
	alloc, end := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(end)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(cancel)
	if err := chromedp.Run(ctx); err != nil { // without a deadline: it would end the window too
		t.Fatalf("start chromium: %v", err)
	}
	tab := &Tab{t: t, ctx: ctx}
	tab.Do(page.BringToFront())
	tab.Look(size, scheme)
	return tab
}
