package trust

import (
	"crypto/x509"
	"encoding/pem"
)

// IssueAnything signs for a host whether it is local or not.
func (r *Root) IssueAnything(host string) ([]byte, error) {
	c, _, err := r.issue([]string{host}, r.now())
	if err != nil {
		return nil, err
	}
	return c.Certificate[0], nil
}

// Leaf returns the certificate for hosts and an address.
func (r *Root) Leaf(hosts []string, reached string) (*x509.Certificate, error) {
	c, err := r.leaf(hosts, reached)
	if err != nil {
		return nil, err
	}
	return x509.ParseCertificate(c.Certificate[0])
}

// PEM makes a certificate for hosts and returns it with its key.
func (r *Root) PEM(hosts ...string) (cert, key []byte, err error) {
	c, _, err := r.issue(hosts, r.now())
	if err != nil {
		return nil, nil, err
	}
	k, err := x509.MarshalPKCS8PrivateKey(c.PrivateKey)
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: c.Certificate[0]}), pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: k}), err
}
