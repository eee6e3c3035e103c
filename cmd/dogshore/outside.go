package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"dogshore/internal/qr"
	"dogshore/people/trust"
	"dogshore/web"
)

const outsidePort = "4643" // if none is said

// runOutside serves this computer as ever, and other computers with sign-in.
func (c *openCmd) runOutside(ctx context.Context, s streams, log *slog.Logger) (err error) {
	at, err := c.where()
	if err != nil {
		return err
	}
	access, err := openAccess(ctx, c.Dir, s)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, access.Close()) }()
	if ready, err := access.Ready(ctx); err != nil {
		return err
	} else if !ready {
		return fmt.Errorf("no passphrase is set: other computers are let in with one only. Set it first: dogshore passphrase %s", c.Dir)
	}
	o, err := c.outside(at, s)
	if err != nil {
		return err
	}
	o.Access = access
	site, done, err := openSite(ctx, c.Dir, s, log)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, done()) }()
	inside, err := web.Listen(c.Port)
	if err != nil {
		return err
	}
	outside, err := web.ListenOutside(net.JoinHostPort(at.host, at.port))
	if err != nil {
		return errors.Join(err, inside.Close())
	}
	if a, ok := outside.Addr().(*net.TCPAddr); ok {
		o.Port = a.Port
	}
	site.Let(*o)
	c.tell(s, web.Address(inside), o)
	return serveBoth(ctx, site, inside, outside)
}

func serveBoth(ctx context.Context, site *web.Site, inside, outside net.Listener) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	ended := make(chan error, 1)
	go func() {
		ended <- web.Serve(ctx, inside, site)
		stop()
	}()
	err := site.ServeOutside(ctx, outside)
	stop()
	return errors.Join(err, <-ended)
}

// listenAt is where to listen for other computers.
type listenAt struct {
	host, port string
	all        bool // at every address of this computer
}

// where reads --listen and refuses what makes no sense beside it.
func (c *openCmd) where() (listenAt, error) {
	at := listenAt{host: c.Listen, port: outsidePort}
	if strings.ContainsAny(c.Listen, "/?#@ ") {
		return at, fmt.Errorf("--listen %s is no address or name; as 192.168.0.7, shed-computer.local, or 0.0.0.0 for all addresses of this computer", c.Listen)
	}
	if h, p, err := net.SplitHostPort(c.Listen); err == nil {
		at.host, at.port = h, p
	}
	at.host = strings.ToLower(strings.Trim(at.host, "[]"))
	if n, err := strconv.ParseUint(at.port, 10, 16); err != nil {
		return at, fmt.Errorf("--listen %s: the port %q is no number from 0 to 65535; as 192.168.0.7:4643", c.Listen, at.port)
	} else if int(n) == c.Port && n != 0 {
		return at, fmt.Errorf("--listen %s: port %d is the one for this computer; name another, or another --port", c.Listen, n)
	}
	ip, err := netip.ParseAddr(at.host)
	at.all = at.host == "" || err == nil && ip.IsUnspecified()
	switch {
	case at.host == "localhost" || err == nil && ip.Unmap().IsLoopback():
		return at, fmt.Errorf("--listen %s: that is this computer itself, which needs no --listen and no sign-in; say the address that it has in your network, or 0.0.0.0 for all", c.Listen)
	case (c.Cert == "") != (c.Key == ""):
		return at, errors.New("--cert and --key go together: the certificate and its key")
	case c.Plain && c.Cert != "":
		return at, errors.New("--plain serves without encryption, --cert with it: leave one of them out")
	}
	return at, nil
}

// outside makes what the pages need to know: the encryption, and the names
// that are answered.
func (c *openCmd) outside(at listenAt, s streams) (*web.Outside, error) {
	o := &web.Outside{}
	if !at.all {
		o.Hosts, o.Shown = []string{at.host}, []string{at.host}
	}
	switch {
	case c.Cert != "":
		secure, hosts, err := trust.Own(c.Cert, c.Key, s.clock()())
		if err != nil {
			return nil, err
		}
		o.TLS, o.Shown = secure, nil
		for _, h := range hosts {
			if h = strings.ToLower(h); !strings.HasPrefix(h, "*") {
				o.Hosts, o.Shown = append(o.Hosts, h), append(o.Shown, h)
			}
		}
		if o.Shown == nil && !at.all {
			o.Shown = []string{at.host}
		}
		return o, nil
	case !c.Plain:
		if err := trust.Vouches(o.Hosts); err != nil {
			return nil, err
		}
		root, err := ourRoot(s)
		if err != nil {
			return nil, err
		}
		if o.TLS, err = root.Server(o.Hosts); err != nil {
			return nil, err
		}
		o.Root = root
	}
	if at.all {
		var err error
		if o.Shown, err = ownAddresses(at.host == "0.0.0.0"); err != nil {
			return nil, fmt.Errorf("list this computer's addresses: %w", err)
		}
	}
	return o, nil
}

// ourRoot opens the root certificate in the user's configuration folder.
func ourRoot(s streams) (*trust.Root, error) {
	config, err := os.UserConfigDir()
	if err != nil {
		return nil, fmt.Errorf("find the folder for the root certificate: %w", err)
	}
	name, err := os.Hostname()
	if err != nil {
		name = "" // the certificate says "this computer"
	}
	root, made, err := trust.Open(filepath.Join(config, "dogshore"), name, s.clock())
	if err == nil && made {
		fmt.Fprintf(s.err, "Made a root certificate: %s\nIt holds a key that is yours alone; it is no part of the build.\n", root.Path())
	}
	return root, err
}

// ownAddresses lists this computer's addresses in local networks, those of
// version 4 first: they are shorter to type.
func ownAddresses(only4 bool) ([]string, error) {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	var v4, v6 []string
	for _, a := range all {
		p, err := netip.ParsePrefix(a.String())
		if err != nil {
			continue
		}
		switch ip := p.Addr().Unmap(); {
		case ip.IsLoopback() || ip.IsLinkLocalUnicast() || !trust.Local(ip.String()):
		case ip.Is4():
			v4 = append(v4, ip.String())
		case !only4:
			v6 = append(v6, ip.String())
		}
	}
	return slices.Concat(v4, v6), nil
}

// tell prints where the pages are, and what a phone needs to get there.
func (c *openCmd) tell(s streams, inside string, o *web.Outside) {
	fmt.Fprintf(s.out, "The pages of %s on this computer, without sign-in: %s\n", c.Dir, inside)
	all := o.Entrances()
	fmt.Fprintf(s.out, "On other computers and phones, with the passphrase, at port %d:\n", o.Port)
	for _, e := range all {
		fmt.Fprintf(s.out, "  %s\n", e.Page)
	}
	if len(all) == 0 {
		fmt.Fprintln(s.out, "  no address of a local network was found: connect this computer, then start again")
	}
	if o.TLS == nil {
		fmt.Fprint(s.out, `
TAKE CARE: without encryption. Whoever shares the network can read the
passphrase and all that follows. What is missing: pages and notes for use
without a network. Start without --plain to have both.
`)
	}
	if o.Root != nil {
		digits := strings.ReplaceAll(o.Root.Fingerprint(), " ", "")
		fmt.Fprintf(s.out, "\nSHA-256 fingerprint of the root certificate, to compare on each phone:\n")
		for i := 0; i < len(digits); i += 32 {
			line := digits[i : i+32]
			for j := 0; j < len(line); j += 2 {
				fmt.Fprintf(s.out, " %s", line[j:j+2])
			}
			fmt.Fprintln(s.out)
		}
	}
	if len(all) > 0 {
		if o.Root != nil {
			fmt.Fprintf(s.out, "\nA new phone begins at %s , which says how to trust it:\n", all[0].Door)
		}
		if code, err := qr.Of(all[0].Door); err == nil { // an address is never too long for one
			f, ok := s.out.(*os.File)
			fmt.Fprintf(s.out, "\n%s", code.Text(ok && isTerminal(f)))
		}
	}
	fmt.Fprintln(s.out, "\nCtrl-C ends.")
}
