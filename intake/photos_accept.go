package intake

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"dogshore/calendar"
	"dogshore/record"
)

// together is how many pictures are written in one go: when it is stopped in
// between, the next intake of the same pictures goes on from there.
const together = 40

// Accept moves the pictures into the build's files, untouched, and writes
// what was read of them, some at a time. tell is called after each; it may be
// nil. When it fails or is stopped, what was written stays.
func (p *PhotoReading) Accept(ctx context.Context, f Folder, today calendar.Day, tell func(done, all int)) (Accepted, error) {
	w, err := p.begin(ctx, f, today)
	if err != nil {
		return Accepted{}, err
	}
	for from := 0; from < len(p.Reads); from += together {
		some := p.Reads[from:min(from+together, len(p.Reads))]
		if err := p.keepAll(ctx, some, func(n int) {
			if tell != nil {
				tell(from+n, len(p.Reads))
			}
		}); err != nil {
			return w.done, err
		}
		if err := w.write(ctx, entriesOf(some, f.Draft)); err != nil {
			return w.done, err
		}
	}
	return w.done, nil
}

// atOnce is how many pictures are moved at the same time: each waits for the
// disk most of the time, and a disk can write several down in one go.
const atOnce = 8

// keepAll keeps some pictures and counts them. After the first that fails none
// is begun.
func (p *PhotoReading) keepAll(ctx context.Context, some []News, kept func(n int)) error {
	var wait sync.WaitGroup
	var mu sync.Mutex
	var first error
	next, n := 0, 0
	for range min(atOnce, len(some)) {
		wait.Go(func() {
			mu.Lock()
			defer mu.Unlock()
			for first == nil && next < len(some) {
				self := some[next].Self
				next++
				mu.Unlock()
				err := p.keep(ctx, self)
				mu.Lock()
				if err != nil {
					first = errors.Join(first, err)
					continue
				}
				n++
				kept(n)
			}
		})
	}
	wait.Wait()
	return first
}

func (p *PhotoReading) keep(ctx context.Context, self record.Ref) error {
	l := p.photos[self]
	file, err := l.Keep(ctx)
	if err != nil {
		return fmt.Errorf("keep %s: %w", l.Name, err)
	}
	if file.SHA256 != l.sha {
		return fmt.Errorf("%s was changed after it was listed: hand it in once more", l.Name)
	}
	return nil
}
