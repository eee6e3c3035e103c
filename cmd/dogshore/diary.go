package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"dogshore/calendar"
	"dogshore/diary"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/web"
)

type diaryCmd struct {
	Dir     string   `arg:"" help:"The build folder."`
	Out     string   `short:"o" help:"The file to write; without it diary.zip in the build folder." placeholder:"FILE.zip"`
	Without []string `help:"What to leave out: prices, names, faults." placeholder:"WHAT"`
}

// Help ends the command's help with examples.
func (c *diaryCmd) Help() string {
	return `A folder of pages and pictures that opens without the program: unpack it and
open index.html. Without names, people stand by their role; without faults,
defects go with their pictures and all that speaks of them. What can be read in
a picture itself stays in it: look them through before you share them.

Examples:
  dogshore diary my-boat
  dogshore diary my-boat --out share.zip --without prices,names,faults`
}

// Run writes the diary as an archive.
func (c *diaryCmd) Run(ctx context.Context, s streams) error {
	leave, err := diary.ParseLeave(c.Without)
	if err != nil {
		return fmt.Errorf("--without: %w", err)
	}
	f, err := store.Open(ctx, c.Dir, s.clock())
	if err != nil {
		return fmt.Errorf("diary: %w", err)
	}
	return errors.Join(c.write(ctx, f, leave, s), f.Close())
}

func (c *diaryCmd) write(ctx context.Context, f *store.Folder, leave diary.Leave, s streams) error {
	r, err := f.As(ctx, calendar.Of(s.clock()()), journal.Now)
	if err != nil {
		return err
	}
	d := diary.Read(r, leave)
	name := c.Out
	if name == "" {
		name = filepath.Join(c.Dir, "diary.zip")
	}
	screen := func(file record.File) ([]byte, error) { return web.Screen(ctx, f, file) }
	if err := writeWhole(name, func(w io.Writer) error { return d.Archive(w, screen, f.File) }); err != nil {
		return fmt.Errorf("diary: %w", err)
	}
	left := ""
	if leave.Any() {
		left = ", without " + strings.Join(leave.Words(), ", ")
	}
	many := fmt.Sprintf("%d visits", len(d.Visits))
	if len(d.Visits) == 1 {
		many = "1 visit"
	}
	_, err = fmt.Fprintf(s.out, "%s: %s%s\n", name, many, left)
	return err
}
