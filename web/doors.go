package web

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"sync"
	"time"
)

// Connections from outside are bounded, in all and for one address, so that
// one computer in the network can't keep the others out.
const (
	mostConnections = 96
	mostFromOne     = 24
	firstByteWithin = 5 * time.Second
)

// ListenOutside opens host:port for other computers; port 0 takes any that is
// free.
func ListenOutside(address string) (net.Listener, error) {
	l, err := net.Listen("tcp", address)
	if err != nil {
		return nil, fmt.Errorf("listen at %s (it must be an address or name of this computer, with a port that nothing else uses): %w", address, err)
	}
	return &bounded{Listener: l, from: map[netip.Addr]int{}}, nil
}

// bounded closes what comes in above the bounds.
type bounded struct {
	net.Listener
	mu   sync.Mutex
	all  int
	from map[netip.Addr]int
}

// Accept returns the next connection within the bounds.
func (b *bounded) Accept() (net.Conn, error) {
	for {
		c, err := b.Listener.Accept()
		if err != nil {
			return nil, err
		}
		from := remote(c.RemoteAddr().String())
		if b.enter(from) {
			return &counted{Conn: c, leave: sync.OnceFunc(func() { b.leave(from) })}, nil
		}
		_ = c.Close() // there is no room to say why
	}
}

func (b *bounded) enter(from netip.Addr) bool {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.all >= mostConnections || b.from[from] >= mostFromOne {
		return false
	}
	b.all++
	b.from[from]++
	return true
}

func (b *bounded) leave(from netip.Addr) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.all--
	if b.from[from]--; b.from[from] == 0 {
		delete(b.from, from)
	}
}

type counted struct {
	net.Conn
	leave func()
}

func (c *counted) Close() error {
	defer c.leave()
	return c.Conn.Close()
}

// remote is the address of "address:port"; the zero address for what has none.
func remote(at string) netip.Addr {
	a, err := netip.ParseAddrPort(at)
	if err != nil {
		return netip.Addr{}
	}
	return a.Addr().Unmap().WithZone("")
}

// split tells at one port who speaks TLS from who speaks plain http, as a
// phone does whose owner types an address without https. The port is closed
// when both halves are.
type split struct {
	net.Listener
	secure, plain *half
}

// half is one side of a split port.
type half struct {
	*split
	conns chan net.Conn
	done  chan struct{}
	end   sync.Once
}

// tlsHandshake is the first byte of a TLS connection (RFC 8446, 5.1).
const tlsHandshake = 22

func newSplit(l net.Listener) *split {
	s := &split{Listener: l}
	for _, h := range []**half{&s.secure, &s.plain} {
		*h = &half{split: s, conns: make(chan net.Conn), done: make(chan struct{})}
	}
	go s.run()
	return s
}

// run takes connections until the port is closed.
func (s *split) run() {
	for {
		c, err := s.Listener.Accept()
		switch {
		case err == nil:
			go s.sort(c)
		case errors.Is(err, net.ErrClosed):
			s.secure.shut()
			s.plain.shut()
			return
		default: // too many open files, say: it may pass
			time.Sleep(100 * time.Millisecond)
		}
	}
}

// sort hands a connection to the half that its first byte asks for.
func (s *split) sort(c net.Conn) {
	first := make([]byte, 1)
	_ = c.SetReadDeadline(time.Now().Add(firstByteWithin)) // a connection that can't is closed by the read
	if _, err := c.Read(first); err != nil {
		_ = c.Close() // nothing was said
		return
	}
	_ = c.SetReadDeadline(time.Time{}) // the server sets its own
	to := s.plain
	if first[0] == tlsHandshake {
		to = s.secure
	}
	select {
	case to.conns <- &begun{Conn: c, first: first}:
	case <-to.done:
		_ = c.Close() // the program ends
	}
}

func (h *half) shut() { h.end.Do(func() { close(h.done) }) }

func (h *half) open() bool {
	select {
	case <-h.done:
		return false
	default:
		return true
	}
}

// Accept returns the next connection of this half.
func (h *half) Accept() (net.Conn, error) {
	select {
	case c := <-h.conns:
		return c, nil
	case <-h.done:
		return nil, net.ErrClosed
	}
}

// Close closes this half.
func (h *half) Close() error {
	h.shut()
	if h.secure.open() || h.plain.open() {
		return nil
	}
	if err := h.Listener.Close(); !errors.Is(err, net.ErrClosed) { // the other half may have been as quick
		return err
	}
	return nil
}

// begun is a connection whose first byte was read already.
type begun struct {
	net.Conn
	first []byte
}

func (b *begun) Read(p []byte) (int, error) {
	if len(b.first) > 0 && len(p) > 0 {
		n := copy(p, b.first)
		b.first = b.first[n:]
		return n, nil
	}
	return b.Conn.Read(p)
}

// ServeOutside answers other computers on l, as Let has said, until ctx ends;
// then it lets running requests finish, for at most five seconds.
func (s *Site) ServeOutside(ctx context.Context, l net.Listener) error {
	pages := s.server(s.fromOutside())
	if s.outside.TLS == nil {
		return serve(ctx, pages, func() error { return pages.Serve(l) })
	}
	pages.TLSConfig = s.outside.TLS
	port, step := newSplit(l), s.server(s.onTheStep())
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	ended := make(chan error, 1)
	go func() {
		ended <- serve(ctx, step, func() error { return step.Serve(port.plain) })
		stop()
	}()
	err := serve(ctx, pages, func() error { return pages.ServeTLS(port.secure, "", "") })
	stop()
	return errors.Join(err, <-ended)
}

// server is one for outside: its times are short, since anybody may knock;
// whoever is in gets more.
func (s *Site) server(h http.Handler) *http.Server {
	srv := newServer(h)
	srv.ReadTimeout, srv.WriteTimeout = 20*time.Second, 30*time.Second
	// A phone that does not trust the certificate yet is no fault of ours.
	srv.ErrorLog = slog.NewLogLogger(s.log.Handler(), slog.LevelDebug)
	return srv
}
