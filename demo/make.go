package demo

import (
	"bytes"
	"context"
	"fmt"
	"path"
	"strings"
	"time"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/template"
)

// Make makes the build folder of a build in dir, which must not hold one yet.
// Every batch comes in by the ordinary intake, on the evening of its day;
// nothing may be asked or refused. The thin build is laid by the template
// first, as a person's would be.
func Make(ctx context.Context, dir string, which Which) (err error) {
	batches, err := Batches(which)
	if err != nil {
		return err
	}
	var now time.Time
	f, err := store.Create(ctx, dir, func() time.Time { return now })
	if err != nil {
		return err
	}
	defer func() {
		if e := f.Close(); err == nil {
			err = e
		}
	}()
	for len(batches) > 0 {
		n := apart(batches)
		now = Evening(batches[0].Day)
		if err := bring(ctx, f, batches[:n]); err != nil {
			return fmt.Errorf("demo: %s: %w", which, err)
		}
		if which == Thin && batches[0].Place == 0 {
			if err := lay(ctx, f, batches[0].Day); err != nil {
				return fmt.Errorf("demo: %s: %w", which, err)
			}
		}
		if which == Full {
			if err := photograph(ctx, f, batches[0]); err != nil {
				return fmt.Errorf("demo: %s: pictures of %s: %w", which, batches[0].Day, err)
			}
		}
		batches = batches[n:]
	}
	return nil
}

// Evening is the hour at which what came in on a day is written down.
func Evening(d calendar.Day) time.Time { return d.Time().Add(20 * time.Hour) }

// apart counts the batches at the head that were written apart.
func apart(b []Batch) int {
	n := 1
	for n < len(b) && b[n].Place == b[0].Place {
		n++
	}
	return n
}

// bring reads batches against the record as it stood before any of them, as
// people do who write apart, and accepts them one after the other.
func bring(ctx context.Context, f *store.Folder, batches []Batch) error {
	day := batches[0].Day
	rec, err := f.As(ctx, day, journal.Now)
	if err != nil {
		return err
	}
	var readings []*intake.Reading
	for _, b := range batches {
		files, err := b.files()
		if err != nil {
			return err
		}
		r := intake.Read(files, rec, intake.Options{Today: day, Author: b.By, Since: day})
		if err := settled(b, r); err != nil {
			return err
		}
		readings = append(readings, r)
	}
	for _, r := range readings {
		if _, err := r.Accept(ctx, f, day); err != nil {
			return err
		}
	}
	return nil
}

// settled returns what an intake asked or refused, as an error.
func settled(b Batch, r *intake.Reading) error {
	var open []string
	for _, a := range r.Asks {
		open = append(open, fmt.Sprintf("%s asks of %q: %s", a.At, a.Text, a.Question))
	}
	for _, x := range r.Refuses {
		open = append(open, fmt.Sprintf("%s refuses %q: %s", x.At, x.Text, x.Why))
	}
	if open == nil {
		return nil
	}
	return fmt.Errorf("%s: %s", b.Name, strings.Join(open, "; "))
}

func (b Batch) files() ([]intake.File, error) {
	var out []intake.File
	for _, name := range b.Files {
		raw, err := text.ReadFile(name)
		if err != nil {
			return nil, err
		}
		out = append(out, intake.File{Name: path.Base(name), Data: bytes.NewReader(raw), Size: int64(len(raw))})
	}
	return out, nil
}

// lay adds what the template has to say of the build.
func lay(ctx context.Context, f *store.Folder, day calendar.Day) error {
	rec, err := f.As(ctx, day, journal.Now)
	if err != nil {
		return err
	}
	b, ok := journal.Get[record.Build](rec, record.R("build", "build"))
	if !ok {
		return fmt.Errorf("nothing is said of the build")
	}
	entries, err := template.Lay(b, func(g record.Grounds) journal.Entry { return f.Draft("owner", journal.Always, g) })
	if err != nil {
		return err
	}
	_, err = f.Accept(ctx, entries[1:]...) // the first says of the build what is said already
	return err
}
