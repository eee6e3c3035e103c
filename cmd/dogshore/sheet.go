package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"dogshore/calendar"
	"dogshore/drawing"
	"dogshore/internal/draw"
	"dogshore/journal"
	"dogshore/letter"
	"dogshore/record"
	"dogshore/review"
	"dogshore/store"
	"dogshore/workbook"
)

type sheetCmd struct {
	Start sheetStartCmd `cmd:"" help:"The start sheet: one page to fill in at the first visit."`
	Walk  sheetWalkCmd  `cmd:"" help:"The walking sheet: one page to take along to the next visit."`
	Key   sheetKeyCmd   `cmd:"" help:"The picture key of stages."`
}

type sheetStartCmd struct {
	Dir string `arg:"" help:"The build folder."`
	Out string `short:"o" help:"The file to write, PDF for paper or XLSX to fill in; without it start-sheet.pdf in the build folder."`
}

// Run writes the start sheet of the build as it is today.
func (c *sheetStartCmd) Run(ctx context.Context, s streams) error {
	r, err := today(ctx, c.Dir, s)
	if err != nil {
		return fmt.Errorf("sheet start: %w", err)
	}
	b, _ := journal.Get[record.Build](r, "build/build")
	if strings.EqualFold(filepath.Ext(c.Out), ".xlsx") {
		if err := writeWhole(c.Out, func(w io.Writer) error { return workbook.StartSheet(w, r) }); err != nil {
			return fmt.Errorf("sheet start: %w", err)
		}
		_, err := fmt.Fprintf(s.out, "%s: to fill in, and to read back with: dogshore intake %s %s\n", c.Out, c.Dir, c.Out)
		return err
	}
	pages := drawing.StartSheet(b, journal.All[record.Part](r), journal.All[record.Step](r))
	if c.Out == "" {
		c.Out = filepath.Join(c.Dir, "start-sheet.pdf")
	}
	return writePDF(s, c.Out, "Start sheet: "+b.Name, pages)
}

type sheetWalkCmd struct {
	Dir string `arg:"" help:"The build folder."`
	Out string `short:"o" help:"The file to write; without it walking-sheet.pdf in the build folder."`

	AsOf string `help:"As of a day (2027-04-12) or a visit (its key); today if left out." placeholder:"DAY|VISIT"`
}

// Run writes the walking sheet for the next visit.
func (c *sheetWalkCmd) Run(ctx context.Context, s streams) error {
	f, err := store.Open(ctx, c.Dir, s.clock())
	if err != nil {
		return fmt.Errorf("sheet walk: %w", err)
	}
	day, err := asOf(ctx, f, c.AsOf, calendar.Of(s.clock()()))
	var page *draw.Drawing
	var b record.Build
	if err == nil {
		page, b, err = walkSheet(ctx, f, day)
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return fmt.Errorf("sheet walk: %w", err)
	}
	if c.Out == "" {
		c.Out = filepath.Join(c.Dir, "walking-sheet.pdf")
	}
	return writePDF(s, c.Out, "Walking sheet: "+b.Name, []*draw.Drawing{page})
}

// walkSheet draws the sheet of the review, so that its rows have the numbers by
// which the pages type it in.
func walkSheet(ctx context.Context, f *store.Folder, day calendar.Day) (*draw.Drawing, record.Build, error) {
	last, err := f.Last(ctx)
	if err != nil {
		return nil, record.Build{}, err
	}
	r, err := f.As(ctx, day, last)
	if err != nil {
		return nil, record.Build{}, err
	}
	v, err := review.Read(ctx, f, day, last)
	if err != nil {
		return nil, record.Build{}, err
	}
	b, _ := journal.Get[record.Build](r, "build/build")
	return drawing.WalkSheet(b, v.Visit, letter.Words(r).Names(r), last), b, nil
}

type sheetKeyCmd struct {
	Out string `short:"o" default:"picture-key.pdf" help:"The file to write."`
}

// Run writes the picture key.
func (c *sheetKeyCmd) Run(s streams) error {
	return writePDF(s, c.Out, "Picture key of stages", drawing.KeySheets())
}

// today opens a build folder and reads its record as of today.
func today(ctx context.Context, dir string, s streams) (*journal.Record, error) {
	f, err := store.Open(ctx, dir, s.clock())
	if err != nil {
		return nil, err
	}
	r, err := f.As(ctx, calendar.Of(s.clock()()), journal.Now)
	return r, errors.Join(err, f.Close())
}

// warnLacks says which signs could not be printed.
func warnLacks(s streams, signs string) error {
	if signs == "" {
		return nil
	}
	_, err := fmt.Fprintf(s.err, "dogshore: on paper these signs can't be printed: %s; an empty box stands for each of them\n", signs)
	return err
}

// writePDF writes pages to a file, under another name until it is whole.
func writePDF(s streams, name, title string, pages []*draw.Drawing) error {
	data, err := draw.PDF(title, pages...)
	if err != nil {
		return err
	}
	part := name + ".part"
	if err := os.WriteFile(part, data, 0o644); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	if err := os.Rename(part, name); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	if err := warnLacks(s, draw.Lacks(pages...)); err != nil {
		return err
	}
	many := "1 page"
	if len(pages) > 1 {
		many = fmt.Sprintf("%d pages", len(pages))
	}
	_, err = fmt.Fprintf(s.out, "%s: %s\n", name, many)
	return err
}
