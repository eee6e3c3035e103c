package web

import (
	"bytes"
	"context"
	"net/http"
	"time"

	"dogshore/feed"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/review"
	"dogshore/store"
)

// Feed makes the calendar feed of a build folder from its record and the
// review of it. now is the clock: the feed was last revised when the day began
// or the last entry arrived, whichever was later, since nothing else changes a
// review.
func Feed(ctx context.Context, f *store.Folder, r *journal.Record, v review.Review, now time.Time) (feed.Calendar, []feed.Event, error) {
	c := feed.Calendar{Name: v.Build.Name, Build: "none", Day: v.Day}
	said, err := f.History(ctx, record.R("build", "build"))
	if err != nil {
		return c, nil, err
	}
	if len(said) > 0 {
		c.Build = said[0].Entry.ID
	}
	if c.Arrivals, err = f.Last(ctx); err != nil {
		return c, nil, err
	}
	if c.Revised, err = f.LastReceived(ctx); err != nil {
		return c, nil, err
	}
	y, m, d := now.Date()
	if morning := time.Date(y, m, d, 0, 0, 0, 0, now.Location()); morning.After(c.Revised) {
		c.Revised = morning
	}
	return c, feed.Events(r, v), nil
}

// calendarFeed hands out the dates for an ordinary calendar program, which may
// ask for them again and again: today's, whatever day is looked at.
func (s *Site) calendarFeed(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Calendar")
	if err != nil {
		return err
	}
	if v.Past {
		return refused("The calendar has today's dates only.", "Take the day away from the address.")
	}
	c, events, err := Feed(r.Context(), v.folder, v.rec, *v.rev, s.now())
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := feed.Write(&b, c, events); err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", feed.MIME)
	h.Set("Content-Disposition", `attachment; filename="build.ics"`)
	_, _ = w.Write(b.Bytes()) // the reader may have gone
	return nil
}
