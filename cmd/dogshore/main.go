// Command dogshore holds a boat build for the person who commissioned it.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"syscall"

	"dogshore/picture"
)

func main() {
	if code, child := picture.Child(os.Stdin, os.Stdout, os.Stderr); child {
		os.Exit(code)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	code := run(ctx, os.Args[1:], streams{in: os.Stdin, out: os.Stdout, err: os.Stderr})
	stop()
	if code != 0 {
		os.Exit(code)
	}
}

func fail(s streams, err error) {
	fmt.Fprintf(s.err, "dogshore: %v\n", err)
}
