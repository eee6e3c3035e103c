package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"path/filepath"
	"time"

	"dogshore/calendar"
	"dogshore/demo"
	"dogshore/journal"
	"dogshore/review"
	"dogshore/store"
	"dogshore/web"
)

type demoCmd struct {
	Dir     string `arg:"" optional:"" help:"The folder that holds the demo builds." default:"demo-builds"`
	NoServe bool   `help:"Print the reviews and serve no pages."`
	Port    int    `help:"Port on this computer for the full build; the thin one has the next. 0 takes any that are free." default:"4630"`
	Fresh   bool   `help:"Make the builds anew, and forget what was written into them."`
}

// Run makes the builds or keeps those made before, prints the review of each
// and serves their pages until it is interrupted.
func (c *demoCmd) Run(ctx context.Context, s streams) (err error) {
	var open []*demoBuild
	defer func() {
		for _, b := range open {
			err = errors.Join(err, b.folder.Close())
		}
	}()
	for _, which := range demo.Builds {
		b, err := c.open(ctx, s, which)
		if err != nil {
			return err
		}
		open = append(open, b)
		v, err := review.Read(ctx, b.folder, b.today, journal.Now)
		if err != nil {
			return err
		}
		p := newPage(s.out)
		p.review(v, false)
		p.line("")
		if p.err != nil {
			return p.err
		}
	}
	if c.NoServe {
		return nil
	}
	return c.serve(ctx, s, open)
}

// demoBuild is one demo build, open.
type demoBuild struct {
	which  demo.Which
	dir    string
	today  calendar.Day
	clock  func() time.Time
	folder *store.Folder
}

func (c *demoCmd) open(ctx context.Context, s streams, which demo.Which) (*demoBuild, error) {
	b := &demoBuild{which: which, dir: filepath.Join(c.Dir, string(which))}
	made, err := demo.In(ctx, b.dir, which, c.Fresh)
	if err != nil {
		return nil, err
	}
	if made {
		fmt.Fprintf(s.err, "Made %s. All of it is invented.\n", b.dir)
	} else {
		fmt.Fprintf(s.err, "Kept %s as it was; --fresh makes it anew.\n", b.dir)
	}
	if b.today, err = demo.Today(which); err != nil {
		return nil, err
	}
	// The demo's clock starts on the evening of its last day and runs on, so
	// that its "today" is the day of its story, and writing still moves it.
	began := s.clock()()
	b.clock = func() time.Time { return demo.Evening(b.today).Add(s.clock()().Sub(began)) }
	b.folder, err = store.Open(ctx, b.dir, b.clock)
	return b, err
}

// serve serves the builds, the full one first, until ctx ends or one fails.
func (c *demoCmd) serve(ctx context.Context, s streams, builds []*demoBuild) error {
	log := slog.New(slog.NewTextHandler(s.err, nil))
	var ears []net.Listener
	for i := len(builds) - 1; i >= 0; i-- {
		port := c.Port
		if port != 0 {
			port += len(ears)
		}
		l, err := web.Listen(port)
		if err != nil {
			for _, l := range ears {
				err = errors.Join(err, l.Close())
			}
			return err
		}
		ears = append(ears, l)
		fmt.Fprintf(s.out, "The pages of %s: %s\n", builds[i].dir, web.Address(l))
	}
	fmt.Fprintf(s.out, "Only this computer can read them. Ctrl-C ends.\n")
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	ended := make(chan error)
	for i, l := range ears {
		b := builds[len(builds)-1-i]
		go func() {
			ended <- web.Serve(ctx, l, web.New(b.folder, b.clock, log))
			stop()
		}()
	}
	var err error
	for range ears {
		err = errors.Join(err, <-ended)
	}
	return err
}
