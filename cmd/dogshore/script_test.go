package main

import (
	"context"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"dogshore/picture"
)

// Scripts run the program's own run in a process of its own, on a clock that
// stands still if DOGSHORE_TEST_NOW says when.
func TestMain(m *testing.M) {
	if code, child := picture.Child(os.Stdin, os.Stdout, os.Stderr); child { // decodes one HEIC picture
		os.Exit(code)
	}
	testscript.Main(m, map[string]func(){
		"dogshore": func() {
			ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			s := streams{in: os.Stdin, out: os.Stdout, err: os.Stderr}
			if at, err := time.Parse(time.RFC3339, os.Getenv("DOGSHORE_TEST_NOW")); err == nil {
				s.now = func() time.Time { return at }
			}
			if code := run(ctx, os.Args[1:], s); code != 0 {
				os.Exit(code)
			}
		},
	})
}

func TestScripts(t *testing.T) {
	made, err := filepath.Abs(filepath.Join("..", "..", "picture", "testdata", "made"))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata",
		Setup: func(e *testscript.Env) error {
			e.Setenv("DOGSHORE_TEST_NOW", "2026-05-04T09:00:00Z")
			e.Setenv("MADE", made)
			return nil
		},
	})
}
