package people

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/netip"
	"time"
)

// Attempts are slowed down, each address by itself and all together: the first
// few are free, then the wait doubles with each. All together wait less long,
// or a stranger in the network could lock the owner out; thirty seconds leave
// fewer than three thousand guesses a day. Common practice, no source.
const (
	freeHere       = 5
	longestHere    = time.Hour
	forgottenHere  = 24 * time.Hour
	freeAll        = 40
	longestAll     = 30 * time.Second
	forgottenAll   = time.Hour
	everyone       = "" // counts the attempts from everywhere
	mostAddresses  = 2000
	secondsInShift = 30 // doubling further would not matter: both longest waits are reached
)

// ErrWrong is returned for a passphrase or code that is not right.
var ErrWrong = errors.New("that is not the passphrase, nor a code that still counts")

// TooSoonError says how long to wait before the next attempt.
type TooSoonError struct{ Wait time.Duration }

func (t *TooSoonError) Error() string {
	return fmt.Sprintf("too many attempts failed: the next one counts in %s", t.Said())
}

// Said is the wait in words.
func (t *TooSoonError) Said() string {
	if t.Wait <= 90*time.Second {
		return fmt.Sprintf("%d seconds", int((t.Wait+time.Second-1)/time.Second))
	}
	return fmt.Sprintf("%d minutes", int((t.Wait+time.Minute-1)/time.Minute))
}

// waitAfter is how long to wait after so many failures.
func waitAfter(failed, free int, longest time.Duration) time.Duration {
	if failed < free {
		return 0
	}
	return min(time.Second<<min(failed-free, secondsInShift), longest)
}

// whence is what counts as one address: an address of version 4, or the half
// of one of version 6 that a network is given, since whoever has a network has
// all of its addresses.
func whence(from netip.Addr) string {
	from = from.Unmap().WithZone("")
	if from.Is6() {
		if p, err := from.Prefix(64); err == nil {
			return p.String()
		}
	}
	return from.String()
}

// begin counts an attempt as failed before it is looked at, so that attempts
// side by side gain nothing; forgive takes it back. It returns a
// *TooSoonError, and counts nothing, if it is too soon for one.
func (a *Access) begin(ctx context.Context, from netip.Addr) error {
	return a.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		now := a.now()
		var wait time.Duration
		for _, x := range []struct {
			whence             string
			free               int
			longest, forgotten time.Duration
		}{{whence(from), freeHere, longestHere, forgottenHere}, {everyone, freeAll, longestAll, forgottenAll}} {
			failed, last, err := failures(ctx, tx, x.whence, now, x.forgotten)
			if err != nil {
				return err
			}
			wait = max(wait, last.Add(waitAfter(failed, x.free, x.longest)).Sub(now))
			if _, err := tx.ExecContext(ctx, `INSERT INTO attempt VALUES (?, ?, ?) ON CONFLICT (whence) DO UPDATE SET failed = excluded.failed, last = excluded.last`, x.whence, failed+1, millis(now)); err != nil {
				return err
			}
		}
		if wait > 0 {
			return &TooSoonError{wait}
		}
		_, err := tx.ExecContext(ctx, `DELETE FROM attempt WHERE whence <> '' AND whence NOT IN (SELECT whence FROM attempt ORDER BY last DESC LIMIT ?)`, mostAddresses)
		return err
	})
}

// failures reads how often it failed, and when last. A clock that was set back
// makes nobody wait until it is there again.
func failures(ctx context.Context, tx *sql.Tx, whence string, now time.Time, forgotten time.Duration) (int, time.Time, error) {
	var failed int
	var ms int64
	err := tx.QueryRowContext(ctx, `SELECT failed, last FROM attempt WHERE whence = ?`, whence).Scan(&failed, &ms)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, now, nil
	}
	last := timeOf(ms)
	switch {
	case last.After(now):
		last = now.Add(-forgotten)
	case now.Sub(last) > forgotten:
		failed = 0
	}
	return failed, last, err
}

// forgive forgets the failures of an address from which somebody came in, and
// takes the attempt itself off the count of all.
func (a *Access) forgive(ctx context.Context, from netip.Addr) error {
	return a.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM attempt WHERE whence = ?`, whence(from)); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `UPDATE attempt SET failed = max(failed - 1, 0) WHERE whence = ''`)
		return err
	})
}
