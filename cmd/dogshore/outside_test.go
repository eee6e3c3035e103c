package main

import (
	"context"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"encoding/hex"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
	"time"

	"dogshore/demo"
)

const passphrase = "winch handle under the berth"

var (
	outsidePortIn = regexp.MustCompile(`at port (\d+):`)
	insideIn      = regexp.MustCompile(`without sign-in: (http://127\.0\.0\.1:\d+/)`)
	fingerprintIn = regexp.MustCompile(`(?m)^((?: [0-9A-F]{2}){16})\n((?: [0-9A-F]{2}){16})$`)
)

// running is the command open, served to other computers.
type running struct {
	out, errs written
	interrupt context.CancelFunc
	ended     chan int
}

// openOutside makes a build with a passphrase and opens it at every address of
// this computer.
func openOutside(t *testing.T, flags ...string) *running {
	t.Helper()
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(t.TempDir(), "config"))
	t.Setenv("HOME", t.TempDir())
	dir := filepath.Join(t.TempDir(), "boat")
	if err := demo.Make(context.Background(), dir, demo.Builds[len(demo.Builds)-1]); err != nil {
		t.Fatal(err)
	}
	var said written
	if code := run(context.Background(), []string{"passphrase", dir}, streams{in: strings.NewReader(passphrase + "\n" + passphrase + "\n"), out: &said, err: &said}); code != exitDone {
		t.Fatal(said.String())
	}
	ctx, interrupt := context.WithCancel(context.Background())
	r := &running{interrupt: interrupt, ended: make(chan int, 1)}
	t.Cleanup(interrupt)
	go func() {
		r.ended <- run(ctx, append([]string{"open", dir, "--port", "0", "--listen", "0.0.0.0:0"}, flags...), streams{in: strings.NewReader(""), out: &r.out, err: &r.errs})
	}()
	deadline := time.Now().Add(60 * time.Second)
	for !strings.Contains(r.out.String(), "Ctrl-C ends.") {
		select {
		case code := <-r.ended:
			t.Fatalf("it ended with %d: %s", code, r.errs.String())
		case <-time.After(10 * time.Millisecond):
		}
		if time.Now().After(deadline) {
			t.Fatalf("nothing is printed: %s %s", r.out.String(), r.errs.String())
		}
	}
	return r
}

func (r *running) end(t *testing.T) {
	t.Helper()
	r.interrupt()
	if code := <-r.ended; code != exitDone {
		t.Errorf("ended with %d: %s", code, r.errs.String())
	}
}

func fetch(t *testing.T, client *http.Client, address string) (int, string) {
	t.Helper()
	answer, err := client.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(answer.Body)
	if err != nil || answer.Body.Close() != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, string(body)
}

// Served to other computers: a client takes the root from the step, finds its
// fingerprint to be the one that was printed, trusts it, and is asked to sign
// in; this computer is served as ever.
func TestOpenForOtherComputers(t *testing.T) {
	r := openOutside(t)
	port := outsidePortIn.FindStringSubmatch(r.out.String())[1]
	client := &http.Client{Timeout: 30 * time.Second}
	code, root := fetch(t, client, "http://127.0.0.1:"+port+"/dogshore-root.crt")
	if code != http.StatusOK {
		t.Fatalf("the root: %d", code)
	}
	sum := sha256.Sum256([]byte(root))
	printed := strings.ReplaceAll(strings.Join(fingerprintIn.FindStringSubmatch(r.out.String())[1:], ""), " ", "")
	if !strings.EqualFold(printed, hex.EncodeToString(sum[:])) {
		t.Errorf("the fingerprint of what is handed out is %x, printed is %s", sum, printed)
	}
	cert, err := x509.ParseCertificate([]byte(root))
	if err != nil {
		t.Fatal(err)
	}
	pool := x509.NewCertPool()
	pool.AddCert(cert)
	client.Transport = &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool, MinVersion: tls.VersionTLS12}}
	code, page := fetch(t, client, "https://127.0.0.1:"+port+"/sign-in")
	if code != http.StatusOK || !strings.Contains(page, "Passphrase, or the code") {
		t.Errorf("over https: %d %.200s", code, page)
	}
	if code, _ := fetch(t, client, "https://127.0.0.1:"+port+"/boat"); code != http.StatusUnauthorized {
		t.Errorf("the boat without sign-in: %d", code)
	}
	if code, page := fetch(t, client, insideIn.FindStringSubmatch(r.out.String())[1]+"phones"); code != http.StatusOK || !strings.Contains(page, "Who is in") {
		t.Errorf("on this computer: %d", code)
	}
	kept := filepath.Join(os.Getenv("XDG_CONFIG_HOME"), "dogshore", "root.pem")
	if in, err := os.Stat(kept); runtime.GOOS == "linux" && (err != nil || in.Mode().Perm() != 0o600) {
		t.Errorf("the key: %v %v", in, err)
	}
	if !strings.Contains(r.errs.String(), "Made a root certificate: ") {
		t.Errorf("it did not say that it made a root: %s", r.errs.String())
	}
	client.CloseIdleConnections()
	r.end(t)
}

func TestOpenPlainSaysWhatIsMissing(t *testing.T) {
	r := openOutside(t, "--plain")
	for _, says := range []string{"TAKE CARE: without encryption", "What is missing: pages and notes for use\nwithout a network"} {
		if !strings.Contains(r.out.String(), says) {
			t.Errorf("it does not say %q:\n%s", says, r.out.String())
		}
	}
	port := outsidePortIn.FindStringSubmatch(r.out.String())[1]
	client := &http.Client{Timeout: 30 * time.Second}
	if code, page := fetch(t, client, fmt.Sprintf("http://127.0.0.1:%s/sign-in", port)); code != http.StatusOK || !strings.Contains(page, "not encrypted") {
		t.Errorf("plain: %d", code)
	}
	if code, _ := fetch(t, client, fmt.Sprintf("http://127.0.0.1:%s/boat", port)); code != http.StatusUnauthorized {
		t.Errorf("the boat without sign-in: %d", code)
	}
	client.CloseIdleConnections()
	r.end(t)
}
