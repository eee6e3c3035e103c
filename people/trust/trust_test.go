package trust_test

import (
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"dogshore/people/trust"
)

var start = time.Now()

func open(t *testing.T, dir string, at time.Time) *trust.Root {
	t.Helper()
	r, _, err := trust.Open(dir, "shed-computer", func() time.Time { return at })
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestTheRootIsMadeOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "folder")
	a, made, err := trust.Open(dir, "shed-computer", time.Now)
	if err != nil || !made {
		t.Fatal(made, err)
	}
	b, made, err := trust.Open(dir, "another name", time.Now)
	if err != nil || made {
		t.Fatal(made, err)
	}
	if a.Fingerprint() != b.Fingerprint() || a.Name() != b.Name() || !strings.Contains(a.Name(), "shed-computer") {
		t.Errorf("%s is %s afterwards", a.Name(), b.Name())
	}
	sum := sha256.Sum256(a.Certificate())
	if got := strings.ToLower(strings.ReplaceAll(a.Fingerprint(), " ", "")); got != hex.EncodeToString(sum[:]) {
		t.Errorf("the fingerprint is %s", got)
	}
	in, err := os.Stat(a.Path())
	if err != nil || runtime.GOOS != "windows" && in.Mode().Perm() != 0o600 {
		t.Errorf("the key's file: %v %v", in.Mode(), err)
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 1 {
		t.Errorf("the folder holds %v, %v", left, err)
	}
}

func TestTwoProgramsMakeOneRoot(t *testing.T) {
	dir := t.TempDir()
	var wg sync.WaitGroup
	prints := make([]string, 8)
	for i := range prints {
		wg.Go(func() {
			if r, _, err := trust.Open(dir, "x", time.Now); err == nil {
				prints[i] = r.Fingerprint()
			}
		})
	}
	wg.Wait()
	for _, p := range prints {
		if p == "" || p != prints[0] {
			t.Errorf("side by side they made %v", prints)
			break
		}
	}
}

// The root says itself what it may do: RFC 5280, 4.2.1.9 and 4.2.1.10.
func TestTheRootIsBound(t *testing.T) {
	c, err := x509.ParseCertificate(open(t, t.TempDir(), start).Certificate())
	if err != nil {
		t.Fatal(err)
	}
	if !c.IsCA || c.MaxPathLen != 0 || !c.MaxPathLenZero || c.KeyUsage != x509.KeyUsageCertSign || !c.PermittedDNSDomainsCritical || len(c.PermittedIPRanges) == 0 || len(c.PermittedDNSDomains) == 0 {
		t.Errorf("the root is not bound: CA %v, below it %d, use %b", c.IsCA, c.MaxPathLen, c.KeyUsage)
	}
	if c.PublicKeyAlgorithm != x509.ECDSA || c.SignatureAlgorithm != x509.ECDSAWithSHA256 {
		t.Errorf("%v %v", c.PublicKeyAlgorithm, c.SignatureAlgorithm)
	}
}

// leafFor returns the certificate that a server shows a client of host.
func leafFor(t *testing.T, r *trust.Root, hosts []string, host string) (*x509.Certificate, error) {
	t.Helper()
	server, err := r.Server(hosts)
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = l.Close() }() // it took its one connection
	go func() {
		if c, err := l.Accept(); err == nil {
			_ = tls.Server(c, server).Handshake() // the client reports what goes wrong
			_ = c.Close()
		}
	}()
	pool := x509.NewCertPool()
	root, err := x509.ParseCertificate(r.Certificate())
	if err != nil {
		t.Fatal(err)
	}
	pool.AddCert(root)
	c, err := tls.Dial("tcp", l.Addr().String(), &tls.Config{RootCAs: pool, ServerName: host, MinVersion: tls.VersionTLS12})
	if err != nil {
		return nil, err
	}
	defer func() { _ = c.Close() }() // nothing is sent
	return c.ConnectionState().PeerCertificates[0], nil
}

func TestAClientThatTrustsTheRootTrustsTheServer(t *testing.T) {
	r := open(t, t.TempDir(), start)
	for _, host := range []string{"127.0.0.1", "shed-computer.local", "192.168.0.7", "fd00::2"} {
		c, err := leafFor(t, r, []string{"shed-computer.local", "192.168.0.7", "fd00::2"}, host)
		if err != nil {
			t.Errorf("%s: %v", host, err)
			continue
		}
		if days := c.NotAfter.Sub(c.NotBefore).Hours() / 24; days > 398 {
			t.Errorf("good for %.0f days; browsers take 398 (common practice of browser makers)", days)
		}
		if c.IsCA || len(c.ExtKeyUsage) != 1 || c.ExtKeyUsage[0] != x509.ExtKeyUsageServerAuth {
			t.Errorf("it may do more than serve: %v %v", c.IsCA, c.ExtKeyUsage)
		}
	}
	var wrong x509.HostnameError
	if _, err := leafFor(t, r, []string{"shed-computer.local"}, "other.local"); !errors.As(err, &wrong) {
		t.Errorf("another name: %v", err)
	}
	if _, err := leafFor(t, open(t, t.TempDir(), start), nil, "127.0.0.1"); err != nil {
		t.Errorf("by the address alone: %v", err)
	}
}

// A name of the wide network is refused, and were one signed all the same, no
// client takes it: neither Go's nor OpenSSL's.
func TestTheRootVouchesForNoOther(t *testing.T) {
	r := open(t, t.TempDir(), start)
	for host, local := range map[string]bool{
		"192.168.0.7": true, "10.1.2.3": true, "172.31.0.1": true, "172.32.0.1": false, "8.8.8.8": false, "fd00::2": true, "2001:db8::1": false, "fe80::1%eth0": true, "::ffff:10.0.0.1": true, "::ffff:8.8.8.8": false,
		"shed-computer.local": true, "SHED.Local.": true, "box.home.arpa": true, "boat.example": false, "local.example": false, "notlocal": false, "shed": false, "": false,
	} {
		if trust.Local(host) != local {
			t.Errorf("%q: local %v", host, !local)
		}
		if _, err := r.Server([]string{host}); (err == nil) != local {
			t.Errorf("%q: %v", host, err)
		}
	}
	for _, host := range []string{"boat.example", "8.8.8.8"} {
		der, err := r.IssueAnything(host)
		if err != nil {
			t.Fatal(err)
		}
		bad, err := x509.ParseCertificate(der)
		if err != nil {
			t.Fatal(err)
		}
		pool := x509.NewCertPool()
		root, err := x509.ParseCertificate(r.Certificate())
		if err != nil {
			t.Fatal(err)
		}
		pool.AddCert(root)
		var invalid x509.CertificateInvalidError
		if _, err := bad.Verify(x509.VerifyOptions{Roots: pool, DNSName: host}); !errors.As(err, &invalid) || invalid.Reason != x509.CANotAuthorizedForThisName {
			t.Errorf("%s signed by the root: %v", host, err)
		}
	}
}

// OpenSSL, where there is one, judges the same way.
func TestOpenSSLAgrees(t *testing.T) {
	if _, err := exec.LookPath("openssl"); err != nil {
		t.Skip("there is no openssl here")
	}
	dir := t.TempDir()
	r := open(t, dir, start)
	root := written(t, dir, "root.crt", r.Certificate())
	for host, good := range map[string]bool{"shed-computer.local": true, "192.168.0.7": true, "fd00::2": true, "boat.example": false, "8.8.8.8": false} {
		der, err := r.IssueAnything(host)
		if err != nil {
			t.Fatal(err)
		}
		name := "-verify_hostname"
		if net.ParseIP(host) != nil {
			name = "-verify_ip"
		}
		out, err := exec.Command("openssl", "verify", "-x509_strict", "-purpose", "sslserver", "-CAfile", root, name, host, written(t, dir, "leaf.crt", der)).CombinedOutput()
		if (err == nil) != good {
			t.Errorf("%s: %s", host, out)
		}
	}
}

func written(t *testing.T, dir, name string, der []byte) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Certificates renew themselves while the program runs, and not sooner.
func TestCertificatesRenewThemselves(t *testing.T) {
	at := start
	r, _, err := trust.Open(t.TempDir(), "x", func() time.Time { return at })
	if err != nil {
		t.Fatal(err)
	}
	serials := map[string]bool{}
	for range 100 { // days
		leaf, err := r.Leaf(nil, "127.0.0.1")
		if err != nil {
			t.Fatal(err)
		}
		if left := leaf.NotAfter.Sub(at); left < 29*24*time.Hour {
			t.Errorf("%.0f days are left", left.Hours()/24)
		}
		serials[leaf.SerialNumber.String()] = true
		at = at.Add(24 * time.Hour)
	}
	if len(serials) != 2 {
		t.Errorf("%d certificates in 100 days", len(serials))
	}
}

func TestRootsThatCannotBeUsed(t *testing.T) {
	good, other := t.TempDir(), t.TempDir()
	path := open(t, good, start).Path()
	kept, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	mixed, err := os.ReadFile(open(t, other, start).Path())
	if err != nil {
		t.Fatal(err)
	}
	cut := strings.Index(string(kept), "-----BEGIN PRIVATE")
	for name, x := range map[string]struct {
		text string
		at   time.Time
		says string
	}{
		"empty":            {"", start, "does not hold"},
		"without its key":  {string(kept[:cut]), start, "does not hold"},
		"with another key": {string(kept[:cut]) + string(mixed[strings.Index(string(mixed), "-----BEGIN PRIVATE"):]), start, "do not belong"},
		"no certificate":   {"-----BEGIN CERTIFICATE-----\nAAAA\n-----END CERTIFICATE-----\n", start, "x509"},
		"about to end":     {string(kept), start.Add(9*365*24*time.Hour + 200*24*time.Hour), "it ends on"},
		"clock behind":     {string(kept), start.Add(-400 * 24 * time.Hour), "clock says"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			if err := os.WriteFile(filepath.Join(dir, filepath.Base(path)), []byte(x.text), 0o600); err != nil {
				t.Fatal(err)
			}
			_, _, err := trust.Open(dir, "x", func() time.Time { return x.at })
			if !errors.Is(err, trust.ErrRoot) || !strings.Contains(err.Error(), x.says) || !strings.Contains(err.Error(), dir) {
				t.Errorf("%v", err)
			}
		})
	}
}

func TestACertificateOfTheUsers(t *testing.T) {
	dir := t.TempDir()
	r := open(t, dir, start)
	cert, key, err := r.PEM("boat.local", "192.168.0.7")
	if err != nil {
		t.Fatal(err)
	}
	write := func(name string, b []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	c, hosts, err := trust.Own(write("c.pem", cert), write("k.pem", key), start)
	if err != nil || strings.Join(hosts, " ") != "boat.local 192.168.0.7" || c.MinVersion != tls.VersionTLS12 {
		t.Errorf("%v %v", hosts, err)
	}
	for says, read := range map[string]func() error{
		"both PEM": func() error { _, _, err := trust.Own(write("c.pem", cert), write("x.pem", cert), start); return err },
		"no such file": func() error {
			_, _, err := trust.Own(filepath.Join(dir, "none"), filepath.Join(dir, "none"), start)
			return err
		},
		"ended on": func() error {
			_, _, err := trust.Own(write("c.pem", cert), write("k.pem", key), start.Add(91*24*time.Hour))
			return err
		},
		"the computer's c": func() error {
			_, _, err := trust.Own(write("c.pem", cert), write("k.pem", key), start.Add(-91*24*time.Hour))
			return err
		},
	} {
		if err := read(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("want %q: %v", says, err)
		}
	}
}
