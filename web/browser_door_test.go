package web_test

import (
	"crypto/sha256"
	"crypto/tls"
	"encoding/base64"
	"net/http"
	"strings"
	"testing"

	"dogshore/internal/browser"
)

// shownKey is the SHA-256 of the public key that the server shows.
func (o *outside) shownKey() string {
	o.t.Helper()
	c := o.client.Transport.(*http.Transport).TLSClientConfig.Clone()
	c.ServerName = "boat.local"
	conn, err := tls.Dial("tcp", "127.0.0.1:"+o.port, c)
	if err != nil {
		o.t.Fatal(err)
	}
	defer func() { _ = conn.Close() }() // nothing was sent
	sum := sha256.Sum256(conn.ConnectionState().PeerCertificates[0].RawSubjectPublicKeyInfo)
	return base64.StdEncoding.EncodeToString(sum[:])
}

// A phone comes in over a name that is not this computer's own: it reads how
// to trust the root, signs in, gets it wrong first, and is then on a page that
// a browser calls secure and that may work without a network. Each page is
// looked at on a phone and on a desk, in light and dark.
func TestSignInInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	o := outdoors(t, false)
	c := &counted{Tab: browser.Secure(t, browser.Phone, browser.Light, o.shownKey(), "boat.local")}
	at := "boat.local:" + o.port

	c.Go("http://" + at + "/")
	if got := strings.Join(strings.Fields(c.Text(".print-of")), " "); got != o.root.Fingerprint() {
		t.Errorf("the fingerprint to compare is %q", got)
	}
	c.look(t, "trust")
	c.barriers(t)
	c.Click("main a.button.main")
	if got := c.Text("h1"); got != "Sign in" {
		t.Fatalf("behind the step stands %q", got)
	}
	c.look(t, "sign-in")
	c.barriers(t)
	c.fill("#secret", "not the passphrase")
	c.tap("main button.main")
	if got := c.Text(`[role="alert"]`); !strings.Contains(got, "neither the passphrase nor a code") {
		t.Errorf("a wrong passphrase: %q", got)
	}
	c.look(t, "sign-in-refused")
	c.taps, c.fields = 0, 0
	c.fill("#secret", passphrase)
	c.fill("#who", "Ada")
	c.tap("main button.main")
	if c.taps != 1 || c.fields != 2 {
		t.Errorf("signing in took %d taps and %d fields", c.taps, c.fields)
	}
	if got := c.Text(".title-block .of dd"); got != "Test sloop" {
		t.Fatalf("signed in, the sheet is of %q", got)
	}
	if secure, worker := c.secure(); !secure || worker != "fetched" {
		t.Errorf("over https: secure %v, a service worker %s", secure, worker)
	}
	c.phones(t, "https://"+at)
	c.Click(".signed-in button")
	if got := c.Text("h1"); got != "Sign in" {
		t.Errorf("signed out stands %q", got)
	}
	c.Go("https://" + at + "/boat")
	if got := c.Text("h1"); got != "Sign in" {
		t.Errorf("after signing out the boat's sheet is %q", got)
	}
}

// phones looks at the sheet of phones, and makes a code there.
func (c *counted) phones(t *testing.T, at string) {
	t.Helper()
	c.Go(at + "/phones")
	var wide int
	c.Eval(`Promise.all([...document.querySelectorAll(".code-of")].map((i) => i.decode())).then(() => document.querySelector(".code-of").naturalWidth)`, &wide)
	if wide == 0 {
		t.Error("the code for a camera is no picture")
	}
	c.look(t, "phones")
	c.barriers(t)
	c.fill("#who", "Bo")
	c.fill("#device", "blue phone")
	c.tap(`form[action="/phones/code"] button.main`)
	if got := c.Text(".code"); len(got) != 14 {
		t.Errorf("the code is %q", got)
	}
	c.look(t, "phones-code")
}

// Without encryption the same pages work, and the browser does not call them
// secure: what that lacks is said.
func TestPlainInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	o := outdoors(t, true)
	c := &counted{Tab: browser.Secure(t, browser.Phone, browser.Light, strings.Repeat("A", 43)+"=", "boat.local")}
	c.Go("http://boat.local:" + o.port + "/")
	c.look(t, "sign-in-plain")
	if got := c.Text(".caution"); !strings.Contains(got, "not encrypted") {
		t.Errorf("the caution is %q", got)
	}
	c.Fill("#secret", passphrase)
	c.Click("main button.main")
	if got := c.Text(".title-block .of dd"); got != "Test sloop" {
		t.Fatalf("signed in, the sheet is of %q", got)
	}
	if secure, worker := c.secure(); secure || worker != "none" {
		t.Errorf("over plain http: secure %v, a service worker %s", secure, worker)
	}
	c.Go("http://boat.local:" + o.port + "/phones")
	c.look(t, "phones-plain")
}

// secure asks the browser whether the page is a secure context, and whether it
// fetches a service worker: with the session's cookie, under a certificate that
// it takes. The script that it is offered is none, so that it gets as far as
// running it and no further.
func (c *counted) secure() (secure bool, worker string) {
	c.Eval(`window.isSecureContext`, &secure)
	c.Eval(`(async () => {
		if (!navigator.serviceWorker) return "none";
		await navigator.serviceWorker.register(document.querySelector("script[src]").src.replace("page.js", "fresh.js"));
	})().catch((e) => String(e).includes("script evaluation failed") ? "fetched" : String(e))`, &worker)
	return secure, worker
}

func (c *counted) barriers(t *testing.T) {
	t.Helper()
	if got := c.Barriers(); len(got) > 0 {
		t.Errorf("barriers:\n  %s", strings.Join(got, "\n  "))
	}
}
