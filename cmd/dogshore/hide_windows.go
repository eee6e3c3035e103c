package main

import (
	"os"

	"golang.org/x/sys/windows"
)

// hideTyping keeps a console from showing what is typed until restore is
// called. What is no console shows nothing anyway.
func hideTyping(f *os.File) (restore func(), err error) {
	console := windows.Handle(f.Fd())
	var was uint32
	if err := windows.GetConsoleMode(console, &was); err != nil {
		return func() {}, nil
	}
	if err := windows.SetConsoleMode(console, was&^windows.ENABLE_ECHO_INPUT); err != nil {
		return nil, err
	}
	return func() { _ = windows.SetConsoleMode(console, was) }, nil // it was so a moment ago
}

// isTerminal reports whether a person reads what is written to f. Consoles
// that know no colours get none.
func isTerminal(f *os.File) bool {
	var mode uint32
	return windows.GetConsoleMode(windows.Handle(f.Fd()), &mode) == nil && mode&windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING != 0
}
