package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"dogshore/journal"
)

// BrokenError says where the journal was changed behind the program's back.
type BrokenError struct {
	Arrival int64
	ID      string // "" if the entry is missing
	Says    string
}

func (b *BrokenError) Error() string {
	if b.ID == "" {
		return fmt.Sprintf("the journal is broken at entry %d: %s", b.Arrival, b.Says)
	}
	return fmt.Sprintf("the journal is broken at entry %d (%s): %s", b.Arrival, b.ID, b.Says)
}

// Verify reads the whole database again: SQLite's own check, then the chain of
// checksums from the first entry to the last. It returns a *BrokenError that
// names the first entry which is not as it was written. What was taken out on
// demand counts as it was.
func (f *Folder) Verify(ctx context.Context) error {
	tx, err := f.read.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("verify: %w", err)
	}
	defer func() { _ = tx.Rollback() }() // it only reads
	var says string
	if err := tx.QueryRowContext(ctx, `PRAGMA integrity_check(1)`).Scan(&says); err != nil {
		return fmt.Errorf("verify: %w", err)
	}
	if says != "ok" {
		return fmt.Errorf("verify: SQLite finds the file damaged: %s", says)
	}
	sums, err := checksums(ctx, tx)
	if err != nil {
		return fmt.Errorf("verify: %w", err)
	}
	gone, err := expungedValues(ctx, tx)
	if err != nil {
		return fmt.Errorf("verify: %w", err)
	}
	chain := chain{sums: sums, gone: gone}
	err = load(ctx, tx, 0, int64(len(sums)), func(b block) { chain.walk(b.entries) })
	if err != nil {
		return fmt.Errorf("verify: %w", err)
	}
	if chain.broken == nil && chain.at < int64(len(sums)) {
		return &BrokenError{chain.at + 1, "", "entries are missing"}
	}
	if chain.broken != nil {
		return chain.broken
	}
	return nil
}

// checksums returns those of all entries in the order of arrival.
func checksums(ctx context.Context, q querier) ([][]byte, error) {
	rows, err := q.QueryContext(ctx, `SELECT checksum FROM entry ORDER BY arrival`)
	if err != nil {
		return nil, err
	}
	defer func() { _ = rows.Close() }()
	var out [][]byte
	for rows.Next() {
		var sum []byte
		if err := rows.Scan(&sum); err != nil {
			return nil, err
		}
		out = append(out, sum)
	}
	return out, rows.Err()
}

// place is one fact: its entry's arrival number, and its place there.
type place struct {
	entry int64
	n     int
}

// expungedValues returns the SHA-256 of the values that were taken out.
func expungedValues(ctx context.Context, q querier) (map[place][]byte, error) {
	rows, err := q.QueryContext(ctx, `SELECT entry, n, sha256 FROM expunged WHERE entry IS NOT NULL`)
	if err != nil {
		return nil, err
	}
	defer func() { _ = rows.Close() }()
	out := map[place][]byte{}
	for rows.Next() {
		var p place
		var sum string
		if err := rows.Scan(&p.entry, &p.n, &sum); err != nil {
			return nil, err
		}
		if out[p], err = hex.DecodeString(sum); err != nil {
			return nil, fmt.Errorf("what was taken out of entry %d: %w", p.entry, err)
		}
	}
	return out, rows.Err()
}

// chain follows the checksums.
type chain struct {
	sums   [][]byte
	gone   map[place][]byte
	at     int64 // the last arrival number that was looked at
	last   []byte
	broken *BrokenError
}

func (c *chain) walk(entries []journal.Entry) {
	for i := range entries {
		e := &entries[i]
		if c.broken != nil {
			return
		}
		c.at++
		if e.Arrival != c.at {
			c.broken = &BrokenError{c.at, "", "the entry is missing"}
			return
		}
		c.last = checksum(c.last, e, func(n int) []byte {
			if sum, ok := c.gone[place{e.Arrival, n}]; ok {
				return sum
			}
			sum := sha256.Sum256([]byte(e.Facts[n].Value))
			return sum[:]
		})
		if !bytes.Equal(c.last, c.sums[c.at-1]) {
			c.broken = &BrokenError{c.at, e.ID, "it is not what was written then"}
		}
	}
}
