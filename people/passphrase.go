package people

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/netip"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A passphrase alone opens the door, so it is as long as NIST SP 800-63B-4
// asks of one that stands alone: 15 characters.
const (
	ShortestPassphrase = 15
	longestPassphrase  = 256
	fewestDifferent    = 6
)

// ErrNoPassphrase is returned while none is set: nobody can come in.
var ErrNoPassphrase = errors.New("no passphrase is set")

// WeakError says why a passphrase is not taken.
type WeakError struct{ Says string }

func (w *WeakError) Error() string { return w.Says }

// clean takes the spaces away that a phone's keyboard adds at the ends.
func clean(passphrase string) string { return strings.TrimSpace(passphrase) }

// CheckPassphrase returns a *WeakError if text is not to be taken as a
// passphrase, which says what would be.
func CheckPassphrase(text string) error {
	text = clean(text)
	const right = "Four or five words that have nothing to do with each other are long enough and easy to type."
	different := map[rune]bool{}
	for _, r := range text {
		if unicode.IsControl(r) {
			return &WeakError{"the passphrase has a character in it that can't be typed on a phone. " + right}
		}
		different[r] = true
	}
	n := utf8.RuneCountInString(text)
	switch {
	case !utf8.ValidString(text):
		return &WeakError{"the passphrase is not readable text. " + right}
	case n < ShortestPassphrase:
		return &WeakError{fmt.Sprintf("the passphrase has %d characters; it needs at least %d. %s", n, ShortestPassphrase, right)}
	case len(text) > longestPassphrase:
		return &WeakError{fmt.Sprintf("the passphrase is longer than %d bytes. %s", longestPassphrase, right)}
	case len(different) < fewestDifferent:
		return &WeakError{fmt.Sprintf("the passphrase has only %d different characters; it needs at least %d. %s", len(different), fewestDifferent, right)}
	}
	return nil
}

// Ready reports whether a passphrase is set.
func (a *Access) Ready(ctx context.Context) (bool, error) {
	var n int
	err := a.db.QueryRowContext(ctx, `SELECT count(*) FROM passphrase`).Scan(&n)
	return n > 0, err
}

// SetPassphrase sets a passphrase and ends every session and code: whoever is
// in has to come in again. It returns how many sessions it ended, and a
// *WeakError if the passphrase is not taken. It does not ask for the old one:
// that is for whoever is let to call it.
func (a *Access) SetPassphrase(ctx context.Context, text string) (ended int, err error) {
	if err := CheckPassphrase(text); err != nil {
		return 0, err
	}
	a.hashing.Lock()
	hash := newHash(clean(text)).String()
	a.hashing.Unlock()
	err = a.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		now := millis(a.now())
		if _, err := tx.ExecContext(ctx, `INSERT INTO passphrase VALUES (1, ?, ?) ON CONFLICT (one) DO UPDATE SET hash = excluded.hash, since = excluded.since`, hash, now); err != nil {
			return err
		}
		for _, forget := range []string{`DELETE FROM code`, `DELETE FROM attempt`} { // the attempts were at the one before
			if _, err := tx.ExecContext(ctx, forget); err != nil {
				return err
			}
		}
		ended, err = endAll(ctx, tx, now, "the passphrase was changed")
		return err
	})
	if err != nil {
		return 0, fmt.Errorf("set the passphrase: %w", err)
	}
	return ended, nil
}

// ChangePassphrase sets another passphrase if old is the present one. A wrong
// old one counts as an attempt from that address: it returns ErrWrong or a
// *TooSoonError.
func (a *Access) ChangePassphrase(ctx context.Context, from netip.Addr, old, text string) (ended int, err error) {
	if err := CheckPassphrase(text); err != nil {
		return 0, err
	}
	if err := a.begin(ctx, from); err != nil {
		return 0, err
	}
	right, err := a.isPassphrase(ctx, old)
	if err != nil {
		return 0, err
	}
	if !right {
		return 0, ErrWrong
	}
	if err := a.forgive(ctx, from); err != nil {
		return 0, err
	}
	return a.SetPassphrase(ctx, text)
}

// isPassphrase takes as long whether one is set or not.
func (a *Access) isPassphrase(ctx context.Context, text string) (bool, error) {
	var stored string
	err := a.db.QueryRowContext(ctx, `SELECT hash FROM passphrase`).Scan(&stored)
	set := err == nil
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return false, err
	}
	a.hashing.Lock()
	defer a.hashing.Unlock()
	if !set {
		newHash(bounded(clean(text)))
		return false, ErrNoPassphrase
	}
	h, err := parseHash(stored)
	if err != nil {
		return false, err
	}
	return h.is(bounded(clean(text))), nil
}

// bounded cuts what nobody could have set as a passphrase.
func bounded(text string) string { return text[:min(len(text), longestPassphrase+1)] }
