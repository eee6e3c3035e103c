package main

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/figure"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/review"
	"dogshore/store"
)

type reviewCmd struct {
	Dir   string `arg:"" help:"The build folder."`
	AsOf  string `help:"As of a day (2027-04-12) or a visit (its key); today if left out." placeholder:"DAY|VISIT"`
	Known string `help:"With what was known by the end of a day (2027-04-12), or \"then\" for the day of --as-of; all that is known now if left out." placeholder:"DAY|then"`
	All   bool   `help:"Print every act, not only the first page."`
	Act   string `help:"Unfold one act and its working: its number on the page, or its name." placeholder:"N"`
	JSON  bool   `name:"json" help:"Print JSON (docs/review-json.md)."`
}

func (c *reviewCmd) Run(ctx context.Context, s streams) error {
	f, err := store.Open(ctx, c.Dir, s.clock())
	if err != nil {
		return err
	}
	v, err := c.read(ctx, f, calendar.Of(s.clock()()))
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		return err
	}
	return c.print(s, v)
}

func (c *reviewCmd) read(ctx context.Context, f *store.Folder, today calendar.Day) (review.Review, error) {
	day, err := asOf(ctx, f, c.AsOf, today)
	if err != nil {
		return review.Review{}, err
	}
	known := journal.Now
	if c.Known != "" {
		on := day
		if c.Known != "then" {
			if on, err = calendar.ParseISO(c.Known); err != nil {
				return review.Review{}, fmt.Errorf("--known: %w, or say then", err)
			}
		}
		if known, err = f.Arrived(ctx, on); err != nil {
			return review.Review{}, err
		}
	}
	return review.Read(ctx, f, day, known)
}

// asOf reads a day, or a visit by its key.
func asOf(ctx context.Context, f *store.Folder, text string, today calendar.Day) (calendar.Day, error) {
	if text == "" {
		return today, nil
	}
	day, derr := calendar.ParseISO(text)
	if derr == nil {
		return day, nil
	}
	now, err := f.As(ctx, calendar.Date(2199, time.December, 31), journal.Now)
	if err != nil {
		return 0, err
	}
	key := strings.TrimPrefix(text, "visit/")
	if v, ok := journal.Get[record.Visit](now, record.R("visit", key)); ok && v.Day.Known() {
		return v.Day, nil
	}
	return 0, fmt.Errorf("--as-of: %w; no visit has that key either", derr)
}

func (c *reviewCmd) print(s streams, v review.Review) error {
	if c.JSON {
		out, err := review.JSON(v)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(s.out, "%s\n", out)
		return err
	}
	p := newPage(s.out)
	if c.Act != "" {
		a, n, err := pick(v, c.Act)
		if err != nil {
			return err
		}
		p.act(v, n, a)
		p.workings(a.Why)
		told := func(f figure.Figure) bool { return f.Says == a.By.Work.Says && f.Text == a.By.Work.Text }
		if a.By.Known() && !slices.ContainsFunc(a.Why, told) {
			p.workings([]figure.Figure{a.By.Work})
		}
		return p.err
	}
	p.review(v, c.All)
	return p.err
}

// pick finds an act by its number on the page or by its name; n is its number,
// 0 for one that was ruled on.
func pick(v review.Review, text string) (a desk.Act, n int, err error) {
	all := append(v.First.All(), v.Rest()...)
	number, _ := strconv.Atoi(text)
	for i, a := range all {
		if i+1 == number || a.ID == text {
			return a, i + 1, nil
		}
	}
	if a, ok := v.Act(text); ok {
		return a, 0, nil
	}
	return desk.Act{}, 0, fmt.Errorf("--act: there is no act %q: give a number from 1 to %d, or an act's name", text, len(all))
}

// columns is the width to print in: that of the terminal if it says so.
func columns() int {
	n, err := strconv.Atoi(os.Getenv("COLUMNS"))
	if err != nil || n <= 0 {
		return 80
	}
	return min(max(n, 40), 100)
}
