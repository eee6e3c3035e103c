package main

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/journal"
	"dogshore/picture"
	"dogshore/record"
	"dogshore/store"
)

// found is a picture on the disk, and how it is named in the list.
type found struct {
	path, name string
	size       int64
}

// mostPhotos bounds one intake.
const mostPhotos = 50_000

// isPicture tells pictures and films by the ending of their name; what they
// are is seen when they are read.
func isPicture(name string) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".jpg", ".jpeg", ".jpe", ".heic", ".heif", ".hif", ".png", ".mp4", ".mov", ".m4v", ".3gp", ".avi", ".mkv", ".webm":
		return true
	}
	return false
}

// picturesIn finds the pictures of a folder and of those within it. Links are
// not followed.
func picturesIn(dir string) ([]found, error) {
	var out []found
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != dir && strings.HasPrefix(d.Name(), "."):
			return filepath.SkipDir
		case !d.Type().IsRegular() || strings.HasPrefix(d.Name(), ".") || !isPicture(path):
			return nil
		case len(out) == mostPhotos:
			return fmt.Errorf("%s: there are more than %d pictures in it; bring them in by parts", dir, mostPhotos)
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		name, err := filepath.Rel(dir, path)
		out = append(out, found{path, filepath.ToSlash(name), info.Size()})
		return err
	})
	return out, err
}

// photos lists pictures, and if that is asked for takes them in and makes the
// small ones.
func (c *intakeCmd) photos(ctx context.Context, s streams, f *store.Folder, all []found, rec *journal.Record, opt intake.Options) error {
	p := intake.PhotoOptions{Zone: c.Zone, Clock: picture.Clock{Of: c.Camera}, Tell: tell(s.err, "pictures read")}
	if c.Clock != "" {
		d, err := time.ParseDuration(strings.ReplaceAll(c.Clock, " ", ""))
		if err != nil {
			return fmt.Errorf("--clock %q: write what is to be added, as +1h13m or -45s", c.Clock)
		}
		p.Clock.Add = d
	}
	if _, err := picture.ParseZone(c.Zone); err != nil {
		return fmt.Errorf("--zone: %w", err)
	}
	r, err := intake.ReadPhotos(ctx, handedIn(f, all), rec, opt, p)
	if err != nil {
		return err
	}
	if err := intake.PrintPhotos(s.out, r); err != nil {
		return err
	}
	switch {
	case len(r.Reads) == 0:
		fmt.Fprintln(s.out, "No new picture was read, so nothing is written.")
		return nil
	case !c.Accept:
		fmt.Fprintln(s.err, "dogshore: nothing is written yet; the same with --accept takes the pictures in")
		return nil
	}
	done, err := r.Accept(ctx, f, opt.Today, tell(s.err, "pictures taken in"))
	if done.Batch != "" || err == nil {
		sayAccepted(s.out, c.Dir, done)
	}
	if err != nil {
		fmt.Fprintln(s.err, "dogshore: what was taken in so far stays; the same command goes on from there")
		return err
	}
	return makeSmall(ctx, s, f, opt.Today)
}

func handedIn(f *store.Folder, all []found) []intake.Photo {
	out := make([]intake.Photo, len(all))
	for i, x := range all {
		limit := max(int64(picture.LongestPicture), x.size)
		out[i] = intake.Photo{
			Name: x.name, Size: x.size,
			Open: func() (picture.ReaderAtCloser, error) { return os.Open(x.path) },
			Keep: func(ctx context.Context) (record.File, error) {
				in, err := os.Open(x.path)
				if err != nil {
					return record.File{}, err
				}
				defer func() { _ = in.Close() }() // only read
				return f.Put(ctx, x.name, in, limit)
			},
		}
	}
	return out
}

// makeSmall makes the small pictures that are still missing.
func makeSmall(ctx context.Context, s streams, f *store.Folder, today calendar.Day) error {
	rec, err := f.As(ctx, today, journal.Now)
	if err != nil {
		return err
	}
	m := picture.NewMaker(f)
	defer m.Close()
	m.Told = tell(s.err, "small pictures made")
	m.Want(picture.Files(rec)...)
	if err := m.Wait(ctx); err != nil {
		fmt.Fprintln(s.err, "dogshore: all pictures are taken in; the small ones that are missing are made when the pages are opened")
		return err
	}
	if p := m.Progress(); p.Broken > 0 {
		fmt.Fprintf(s.err, "dogshore: %d of %d pictures can't be shown small; their pages say why\n", p.Broken, p.All)
	}
	return nil
}

// tell says how far something is, now and then, where it takes long.
func tell(w io.Writer, what string) func(done, all int) {
	const every = 100
	return func(done, all int) {
		if all > every && (done%every == 0 || done == all) {
			fmt.Fprintf(w, "dogshore: %d of %d %s\n", done, all, what)
		}
	}
}
