package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/letter"
	"dogshore/record"
	"dogshore/review"
	"dogshore/store"
	"dogshore/web"
)

type letterCmd struct {
	Dir string `arg:"" help:"The build folder."`
	PDF string `name:"pdf" help:"Write it for paper, with the pictures of what was seen, and print no text." placeholder:"FILE"`
}

// Help ends the command's help with examples.
func (c *letterCmd) Help() string {
	return `The draft of the letter after the last visit. It is changed, and frozen as
sent, on the pages (dogshore open); its numbers stay from letter to letter.

Examples:
  dogshore letter my-boat
  dogshore letter my-boat --pdf letter.pdf`
}

// Run prints the draft, or writes it as PDF.
func (c *letterCmd) Run(ctx context.Context, s streams) error {
	f, err := store.Open(ctx, c.Dir, s.clock())
	if err != nil {
		return fmt.Errorf("letter: %w", err)
	}
	return errors.Join(c.write(ctx, f, s), f.Close())
}

func (c *letterCmd) write(ctx context.Context, f *store.Folder, s streams) error {
	day := calendar.Of(s.clock()())
	r, err := f.As(ctx, day, journal.Now)
	if err != nil {
		return err
	}
	v, err := review.Read(ctx, f, day, journal.Now)
	if err != nil {
		return err
	}
	l := letter.Draft(r, v.Visit, day)
	if len(l.Lines) == 0 {
		return errors.New("letter: there is nothing to write yet: no visit noted anything")
	}
	if c.PDF == "" {
		_, err := fmt.Fprint(s.out, l.Text(r))
		return err
	}
	data, sheets, err := l.PDF(r, func(file record.File) ([]byte, error) { return web.Screen(ctx, f, file) })
	if err != nil {
		return err
	}
	if err := writeWhole(c.PDF, func(w io.Writer) error { _, err := w.Write(data); return err }); err != nil {
		return fmt.Errorf("letter: %w", err)
	}
	lacks, err := l.Lacks(r)
	if err == nil {
		err = warnLacks(s, lacks)
	}
	if err != nil {
		return err
	}
	many := "1 page"
	if sheets > 1 {
		many = fmt.Sprintf("%d pages", sheets)
	}
	_, err = fmt.Fprintf(s.out, "%s: %s\n", c.PDF, many)
	return err
}
