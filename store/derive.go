package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"reflect"

	"dogshore/calendar"
	"dogshore/journal"
)

// derived is what was last written of what follows from the journal, so that
// it is written again only where it differs.
type derived struct {
	good   bool // false: not known, another process may have written
	day    calendar.Day
	doubts []journal.Doubt
	struck []*journal.Entry
}

// derive writes what follows from the journal in memory for other programs:
// the entries that are skipped, and today's doubts. It belongs to the
// transaction that adds the entries, so that the tables never disagree.
func (f *Folder) derive(ctx context.Context, tx *sql.Tx) error {
	now := derived{good: true, day: calendar.Of(f.now())}
	now.doubts = f.as(now.day, journal.Now).Doubts()
	now.struck = f.journal.Struck()
	if !f.derived.good || !reflect.DeepEqual(ids(f.derived.struck), ids(now.struck)) {
		if err := writeSkipped(ctx, tx, now.struck); err != nil {
			return fmt.Errorf("write what is struck: %w", err)
		}
	}
	if !f.derived.good || f.derived.day != now.day || !reflect.DeepEqual(f.derived.doubts, now.doubts) {
		if err := writeDoubts(ctx, tx, now.doubts, now.day); err != nil {
			return fmt.Errorf("write the doubts: %w", err)
		}
	}
	f.derived = now
	return nil
}

func ids(entries []*journal.Entry) []string {
	out := make([]string, len(entries))
	for i, e := range entries {
		out[i] = e.ID
	}
	return out
}

func writeSkipped(ctx context.Context, tx *sql.Tx, struck []*journal.Entry) error {
	if _, err := tx.ExecContext(ctx, `DELETE FROM skipped`); err != nil {
		return err
	}
	for _, e := range struck {
		if _, err := tx.ExecContext(ctx, `INSERT INTO skipped (entry) VALUES (?)`, e.Arrival); err != nil {
			return err
		}
	}
	return nil
}

func writeDoubts(ctx context.Context, tx *sql.Tx, doubts []journal.Doubt, day calendar.Day) error {
	if _, err := tx.ExecContext(ctx, `DELETE FROM doubt`); err != nil {
		return err
	}
	put, err := tx.PrepareContext(ctx, `INSERT INTO doubt (kind, about, field, says, sides, entries, day) VALUES (?, ?, ?, ?, ?, ?, ?)`)
	if err != nil {
		return err
	}
	defer func() { _ = put.Close() }()
	for _, d := range doubts {
		sides, err := json.Marshal(append([]string{}, d.Sides...))
		if err != nil {
			return err
		}
		from, err := json.Marshal(append([]string{}, d.From...))
		if err != nil {
			return err
		}
		if _, err := put.ExecContext(ctx, string(d.Kind), string(d.About), d.Field, d.Says, string(sides), string(from), day.String()); err != nil {
			return err
		}
	}
	return nil
}
