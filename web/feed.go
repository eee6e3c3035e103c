package web

import (
	"bytes"
	"context"
	"errors"
	"net/http"
	"strings"
	"time"

	"dogshore/desk"
	"dogshore/feed"
	"dogshore/journal"
	"dogshore/people"
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

// feedPath is where a calendar program elsewhere reads the dates: it can't sign
// in, so its address has a secret in it, which opens the dates and nothing else.
const feedPath = "/feed/{secret}/build.ics"

// feedOutside hands out the dates to whoever has an address for them.
func (s *Site) feedOutside(w http.ResponseWriter, r *http.Request) error {
	_, err := s.outside.Access.Feed(r.Context(), r.PathValue("secret"))
	if errors.Is(err, people.ErrNone) {
		return problem{http.StatusNotFound, "There is no calendar at this address.", "It may have been ended; whoever owns the build can make another."}
	}
	if err != nil {
		return err
	}
	today := r.Clone(r.Context())
	today.URL.RawQuery = ""
	return s.calendarFeed(w, today)
}

// newFeed makes an address for a calendar and shows it: once, for it is kept
// nowhere.
func (s *Site) newFeed(w http.ResponseWriter, r *http.Request) error {
	a, err := s.access(r)
	if err != nil {
		return err
	}
	page := phonesPage{Feed: newFeed{Who: r.PostFormValue("who"), Device: r.PostFormValue("device")}}
	_, secret, err := a.NewFeed(r.Context(), page.Feed.Who, page.Feed.Device)
	var name *people.NameError
	if errors.As(err, &name) {
		page.Problem = desk.Capital(name.Says) + ". No address was made."
		return s.showPhones(w, r, http.StatusUnprocessableEntity, page)
	}
	if err != nil {
		return err
	}
	for _, e := range s.outside.Entrances() {
		page.Feed.At = append(page.Feed.At, strings.TrimSuffix(e.Page, "/")+strings.Replace(feedPath, "{secret}", secret, 1))
	}
	return s.showPhones(w, r, http.StatusOK, page)
}

func (s *Site) endFeed(w http.ResponseWriter, r *http.Request) error {
	return s.onPhones(w, r, "feed", func(a *people.Access) error { return a.EndFeed(r.Context(), r.PathValue("id")) })
}
