package people

import (
	"context"
	"crypto/rand"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"math/big"
	"strings"
	"time"
	"unicode"
)

// A code is read off one screen and typed on another: letters that are not
// taken for each other, three groups of four, chance of 59 bits, good once and
// for a day.
const (
	codeLetters = "abcdefghjkmnpqrstuvwxyz23456789"
	codeGroups  = 3
	codeGroup   = 4
	codeLasts   = 24 * time.Hour
	mostCodes   = 50
	mostListed  = 200
	signedOut   = "signed out"
)

// Code is a code that still lets a phone in; what is typed is known only to
// whoever was shown it.
type Code struct {
	ID          string
	Who, Device string
	Role        Role
	Until       time.Time
}

// NewCode makes a code that lets one phone in, once, within a day, and returns
// what is to be typed. It returns a *NameError for a name that is not taken.
func (a *Access) NewCode(ctx context.Context, who, device string, role Role) (Code, string, error) {
	if role != Owner && role != Mate {
		return Code{}, "", &NameError{fmt.Sprintf("there is no right “%s”: it is “%s” or “%s”", role, Mate, Owner)}
	}
	c := Code{ID: hex.EncodeToString(random(8)), Role: role}
	var err error
	if c.Who, err = named("whose phone it is", who); err != nil {
		return Code{}, "", err
	}
	if c.Device, err = named("what you call the phone", device); err != nil {
		return Code{}, "", err
	}
	typed := newCode()
	err = a.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		now := a.now()
		var n int
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM code WHERE until > ?`, millis(now)).Scan(&n); err != nil {
			return err
		}
		if n >= mostCodes {
			return &NameError{fmt.Sprintf("%d codes wait to be used: take some back first", n)}
		}
		c.Until = timeOf(millis(now.Add(codeLasts)))
		_, err := tx.ExecContext(ctx, `INSERT INTO code VALUES (?, ?, ?, ?, ?, ?)`, c.ID, digest(loose(typed)), c.Who, c.Device, string(role), millis(c.Until))
		return err
	})
	if err != nil {
		return Code{}, "", err
	}
	return c, typed, nil
}

func newCode() string {
	var b strings.Builder
	for i := range codeGroups * codeGroup {
		if i > 0 && i%codeGroup == 0 {
			b.WriteByte('-')
		}
		n, err := rand.Int(rand.Reader, big.NewInt(int64(len(codeLetters))))
		if err != nil {
			panic(err) // the system's chance never fails: it ends the program instead
		}
		b.WriteByte(codeLetters[n.Int64()])
	}
	return b.String()
}

// loose is a code as it counts: without spaces and strokes, small letters.
func loose(typed string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.Is(unicode.Pd, r) {
			return -1
		}
		return unicode.ToLower(r)
	}, bounded(typed))
}

// redeem looks whether what was typed is a code, uses it up and fills in whose
// phone it is.
func redeem(ctx context.Context, tx *sql.Tx, typed string, now time.Time, s *Session) (bool, error) {
	if _, err := tx.ExecContext(ctx, `DELETE FROM code WHERE until <= ?`, millis(now)); err != nil {
		return false, err
	}
	var role string
	err := tx.QueryRowContext(ctx, `DELETE FROM code WHERE secret = ? RETURNING who, device, role`, digest(loose(typed))).Scan(&s.Who, &s.Device, &role)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	s.Role = Role(role)
	return true, nil
}

// Codes lists the codes that still let a phone in, the oldest first.
func (a *Access) Codes(ctx context.Context) ([]Code, error) {
	rows, err := a.db.QueryContext(ctx, `SELECT id, who, device, role, until FROM code WHERE until > ? ORDER BY until, id`, millis(a.now()))
	if err != nil {
		return nil, err
	}
	defer func() { _ = rows.Close() }() // after the last row it does nothing
	var out []Code
	for rows.Next() {
		var c Code
		var role string
		var until int64
		if err := rows.Scan(&c.ID, &c.Who, &c.Device, &role, &until); err != nil {
			return nil, err
		}
		c.Role, c.Until = Role(role), timeOf(until)
		out = append(out, c)
	}
	return out, rows.Err()
}

// Sessions lists the phones, those that are in first, then by when they were
// seen last.
func (a *Access) Sessions(ctx context.Context) ([]Session, error) {
	rows, err := a.db.QueryContext(ctx, `SELECT `+sessionColumns+` FROM session ORDER BY ended > 0, seen DESC, id LIMIT ?`, mostListed)
	if err != nil {
		return nil, err
	}
	defer func() { _ = rows.Close() }() // after the last row it does nothing
	now := a.now()
	var out []Session
	for rows.Next() {
		s, err := readSession(rows)
		if err != nil {
			return nil, err
		}
		out = append(out, s.runOut(now))
	}
	return out, rows.Err()
}

// TakeBack takes a code back that nobody has used; ErrNone if there is none.
func (a *Access) TakeBack(ctx context.Context, id string) error {
	return a.one(ctx, `DELETE FROM code WHERE id = ?`, id)
}

// Rename gives a phone and whoever writes with it another name. What was
// written before keeps the name that it was written under.
func (a *Access) Rename(ctx context.Context, id, who, device string) error {
	who, err := named("whose phone it is", who)
	if err != nil {
		return err
	}
	if device, err = named("what you call the phone", device); err != nil {
		return err
	}
	return a.one(ctx, `UPDATE session SET who = ?, device = ? WHERE id = ? AND ended = 0`, who, device, id)
}

// Revoke puts a phone out: its next request is refused. The addresses for
// calendars that were made in the same name end with it.
func (a *Access) Revoke(ctx context.Context, id string) error {
	return a.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		var who string
		err := tx.QueryRowContext(ctx, `UPDATE session SET ended = ?, why = ? WHERE id = ? AND ended = 0 RETURNING who`, millis(a.now()), "put out", id).Scan(&who)
		if errors.Is(err, sql.ErrNoRows) {
			return ErrNone
		}
		if err == nil {
			_, err = tx.ExecContext(ctx, `DELETE FROM feed WHERE who = ?`, who)
		}
		return err
	})
}

// SignOut ends a session from its own phone.
func (a *Access) SignOut(ctx context.Context, id string) error {
	return a.one(ctx, `UPDATE session SET ended = ?, why = ? WHERE id = ? AND ended = 0`, millis(a.now()), signedOut, id)
}

func (a *Access) one(ctx context.Context, statement string, args ...any) error {
	done, err := a.db.ExecContext(ctx, statement, args...)
	if err != nil {
		return err
	}
	if n, err := done.RowsAffected(); err != nil || n == 0 {
		return errors.Join(err, ErrNone)
	}
	return nil
}

// EndAll puts every phone out, takes every code back and ends every address for
// a calendar. It returns how many phones it put out.
func (a *Access) EndAll(ctx context.Context) (ended int, err error) {
	err = a.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM code`); err != nil {
			return err
		}
		ended, err = endAll(ctx, tx, millis(a.now()), "all were put out")
		return err
	})
	return ended, err
}

func endAll(ctx context.Context, tx *sql.Tx, now int64, why string) (int, error) {
	if _, err := tx.ExecContext(ctx, `DELETE FROM feed`); err != nil {
		return 0, err
	}
	done, err := tx.ExecContext(ctx, `UPDATE session SET ended = ?, why = ? WHERE ended = 0`, now, why)
	if err != nil {
		return 0, err
	}
	n, err := done.RowsAffected()
	return int(n), err
}
