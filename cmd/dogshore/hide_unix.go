//go:build linux || darwin || freebsd || netbsd || openbsd

package main

import (
	"os"

	"golang.org/x/sys/unix"
)

// hideTyping keeps a terminal from showing what is typed until restore is
// called. What is no terminal shows nothing anyway.
func hideTyping(f *os.File) (restore func(), err error) {
	was, err := unix.IoctlGetTermios(int(f.Fd()), getTerminal)
	if err != nil {
		return func() {}, nil
	}
	hidden := *was
	hidden.Lflag &^= unix.ECHO
	if err := unix.IoctlSetTermios(int(f.Fd()), setTerminal, &hidden); err != nil {
		return nil, err
	}
	return func() { _ = unix.IoctlSetTermios(int(f.Fd()), setTerminal, was) }, nil // it was so a moment ago
}

// isTerminal reports whether a person reads what is written to f.
func isTerminal(f *os.File) bool {
	_, err := unix.IoctlGetTermios(int(f.Fd()), getTerminal)
	return err == nil
}
