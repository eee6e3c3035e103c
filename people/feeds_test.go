package people_test

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"dogshore/people"
)

// An address for a calendar opens while it is not ended: by hand, with a phone
// in the same name, with all phones, or with the passphrase.
func TestFeedsEnd(t *testing.T) {
	ctx := context.Background()
	for name, end := range map[string]func(*people.Access, people.Feed, people.Session) error{
		"by hand":        func(a *people.Access, f people.Feed, _ people.Session) error { return a.EndFeed(ctx, f.ID) },
		"with the phone": func(a *people.Access, _ people.Feed, s people.Session) error { return a.Revoke(ctx, s.ID) },
		"with all":       func(a *people.Access, _ people.Feed, _ people.Session) error { _, err := a.EndAll(ctx); return err },
		"with the passphrase": func(a *people.Access, _ people.Feed, _ people.Session) error {
			_, err := a.SetPassphrase(ctx, passphrase+" two")
			return err
		},
	} {
		t.Run(name, func(t *testing.T) {
			a, h := ready(t)
			session, token := in(t, a, passphrase)
			f, secret, err := a.NewFeed(ctx, session.Who, "kitchen computer")
			if err != nil || len(secret) != 43 {
				t.Fatal(secret, err)
			}
			h.pass(200 * 24 * time.Hour) // longer than a phone stays in
			if got, err := a.Feed(ctx, secret); err != nil || got.ID != f.ID || got.Read.IsZero() {
				t.Errorf("read: %+v, %v", got, err)
			}
			h.pass(-200 * 24 * time.Hour)
			for _, wrong := range []string{"", secret[:42], secret + "A", strings.ToLower(secret), token, f.ID} {
				if _, err := a.Feed(ctx, wrong); !errors.Is(err, people.ErrNone) {
					t.Errorf("%q: %v", wrong, err)
				}
			}
			if _, err := a.Session(ctx, secret); !errors.Is(err, people.ErrSignedOut) {
				t.Errorf("the secret of a calendar opens the pages: %v", err)
			}
			if err := end(a, f, session); err != nil {
				t.Fatal(err)
			}
			if _, err := a.Feed(ctx, secret); !errors.Is(err, people.ErrNone) {
				t.Errorf("ended, it opens: %v", err)
			}
			if all, err := a.Feeds(ctx); err != nil || len(all) != 0 {
				t.Errorf("still listed: %v, %v", all, err)
			}
		})
	}
}

// Another's phone that is put out ends no address but its own person's.
func TestFeedsOfOthersStay(t *testing.T) {
	ctx := context.Background()
	a, _ := ready(t)
	session, _ := in(t, a, passphrase)
	_, secret, err := a.NewFeed(ctx, "Bo", "desk")
	if err == nil {
		err = a.Revoke(ctx, session.ID)
	}
	if err == nil {
		_, err = a.Feed(ctx, secret)
	}
	if err != nil {
		t.Error(err)
	}
	if err := a.Revoke(ctx, session.ID); !errors.Is(err, people.ErrNone) {
		t.Errorf("put out twice: %v", err)
	}
}

// A list of phones as the program before this one wrote it is read, and gets
// what is new.
func TestAnOlderFileIsCarriedOn(t *testing.T) {
	ctx := context.Background()
	dir, h := t.TempDir(), newHand()
	a := open(t, dir, h)
	if _, err := a.SetPassphrase(ctx, passphrase); err != nil {
		t.Fatal(err)
	}
	_, token := in(t, a, passphrase)
	if err := a.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := raw(t, dir).Exec(`DROP TABLE feed; PRAGMA user_version = 1`); err != nil {
		t.Fatal(err)
	}
	a = open(t, dir, h)
	if _, err := a.Session(ctx, token); err != nil {
		t.Errorf("whoever was in: %v", err)
	}
	if _, _, err := a.NewFeed(ctx, "Ada", "desk"); err != nil {
		t.Error(err)
	}
}
