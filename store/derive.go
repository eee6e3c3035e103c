package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"

	"dogshore/calendar"
	"dogshore/journal"
)

// derived is what was last written of what follows from the journal, so that
// only what differs is written again.
type derived struct {
	good   bool // false: not known, another process may have written
	day    calendar.Day
	doubts []journal.Doubt
	struck []string
}

// derive writes what follows from the journal in memory for other programs:
// the entries that are skipped, and today's doubts. It belongs to the
// transaction that adds the entries, so that the tables never disagree.
func (f *Folder) derive(ctx context.Context, tx *sql.Tx) error {
	before, now := f.derived, derived{good: true, day: calendar.Of(f.now())}
	now.doubts = f.as(now.day, journal.Now).Doubts()
	struck := f.journal.Struck()
	for _, e := range struck {
		now.struck = append(now.struck, e.ID)
	}
	if !before.good || !slices.Equal(before.struck, now.struck) {
		if err := writeSkipped(ctx, tx, struck); err != nil {
			return fmt.Errorf("write what is struck: %w", err)
		}
	}
	if !before.good {
		if _, err := tx.ExecContext(ctx, `DELETE FROM doubt`); err != nil {
			return fmt.Errorf("write the doubts: %w", err)
		}
		before.doubts = nil
	}
	if err := writeDoubts(ctx, tx, before.doubts, now.doubts, now.day); err != nil {
		return fmt.Errorf("write the doubts: %w", err)
	}
	if before.day != now.day {
		if _, err := tx.ExecContext(ctx, `UPDATE doubt SET day = ?`, now.day.String()); err != nil {
			return fmt.Errorf("date the doubts: %w", err)
		}
	}
	f.derived = now
	return nil
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

// writeDoubts turns the doubts that stand in the table into those of now. Both
// are sorted.
func writeDoubts(ctx context.Context, tx *sql.Tx, before, now []journal.Doubt, day calendar.Day) error {
	for len(before) > 0 || len(now) > 0 {
		switch order := compareFirst(before, now); {
		case order < 0 || order == 0 && !reflect.DeepEqual(before[0], now[0]):
			if err := deleteDoubt(ctx, tx, before[0]); err != nil {
				return err
			}
			before = before[1:]
		case order > 0:
			if err := insertDoubt(ctx, tx, now[0], day); err != nil {
				return err
			}
			now = now[1:]
		default:
			before, now = before[1:], now[1:]
		}
	}
	return nil
}

// compareFirst orders the first of two lists; an empty one comes last.
func compareFirst(a, b []journal.Doubt) int {
	switch {
	case len(a) == 0:
		return 1
	case len(b) == 0:
		return -1
	}
	return a[0].Compare(b[0])
}

func deleteDoubt(ctx context.Context, tx *sql.Tx, d journal.Doubt) error {
	_, err := tx.ExecContext(ctx, `DELETE FROM doubt WHERE kind = ? AND about = ? AND field = ? AND says = ?`,
		string(d.Kind), string(d.About), d.Field, d.Says)
	return err
}

func insertDoubt(ctx context.Context, tx *sql.Tx, d journal.Doubt, day calendar.Day) error {
	sides, err := json.Marshal(append([]string{}, d.Sides...))
	if err != nil {
		return err
	}
	from, err := json.Marshal(append([]string{}, d.From...))
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO doubt (kind, about, field, says, sides, entries, day) VALUES (?, ?, ?, ?, ?, ?, ?)`,
		string(d.Kind), string(d.About), d.Field, d.Says, string(sides), string(from), day.String())
	return err
}
