package trust

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"
)

const (
	rootName   = "root.pem"
	rootLasts  = 10 * 365 * 24 * time.Hour
	rootLast   = 180 * 24 * time.Hour // of its life: a new one is to be made
	skew       = 24 * time.Hour       // phones' clocks that run behind
	serialBits = 127                  // RFC 5280 allows 20 octets
)

// localNames are the ends of names that no public register gives out: mDNS
// (RFC 6762), homes (RFC 8375), private use (reserved by ICANN, 2024), and two
// that boxes for the home give their computers.
var localNames = []string{"local", "home.arpa", "internal", "lan", "localhost"}

// localNets are the addresses of local networks: RFC 1918, RFC 3927 and RFC
// 6598 for version 4, RFC 4193 and RFC 4291 for version 6, and loopback.
var localNets = []netip.Prefix{
	netip.MustParsePrefix("10.0.0.0/8"), netip.MustParsePrefix("172.16.0.0/12"), netip.MustParsePrefix("192.168.0.0/16"),
	netip.MustParsePrefix("169.254.0.0/16"), netip.MustParsePrefix("100.64.0.0/10"), netip.MustParsePrefix("127.0.0.0/8"),
	netip.MustParsePrefix("fc00::/7"), netip.MustParsePrefix("fe80::/10"), netip.MustParsePrefix("::1/128"),
}

// Root is the root certificate with its key. Its methods may be called from
// any goroutine.
type Root struct {
	now  func() time.Time
	cert *x509.Certificate
	key  *ecdsa.PrivateKey
	path string

	mu     sync.Mutex
	leaves map[string]*leaf
}

// ErrRoot is returned, wrapped with what to do, for a root certificate that
// can't be used.
var ErrRoot = errors.New("the root certificate can't be used")

// Open reads the root certificate in dir, or makes one there: made says so.
// computer is this computer's name, for the certificate's own; now is the
// clock.
func Open(dir, computer string, now func() time.Time) (root *Root, made bool, err error) {
	path := filepath.Join(dir, rootName)
	kept, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		made = true
		if kept, err = makeRoot(path, computer, now()); err != nil {
			return nil, false, fmt.Errorf("make a root certificate: %w", err)
		}
	}
	if err != nil {
		return nil, false, fmt.Errorf("read the root certificate: %w", err)
	}
	cert, key, err := parseRoot(kept)
	if err == nil {
		err = usable(cert, now())
	}
	if err == nil && runtime.GOOS != "windows" {
		err = os.Chmod(path, 0o600) // a careless copy may have opened it
	}
	if err != nil {
		return nil, false, fmt.Errorf("%w: %w. Move %s away: a new one is made then, and each phone has to trust it anew", ErrRoot, err, path)
	}
	return &Root{now: now, cert: cert, key: key, path: path, leaves: map[string]*leaf{}}, made, nil
}

// makeRoot makes a root certificate and writes it with its key, whole or not
// at all; if another process was quicker, that one's counts.
func makeRoot(path, computer string, now time.Time) ([]byte, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	if computer == "" {
		computer = "this computer"
	}
	draft := &x509.Certificate{
		SerialNumber:          serial(),
		Subject:               pkix.Name{CommonName: fmt.Sprintf("Dogshore on %s, made %s", printable(computer), now.UTC().Format("2 January 2006"))},
		NotBefore:             now.Add(-skew),
		NotAfter:              now.Add(rootLasts),
		KeyUsage:              x509.KeyUsageCertSign,
		BasicConstraintsValid: true, IsCA: true, MaxPathLenZero: true,
		PermittedDNSDomainsCritical: true,
		PermittedDNSDomains:         localNames,
		PermittedIPRanges:           ranges(),
	}
	der, err := x509.CreateCertificate(rand.Reader, draft, draft, &key.PublicKey, key)
	if err != nil {
		return nil, err
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return nil, err
	}
	kept := append(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret})...)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return nil, err
	}
	return keep(path, kept)
}

func keep(path string, b []byte) ([]byte, error) {
	part, err := os.CreateTemp(filepath.Dir(path), "part-*") // for its owner alone
	if err != nil {
		return nil, err
	}
	defer func() { _ = os.Remove(part.Name()) }() // the link stays
	_, err = part.Write(b)
	if err == nil {
		err = part.Sync()
	}
	if err = errors.Join(err, part.Close()); err != nil {
		return nil, err
	}
	err = os.Link(part.Name(), path)
	if errors.Is(err, fs.ErrExist) {
		return os.ReadFile(path)
	}
	if err != nil { // a file system without links
		err = os.Rename(part.Name(), path)
	}
	return b, err
}

func parseRoot(kept []byte) (*x509.Certificate, *ecdsa.PrivateKey, error) {
	var cert *x509.Certificate
	var key *ecdsa.PrivateKey
	for block, rest := pem.Decode(kept); block != nil; block, rest = pem.Decode(rest) {
		switch block.Type {
		case "CERTIFICATE":
			c, err := x509.ParseCertificate(block.Bytes)
			if err != nil {
				return nil, nil, err
			}
			cert = c
		case "PRIVATE KEY":
			k, err := x509.ParsePKCS8PrivateKey(block.Bytes)
			if err != nil {
				return nil, nil, err
			}
			key, _ = k.(*ecdsa.PrivateKey)
		}
	}
	if cert == nil || key == nil {
		return nil, nil, errors.New("the file does not hold a certificate and its key")
	}
	if !key.PublicKey.Equal(cert.PublicKey) {
		return nil, nil, errors.New("certificate and key do not belong to each other")
	}
	return cert, key, nil
}

func usable(c *x509.Certificate, now time.Time) error {
	switch {
	case !c.IsCA || !c.MaxPathLenZero || len(c.PermittedIPRanges) == 0:
		return errors.New("it is none that this program makes")
	case now.Before(c.NotBefore):
		return fmt.Errorf("it is good from %s, and the computer's clock says %s", day(c.NotBefore), day(now))
	case now.After(c.NotAfter.Add(-rootLast)):
		return fmt.Errorf("it ends on %s", day(c.NotAfter))
	}
	return nil
}

func day(t time.Time) string { return t.UTC().Format("2 January 2006") }

func ranges() []*net.IPNet {
	var out []*net.IPNet
	for _, p := range localNets {
		out = append(out, &net.IPNet{IP: p.Addr().AsSlice(), Mask: net.CIDRMask(p.Bits(), p.Addr().BitLen())})
	}
	return out
}

func serial() *big.Int {
	n, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), serialBits))
	if err != nil {
		panic(err) // the system's chance never fails: it ends the program instead
	}
	return n.Add(n, big.NewInt(1)) // RFC 5280: never zero
}

// printable keeps a computer's name within what a certificate's name may hold.
func printable(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return '-'
		}
		return r
	}, s)
	return s[:min(len(s), 24)]
}

// Certificate is what a phone is handed: the certificate without its key, DER.
func (r *Root) Certificate() []byte { return r.cert.Raw }

// Name is the name under which a phone lists the certificate.
func (r *Root) Name() string { return r.cert.Subject.CommonName }

// Ends is when the certificate ends.
func (r *Root) Ends() time.Time { return r.cert.NotAfter }

// Path is the file that holds the key.
func (r *Root) Path() string { return r.path }

// Fingerprint is the SHA-256 of the certificate as phones and computers show
// it, in pairs.
func (r *Root) Fingerprint() string {
	sum := sha256.Sum256(r.cert.Raw)
	pairs := make([]string, len(sum))
	for i, b := range sum {
		pairs[i] = strings.ToUpper(hex.EncodeToString([]byte{b}))
	}
	return strings.Join(pairs, " ")
}

// Local reports whether the root may vouch for a host: an address of a local
// network, or a local name.
func Local(host string) bool {
	if ip, err := netip.ParseAddr(host); err == nil {
		ip = ip.Unmap().WithZone("")
		for _, p := range localNets {
			if p.Contains(ip) {
				return true
			}
		}
		return false
	}
	host = strings.ToLower(strings.TrimSuffix(host, "."))
	for _, n := range localNames {
		if host == n || strings.HasSuffix(host, "."+n) {
			return true
		}
	}
	return false
}
