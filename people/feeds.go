package people

import (
	"context"
	"database/sql"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"time"
)

// A calendar program can't sign in. It reads the dates, and nothing else, at an
// address of its own that nobody can guess: 256 bits, kept here as their
// SHA-256. Each has a name, and can be ended.
const mostFeeds = 50

// Feed is an address at which a calendar program reads the dates.
type Feed struct {
	ID          string // names it; opens nothing
	Who, Device string
	Made, Read  time.Time // Read is zero until it is read first
}

// NewFeed makes an address for a calendar program and returns the secret that
// stands in it, which is kept nowhere else. It returns a *NameError for a name
// that is not taken.
func (a *Access) NewFeed(ctx context.Context, who, device string) (Feed, string, error) {
	f := Feed{ID: hex.EncodeToString(random(8))}
	var err error
	if f.Who, err = named("whose calendar it is", who); err != nil {
		return Feed{}, "", err
	}
	if f.Device, err = named("where it is read", device); err != nil {
		return Feed{}, "", err
	}
	secret := base64.RawURLEncoding.EncodeToString(random(tokenLength))
	err = a.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		var n int
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM feed`).Scan(&n); err != nil {
			return err
		}
		if n >= mostFeeds {
			return &NameError{fmt.Sprintf("there are %d addresses for calendars: end some first", n)}
		}
		f.Made = timeOf(millis(a.now()))
		_, err := tx.ExecContext(ctx, `INSERT INTO feed VALUES (?, ?, ?, ?, ?, 0)`, f.ID, digest(secret), f.Who, f.Device, millis(f.Made))
		return err
	})
	if err != nil {
		return Feed{}, "", err
	}
	return f, secret, nil
}

const feedColumns = `id, who, device, made, read`

func readFeed(row interface{ Scan(...any) error }) (f Feed, err error) {
	var made, read int64
	err = row.Scan(&f.ID, &f.Who, &f.Device, &made, &read)
	f.Made, f.Read = timeOf(made), timeOf(read)
	return f, err
}

// Feed returns the feed that a secret opens and notes that it was read;
// ErrNone if it opens none, or none any more.
func (a *Access) Feed(ctx context.Context, secret string) (Feed, error) {
	if len(secret) != base64.RawURLEncoding.EncodedLen(tokenLength) {
		return Feed{}, ErrNone
	}
	f, err := readFeed(a.db.QueryRowContext(ctx, `SELECT `+feedColumns+` FROM feed WHERE secret = ?`, digest(secret)))
	if errors.Is(err, sql.ErrNoRows) {
		return Feed{}, ErrNone
	}
	if err != nil {
		return Feed{}, fmt.Errorf("read the address of a calendar: %w", err)
	}
	if now := a.now(); now.Sub(f.Read) >= seenEvery {
		f.Read = timeOf(millis(now))
		if _, err := a.db.ExecContext(ctx, `UPDATE feed SET read = ? WHERE id = ?`, millis(now), f.ID); err != nil {
			return Feed{}, fmt.Errorf("note that the calendar of %s was read: %w", f.Who, err)
		}
	}
	return f, nil
}

// Feeds lists the addresses for calendars, the oldest first.
func (a *Access) Feeds(ctx context.Context) ([]Feed, error) {
	rows, err := a.db.QueryContext(ctx, `SELECT `+feedColumns+` FROM feed ORDER BY made, id`)
	if err != nil {
		return nil, err
	}
	defer func() { _ = rows.Close() }() // after the last row it does nothing
	var out []Feed
	for rows.Next() {
		f, err := readFeed(rows)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, rows.Err()
}

// EndFeed ends an address for a calendar: what asks for it next is refused.
func (a *Access) EndFeed(ctx context.Context, id string) error {
	return a.one(ctx, `DELETE FROM feed WHERE id = ?`, id)
}
