package web

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"time"
)

// Listen opens a port on the loopback interface; port 0 takes any that is
// free. It never listens to the network.
func Listen(port int) (net.Listener, error) {
	l, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", port))
	if err != nil {
		return nil, fmt.Errorf("listen on port %d (another may be free: --port 0 takes one): %w", port, err)
	}
	return l, nil
}

// Address is where a browser finds what l serves.
func Address(l net.Listener) string { return "http://" + l.Addr().String() + "/" }

// newServer is a server with its times and sizes bounded.
func newServer(h http.Handler) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       60 * time.Second,
		WriteTimeout:      60 * time.Second,
		IdleTimeout:       120 * time.Second,
		MaxHeaderBytes:    1 << 16,
	}
}

// Serve answers on l until ctx ends, then lets running requests finish, for
// at most five seconds.
func Serve(ctx context.Context, l net.Listener, h http.Handler) error {
	srv := newServer(h)
	return serve(ctx, srv, func() error { return srv.Serve(l) })
}

func serve(ctx context.Context, srv *http.Server, run func() error) error {
	ended := make(chan error, 1)
	go func() { ended <- run() }()
	select {
	case err := <-ended:
		return fmt.Errorf("serve pages: %w", err)
	case <-ctx.Done():
	}
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
	defer cancel()
	err := srv.Shutdown(last)
	if s, ok := srv.Handler.(interface{ Rest() }); ok {
		s.Rest()
	}
	if served := <-ended; !errors.Is(served, http.ErrServerClosed) {
		return fmt.Errorf("serve pages: %w", served)
	}
	return err
}
