package people_test

import (
	"context"
	"errors"
	"net/netip"
	"sync"
	"testing"
	"time"

	"dogshore/people"
)

const passphrase = "winch handle under the berth"

// hand is a clock that a test moves.
type hand struct {
	mu sync.Mutex
	at time.Time
}

func (h *hand) now() time.Time {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.at
}

func (h *hand) pass(d time.Duration) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.at = h.at.Add(d)
}

func newHand() *hand { return &hand{at: time.Date(2027, 3, 16, 10, 30, 0, 0, time.UTC)} }

var here = netip.MustParseAddr("192.168.0.20")

func open(t testing.TB, dir string, h *hand) *people.Access {
	t.Helper()
	a, err := people.Open(context.Background(), dir, h.now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = a.Close() }) // some tests close it first
	return a
}

// ready is an access with the passphrase set.
func ready(t testing.TB) (*people.Access, *hand) {
	t.Helper()
	h := newHand()
	a := open(t, t.TempDir(), h)
	if _, err := a.SetPassphrase(context.Background(), passphrase); err != nil {
		t.Fatal(err)
	}
	return a, h
}

func asked(secret string) people.Asked {
	return people.Asked{From: here, Secret: secret, Who: "Ada", Device: "red phone"}
}

func in(t testing.TB, a *people.Access, secret string) (people.Session, string) {
	t.Helper()
	s, token, err := a.SignIn(context.Background(), asked(secret))
	if err != nil {
		t.Fatal(err)
	}
	return s, token
}

func TestPassphraseLetsIn(t *testing.T) {
	ctx := context.Background()
	h := newHand()
	a := open(t, t.TempDir(), h)
	if ok, err := a.Ready(ctx); ok || err != nil {
		t.Errorf("before one is set: %v %v", ok, err)
	}
	if _, _, err := a.SignIn(ctx, asked(passphrase)); !errors.Is(err, people.ErrNoPassphrase) {
		t.Errorf("without a passphrase: %v", err)
	}
	if _, err := a.SetPassphrase(ctx, passphrase); err != nil {
		t.Fatal(err)
	}
	if ok, err := a.Ready(ctx); !ok || err != nil {
		t.Errorf("after it is set: %v %v", ok, err)
	}
	for _, wrong := range []string{"", "Winch handle under the berth", passphrase + "x", passphrase[:20]} {
		if _, _, err := a.SignIn(ctx, asked(wrong)); !errors.Is(err, people.ErrWrong) {
			t.Errorf("%q: %v", wrong, err)
		}
	}
	s, token := in(t, a, " "+passphrase+" ") // a phone's keyboard adds spaces
	if s.Who != "Ada" || s.Device != "red phone" || s.Role != people.Owner || !s.In() || !s.Began.Equal(h.now()) {
		t.Errorf("the session is %+v", s)
	}
	h.pass(90 * time.Second)
	got, err := a.Session(ctx, token)
	if err != nil || got.ID != s.ID || !got.Seen.Equal(h.now()) {
		t.Errorf("the token opens %+v, %v", got, err)
	}
	for _, wrong := range []string{"", s.ID, token[:42] + "!", token + "A", "AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA"} {
		if _, err := a.Session(ctx, wrong); !errors.Is(err, people.ErrSignedOut) {
			t.Errorf("token %q: %v", wrong, err)
		}
	}
}

func TestWeakPassphrases(t *testing.T) {
	for text, ok := range map[string]bool{
		"": false, "fourteen chars": false, "fifteen charact": true, "   fourteen chars   ": false, "aaaaaaaaaaaaaaaaaaaa": false, "abcabcabcabcabcabc": false,
		"tab\tin the passphrase": false, "\xff\xfe not readable text": false, "åäö åäö liten ekbåt": true,
	} {
		err := people.CheckPassphrase(text)
		var weak *people.WeakError
		if ok != (err == nil) || err != nil && !errors.As(err, &weak) {
			t.Errorf("%q: %v", text, err)
		}
	}
	if people.ShortestPassphrase != 15 {
		t.Errorf("NIST SP 800-63B-4 (2025) asks for 15 characters of a password that stands alone, not %d", people.ShortestPassphrase)
	}
	a, _ := ready(t)
	if _, err := a.SetPassphrase(context.Background(), "short"); err == nil {
		t.Error("a short passphrase was set")
	}
	in(t, a, passphrase) // the one before still holds
}

func TestNames(t *testing.T) {
	a, _ := ready(t)
	for _, x := range [][2]string{{"", "phone"}, {"Ada", ""}, {"two\nlines", "phone"}, {"Ada", "phone\u202e"}, {string(make([]byte, 90)), "phone"}} {
		ask := asked(passphrase)
		ask.Who, ask.Device = x[0], x[1]
		var name *people.NameError
		if _, _, err := a.SignIn(context.Background(), ask); !errors.As(err, &name) {
			t.Errorf("%q: %v", x, err)
		}
	}
	ask := asked("not the passphrase")
	ask.Who = ""
	if _, _, err := a.SignIn(context.Background(), ask); !errors.Is(err, people.ErrWrong) {
		t.Errorf("a wrong passphrase without a name tells more than that it is wrong: %v", err)
	}
}

func TestACodeLetsOnePhoneInOnce(t *testing.T) {
	ctx := context.Background()
	a, h := ready(t)
	c, typed, err := a.NewCode(ctx, "Bo", "blue phone", people.Mate)
	if err != nil {
		t.Fatal(err)
	}
	if len(typed) != 14 || c.Who != "Bo" {
		t.Errorf("the code is %q for %+v", typed, c)
	}
	codes, err := a.Codes(ctx)
	if err != nil || len(codes) != 1 || codes[0] != c {
		t.Errorf("waiting are %+v, %v", codes, err)
	}
	s, token := in(t, a, " "+typed[:6]+" "+typed[6:])
	if s.Who != "Bo" || s.Device != "blue phone" || s.Role != people.Mate {
		t.Errorf("the code lets in %+v", s)
	}
	if _, err := a.Session(ctx, token); err != nil {
		t.Error(err)
	}
	if _, _, err := a.SignIn(ctx, asked(typed)); !errors.Is(err, people.ErrWrong) {
		t.Errorf("used again: %v", err)
	}
	late, typed, err := a.NewCode(ctx, "Bo", "blue phone", people.Owner)
	if err != nil {
		t.Fatal(err)
	}
	h.pass(24 * time.Hour)
	if _, _, err := a.SignIn(ctx, asked(typed)); !errors.Is(err, people.ErrWrong) {
		t.Errorf("after a day: %v", err)
	}
	if err := a.TakeBack(ctx, "none"); !errors.Is(err, people.ErrNone) {
		t.Error(err)
	}
	_ = late
	back, typed, err := a.NewCode(ctx, "Bo", "blue phone", people.Owner)
	if err != nil || a.TakeBack(ctx, back.ID) != nil {
		t.Fatal(err)
	}
	if _, _, err := a.SignIn(ctx, asked(typed)); !errors.Is(err, people.ErrWrong) {
		t.Errorf("taken back: %v", err)
	}
	if _, _, err := a.NewCode(ctx, "Bo", "blue phone", "admiral"); err == nil {
		t.Error("there is no such right")
	}
}

func TestSessionsEnd(t *testing.T) {
	ctx := context.Background()
	for name, x := range map[string]struct {
		end  func(*people.Access, *hand, people.Session) error
		want error
	}{
		"put out":    {func(a *people.Access, _ *hand, s people.Session) error { return a.Revoke(ctx, s.ID) }, people.ErrRevoked},
		"signed out": {func(a *people.Access, _ *hand, s people.Session) error { return a.SignOut(ctx, s.ID) }, people.ErrSignedOut},
		"all":        {func(a *people.Access, _ *hand, _ people.Session) error { _, err := a.EndAll(ctx); return err }, people.ErrRevoked},
		"new passphrase": {func(a *people.Access, _ *hand, _ people.Session) error {
			_, err := a.SetPassphrase(ctx, passphrase+" two")
			return err
		}, people.ErrRevoked},
		"changed by form": {func(a *people.Access, _ *hand, _ people.Session) error {
			_, err := a.ChangePassphrase(ctx, here, passphrase, passphrase+" two")
			return err
		}, people.ErrRevoked},
		"not seen": {func(_ *people.Access, h *hand, _ people.Session) error { h.pass(45 * 24 * time.Hour); return nil }, people.ErrSignedOut},
	} {
		t.Run(name, func(t *testing.T) {
			a, h := ready(t)
			s, token := in(t, a, passphrase)
			if err := x.end(a, h, s); err != nil {
				t.Fatal(err)
			}
			if _, err := a.Session(ctx, token); !errors.Is(err, x.want) {
				t.Errorf("afterwards: %v, want %v", err, x.want)
			}
			all, err := a.Sessions(ctx)
			if err != nil || len(all) != 1 || all[0].In() || all[0].Why == "" {
				t.Errorf("the list says %+v, %v", all, err)
			}
			if err := a.Revoke(ctx, "none"); !errors.Is(err, people.ErrNone) {
				t.Error(err)
			}
		})
	}
}

// Seen every week, a session still ends after half a year.
func TestSessionsEndAfterHalfAYear(t *testing.T) {
	a, h := ready(t)
	_, token := in(t, a, passphrase)
	weeks := 0
	for ; weeks < 40; weeks++ {
		h.pass(7 * 24 * time.Hour)
		if _, err := a.Session(context.Background(), token); err != nil {
			break
		}
	}
	if weeks != 26 {
		t.Errorf("it lasted %d weeks", weeks)
	}
}

func TestAWrongOldPassphraseChangesNothing(t *testing.T) {
	ctx := context.Background()
	a, _ := ready(t)
	_, token := in(t, a, passphrase)
	if _, err := a.ChangePassphrase(ctx, here, "not the passphrase", passphrase+" two"); !errors.Is(err, people.ErrWrong) {
		t.Errorf("a wrong old passphrase: %v", err)
	}
	if _, err := a.Session(ctx, token); err != nil {
		t.Error(err)
	}
	in(t, a, passphrase)
}

func TestRenamed(t *testing.T) {
	ctx := context.Background()
	a, _ := ready(t)
	s, token := in(t, a, passphrase)
	if err := a.Rename(ctx, s.ID, "Bo", "grey phone"); err != nil {
		t.Fatal(err)
	}
	if got, err := a.Session(ctx, token); err != nil || got.Who != "Bo" || got.Device != "grey phone" {
		t.Errorf("%+v %v", got, err)
	}
	if err := a.Rename(ctx, s.ID, "", "grey phone"); err == nil {
		t.Error("a name was taken away")
	}
}
