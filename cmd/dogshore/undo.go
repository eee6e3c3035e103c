package main

import (
	"context"
	"errors"
	"fmt"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/store"
)

type undoCmd struct {
	Dir   string `arg:"" help:"The build folder."`
	Batch string `arg:"" optional:"" help:"What to take back; without it the batches are listed."`
	By    string `help:"Who takes it back." default:"owner"`
}

func (c *undoCmd) Run(ctx context.Context, s streams) error {
	f, err := store.Open(ctx, c.Dir, s.clock())
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }()
	if c.Batch == "" {
		return c.list(ctx, f, s)
	}
	done, err := intake.Undo(ctx, f, c.Batch, c.By, calendar.Of(s.clock()()))
	if errors.Is(err, intake.ErrNoBatch) {
		return fmt.Errorf("%w; \"dogshore undo %s\" lists them", err, c.Dir)
	}
	if err != nil {
		return err
	}
	if done.Entries == 0 {
		fmt.Fprintf(s.out, "Nothing of %s counts any more.\n", c.Batch)
		return nil
	}
	fmt.Fprintf(s.out, "Struck: %d entries of %s. They are kept, and no longer count.\n", done.Entries, c.Batch)
	fmt.Fprintf(s.out, "To bring them back: dogshore undo %s %s\n", c.Dir, done.Batch)
	return nil
}

func (c *undoCmd) list(ctx context.Context, f *store.Folder, s streams) error {
	all, err := f.Batches(ctx)
	if err != nil {
		return err
	}
	if len(all) == 0 {
		fmt.Fprintln(s.out, "Nothing was read in yet.")
	}
	for _, b := range all {
		state := ""
		switch {
		case b.Struck == b.Entries:
			state = ", all of them struck"
		case b.Struck > 0:
			state = fmt.Sprintf(", %d of them struck", b.Struck)
		}
		from := b.Origin
		if from == "" {
			from = "taken back"
		}
		fmt.Fprintf(s.out, "%s  %d entries%s  by %s  %s\n", b.Name, b.Entries, state, b.Author, from)
	}
	return nil
}
