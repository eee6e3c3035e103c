package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"
	"fmt"

	"github.com/google/uuid"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// ErrRefused is what Accept returns, wrapped with every reason, when entries
// do not pass the door.
var ErrRefused = errors.New("refused")

// Draft returns an entry by author that holds from since, with its id and
// stamp, ready for Accept. Its facts are to be filled in.
func (f *Folder) Draft(author string, since calendar.Day, grounds record.Grounds) journal.Entry {
	now := f.now()
	f.mu.Lock()
	defer f.mu.Unlock()
	f.stamp = f.stamp.Next(now)
	return journal.Entry{
		ID: uuid.Must(uuid.NewV7()).String(), Stamp: f.stamp, Wall: now,
		Since: since, Author: author, Grounds: grounds, Version: journal.Version,
	}
}

// Accept lets entries through the door, all of them or none, and returns how
// many are new. When it returns without an error they are on disk for good.
// Entries that are there already count as accepted and are not new; an entry
// that says something else under the same id is refused.
func (f *Folder) Accept(ctx context.Context, entries ...journal.Entry) (fresh int, err error) {
	checked := make([]journal.Entry, len(entries))
	var errs []error
	for i, e := range entries {
		c, err := journal.Check(e)
		if err != nil {
			errs = append(errs, fmt.Errorf("%s: %w", called(e, i), err))
		}
		checked[i] = c
	}
	if errs != nil {
		return 0, refused(errs)
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	tx, err := f.write.BeginTx(ctx, nil)
	if err != nil {
		return 0, fmt.Errorf("accept entries: %w", err)
	}
	defer func() { _ = tx.Rollback() }() // after a commit it does nothing
	if err := f.refresh(ctx, tx); err != nil {
		return 0, err
	}
	news, err := f.news(checked)
	if err != nil || len(news) == 0 {
		return 0, err
	}
	last, err := insert(ctx, tx, news, f.last)
	if err != nil {
		return 0, fmt.Errorf("accept entries: %w", err)
	}
	f.take(news, last)
	if err = f.derive(ctx, tx); err == nil {
		err = tx.Commit()
	}
	if err != nil {
		f.forget() // the journal in memory is ahead of the disk
		return 0, fmt.Errorf("accept entries: %w", err)
	}
	return len(news), nil
}

// mostReasons bounds how many entries a refusal speaks of.
const mostReasons = 50

func refused(errs []error) error {
	if more := len(errs) - mostReasons; more > 0 {
		errs = append(errs[:mostReasons:mostReasons], fmt.Errorf("and %d entries more", more))
	}
	return fmt.Errorf("%w: %w", ErrRefused, errors.Join(errs...))
}

// called names an entry in a message: where it came from, else its place.
func called(e journal.Entry, i int) string {
	if e.Origin != "" {
		return e.Origin
	}
	return fmt.Sprintf("entry %d", i+1)
}

// news returns the entries that are not there yet, numbered and dated.
func (f *Folder) news(entries []journal.Entry) ([]journal.Entry, error) {
	var out []journal.Entry
	var errs []error
	ours := map[string]*journal.Entry{}
	received := f.now()
	for i, e := range entries {
		there := f.journal.Entry(e.ID)
		if there == nil {
			there = ours[e.ID]
		}
		if there != nil {
			if !saysSame(there, &e) {
				errs = append(errs, fmt.Errorf("%s: another entry with the id %s is there already and says something else; each entry needs an id of its own", called(e, i), e.ID))
			}
			continue
		}
		e.Arrival = f.last.number + int64(len(out)) + 1
		e.Received = received
		if e.Wall.IsZero() {
			e.Wall = received
		}
		ours[e.ID] = &e
		out = append(out, e)
	}
	if errs != nil {
		return nil, refused(errs)
	}
	return out, nil
}

// saysSame reports whether two deliveries of an id say the same: the same
// facts, from the same day, on the same grounds. When and by whom they were
// brought in may differ: the same file twice counts once.
func saysSame(a, b *journal.Entry) bool {
	if a.Since != b.Since || a.Grounds != b.Grounds || len(a.Facts) != len(b.Facts) {
		return false
	}
	for i := range a.Facts {
		x, y := a.Facts[i], b.Facts[i]
		x.Over, y.Over = "", ""
		if x != y {
			return false
		}
	}
	return true
}

func insert(ctx context.Context, tx *sql.Tx, entries []journal.Entry, last arrived) (arrived, error) {
	putEntry, err := tx.PrepareContext(ctx, `INSERT INTO entry (arrival, id, stamp, since, wall, received, author, visit, grounds, origin, batch, version, checksum)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`)
	if err != nil {
		return last, err
	}
	defer func() { _ = putEntry.Close() }()
	putFact, err := tx.PrepareContext(ctx, `INSERT INTO fact (entry, n, kind, key, field, value, over) VALUES (?, ?, ?, ?, ?, ?, ?)`)
	if err != nil {
		return last, err
	}
	defer func() { _ = putFact.Close() }()
	for i := range entries {
		e := &entries[i]
		last.number = e.Arrival
		last.checksum = checksum(last.checksum, e, func(n int) []byte {
			sum := sha256.Sum256([]byte(e.Facts[n].Value))
			return sum[:]
		})
		_, err := putEntry.ExecContext(ctx, e.Arrival, e.ID, int64(e.Stamp), e.Since.String(), text(e.Wall), text(e.Received),
			e.Author, string(e.Visit), string(e.Grounds), e.Origin, e.Batch, e.Version, last.checksum)
		if err != nil {
			return last, err
		}
		for n, f := range e.Facts {
			if _, err := putFact.ExecContext(ctx, e.Arrival, n, f.Kind, f.Key, f.Field, string(f.Value), f.Over); err != nil {
				return last, err
			}
		}
	}
	return last, nil
}
