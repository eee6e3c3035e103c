package people_test

import (
	"context"
	"errors"
	"fmt"
	"net/netip"
	"sync"
	"testing"
	"time"

	"dogshore/people"
)

func wrongFrom(a *people.Access, from string) error {
	_, _, err := a.SignIn(context.Background(), people.Asked{From: netip.MustParseAddr(from), Secret: "not the passphrase", Who: "Eve", Device: "x"})
	return err
}

// waiting is how long the next attempt has to wait; zero if it was looked at.
func waiting(t *testing.T, err error) time.Duration {
	t.Helper()
	var soon *people.TooSoonError
	switch {
	case errors.As(err, &soon):
		return soon.Wait
	case errors.Is(err, people.ErrWrong):
		return 0
	}
	t.Fatalf("neither wrong nor too soon: %v", err)
	return 0
}

// After five wrong ones the wait doubles: 1, 2, 4 seconds and on, to an hour.
// The right passphrase does not come in meanwhile, and waiting it out does.
func TestAttemptsSlowDown(t *testing.T) {
	a, h := ready(t)
	for i := range 5 {
		if w := waiting(t, wrongFrom(a, "192.168.0.66")); w != 0 {
			t.Fatalf("attempt %d waits %v", i+1, w)
		}
	}
	for want := time.Second; want < time.Hour; want *= 2 {
		if w := waiting(t, wrongFrom(a, "192.168.0.66")); w != want {
			t.Fatalf("it waits %v, want %v", w, want)
		}
		h.pass(want - time.Millisecond)
		ask := asked(passphrase)
		ask.From = netip.MustParseAddr("192.168.0.66")
		if _, _, err := a.SignIn(context.Background(), ask); waiting(t, err) != time.Millisecond {
			t.Fatalf("the right passphrase too soon: %v", err)
		}
		h.pass(time.Millisecond)
		if w := waiting(t, wrongFrom(a, "192.168.0.66")); w != 0 {
			t.Fatalf("after waiting %v it waits %v", want, w)
		}
	}
	if w := waiting(t, wrongFrom(a, "192.168.0.66")); w != time.Hour {
		t.Errorf("the longest wait is %v", w)
	}
	in(t, a, passphrase) // another address comes in at once
	h.pass(time.Hour)
	ask := asked(passphrase)
	ask.From = netip.MustParseAddr("192.168.0.66")
	if _, _, err := a.SignIn(context.Background(), ask); err != nil {
		t.Errorf("waited out, the right passphrase: %v", err)
	}
	if w := waiting(t, wrongFrom(a, "192.168.0.66")); w != 0 {
		t.Errorf("after coming in, a wrong one waits %v", w)
	}
}

// Whoever has many addresses is slowed down all the same, but never so long
// that the owner can't come in.
func TestManyAddressesTogether(t *testing.T) {
	a, h := ready(t)
	looked := 0
	for i := range 300 {
		if waiting(t, wrongFrom(a, fmt.Sprintf("10.0.%d.%d", i/200, i%200))) == 0 {
			looked++
		}
	}
	if looked != 40 {
		t.Errorf("%d attempts from 300 addresses were looked at within a moment", looked)
	}
	longest := time.Duration(0)
	for i := range 20 {
		w := waiting(t, wrongFrom(a, fmt.Sprintf("10.1.0.%d", i)))
		longest = max(longest, w)
		h.pass(w)
	}
	if longest != 30*time.Second {
		t.Errorf("the longest wait of all is %v", longest)
	}
	h.pass(30 * time.Second)
	in(t, a, passphrase)
}

// The addresses of one network of version 6 count as one.
func TestAddressesOfANetwork(t *testing.T) {
	a, _ := ready(t)
	for i := range 5 {
		if w := waiting(t, wrongFrom(a, fmt.Sprintf("fd00::1:%d", i))); w != 0 {
			t.Fatal(w)
		}
	}
	if w := waiting(t, wrongFrom(a, "fd00::2:7")); w == 0 {
		t.Error("another address of the same network does not wait")
	}
	if w := waiting(t, wrongFrom(a, "fd00:0:0:1::7")); w != 0 {
		t.Error("an address of another network waits")
	}
	for i := range 5 {
		from := []string{"192.168.0.9", "::ffff:192.168.0.9"}[i%2]
		if w := waiting(t, wrongFrom(a, from)); w != 0 {
			t.Fatal(w)
		}
	}
	if w := waiting(t, wrongFrom(a, "::ffff:192.168.0.9")); w == 0 {
		t.Error("an address of version 4 written as one of version 6 counts as another")
	}
}

// Attempts side by side gain nothing: no more are looked at than one after the
// other.
func TestAttemptsSideBySide(t *testing.T) {
	a, _ := ready(t)
	var wg sync.WaitGroup
	errs := make([]error, 24)
	for i := range errs {
		wg.Go(func() { errs[i] = wrongFrom(a, "192.168.0.66") })
	}
	wg.Wait()
	looked := 0
	for _, err := range errs {
		if waiting(t, err) == 0 {
			looked++
		}
	}
	if looked != 5 {
		t.Errorf("%d of %d attempts side by side were looked at", looked, len(errs))
	}
}

// What failed is kept when the program starts again; a clock that was ahead
// locks nobody out.
func TestAttemptsOutlastTheProgram(t *testing.T) {
	ctx := context.Background()
	dir, h := t.TempDir(), newHand()
	a := open(t, dir, h)
	if _, err := a.SetPassphrase(ctx, passphrase); err != nil {
		t.Fatal(err)
	}
	h.pass(1000 * time.Hour)
	for range 5 {
		waiting(t, wrongFrom(a, "192.168.0.66"))
	}
	if err := a.Close(); err != nil {
		t.Fatal(err)
	}
	a = open(t, dir, h)
	if w := waiting(t, wrongFrom(a, "192.168.0.66")); w == 0 {
		t.Error("starting again forgot the attempts")
	}
	h.pass(-900 * time.Hour)
	if w := waiting(t, wrongFrom(a, "192.168.0.66")); w != 0 {
		t.Errorf("since the clock was set right it waits %v", w)
	}
	if w := waiting(t, wrongFrom(a, "192.168.0.66")); w == 0 {
		t.Error("a clock set back forgot the attempts")
	}
}
