package trust

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"errors"
	"fmt"
	"net"
	"net/netip"
	"time"
)

// A certificate for addresses is good for ninety days and made anew when a
// third of that is left: well under the 398 days that browsers take at most.
const (
	leafLasts = 90 * 24 * time.Hour
	leafLast  = 30 * 24 * time.Hour
)

type leaf struct {
	cert *tls.Certificate
	ends time.Time
}

// Server returns how a server speaks under this root: for each connection with
// a certificate for hosts and for the address that was reached. hosts are
// names and addresses without a port; it returns an error for one that the
// root may not vouch for.
func (r *Root) Server(hosts []string) (*tls.Config, error) {
	if err := Vouches(hosts); err != nil {
		return nil, err
	}
	c := Secure()
	c.GetCertificate = func(hello *tls.ClientHelloInfo) (*tls.Certificate, error) {
		reached := ""
		if hello.Conn != nil {
			if a, err := netip.ParseAddrPort(hello.Conn.LocalAddr().String()); err == nil {
				reached = a.Addr().Unmap().WithZone("").String()
			}
		}
		return r.leaf(hosts, reached)
	}
	return c, nil
}

// Vouches returns an error for the first of hosts that a root may not vouch
// for.
func Vouches(hosts []string) error {
	for _, h := range hosts {
		if !Local(h) {
			return fmt.Errorf("%s is no address or name of a local network, and the program's own certificate vouches for no other: bring a certificate for it (--cert, --key)", h)
		}
	}
	return nil
}

// Secure is how a server speaks at least: TLS 1.2, HTTP/2 where it can be had.
func Secure() *tls.Config {
	return &tls.Config{MinVersion: tls.VersionTLS12, NextProtos: []string{"h2", "http/1.1"}}
}

// leaf returns the certificate for hosts and an address of this computer, made
// anew if there is none or it ends soon. There are no more than the computer
// has addresses.
func (r *Root) leaf(hosts []string, reached string) (*tls.Certificate, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	now := r.now()
	if l := r.leaves[reached]; l != nil && now.Before(l.ends.Add(-leafLast)) && now.After(l.ends.Add(-leafLasts-skew)) {
		return l.cert, nil
	}
	all := hosts
	if reached != "" && Local(reached) {
		all = append([]string{reached}, hosts...)
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("%s is no address of a local network: the program's own certificate does not vouch for it", reached)
	}
	cert, ends, err := r.issue(all, now)
	if err != nil {
		return nil, fmt.Errorf("make a certificate for %v: %w", all, err)
	}
	r.leaves[reached] = &leaf{cert, ends}
	return cert, nil
}

func (r *Root) issue(hosts []string, now time.Time) (*tls.Certificate, time.Time, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, time.Time{}, err
	}
	draft := &x509.Certificate{
		SerialNumber: serial(),
		Subject:      pkix.Name{CommonName: "Dogshore"},
		NotBefore:    now.Add(-skew),
		NotAfter:     now.Add(leafLasts),
		KeyUsage:     x509.KeyUsageDigitalSignature,
		ExtKeyUsage:  []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},

		BasicConstraintsValid: true,
	}
	for _, h := range hosts {
		if ip, err := netip.ParseAddr(h); err == nil {
			draft.IPAddresses = append(draft.IPAddresses, net.IP(ip.Unmap().WithZone("").AsSlice()))
		} else {
			draft.DNSNames = append(draft.DNSNames, h)
		}
	}
	der, err := x509.CreateCertificate(rand.Reader, draft, r.cert, &key.PublicKey, r.key)
	if err != nil {
		return nil, time.Time{}, err
	}
	return &tls.Certificate{Certificate: [][]byte{der}, PrivateKey: key}, draft.NotAfter, nil
}

// Own reads a certificate that the user brings, with its key, and returns how
// a server speaks with it and the names and addresses it is for.
func Own(certFile, keyFile string, now time.Time) (c *tls.Config, hosts []string, err error) {
	pair, err := tls.LoadX509KeyPair(certFile, keyFile)
	if err != nil {
		return nil, nil, fmt.Errorf("read the certificate %s with the key %s (both PEM, the certificate first and behind it those it was signed with): %w", certFile, keyFile, err)
	}
	cert, err := x509.ParseCertificate(pair.Certificate[0])
	if err != nil {
		return nil, nil, fmt.Errorf("read the certificate %s: %w", certFile, err)
	}
	if now.After(cert.NotAfter) {
		return nil, nil, fmt.Errorf("the certificate %s ended on %s: renew it", certFile, day(cert.NotAfter))
	}
	if now.Before(cert.NotBefore) {
		return nil, nil, fmt.Errorf("the certificate %s is good from %s, and the computer's clock says %s", certFile, day(cert.NotBefore), day(now))
	}
	hosts = append(hosts, cert.DNSNames...)
	for _, ip := range cert.IPAddresses {
		hosts = append(hosts, ip.String())
	}
	if len(hosts) == 0 {
		return nil, nil, errors.New(certFile + " names no host (subject alternative name): browsers take no such certificate")
	}
	c = Secure()
	c.Certificates = []tls.Certificate{pair}
	return c, hosts, nil
}
