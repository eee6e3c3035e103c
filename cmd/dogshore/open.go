package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"

	"dogshore/store"
	"dogshore/web"
)

type openCmd struct {
	Dir    string `arg:"" help:"The build folder. If it is empty or not there, the pages open with the start of a build."`
	Port   int    `help:"Port on this computer; 0 takes any that is free." default:"4630"`
	Listen string `placeholder:"ADDRESS" help:"Let other computers in too, with the passphrase, at this address or name of this computer, or 0.0.0.0 for all of its addresses; with :PORT if not 4643."`
	Cert   string `placeholder:"FILE" help:"Your own certificate for that address, PEM; without it the program makes a root certificate that phones are told to trust."`
	Key    string `placeholder:"FILE" help:"The key of your certificate, PEM."`
	Plain  bool   `help:"Serve other computers without encryption: no pages for use without a network, and the passphrase can be read on its way."`
}

// Help ends the command's help with examples.
func (c *openCmd) Help() string {
	return `Without --listen only this computer can read the pages, and nobody signs in.

Examples:
  dogshore open my-boat
  dogshore passphrase my-boat
  dogshore open my-boat --listen 192.168.0.7`
}

// Run serves the pages until it is interrupted.
func (c *openCmd) Run(ctx context.Context, s streams) error {
	log := slog.New(slog.NewTextHandler(s.err, nil))
	if c.Listen != "" {
		return c.runOutside(ctx, s, log)
	}
	if c.Cert != "" || c.Key != "" || c.Plain {
		return errors.New("--cert, --key and --plain say how other computers come in: say with --listen at which address")
	}
	site, done, err := openSite(ctx, c.Dir, s, log)
	if err != nil {
		return err
	}
	l, err := web.Listen(c.Port)
	if err != nil {
		return errors.Join(err, done())
	}
	fmt.Fprintf(s.out, "The pages of %s: %s\nOnly this computer can read them. Ctrl-C ends.\n", c.Dir, web.Address(l))
	return errors.Join(web.Serve(ctx, l, site), done())
}

// openSite opens the build in dir, or the start of one if dir holds nothing.
func openSite(ctx context.Context, dir string, s streams, log *slog.Logger) (site *web.Site, done func() error, err error) {
	empty, err := nothingIn(dir)
	if err != nil {
		return nil, nil, err
	}
	if empty {
		site = web.NewIn(dir, s.clock(), log)
		return site, site.Close, nil
	}
	folder, err := store.Open(ctx, dir, s.clock())
	if err != nil {
		return nil, nil, err
	}
	return web.New(folder, s.clock(), log), folder.Close, nil
}

// nothingIn reports whether dir is not there or holds no files; a folder with
// other things in it is none of ours to fill.
func nothingIn(dir string) (bool, error) {
	in, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	if err != nil {
		return false, err
	}
	if len(in) == 0 {
		return true, nil
	}
	if _, err := os.Stat(filepath.Join(dir, "build.db")); errors.Is(err, fs.ErrNotExist) {
		return false, fmt.Errorf("%s holds other things and no build; name a folder of its own", dir)
	}
	return false, nil
}
