package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"dogshore/people"
)

type passphraseCmd struct {
	Dir string `arg:"" help:"The build folder."`
}

// Help ends the command's help with examples.
func (c *passphraseCmd) Help() string {
	return `Asks for it twice, without showing it; from a pipe it reads two lines. Whoever
is signed in has to sign in anew.

Examples:
  dogshore passphrase my-boat
  dogshore open my-boat --listen 192.168.0.7`
}

// Run sets the passphrase that lets other computers in.
func (c *passphraseCmd) Run(ctx context.Context, s streams) (err error) {
	a, err := openAccess(ctx, c.Dir, s)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, a.Close()) }()
	lines := bufio.NewReader(io.LimitReader(s.in, 1<<16))
	first, err := secret(ctx, s, lines, "New passphrase: ")
	if err != nil {
		return err
	}
	if err := people.CheckPassphrase(first); err != nil {
		return err
	}
	again, err := secret(ctx, s, lines, "Once more: ")
	if err != nil {
		return err
	}
	if again != first {
		return errors.New("the two are not the same; nothing was changed")
	}
	ended, err := a.SetPassphrase(ctx, first)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.out, "The passphrase of %s is set.\n", c.Dir)
	if ended > 0 {
		fmt.Fprintf(s.out, "Put out, to sign in anew: %d.\n", ended)
	}
	_, err = fmt.Fprintf(s.out, "To let phones in: dogshore open %s --listen ADDRESS\n", c.Dir)
	return err
}

// openAccess opens the list of who may come in to the build in dir.
func openAccess(ctx context.Context, dir string, s streams) (*people.Access, error) {
	empty, err := nothingIn(dir)
	if err != nil {
		return nil, err
	}
	if empty {
		return nil, fmt.Errorf("%s holds no build yet: begin one first, with dogshore open %s or dogshore new %[1]s", dir, dir)
	}
	return people.Open(ctx, dir, s.clock())
}

// secret reads a line that the terminal does not show. An interrupt gives the
// terminal back as it was.
func secret(ctx context.Context, s streams, lines *bufio.Reader, prompt string) (string, error) {
	fmt.Fprint(s.err, prompt)
	if f, ok := s.in.(*os.File); ok {
		restore, err := hideTyping(f)
		if err != nil {
			return "", fmt.Errorf("hide what is typed: %w", err)
		}
		defer restore()
	}
	defer fmt.Fprintln(s.err)
	type line struct {
		text string
		err  error
	}
	read := make(chan line, 1)
	go func() {
		text, err := lines.ReadString('\n')
		if errors.Is(err, io.EOF) && text != "" {
			err = nil
		}
		read <- line{strings.TrimRight(text, "\r\n"), err}
	}()
	select {
	case <-ctx.Done():
		return "", ctx.Err()
	case l := <-read:
		if errors.Is(l.err, io.EOF) {
			return "", errors.New("the input ended before the passphrase was there twice; nothing was changed")
		}
		return l.text, l.err
	}
}
