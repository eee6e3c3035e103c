package store

import (
	"context"
	"database/sql"
	"fmt"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// arrived says how far the journal in memory goes.
type arrived struct {
	number   int64
	checksum []byte
	expunged int64 // how often something was taken out
}

// querier is a database or a transaction on it.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// refresh takes in what has arrived since, here or in another process. The
// caller holds f.mu, or has the folder to itself.
func (f *Folder) refresh(ctx context.Context, q querier) error {
	var last, expunged int64
	err := q.QueryRowContext(ctx, `SELECT coalesce(max(arrival), 0), (SELECT count(*) FROM expunged) FROM entry`).Scan(&last, &expunged)
	if err != nil {
		return fmt.Errorf("ask for the last entry: %w", err)
	}
	if expunged != f.last.expunged {
		f.forget()
		f.last.expunged = expunged
	}
	if last == f.last.number {
		return nil
	}
	var sum []byte
	if err := q.QueryRowContext(ctx, `SELECT checksum FROM entry WHERE arrival = ?`, last).Scan(&sum); err != nil {
		return fmt.Errorf("ask for the last entry: %w", err)
	}
	f.derived.good = false
	err = load(ctx, q, f.last.number, last, func(b block) { f.take(b.entries, arrived{b.last, sum, expunged}) })
	if err != nil {
		return fmt.Errorf("load entries: %w", err)
	}
	return nil
}

// forget drops the journal in memory; the next look reads it anew.
func (f *Folder) forget() {
	f.journal = &journal.Journal{}
	f.last = arrived{}
	f.derived = derived{}
	clear(f.records)
}

// take adds entries to the journal in memory.
func (f *Folder) take(entries []journal.Entry, last arrived) {
	f.journal.Add(entries...)
	f.stamp = max(f.stamp, f.journal.Stamp())
	f.last = last
	clear(f.records)
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
	return f.as(day, known), nil
}

// as is As of the journal in memory.
func (f *Folder) as(day calendar.Day, known int64) *journal.Record {
	at := axes{day, known}
	r := f.records[at]
	if r == nil {
		if len(f.records) >= keptRecords {
			clear(f.records)
		}
		r = f.journal.As(day, known)
		f.records[at] = r
	}
	return r
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
		if batch != "" && e.Batch == batch {
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
