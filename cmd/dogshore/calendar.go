package main

import (
	"context"
	"errors"
	"fmt"

	"dogshore/calendar"
	"dogshore/feed"
	"dogshore/journal"
	"dogshore/review"
	"dogshore/store"
	"dogshore/web"
)

type calendarCmd struct {
	Dir string `arg:"" help:"The build folder."`
}

// Help ends the command's help with examples.
func (c *calendarCmd) Help() string {
	return `Visits, decide-by and look-before dates, holds, cut-offs and answers asked
for, as today's review has them: days on the basis that each event names.
While the pages are open, a calendar program on this computer can read the same
from /calendar.ics, and read it again as dates move.

Examples:
  dogshore calendar my-boat > my-boat.ics`
}

// Run prints the build's dates as an iCalendar file (RFC 5545).
func (c *calendarCmd) Run(ctx context.Context, s streams) error {
	f, err := store.Open(ctx, c.Dir, s.clock())
	if err != nil {
		return fmt.Errorf("calendar: %w", err)
	}
	return errors.Join(c.write(ctx, f, s), f.Close())
}

func (c *calendarCmd) write(ctx context.Context, f *store.Folder, s streams) error {
	day := calendar.Of(s.clock()())
	r, err := f.As(ctx, day, journal.Now)
	if err != nil {
		return err
	}
	v, err := review.Read(ctx, f, day, journal.Now)
	if err != nil {
		return err
	}
	head, events, err := web.Feed(ctx, f, r, v, s.clock()())
	if err != nil {
		return err
	}
	return feed.Write(s.out, head, events)
}
