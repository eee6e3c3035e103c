package people

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"net/netip"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Role is what somebody may do.
type Role string

// The roles. An owner may do everything; a mate (whoever goes along or goes
// instead: crew, a surveyor) may read, and note what was found at a visit.
const (
	Owner Role = "owner"
	Mate  Role = "look and note"
)

// Roles lists them, the one that may least first.
var Roles = []Role{Mate, Owner}

// A session ends by itself when its phone was not seen for a while, and at the
// latest after half a year. Common practice, no source.
const (
	longestUnseen  = 45 * 24 * time.Hour
	longestSession = 183 * 24 * time.Hour
	seenEvery      = time.Minute // last seen is kept to the minute
	endedKept      = 90 * 24 * time.Hour
	longestName    = 80
	tokenLength    = 32
)

// Session is a phone, or another computer, that is in or was.
type Session struct {
	ID           string // names it; opens nothing
	Who          string // stands under what is written with it
	Device       string
	Role         Role
	Began, Seen  time.Time
	Ended        time.Time // zero while it is in
	Why          string    // it ended
	endedByOwner bool
}

// In reports whether the session has not ended.
func (s Session) In() bool { return s.Ended.IsZero() }

// Errors of a session.
var (
	// ErrSignedOut is returned for a session that is none or has run out.
	ErrSignedOut = errors.New("nobody is signed in here")
	// ErrRevoked is returned for a session that somebody ended from elsewhere.
	ErrRevoked = errors.New("this phone was put out")
	// ErrNone is returned if there is nothing by that name.
	ErrNone = errors.New("there is no such phone or code")
)

// NameError says why a name is not taken.
type NameError struct{ Says string }

func (n *NameError) Error() string { return n.Says }

// named checks a name of a person or phone: a line of text, not too long.
func named(what, text string) (string, error) {
	text = strings.TrimSpace(text)
	switch {
	case text == "":
		return "", &NameError{"write " + what}
	case len(text) > longestName:
		return "", &NameError{fmt.Sprintf("%s is longer than %d bytes: write a shorter one", what, longestName)}
	case !utf8.ValidString(text) || strings.ContainsFunc(text, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }):
		return "", &NameError{what + " must be one line without control characters"}
	}
	return text, nil
}

// Asked is what somebody wrote to come in.
type Asked struct {
	From        netip.Addr
	Secret      string // the passphrase, or a code
	Who, Device string // for the passphrase; a code has its own
}

// SignIn lets somebody in. It returns the session, and the token that opens it
// and that is kept nowhere else; or ErrWrong, a *TooSoonError, a *NameError or
// ErrNoPassphrase. Whether it was a wrong passphrase or a wrong code can't be
// told, nor seen from the time it took.
func (a *Access) SignIn(ctx context.Context, ask Asked) (Session, string, error) {
	if err := a.begin(ctx, ask.From); err != nil {
		return Session{}, "", err
	}
	right, err := a.isPassphrase(ctx, ask.Secret)
	if err != nil {
		return Session{}, "", err
	}
	s := Session{ID: hex.EncodeToString(random(8)), Who: ask.Who, Device: ask.Device, Role: Owner}
	token := base64.RawURLEncoding.EncodeToString(random(tokenLength))
	err = a.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		now := a.now()
		coded, err := redeem(ctx, tx, ask.Secret, now, &s)
		switch {
		case err != nil:
			return err
		case !right && !coded:
			return ErrWrong
		}
		if s.Who, err = named("your name", s.Who); err != nil {
			return err
		}
		if s.Device, err = named("what you call this phone", s.Device); err != nil {
			return err
		}
		s.Began = timeOf(millis(now))
		s.Seen = s.Began
		_, err = tx.ExecContext(ctx, `INSERT INTO session VALUES (?, ?, ?, ?, ?, ?, ?, 0, '')`, s.ID, digest(token), s.Who, s.Device, string(s.Role), millis(now), millis(now))
		if err == nil {
			_, err = tx.ExecContext(ctx, `DELETE FROM session WHERE ended > 0 AND ended < ?`, millis(now.Add(-endedKept)))
		}
		return err
	})
	var name *NameError
	if err == nil || errors.As(err, &name) { // what was asked for was right
		if err := a.forgive(ctx, ask.From); err != nil {
			return Session{}, "", err
		}
	}
	if err != nil {
		return Session{}, "", err
	}
	return s, token, nil
}

func digest(token string) []byte {
	sum := sha256.Sum256([]byte(token))
	return sum[:]
}

const sessionColumns = `id, who, device, role, began, seen, ended, why`

func readSession(row interface{ Scan(...any) error }) (s Session, err error) {
	var role string
	var began, seen, ended int64
	err = row.Scan(&s.ID, &s.Who, &s.Device, &role, &began, &seen, &ended, &s.Why)
	s.Role, s.Began, s.Seen, s.Ended = Role(role), timeOf(began), timeOf(seen), timeOf(ended)
	s.endedByOwner = ended > 0 && s.Why != signedOut
	return s, err
}

// runOut ends a session in reading that was not seen for too long.
func (s Session) runOut(now time.Time) Session {
	if !s.In() {
		return s
	}
	end := s.Began.Add(longestSession)
	if e := s.Seen.Add(longestUnseen); e.Before(end) {
		end = e
	}
	if !now.Before(end) {
		s.Ended, s.Why = end, "it ran out"
	}
	return s
}

// Session returns the session that a token opens and notes that it was seen.
// It returns ErrSignedOut or ErrRevoked if it opens none any more.
func (a *Access) Session(ctx context.Context, token string) (Session, error) {
	if len(token) != base64.RawURLEncoding.EncodedLen(tokenLength) {
		return Session{}, ErrSignedOut
	}
	s, err := readSession(a.db.QueryRowContext(ctx, `SELECT `+sessionColumns+` FROM session WHERE token = ?`, digest(token)))
	if errors.Is(err, sql.ErrNoRows) {
		return Session{}, ErrSignedOut
	}
	if err != nil {
		return Session{}, fmt.Errorf("read the session: %w", err)
	}
	now := a.now()
	if s = s.runOut(now); s.endedByOwner {
		return Session{}, ErrRevoked
	}
	if !s.In() {
		return Session{}, ErrSignedOut
	}
	if now.Sub(s.Seen) >= seenEvery {
		s.Seen = timeOf(millis(now))
		if _, err := a.db.ExecContext(ctx, `UPDATE session SET seen = ? WHERE id = ? AND ended = 0`, millis(now), s.ID); err != nil {
			return Session{}, fmt.Errorf("note that %s was seen: %w", s.Device, err)
		}
	}
	return s, nil
}
