package web_test

import (
	"crypto/sha256"
	"crypto/tls"
	"encoding/base64"
	"io"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"

	"dogshore/internal/browser"
	"dogshore/journal"
	"dogshore/record"
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
	c := &counted{Tab: browser.Secure(t, t.TempDir(), browser.Phone, browser.Light, o.shownKey(), "boat.local")}
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
	if secure, worker := c.secure(); !secure || worker != "/service.js" {
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

// cable is what lies between a browser and the program, and can be pulled out.
type cable struct {
	t    *testing.T
	to   string
	addr string
	l    net.Listener

	mu    sync.Mutex
	ends  []net.Conn
	plugs sync.WaitGroup
}

func newCable(t *testing.T, to string) *cable {
	t.Helper()
	c := &cable{t: t, to: to, addr: "127.0.0.1:0"}
	c.plug()
	t.Cleanup(c.pull)
	return c
}

func (c *cable) plug() {
	c.t.Helper()
	var err error
	if c.l, err = net.Listen("tcp", c.addr); err != nil {
		c.t.Fatal(err)
	}
	c.addr = c.l.Addr().String()
	c.plugs.Go(func() {
		for {
			in, err := c.l.Accept()
			if err != nil {
				return
			}
			out, err := net.Dial("tcp", c.to)
			if err != nil {
				_ = in.Close() // the program has ended
				return
			}
			c.mu.Lock()
			c.ends = append(c.ends, in, out)
			c.mu.Unlock()
			for _, way := range [][2]net.Conn{{in, out}, {out, in}} {
				c.plugs.Go(func() {
					_, _ = io.Copy(way[0], way[1]) // ends when either side does
					_ = way[0].Close()
				})
			}
		}
	})
}

func (c *cable) pull() {
	_ = c.l.Close() // may be pulled already
	c.mu.Lock()
	for _, x := range c.ends {
		_ = x.Close()
	}
	c.ends = nil
	c.mu.Unlock()
	c.plugs.Wait()
}

// A note is taken over https under the program's own root, with the cable
// pulled out; meanwhile the owner puts the phone out. It can read the build no
// longer, but the note is still on it, and arrives when somebody signs in on
// it again: once, under the name that is signed in then.
func TestPutOutWithANoteOnThePhone(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	o := outdoors(t, false)
	line := newCable(t, "127.0.0.1:"+o.port)
	at := "https://boat.local" + line.addr[strings.LastIndex(line.addr, ":"):]
	c := &counted{Tab: browser.Secure(t, t.TempDir(), browser.Phone, browser.Light, o.shownKey(), "boat.local")}
	c.Go(at + "/visit/v2")
	c.signIn("Ada")
	c.Until(`navigator.serviceWorker.controller !== null && caches.match("/visit/v2").then(Boolean)`)
	line.pull()
	c.Go(at + "/visit/v2")
	c.Fill("#n-text", "the lamp over the deck is out")
	c.Click("#form-note button")
	if got := c.Text(".kept-says"); !strings.Contains(got, "1 thing still on this phone") || !strings.Contains(got, "no connection") {
		t.Errorf("with the cable out it says %q", got)
	}

	all, err := o.access.Sessions(t.Context())
	if err != nil || len(all) != 1 {
		t.Fatalf("in are %v, %v", all, err)
	}
	if err := o.access.Revoke(t.Context(), all[0].ID); err != nil {
		t.Fatal(err)
	}
	line.plug()
	c.Go(at + "/visit/v2")
	if got := c.Text("main"); !strings.Contains(got, "This phone was put out") || !strings.Contains(got, "1 thing noted on this phone") {
		t.Errorf("put out, the phone shows %q", got)
	}
	c.look(t, "put-out")
	c.barriers(t)
	var kept []string
	c.Eval(`(async () => { let out = []; for (const n of await caches.keys()) out.push(...(await (await caches.open(n)).keys()).map((r) => new URL(r.url).pathname)); return out.filter((p) => !p.startsWith("/static/")); })()`, &kept)
	if strings.Join(kept, " ") != "/away" {
		t.Errorf("put out, the phone still keeps %q", kept)
	}
	if n := len(journal.All[record.Note](as(t, o.folder))); n != 1 {
		t.Errorf("%d notes are on record before anybody signed in", n)
	}
	c.signIn("Bo")
	c.Until(settledAll)
	var origin string
	found := 0
	r := as(t, o.folder)
	for _, n := range journal.All[record.Note](r) {
		if n.Text == "the lamp over the deck is out" {
			found++
			origin = r.From(n.Self).Author + ": " + r.From(n.Self).Origin
		}
	}
	if found != 1 || !strings.Contains(origin, "Bo: phone, at the visit of") || !strings.HasSuffix(origin, "noted there as “Ada”") {
		t.Errorf("it arrived %d times, from %q", found, origin)
	}
}

func (c *counted) signIn(who string) {
	c.Fill("#secret", passphrase)
	c.Fill("#who", who)
	c.Click("main button.main")
}

// Without encryption the same pages work, and the browser does not call them
// secure: what that lacks is said.
func TestPlainInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	o := outdoors(t, true)
	c := &counted{Tab: browser.Secure(t, t.TempDir(), browser.Phone, browser.Light, strings.Repeat("A", 43)+"=", "boat.local")}
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

// secure asks the browser whether the page is a secure context, and which
// service worker it starts there: the program's own, fetched with the session's
// cookie.
func (c *counted) secure() (secure bool, worker string) {
	c.Eval(`window.isSecureContext`, &secure)
	c.Eval(`(async () => {
		if (!navigator.serviceWorker) return "none";
		await navigator.serviceWorker.register("/service.js");
		return new URL((await navigator.serviceWorker.ready).active.scriptURL).pathname;
	})().catch(String)`, &worker)
	return secure, worker
}

func (c *counted) barriers(t *testing.T) {
	t.Helper()
	if got := c.Barriers(); len(got) > 0 {
		t.Errorf("barriers:\n  %s", strings.Join(got, "\n  "))
	}
}
