package web_test

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"dogshore/people"
	"dogshore/people/trust"
	"dogshore/store"
	"dogshore/web"
)

const passphrase = "winch handle under the berth"

// outside is a site that other computers reach, over a real port.
type outside struct {
	t      testing.TB
	folder *store.Folder
	access *people.Access
	root   *trust.Root
	site   *web.Site
	port   string
	scheme string
	client *http.Client

	mu sync.Mutex
	at time.Time
}

func (o *outside) now() time.Time {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.at
}

func (o *outside) pass(d time.Duration) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.at = o.at.Add(d)
}

// outdoors serves the typical build to other computers, encrypted under a root
// of its own, or plain.
func outdoors(t testing.TB, plain bool) *outside {
	t.Helper()
	o := &outside{t: t, folder: typicalBuild(t), at: now, scheme: "http"}
	ctx := context.Background()
	var err error
	if o.access, err = people.Open(ctx, o.folder.Dir(), o.now); err == nil {
		_, err = o.access.SetPassphrase(ctx, passphrase)
	}
	if err != nil {
		t.Fatal(err)
	}
	l, err := web.ListenOutside("127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	let := web.Outside{Access: o.access, Hosts: []string{"boat.local"}, Shown: []string{"boat.local", "127.0.0.1"}, Port: l.Addr().(*net.TCPAddr).Port}
	pool := x509.NewCertPool()
	if !plain {
		o.scheme = "https"
		if o.root, _, err = trust.Open(t.TempDir(), "test", time.Now); err != nil {
			t.Fatal(err)
		}
		if let.TLS, err = o.root.Server(let.Hosts); err != nil {
			t.Fatal(err)
		}
		let.Root = o.root
		cert, err := x509.ParseCertificate(o.root.Certificate())
		if err != nil {
			t.Fatal(err)
		}
		pool.AddCert(cert)
	}
	_, o.port, _ = net.SplitHostPort(l.Addr().String())
	o.site = web.New(o.folder, clock, slog.New(slog.NewTextHandler(io.Discard, nil)))
	o.site.Let(let)
	serving, stop := context.WithCancel(ctx)
	ended := make(chan error, 1)
	go func() { ended <- o.site.ServeOutside(serving, l) }()
	o.client = &http.Client{
		Timeout:       60 * time.Second,
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
		Transport: &http.Transport{
			TLSClientConfig: &tls.Config{RootCAs: pool, MinVersion: tls.VersionTLS12}, ForceAttemptHTTP2: true,
			// boat.local is this computer, whatever the network says.
			DialContext: func(ctx context.Context, network, _ string) (net.Conn, error) {
				return (&net.Dialer{}).DialContext(ctx, network, "127.0.0.1:"+o.port)
			},
		},
	}
	t.Cleanup(func() {
		o.client.CloseIdleConnections()
		stop()
		if err := <-ended; err != nil {
			t.Errorf("serving ended with %v", err)
		}
		if err := o.access.Close(); err != nil {
			t.Error(err)
		}
	})
	return o
}

// answer is what came back, read to its end.
type answer struct {
	*http.Response
	body string
}

// ask sends a request as a script would; as changes it before it is sent.
func (o *outside) ask(method, path, body string, as ...func(*http.Request)) answer {
	o.t.Helper()
	r, err := http.NewRequest(method, o.scheme+"://boat.local:"+o.port+path, strings.NewReader(body))
	if err != nil {
		o.t.Fatal(err)
	}
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	for _, f := range as {
		f(r)
	}
	got, err := o.client.Do(r)
	if err != nil {
		o.t.Fatalf("%s %s: %v", method, path, err)
	}
	b, err := io.ReadAll(got.Body)
	if err != nil || got.Body.Close() != nil {
		o.t.Fatalf("%s %s: %v", method, path, err)
	}
	return answer{got, string(b)}
}

// opens makes a request one of a person who opens a page.
func opens(r *http.Request) { r.Header.Set("Accept", "text/html,*/*;q=0.8") }

func with(c *http.Cookie) func(*http.Request) {
	return func(r *http.Request) { r.AddCookie(c) }
}

func knock(secret, who string) string {
	return url.Values{"secret": {secret}, "who": {who}, "device": {"red phone"}, "next": {"/boat"}}.Encode()
}

// in signs somebody in and returns the cookie of the session.
func (o *outside) in(secret, who string) *http.Cookie {
	o.t.Helper()
	a := o.ask("POST", "/sign-in", knock(secret, who))
	if a.StatusCode != http.StatusSeeOther || len(a.Cookies()) != 1 {
		o.t.Fatalf("signing in: %d %v %s", a.StatusCode, a.Cookies(), between(a.body, "<h1>", "</form>"))
	}
	return a.Cookies()[0]
}

// mate signs somebody in who may look and note.
func (o *outside) mate(who string) *http.Cookie {
	o.t.Helper()
	_, code, err := o.access.NewCode(context.Background(), who, "blue phone", people.Mate)
	if err != nil {
		o.t.Fatal(err)
	}
	return o.in(code, "somebody else")
}
