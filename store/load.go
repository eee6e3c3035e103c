package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// arrived says how far the journal in memory goes.
type arrived struct {
	number   int64
	checksum []byte
}

// querier is a database or a transaction on it.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// refresh takes in what has arrived since, here or in another process. The
// caller holds f.mu, or has the folder to itself.
func (f *Folder) refresh(ctx context.Context, q querier) error {
	var last int64
	if err := q.QueryRowContext(ctx, `SELECT coalesce(max(arrival), 0) FROM entry`).Scan(&last); err != nil {
		return fmt.Errorf("ask for the last entry: %w", err)
	}
	if last == f.last.number {
		return nil
	}
	entries, sum, err := load(ctx, q, f.last.number, last)
	if err != nil {
		return fmt.Errorf("load entries: %w", err)
	}
	f.take(entries, arrived{last, sum})
	return nil
}

// take adds entries to the journal in memory.
func (f *Folder) take(entries []journal.Entry, last arrived) {
	f.journal.Add(entries...)
	f.stamp = max(f.stamp, f.journal.Stamp())
	f.last = last
	clear(f.records)
}

// load reads the entries that arrived behind after, up to last, with their
// facts, and the last one's checksum.
func load(ctx context.Context, q querier, after, last int64) ([]journal.Entry, []byte, error) {
	rows, err := q.QueryContext(ctx, `SELECT arrival, id, stamp, since, wall, received, author, visit, grounds, origin, batch, version, checksum
		FROM entry WHERE arrival > ? AND arrival <= ? ORDER BY arrival`, after, last)
	if err != nil {
		return nil, nil, err
	}
	defer func() { _ = rows.Close() }()
	var out []journal.Entry
	var sum []byte
	for rows.Next() {
		e, s, err := scanEntry(rows)
		if err != nil {
			return nil, nil, err
		}
		out, sum = append(out, e), s
	}
	if err := rows.Err(); err != nil {
		return nil, nil, err
	}
	return out, sum, loadFacts(ctx, q, out, after, last)
}

func scanEntry(rows *sql.Rows) (journal.Entry, []byte, error) {
	var e journal.Entry
	var since, wall, received string
	var sum []byte
	err := rows.Scan(&e.Arrival, &e.ID, &e.Stamp, &since, &wall, &received, &e.Author, &e.Visit, &e.Grounds, &e.Origin, &e.Batch, &e.Version, &sum)
	if err != nil {
		return e, nil, err
	}
	if e.Since, err = calendar.ParseISO(since); err != nil {
		return e, nil, fmt.Errorf("entry %s: since: %w", e.ID, err)
	}
	if e.Wall, err = time.Parse(time.RFC3339Nano, wall); err != nil {
		return e, nil, fmt.Errorf("entry %s: wall: %w", e.ID, err)
	}
	if e.Received, err = time.Parse(time.RFC3339Nano, received); err != nil {
		return e, nil, fmt.Errorf("entry %s: received: %w", e.ID, err)
	}
	return e, sum, nil
}

// loadFacts fills in the facts of entries, which are all that arrived behind
// after, up to last.
func loadFacts(ctx context.Context, q querier, entries []journal.Entry, after, last int64) error {
	rows, err := q.QueryContext(ctx, `SELECT entry, kind, key, field, value, over
		FROM fact WHERE entry > ? AND entry <= ? ORDER BY entry, n`, after, last)
	if err != nil {
		return err
	}
	defer func() { _ = rows.Close() }()
	at := 0
	for rows.Next() {
		var arrival int64
		var f journal.Fact
		if err := rows.Scan(&arrival, &f.Kind, &f.Key, &f.Field, (*string)(&f.Value), &f.Over); err != nil {
			return err
		}
		for at < len(entries) && entries[at].Arrival < arrival {
			at++
		}
		if at == len(entries) || entries[at].Arrival != arrival {
			return fmt.Errorf("a fact of entry %d, which is not there", arrival)
		}
		entries[at].Facts = append(entries[at].Facts, f)
	}
	return rows.Err()
}

// axes are the two ways of "as of".
type axes struct {
	day   calendar.Day
	known int64
}

// keptRecords bounds how many records are remembered: a review looks at two
// or three, a trend at one for each visit.
const keptRecords = 32

// As returns the record as of a day, known by an arrival (journal.Now for
// all). It takes in what other processes have written since. Records are
// remembered until something new arrives.
func (f *Folder) As(ctx context.Context, day calendar.Day, known int64) (*journal.Record, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.refresh(ctx, f.read); err != nil {
		return nil, err
	}
	at := axes{day, known}
	if r := f.records[at]; r != nil {
		return r, nil
	}
	if len(f.records) >= keptRecords {
		clear(f.records)
	}
	r := f.journal.As(day, known)
	f.records[at] = r
	return r, nil
}

// Entry returns the entry of that id, or nil.
func (f *Folder) Entry(ctx context.Context, id string) (*journal.Entry, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.refresh(ctx, f.read); err != nil {
		return nil, err
	}
	return f.journal.Entry(id), nil
}

// Batch returns the entries accepted together under that name, in the order of
// arrival: what undoing an import strikes.
func (f *Folder) Batch(ctx context.Context, batch string) ([]*journal.Entry, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.refresh(ctx, f.read); err != nil {
		return nil, err
	}
	var out []*journal.Entry
	for _, e := range f.journal.Entries() {
		if e.Batch == batch {
			out = append(out, e)
		}
	}
	return out, nil
}

// Said is one fact in a subject's history.
type Said struct {
	Entry  *journal.Entry
	Fact   journal.Fact
	Struck bool // the fold skips it
}

// History returns every fact that was ever said of a subject, struck ones
// too, oldest first.
func (f *Folder) History(ctx context.Context, self record.Ref) ([]Said, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.refresh(ctx, f.read); err != nil {
		return nil, err
	}
	var out []Said
	for _, s := range f.journal.History(self) {
		out = append(out, Said(s))
	}
	return out, nil
}

// Last returns the highest arrival number: it grows with every accepted
// entry, so a page can ask whether anything is new.
func (f *Folder) Last(ctx context.Context) (int64, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	err := f.refresh(ctx, f.read)
	return f.last.number, err
}

// Arrived returns the highest arrival number among entries received before
// the end of day: what was known then.
func (f *Folder) Arrived(ctx context.Context, day calendar.Day) (int64, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.refresh(ctx, f.read); err != nil {
		return 0, err
	}
	var out int64
	for _, e := range f.journal.Entries() {
		if calendar.Of(e.Received) <= day {
			out = max(out, e.Arrival)
		}
	}
	return out, nil
}
