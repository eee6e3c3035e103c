package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/store"
	"dogshore/workbook"
)

type workbookCmd struct {
	Dir string `arg:"" help:"The build folder."`
	Out string `short:"o" help:"The file to write; build.xlsx beside the folder's data if not given." placeholder:"FILE"`
}

func (c *workbookCmd) Run(ctx context.Context, s streams) error {
	f, err := store.Open(ctx, c.Dir, s.clock())
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }()
	rec, err := f.As(ctx, calendar.Of(s.clock()()), journal.Now)
	if err != nil {
		return err
	}
	path := c.Out
	if path == "" {
		path = filepath.Join(c.Dir, "build.xlsx")
	}
	if err := writeWhole(path, func(w io.Writer) error { return workbook.Write(w, rec) }); err != nil {
		return err
	}
	fmt.Fprintf(s.out, "%s\n", path)
	return nil
}

// writeWhole writes a file under another name first, so that a failure never
// leaves half of it.
func writeWhole(path string, write func(io.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".writing-*")
	if err != nil {
		return err
	}
	defer func() { _ = os.Remove(f.Name()) }() // after the renaming there is nothing to remove
	if err := write(f); err != nil {
		_ = f.Close()
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if err := os.Chmod(f.Name(), 0o644); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}
